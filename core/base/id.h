#pragma once
#include <algorithm>
#include <compare>
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

namespace tallyround::base {

/// A short text kept once for all that carry it, for as long as the program runs: four bytes to
/// copy, one comparison to tell two apart. Not for use from several threads.
class Name {
  public:
    constexpr Name() = default;
    explicit Name(std::string_view text) : at_(text.empty() ? 0 : place(text)) {}

    std::string_view view() const { return at_ == 0 ? std::string_view() : text_at(at_); }
    constexpr bool empty() const { return at_ == 0; }
    constexpr std::size_t hash() const { return at_; }

    friend constexpr bool operator==(Name, Name) = default;
    /// By bytes.
    friend std::strong_ordering operator<=>(Name a, Name b) {
        return a.at_ == b.at_ ? std::strong_ordering::equal : a.view() <=> b.view();
    }

  private:
    static std::uint32_t place(std::string_view text);
    static std::string_view text_at(std::uint32_t at);

    std::uint32_t at_ = 0;  ///< in the table of all names, which only grows; 0: no text
};

/// What something is called by: at most 23 bytes, ordered by bytes, trivially copyable. `Tag` makes
/// ids of different things different types. Empty means "none".
template <class Tag>
class Id {
  public:
    static constexpr std::size_t max_size = 23;

    constexpr Id() = default;
    /// Keeps the first 23 bytes, up to the first zero; check with `fits` first where the text comes
    /// from outside.
    explicit Id(std::string_view text)
        : name_(text.substr(0, std::min(max_size, text.find('\0')))) {}
    /// A name made from a text that would do for an id.
    constexpr explicit Id(Name name) : name_(name) {}

    /// True for 1..23 bytes of [A-Za-z0-9._-]: what an id in a file may look like.
    static constexpr bool fits(std::string_view text) {
        return !text.empty() && text.size() <= max_size &&
               std::all_of(text.begin(), text.end(), [](char c) {
                   return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                          (c >= '0' && c <= '9') || c == '-' || c == '.' || c == '_';
               });
    }

    std::string_view view() const { return name_.view(); }
    std::string str() const { return std::string(view()); }
    constexpr bool empty() const { return name_.empty(); }
    constexpr explicit operator bool() const { return !empty(); }
    constexpr std::size_t hash() const { return name_.hash(); }

    friend constexpr bool operator==(const Id&, const Id&) = default;
    friend auto operator<=>(const Id&, const Id&) = default;

  private:
    Name name_;
};

}  // namespace tallyround::base

template <class Tag>
struct std::hash<tallyround::base::Id<Tag>> {
    std::size_t operator()(const tallyround::base::Id<Tag>& id) const noexcept { return id.hash(); }
};
