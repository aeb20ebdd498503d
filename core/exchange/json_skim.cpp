#include "exchange/json_skim.h"

#include <algorithm>

#include "base/text.h"

namespace tallyround::exchange {

void JsonSkim::jump(std::size_t at) {
    at_ = at;
    why_.clear();
}

void JsonSkim::fail(std::string why) {
    if (failed()) return;
    why_ = at_ >= bytes_.size() ? "The JSON text ends too early." : std::move(why);
}

void JsonSkim::space() {
    while (at_ < bytes_.size() && (bytes_[at_] == ' ' || bytes_[at_] == '\n' ||
                                   bytes_[at_] == '\r' || bytes_[at_] == '\t')) {
        ++at_;
    }
}

bool JsonSkim::take(char c) {
    if (failed()) return false;
    space();
    if (at_ >= bytes_.size() || bytes_[at_] != c) return false;
    ++at_;
    return true;
}

bool JsonSkim::expect(char c) {
    if (take(c)) return true;
    fail(std::string("Expected ") + c + " here; this is not valid JSON from here on.");
    return false;
}

bool JsonSkim::end() {
    space();
    if (!failed() && at_ < bytes_.size()) fail("There is more text after the end of the JSON.");
    return !failed();
}

std::string_view JsonSkim::value() {
    space();
    const std::size_t start = at_;
    skip_value(0);
    return failed() ? std::string_view() : bytes_.substr(start, at_ - start);
}

std::string_view JsonSkim::string() {
    space();
    const std::size_t start = at_;
    skip_string();
    return failed() ? std::string_view() : bytes_.substr(start, at_ - start);
}

void JsonSkim::skip_value(std::size_t depth) {
    if (failed()) return;
    space();
    if (depth >= max_depth) {
        fail("Nested deeper than " + std::to_string(max_depth) +
             " levels; this is not a document of ours.");
        return;
    }
    const char c = next();
    if (c == '{' || c == '[') {
        ++at_;
        const char close = c == '{' ? '}' : ']';
        if (take(close)) return;
        do {
            if (c == '{') {
                string();
                expect(':');
            }
            skip_value(depth + 1);
        } while (take(','));
        expect(close);
    } else if (c == '"') {
        skip_string();
    } else if (c == 't') {
        skip_word("true");
    } else if (c == 'f') {
        skip_word("false");
    } else if (c == 'n') {
        skip_word("null");
    } else {
        skip_number();
    }
}

void JsonSkim::skip_string() {
    if (failed()) return;
    if (next() != '"') {
        fail("Expected text in quotation marks; this is not valid JSON from here on.");
        return;
    }
    const std::size_t start = at_++;
    bool ascii = true;
    while (!failed() && at_ < bytes_.size() && bytes_[at_] != '"') {
        const auto u = static_cast<unsigned char>(bytes_[at_]);
        ascii = ascii && u < 0x80;
        if (u < 0x20) {
            fail("A control character in the middle of a text.");
        } else if (u == '\\') {
            skip_escape();
        } else {
            ++at_;
        }
    }
    if (failed()) return;
    if (at_ >= bytes_.size()) {
        fail("");
    } else if (!ascii && !base::is_utf8(bytes_.substr(start, at_ - start))) {
        at_ = start;
        fail("This text is not UTF-8.");
    } else {
        ++at_;
    }
}

void JsonSkim::skip_escape() {
    ++at_;
    const std::string_view simple = "\"\\/bfnrt";
    if (at_ < bytes_.size() && simple.find(bytes_[at_]) != std::string_view::npos) {
        ++at_;
        return;
    }
    unsigned unit = 0;
    if (!skip_hex(unit)) return;
    const bool high = unit >= 0xD800 && unit < 0xDC00;
    bool good = unit < 0xD800 || unit > 0xDFFF;
    if (high && next() == '\\') {
        ++at_;
        if (!skip_hex(unit)) return;
        good = unit >= 0xDC00 && unit < 0xE000;
    }
    if (!good) fail("Half a surrogate pair in the middle of a text.");
}

/// `uXXXX` after a backslash.
bool JsonSkim::skip_hex(unsigned& value) {
    const bool u = next() == 'u';
    value = 0;
    for (int i = 0; u && i < 4; ++i) {
        ++at_;
        const char c = next();
        const std::string_view digits = "0123456789abcdef0123456789ABCDEF";
        const auto digit = at_ < bytes_.size() ? digits.find(c) : std::string_view::npos;
        if (digit == std::string_view::npos) break;
        value = value * 16 + static_cast<unsigned>(digit % 16);
        if (i == 3) {
            ++at_;
            return true;
        }
    }
    fail("A backslash with nothing known after it in the middle of a text.");
    return false;
}

void JsonSkim::skip_digits() {
    if (next() < '0' || next() > '9') {
        fail("This is not valid JSON from here on.");
        return;
    }
    while (next() >= '0' && next() <= '9')
        ++at_;
}

void JsonSkim::skip_number() {
    if (next() == '-') ++at_;
    if (next() == '0') {
        ++at_;
    } else {
        skip_digits();
    }
    if (!failed() && next() == '.') {
        ++at_;
        skip_digits();
    }
    if (!failed() && (next() == 'e' || next() == 'E')) {
        ++at_;
        if (next() == '+' || next() == '-') ++at_;
        skip_digits();
    }
}

void JsonSkim::skip_word(std::string_view word) {
    if (bytes_.substr(at_, word.size()) == word) {
        at_ += word.size();
    } else {
        fail("This is not valid JSON from here on.");
    }
}

void TextPlace::pass(std::string_view read) {
    const std::size_t last_feed = read.rfind('\n');
    if (last_feed == std::string_view::npos) {
        column_ += read.size();
        return;
    }
    column_ = read.size() - last_feed - 1;
    lines_ += static_cast<std::size_t>(std::count(read.begin(), read.end(), '\n'));
}

std::string TextPlace::text() const {
    return "line " + std::to_string(lines_ + 1) + ", column " + std::to_string(column_ + 1);
}

}  // namespace tallyround::exchange
