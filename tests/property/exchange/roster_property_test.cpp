// What must hold for every list, whatever the bytes: seeds are fixed and printed with a failure.
#include <doctest/doctest.h>

#include <array>

#include "base/id.h"
#include "base/random.h"
#include "base/text.h"
#include "exchange/csv_out.h"
#include "exchange/roster.h"

using namespace tallyround;
using base::Random;
using exchange::read_roster;

namespace {

void check_promises(const exchange::Roster& roster) {
    REQUIRE_FALSE(roster.students.empty());
    REQUIRE(roster.students.size() <= exchange::max_roster_students);
    std::size_t row = 0;
    for (std::size_t i = 0; i < roster.students.size(); ++i) {
        const auto& s = roster.students[i];
        const std::string number = std::to_string(i + 1);
        REQUIRE(s.id == (i < 9 ? "s0" : "s") + number);
        REQUIRE(base::Id<void>::fits(s.id));
        REQUIRE_FALSE(s.name.empty());
        REQUIRE(s.row >= row);
        row = s.row;
        for (const auto* text : {&s.name, &s.given, &s.family, &s.source_id}) {
            REQUIRE(base::is_utf8(*text));
            REQUIRE(base::tidy_line(*text) == *text);
            REQUIRE(base::length(*text) <= exchange::max_name_code_points);
        }
    }
    for (std::size_t i = 1; i + 1 < roster.warnings.size(); ++i)
        REQUIRE(roster.warnings[i - 1].row <= roster.warnings[i].row);
}

void try_bytes(const std::string& bytes) {
    const auto roster = read_roster(bytes);
    if (roster) {
        check_promises(*roster);
    } else {
        REQUIRE_FALSE(roster.error().message.empty());
        REQUIRE(base::is_utf8(roster.error().text()));
    }
    // The same bytes give the same list.
    const auto again = read_roster(bytes);
    REQUIRE(again.has_value() == roster.has_value());
    if (roster) REQUIRE(again->students.size() == roster->students.size());
}

std::string pick(Random& random, const std::vector<std::string>& from) {
    return from[static_cast<std::size_t>(random.below(from.size()))];
}

const std::vector<std::string>& latin_parts() {
    static const std::vector<std::string> all{
        "Ana",   "Bo",    "Zoë",      "José", "Björn", "O'Neil", "De Souza", "Núñez",
        "Anaïs", "Smith", "St. John", "Ngo",  "Ýr",    "Ægir",   "Ann-Marie"};
    return all;
}

const std::vector<std::string>& all_parts() {
    static const std::vector<std::string> all = [] {
        auto parts = latin_parts();
        for (const char* more : {"Łucja", "Νίκη", "Анна", "עדי", "فاطمة", "रिया", "Nguyễn", "Żółć",
                                 "\U0001E900\U0001E901"})
            parts.emplace_back(more);
        return parts;
    }();
    return all;
}

// Independent writers of the encodings, for text of the lists above.
std::string to_utf16(std::string_view utf8, bool little, bool mark) {
    std::string out;
    const auto put = [&](char32_t unit) {
        const char high = static_cast<char>(unit >> 8U);
        const char low = static_cast<char>(unit & 0xFFU);
        out += little ? low : high;
        out += little ? high : low;
    };
    if (mark) put(0xFEFF);
    for (std::size_t at = 0; at < utf8.size();) {
        const char32_t c = base::next_code_point(utf8, at);
        if (c >= 0x10000) {
            put(0xD800 + ((c - 0x10000) >> 10U));
            put(0xDC00 + ((c - 0x10000) & 0x3FFU));
        } else {
            put(c);
        }
    }
    return out;
}

std::string to_latin1(std::string_view utf8) {
    std::string out;
    for (std::size_t at = 0; at < utf8.size();) {
        const char32_t c = base::next_code_point(utf8, at);
        REQUIRE(c < 0x100);
        out += static_cast<char>(c);
    }
    return out;
}

std::string encoded(const std::string& utf8, int encoding) {
    switch (encoding) {
        case 0:
            return utf8;
        case 1:
            return "\xEF\xBB\xBF" + utf8;
        case 2:
            return to_utf16(utf8, true, true);
        case 3:
            return to_utf16(utf8, false, true);
        case 4:
            return to_utf16(utf8, true, false);
        case 5:
            return to_utf16(utf8, false, false);
        default:
            return to_latin1(utf8);
    }
}

struct Person {
    std::string given;
    std::string family;
    std::string id;
};

std::string quoted(const std::string& text, char separator, bool always) {
    if (!always && text.find(separator) == std::string::npos) return text;
    return "\"" + text + "\"";
}

/// A table of the people with its columns in a random order.
std::string written(Random& random, const std::vector<Person>& people, char separator) {
    static const std::array<std::vector<std::string>, 3> words{
        std::vector<std::string>{"First name", "given", "Forename", "FIRST"},
        std::vector<std::string>{"Last Name", "family", "surname", "LAST_NAME"},
        std::vector<std::string>{"ID", "Student ID", "student number", "No."}};
    std::vector<std::size_t> order{0, 1, 2, 3};
    random.shuffle(order);
    const std::string end = pick(random, {"\n", "\r\n", "\r"});
    const bool always = random.below(2) == 0;
    std::string out;
    for (std::size_t row = 0; row <= people.size(); ++row) {
        for (std::size_t c = 0; c < order.size(); ++c) {
            if (c > 0) out += separator;
            std::string cell = row == 0 ? "Note" : "x";
            if (row == 0 && order[c] < 3) cell = pick(random, words[order[c]]);
            if (row > 0 && order[c] < 3) {
                const Person& p = people[row - 1];
                cell = order[c] == 0 ? p.given : order[c] == 1 ? p.family : p.id;
            }
            out += quoted(cell, separator, always);
        }
        if (row < people.size() || random.below(2) == 0) out += end;
    }
    return out;
}

}  // namespace

