#pragma once
#include <cstddef>
#include <string>
#include <string_view>

namespace tallyround::exchange {

/// Walks JSON text (RFC 8259) strictly without building anything: for documents of which most is
/// read in pieces. Once something is wrong, `failed` says so and every further step does nothing.
class JsonSkim {
  public:
    static constexpr std::size_t max_depth = 64;

    explicit JsonSkim(std::string_view bytes) : bytes_(bytes) {}

    std::size_t at() const { return at_; }
    /// Goes on from a place that is known to be a good one; forgets a failure.
    void jump(std::size_t at);
    bool failed() const { return !why_.empty(); }
    /// What is wrong, as a sentence; the place is `at`.
    const std::string& why() const { return why_; }

    /// Skips white space.
    void space();
    /// Skips white space; true, and past it, when `c` comes next. Never fails.
    bool take(char c);
    /// The same, but fails when `c` does not come next.
    bool expect(char c);
    /// True when nothing but white space is left; fails otherwise.
    bool end();
    /// The text of the next value, without the white space around it. Empty after a failure.
    std::string_view value();
    /// The text of the next value, which must be a string, with its quotation marks.
    std::string_view string();
    /// Fails here with this reason.
    void fail(std::string why);

  private:
    void skip_value(std::size_t depth);
    void skip_string();
    void skip_escape();
    bool skip_hex(unsigned& value);
    void skip_number();
    void skip_digits();
    void skip_word(std::string_view word);
    char next() const { return at_ < bytes_.size() ? bytes_[at_] : '\0'; }

    std::string_view bytes_;
    std::size_t at_ = 0;
    std::string why_;
};

/// A place in a text that may come in pieces.
class TextPlace {
  public:
    /// Moves on past these bytes.
    void pass(std::string_view read);
    /// "line 3, column 14"; columns count bytes.
    std::string text() const;

  private:
    std::size_t lines_ = 0;   ///< line feeds before here
    std::size_t column_ = 0;  ///< bytes since the last of them
};

}  // namespace tallyround::exchange
