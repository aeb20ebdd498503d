#include "sheets/measure.h"

#include <doctest/doctest.h>

#include <cctype>

#include "sheets/html.h"
#include "sheets/paper.h"
#include "sheets/parts.h"

using namespace tallyround::sheets;

TEST_CASE("a text is never counted narrower than a common sans-serif sets it") {
    // Helvetica sets "Fraction" 3.834 em wide (Adobe's metrics: 611+333+556+500+278+222+556+556
    // thousandths are 3.612) and DejaVu Sans about a sixth wider.
    const double em = 12 * mm_of_pt;
    CHECK(text_width("Fraction", {12, false}) >= 3.612 * em * 1.16);
    CHECK(text_width("Fraction", {12, true}) > text_width("Fraction", {12, false}));
    CHECK(text_width("王小雨", {12, false}) >= 3 * em);
    CHECK(text_width("e\xCC\x81", {12, false}) == doctest::Approx(text_width("e", {12, false})));
}

TEST_CASE("wrapping keeps every letter, breaks at blanks, and in words only where it must") {
    const Face face{14, false};
    CHECK(wrap("", 50, face).empty());
    const auto lines = wrap("one two three four five six seven eight nine ten", 40, face);
    CHECK(lines.size() > 1);
    std::string joined;
    for (const std::string& line : lines) {
        CHECK(text_width(line, face) <= 40);
        joined += (joined.empty() ? "" : " ") + line;
    }
    CHECK(joined == "one two three four five six seven eight nine ten");
    const auto long_word = wrap(std::string(200, 'm'), 40, face);
    std::size_t letters = 0;
    for (const std::string& line : long_word) {
        CHECK(text_width(line, face) <= 40);
        letters += line.size();
    }
    CHECK(letters == 200);
}

TEST_CASE("a size that fits is found, and shortening stays in its lines") {
    CHECK(fitting_size("Hands-on", 180, 1, 110, 72, true) >= 72);
    CHECK(fitting_size("Unbelievablylongwordwithoutanyblank", 100, 3, 110, 72, true) == 0);
    const std::string text = shortened(std::string(500, 'w') + " end", 60, 2, {12, false});
    CHECK(lines_of(text, 60, {12, false}) <= 2);
    CHECK(text.ends_with("…"));
    CHECK(shortened("short", 60, 2, {12, false}) == "short");
    CHECK(shortened("ÄÖÜ日本語日本語日本語日本語日本語日本語", 30, 1, {12, false}).ends_with("…"));
}

TEST_CASE("a paragraph goes on over pages and no page is overfull") {
    Pages pages(Paper::a4, false, "left", "right");
    std::string text;
    for (int i = 0; i < 3000; ++i)
        text += "word" + std::to_string(i) + " ";
    pages.paragraph(text, {20, false});
    CHECK(pages.count() > 10);
    const std::string body = pages.body();
    for (int i = 0; i < 3000; i += 97)
        CHECK(body.find("word" + std::to_string(i)) != std::string::npos);
    CHECK(body.find(" of " + std::to_string(pages.count())) != std::string::npos);
}

TEST_CASE("fractions are set upright, dates and paths are not, and markup is words") {
    CHECK(has_fraction("Add: 3/4 + 1/8"));
    CHECK_FALSE(has_fraction("km/h, 1/2/2026, a1/2, 3.5/7"));
    CHECK(math_html("3/4").find("<span>3</span><span>4</span>") != std::string::npos);
    CHECK(math_html("<b>1/2</b>").find("<b>") == std::string::npos);
    CHECK(escape_html("<\"&'>") == "&lt;&quot;&amp;&#39;&gt;");
}

TEST_CASE("unbalanced maths text is set as it was written, with every tag closed") {
    const auto count = [](const std::string& all, std::string_view what) {
        std::size_t n = 0;
        for (auto at = all.find(what); at != std::string::npos; at = all.find(what, at + 1))
            ++n;
        return n;
    };
    for (const char* text : {"((3/4", "3/4)) + (", "3//4", "/", "1/", "/2", "3/4/", "{[(1/2",
                             "2^(3", "1/2 < 3/4 >", "\\frac{1}{2", "5^", "x = ) 7/8 ("}) {
        const std::string html = math_html(text);
        CHECK_MESSAGE(count(html, "<span") == count(html, "</span>"), text);
        CHECK_MESSAGE(count(html, "<sup") == count(html, "</sup>"), text);
        std::string words;
        bool tag = false;
        for (const char c : html) {
            if (c == '<') tag = true;
            if (!tag) words += c;
            if (c == '>') tag = false;
        }
        for (const char* p = text; *p != 0; ++p) {
            if (std::isdigit(static_cast<unsigned char>(*p)) != 0 || *p == '(' || *p == ')')
                CHECK_MESSAGE(words.find(*p) != std::string::npos, text);
        }
    }
}