TEST_CASE("random bytes never break the reader or its promises") {
    for (std::uint64_t seed = 1; seed <= 4000; ++seed) {
        INFO("seed " << seed);
        Random random(seed);
        std::string bytes;
        for (std::uint64_t n = random.below(200); n > 0; --n)
            bytes += static_cast<char>(random.below(256));
        try_bytes(bytes);
    }
}

TEST_CASE("random pieces of lists never break the reader or its promises") {
    const std::vector<std::string> pieces{"Ana",
                                          "Lee",
                                          "Zo\xC3\xAB",
                                          "Zo\xEB",
                                          ",",
                                          ";",
                                          "\t",
                                          "\n",
                                          "\r\n",
                                          "\"",
                                          "\"\"",
                                          " ",
                                          "Name",
                                          "First",
                                          "Last",
                                          "sourcedId",
                                          "givenName",
                                          "role",
                                          "student",
                                          "familyName",
                                          "1.",
                                          "- ",
                                          "42",
                                          "a@b.c",
                                          "<",
                                          ">",
                                          "'=",
                                          "sep=;\n",
                                          "\xEF\xBB\xBF",
                                          "\xFF\xFE",
                                          "Jr.",
                                          "ID",
                                          std::string(1, '\0'),
                                          "\x01",
                                          "\u3001",
                                          "\u200B",
                                          "\u2028",
                                          "\u5C71",
                                          "and "};
    for (std::uint64_t seed = 1; seed <= 20000; ++seed) {
        INFO("seed " << seed);
        Random random(seed);
        std::string bytes;
        for (std::uint64_t n = random.below(40); n > 0; --n)
            bytes += pick(random, pieces);
        try_bytes(bytes);
    }
}

TEST_CASE("a class written as a table reads back equal in every encoding and separator") {
    for (std::uint64_t seed = 1; seed <= 1500; ++seed) {
        Random random(seed);
        const int encoding = static_cast<int>(random.below(7));
        const char separator = pick(random, {",", ";", "\t"})[0];
        INFO("seed " << seed << ", encoding " << encoding << ", separator " << int(separator));
        const auto& parts = encoding == 6 ? latin_parts() : all_parts();
        std::vector<Person> people(1 + random.below(40));
        for (std::size_t i = 0; i < people.size(); ++i)
            people[i] = {pick(random, parts), pick(random, parts), "x" + std::to_string(i + 100)};
        const std::string text = written(random, people, separator);
        const auto roster = read_roster(encoded(text, encoding));
        if (!roster) INFO(roster.error().text());
        REQUIRE(roster);
        check_promises(*roster);
        REQUIRE(roster->students.size() == people.size());
        for (std::size_t i = 0; i < people.size(); ++i) {
            const auto& s = roster->students[i];
            REQUIRE(s.given == people[i].given);
            REQUIRE(s.family == people[i].family);
            REQUIRE(s.name == people[i].given + " " + people[i].family);
            REQUIRE(s.source_id == people[i].id);
            REQUIRE(s.row == i + 2);
        }
    }
}

TEST_CASE("a plain list reads back equal in every encoding, marks taken off") {
    const std::vector<std::string> marks{"", "- ", "\u2022 ", "* "};
    for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
        Random random(seed);
        const int encoding = static_cast<int>(random.below(6));
        INFO("seed " << seed << ", encoding " << encoding);
        const bool numbered = random.below(2) == 0;
        const std::string mark = pick(random, marks);
        std::vector<std::string> names(2 + random.below(30));
        std::string text;
        for (std::size_t i = 0; i < names.size(); ++i) {
            names[i] = pick(random, all_parts()) + " " + pick(random, all_parts());
            text += mark + (numbered ? std::to_string(i + 1) + ". " : "") + names[i] + "\n";
        }
        const auto roster = read_roster(encoded(text, encoding));
        REQUIRE(roster);
        REQUIRE(roster->format == exchange::RosterFormat::names);
        REQUIRE(roster->students.size() == names.size());
        for (std::size_t i = 0; i < names.size(); ++i)
            REQUIRE(roster->students[i].name == names[i]);
    }
}

TEST_CASE("names exported as CSV read back as they were, formulas included") {
    const std::vector<std::string> pieces{"=", "+",   "-", "@", "A", "b ", "\"",  ",",
                                          ";", "Zoë", "1", "(", ")", "|",  "Żółć"};
    for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
        INFO("seed " << seed);
        Random random(seed);
        std::string name = "x";
        for (std::uint64_t n = random.below(8); n > 0; --n)
            name.insert(random.below(2) == 0 ? 0 : name.size(), pick(random, pieces));
        name = base::tidy_line(name);
        while (name.back() == ',' || name.back() == ';' || name.back() == ' ')
            name.pop_back();
        // A comma in a single name means "Family, Given": here given names are told apart.
        const auto text = exchange::csv_text({{"Given name", "Family name"}, {name, "Lee"}});
        const auto roster = read_roster(text);
        REQUIRE(roster);
        REQUIRE(roster->students.size() == 1);
        REQUIRE(roster->students[0].given == name);
    }
}
