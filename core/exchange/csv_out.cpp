#include "exchange/csv_out.h"

#include "base/text.h"

namespace tallyround::exchange {

namespace {

/// [+-] digits [. digits] [e [+-] digits], with a digit before the exponent: a number, no formula.
bool is_plain_number(std::string_view text) {
    std::size_t at = 0;
    const auto digits = [&] {
        const std::size_t from = at;
        while (at < text.size() && text[at] >= '0' && text[at] <= '9')
            ++at;
        return at - from;
    };
    const auto sign = [&] {
        if (at < text.size() && (text[at] == '+' || text[at] == '-')) ++at;
    };
    sign();
    std::size_t count = digits();
    if (at < text.size() && text[at] == '.') {
        ++at;
        count += digits();
    }
    if (count == 0) return false;
    if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
        ++at;
        sign();
        if (digits() == 0) return false;
    }
    return at == text.size();
}

bool is_space(char32_t c) {
    return c == ' ' || (c >= 0x09 && c <= 0x0D) || c == 0xA0 || (c >= 0x2000 && c <= 0x200F) ||
           c == 0x3000 || c == 0xFEFF;
}

bool starts_formula(std::string_view text) {
    if (text.empty()) return false;
    if (text.front() == '\t' || text.front() == '\r') return true;
    for (std::size_t at = 0; at < text.size();) {
        const char32_t c = base::next_code_point(text, at);
        if (is_space(c)) continue;
        return c == '=' || c == '+' || c == '-' || c == '@' || c == 0xFF1D || c == 0xFF0B ||
               c == 0xFF0D || c == 0xFF20;
    }
    return false;
}

}  // namespace

std::string csv_cell(std::string_view text) {
    std::string cell;
    if (starts_formula(text) && !is_plain_number(text)) cell += '\'';
    cell += text;
    const bool edge = !cell.empty() && (cell.front() == ' ' || cell.back() == ' ');
    if (!edge && cell.find_first_of(",\";\t\r\n") == std::string::npos) return cell;
    std::string out = "\"";
    for (const char c : cell) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + '"';
}

std::string csv_text(const std::vector<std::vector<std::string>>& rows) {
    std::string out;
    for (const auto& row : rows) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (i > 0) out += ',';
            out += csv_cell(row[i]);
        }
        out += "\r\n";
    }
    return out;
}

}  // namespace tallyround::exchange
