#include "exchange/roster_text.h"

#include <algorithm>
#include <array>
#include <optional>

#include "base/text.h"
#include "exchange/csv.h"
#include "exchange/roster.h"
#include "exchange/roster_names.h"

namespace tallyround::exchange {

namespace {

using base::fail;
using namespace std::string_view_literals;

bool has_ending(std::string_view file_name, std::string_view ending) {
    return folded(file_name).ends_with(ending);
}

/// What a file of another kind is, and what to do, from its first bytes.
std::optional<std::string> foreign_bytes(std::string_view bytes, std::string_view file_name) {
    struct Signature {
        std::string_view start;
        std::string_view what;
    };
    static constexpr std::array signatures{
        Signature{"%PDF-"sv, "a PDF"},
        Signature{"{\\rtf"sv, "a formatted text (RTF)"},
        Signature{"\xD0\xCF\x11\xE0"sv, "an office document"},
        Signature{"SQLite format 3"sv, "a database"},
        Signature{"\x89PNG"sv, "a picture"},
        Signature{"\xFF\xD8\xFF"sv, "a picture"},
        Signature{"GIF8"sv, "a picture"},
        Signature{"\x1F\x8B"sv, "a compressed file"},
    };
    if (bytes.starts_with("PK\x03\x04")) {
        if (has_ending(file_name, ".zip")) {
            return "This is a zip file. Unpack it and choose the list in it (users.csv for "
                   "OneRoster).";
        }
        return "This is a spreadsheet or a zip file. Open it and save the sheet with the names as "
               "CSV, or copy the names and paste them.";
    }
    for (const auto& s : signatures) {
        if (bytes.starts_with(s.start)) {
            return "This is " + std::string(s.what) +
                   ", not a list of names. Save the list as CSV or plain text, or copy the names "
                   "and paste them.";
        }
    }
    return std::nullopt;
}

std::optional<std::string> foreign_text(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    if (first == std::string_view::npos) return std::nullopt;
    const std::string_view rest = text.substr(first);
    const std::size_t second = rest.find_first_not_of(" \t\r\n", 1);
    const char next = second == std::string_view::npos ? '\0' : rest[second];
    const bool object = rest[0] == '{' && (next == '"' || next == '}');
    const bool array = rest[0] == '[' && std::string_view("{[\"]").find(next) < 4;
    if (object || array) {
        return "This is JSON, not a list of names. If it is a plan, open it as a plan; for a class "
               "choose a CSV file or a plain list.";
    }
    const bool letter = rest.size() > 1 &&
                        ((rest[1] >= 'a' && rest[1] <= 'z') || (rest[1] >= 'A' && rest[1] <= 'Z'));
    if (rest[0] == '<' && (letter || rest.starts_with("<!") || rest.starts_with("<?"))) {
        return "This is a web page or XML, not a list of names. Copy the names and paste them, or "
               "save the list as CSV.";
    }
    return std::nullopt;
}

bool mostly_controls(std::string_view text) {
    const auto controls = std::count_if(text.begin(), text.end(), [](char c) {
        const auto b = static_cast<unsigned char>(c);
        return (b < 0x20 && (b < 0x09 || b > 0x0D)) || b == 0x7F;
    });
    return static_cast<std::size_t>(controls) > 8 + text.size() / 20;
}

std::string with_line_feeds(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const char32_t c = base::next_code_point(text, at);
        const bool line_end = c == 0x0B || c == 0x0C || c == 0x85 || c == 0x2028 || c == 0x2029;
        base::append_utf8(out, line_end ? U'\n' : c);
    }
    return out;
}

/// The commas of other scripts as ','.
std::string with_plain_commas(std::string_view line) {
    std::string out;
    for (std::size_t at = 0; at < line.size();) {
        const char32_t c = base::next_code_point(line, at);
        const bool comma = c == 0x3001 || c == 0xFF0C || c == 0x060C || c == 0x061B ||
                           c == 0xFF1B || c == 0x055D || c == 0x1363;
        base::append_utf8(out, comma ? U',' : c);
    }
    return out;
}

/// "Bo and Cy", "and Cy", "Bo & Cy" as the last piece: cut at the word.
void cut_last_piece(std::vector<std::string>& pieces) {
    for (const auto word : {"and "sv, "& "sv}) {
        if (pieces.back().starts_with(word)) {
            pieces.back().erase(0, word.size());
            return;
        }
    }
    for (const auto word : {" and "sv, " & "sv}) {
        const std::size_t at = pieces.back().find(word);
        if (at == std::string::npos) continue;
        std::string last = pieces.back().substr(at + word.size());
        pieces.back().resize(at);
        pieces.push_back(std::move(last));
        return;
    }
}

}  // namespace

base::Result<Decoded> roster_text(std::string_view bytes, std::string_view file_name) {
    if (bytes.size() > max_roster_bytes) {
        return fail("", "The file has " + std::to_string(bytes.size()) + " bytes; a list of " +
                            "names may have at most " + std::to_string(max_roster_bytes) +
                            ". Keep only the rows of one class.");
    }
    if (auto what = foreign_bytes(bytes, file_name)) return fail("", *std::move(what));
    auto decoded = to_utf8(bytes);
    if (!decoded) return decoded;
    if (auto what = foreign_text(decoded->text)) return fail("", *std::move(what));
    if (mostly_controls(decoded->text)) {
        return fail("",
                    "This is not a text file (it is full of control characters). Save the list as "
                    "CSV or as plain text and choose that file.");
    }
    decoded->text = with_line_feeds(decoded->text);
    return decoded;
}

std::vector<std::string> pieces_of_line(std::string_view line, char separator) {
    const std::string text =
        separator == no_separator ? with_plain_commas(line) : std::string(line);
    const char cut = separator == no_separator ? ',' : separator;
    std::vector<std::string> pieces;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t to = std::min(text.find(cut, from), text.size());
        std::string piece = base::trim(std::string_view(text).substr(from, to - from));
        if (!piece.empty()) pieces.push_back(std::move(piece));
        from = to + 1;
    }
    if (pieces.size() > 1) cut_last_piece(pieces);
    return pieces;
}

}  // namespace tallyround::exchange
