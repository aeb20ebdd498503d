#pragma once
#include <algorithm>
#include <array>
#include <compare>
#include <cstdint>
#include <cstring>
#include <functional>
#include <string>
#include <string_view>

namespace tallyround::base {

/// A name of at most 23 bytes kept in place: trivially copyable, ordered by bytes, no allocation.
/// `Tag` makes ids of different things different types. Empty means "none".
template <class Tag>
class Id {
  public:
    static constexpr std::size_t max_size = 23;

    constexpr Id() = default;
    /// Keeps the first 23 bytes; check with `fits` first where the text comes from outside.
    constexpr explicit Id(std::string_view text) {
        std::copy_n(text.begin(), std::min(text.size(), max_size), bytes_.begin());
    }

    /// True for 1..23 bytes of [A-Za-z0-9._-]: what an id in a file may look like.
    static constexpr bool fits(std::string_view text) {
        return !text.empty() && text.size() <= max_size &&
               std::all_of(text.begin(), text.end(), [](char c) {
                   return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                          (c >= '0' && c <= '9') || c == '-' || c == '.' || c == '_';
               });
    }

    constexpr std::string_view view() const {
        std::size_t n = 0;
        while (n < max_size && bytes_[n] != '\0')
            ++n;
        return {bytes_.data(), n};
    }
    std::string str() const { return std::string(view()); }
    constexpr bool empty() const { return bytes_[0] == '\0'; }
    constexpr explicit operator bool() const { return !empty(); }

    friend constexpr bool operator==(const Id&, const Id&) = default;
    friend constexpr auto operator<=>(const Id& a, const Id& b) { return a.view() <=> b.view(); }

  private:
    std::array<char, max_size + 1> bytes_{};
};

}  // namespace tallyround::base

template <class Tag>
struct std::hash<tallyround::base::Id<Tag>> {
    std::size_t operator()(const tallyround::base::Id<Tag>& id) const noexcept {
        return std::hash<std::string_view>{}(id.view());
    }
};
