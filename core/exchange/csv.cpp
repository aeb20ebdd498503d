#include "exchange/csv.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <map>
#include <optional>

#include "base/text.h"

namespace tallyround::exchange {

namespace {

using base::fail;
using base::Result;

bool is_line_end(char c) {
    return c == '\n' || c == '\r';
}

/// The separator of a first line "sep=;" and the length of that line with its end.
struct SeparatorLine {
    char separator = no_separator;
    std::size_t size = 0;
};

std::optional<SeparatorLine> separator_line(std::string_view text) {
    static constexpr std::string_view word = "sep=";
    if (text.size() <= word.size()) return std::nullopt;
    for (std::size_t i = 0; i < word.size(); ++i) {
        if (std::tolower(static_cast<unsigned char>(text[i])) != word[i]) return std::nullopt;
    }
    const char c = text[word.size()];
    std::size_t end = word.size() + 1;
    if (c != ',' && c != ';' && c != '\t') return std::nullopt;
    if (end < text.size() && !is_line_end(text[end])) return std::nullopt;
    if (end < text.size() && text[end] == '\r') ++end;
    if (end < text.size() && text[end] == '\n') ++end;
    return SeparatorLine{c, end};
}

class Scanner {
  public:
    Scanner(std::string_view text, char separator, const CsvLimits& limits)
        : text_(text), separator_(separator), limits_(limits) {
        if (const auto line = separator_line(text)) {
            at_ = line->size;
            row_ = 1;
        }
    }

    bool at_end() const { return at_ >= text_.size(); }

    /// The next record, blank ones too. Requires !at_end().
    Result<CsvRow> next() {
        CsvRow record{++row_, {}};
        if (row_ > limits_.rows) {
            return fail("row " + std::to_string(row_),
                        "A file may have at most " + std::to_string(limits_.rows) +
                            " rows. Keep only the rows of one class.");
        }
        column_ = 0;
        do {
            if (++column_ > limits_.columns) {
                return error("A row may have at most " + std::to_string(limits_.columns) +
                             " columns. Keep only the columns with names and ids.");
            }
            auto cell = next_cell();
            if (!cell) return tl::make_unexpected(cell.error());
            record.cells.push_back(*std::move(cell));
        } while (take_separator());
        take_line_end();
        return record;
    }

  private:
    bool ends_cell(std::size_t at) const {
        return at >= text_.size() || is_line_end(text_[at]) ||
               (separator_ != no_separator && text_[at] == separator_);
    }

    bool take_separator() {
        const bool more = at_ < text_.size() && !is_line_end(text_[at_]);
        if (more) ++at_;
        return more;
    }

    void take_line_end() {
        if (at_ < text_.size() && text_[at_] == '\r') {
            ++at_;
            if (at_ < text_.size() && text_[at_] == '\n') ++at_;
        } else if (at_ < text_.size()) {
            ++at_;
        }
    }

    std::size_t after_blanks(std::size_t at) const {
        while (!ends_cell(at) && (text_[at] == ' ' || text_[at] == '\t'))
            ++at;
        return at;
    }

    tl::unexpected<base::Error> error(std::string message) const {
        return fail("row " + std::to_string(row_) + ", column " + std::to_string(column_),
                    std::move(message));
    }

    Result<CsvCell> next_cell() {
        const std::size_t start = at_;
        const std::size_t first = after_blanks(at_);
        if (first < text_.size() && text_[first] == '"') {
            auto cell = quoted_cell(first + 1);
            if (!cell || ends_cell(at_)) return cell;
            if (separator_ != no_separator) {
                return error(
                    "Text follows a closing quotation mark. Inside a quoted cell write every "
                    "quotation mark twice.");
            }
        }
        at_ = start;
        while (!ends_cell(at_))
            ++at_;
        return within_limit(CsvCell{std::string(text_.substr(start, at_ - start)), false});
    }

    /// From after the opening mark; leaves `at_` after the closing one and blanks.
    Result<CsvCell> quoted_cell(std::size_t at) {
        CsvCell cell{{}, true};
        for (;; ++at) {
            const std::size_t mark = std::min(text_.find('"', at), text_.size());
            cell.text.append(text_.substr(at, mark - at));
            if (mark == text_.size()) {
                return error(
                    "A quotation mark is opened here and never closed. Close it, or delete it if "
                    "it is not meant.");
            }
            at = mark + 1;
            if (at >= text_.size() || text_[at] != '"') break;
            cell.text += '"';
        }
        at_ = after_blanks(at);
        return within_limit(std::move(cell));
    }

    Result<CsvCell> within_limit(CsvCell cell) const {
        if (cell.text.size() > limits_.cell_bytes) {
            return error("A cell may have at most " + std::to_string(limits_.cell_bytes) +
                         " bytes. Check that the file is a list of names.");
        }
        return cell;
    }

    std::string_view text_;
    char separator_;
    const CsvLimits& limits_;
    std::size_t at_ = 0;
    std::size_t row_ = 0;
    std::size_t column_ = 0;
};

/// Of the first 100 rows that hold anything, how many have the most frequent number of cells;
/// 0 when that number is one. Rows after one that cannot be read with this separator do not count.
std::size_t agreement(std::string_view text, char separator) {
    const CsvLimits limits;
    Scanner scanner(text, separator, limits);
    std::map<std::size_t, std::size_t> rows_with;
    for (std::size_t seen = 0; seen < 100 && !scanner.at_end();) {
        const auto record = scanner.next();
        if (!record) break;
        if (record->blank()) continue;
        ++rows_with[record->cells.size()];
        ++seen;
    }
    std::size_t cells = 1;
    std::size_t rows = 0;
    for (const auto& [n, count] : rows_with) {
        if (count >= rows) {
            cells = n;
            rows = count;
        }
    }
    return cells > 1 ? rows : 0;
}

}  // namespace

bool CsvRow::blank() const {
    return std::all_of(cells.begin(), cells.end(),
                       [](const CsvCell& c) { return base::trim(c.text).empty(); });
}

char find_separator(std::string_view utf8) {
    if (const auto line = separator_line(utf8)) return line->separator;
    char best = no_separator;
    std::size_t most = 0;
    for (const char candidate : {'\t', ';', ','}) {
        const std::size_t rows = agreement(utf8, candidate);
        if (rows > most) {
            most = rows;
            best = candidate;
        }
    }
    return best;
}

base::Result<std::vector<CsvRow>> read_csv(std::string_view utf8, char separator,
                                           const CsvLimits& limits) {
    if (utf8.size() > limits.file_bytes) {
        return fail("", "The file has " + std::to_string(utf8.size()) + " bytes; at most " +
                            std::to_string(limits.file_bytes) + " can be read.");
    }
    std::vector<CsvRow> rows;
    Scanner scanner(utf8, separator, limits);
    while (!scanner.at_end()) {
        auto record = scanner.next();
        if (!record) return tl::make_unexpected(record.error());
        rows.push_back(*std::move(record));
    }
    return rows;
}

}  // namespace tallyround::exchange
