#pragma once
#include <compare>
#include <cstdint>
#include <string>

namespace tallyround::cards {

/// An exact fraction in lowest terms over 64-bit integers, or "undefined": what a division by zero
/// or a result past 64 bits gives. Undefined spreads through every operation, so a card composer
/// tests once, at the end, and throws the attempt away. No floating point anywhere.
class Exact {
  public:
    constexpr Exact() = default;
    constexpr Exact(std::int64_t whole) : top_(whole) {}  // NOLINT: numbers convert on purpose
    /// top/bottom reduced, the sign on top; undefined when bottom is 0.
    Exact(std::int64_t top, std::int64_t bottom);
    static Exact undefined();

    std::int64_t top() const { return top_; }
    std::int64_t bottom() const { return bottom_; }  ///< 0 when undefined, else >= 1
    bool defined() const { return bottom_ != 0; }
    bool whole() const { return bottom_ == 1; }
    /// True when the decimal expansion ends (bottom has no prime factor but 2 and 5).
    bool ends() const;

    friend Exact operator+(const Exact& a, const Exact& b);
    friend Exact operator-(const Exact& a, const Exact& b);
    friend Exact operator*(const Exact& a, const Exact& b);
    friend Exact operator/(const Exact& a, const Exact& b);
    Exact operator-() const { return Exact(0) - *this; }
    Exact& operator+=(const Exact& b) { return *this = *this + b; }

    /// Equal values; undefined equals undefined only.
    friend bool operator==(const Exact&, const Exact&) = default;
    /// By value; undefined is unordered.
    friend std::partial_ordering operator<=>(const Exact& a, const Exact& b);

  private:
    std::int64_t top_ = 0;
    std::int64_t bottom_ = 1;
};

Exact abs(const Exact& x);
/// base^exponent; exponent -64..64, otherwise undefined. 0^0 and 0^negative are undefined.
Exact power(const Exact& base, int exponent);
/// Greatest whole number not above x (x defined).
std::int64_t floor_of(const Exact& x);
/// x rounded to `places` digits after the point, halves away from zero.
Exact round_to(const Exact& x, int places);
std::int64_t gcd(std::int64_t a, std::int64_t b);
std::int64_t lcm(std::int64_t a, std::int64_t b);

// How a number is written. For people: "−" (U+2212) as the sign, commas from 10,000 up.
std::string whole_text(std::int64_t n);     ///< "12,480"
std::string fraction_text(const Exact& x);  ///< "17/12", "3"
std::string mixed_text(const Exact& x);     ///< "1 5/12", "−2 1/3", "3/4"
std::string decimal_text(const Exact& x);   ///< "0.35" when it ends, else as fraction_text
std::string money_text(const Exact& x);     ///< "$12.60", "$7"; as fraction_text below cents
std::string power_text(int exponent);       ///< "³", "⁻²": superscript digits
std::string fixed_text(const Exact& x, int places);  ///< "4.80": at least so many places

// For a general computer-algebra system: ASCII, exact.
std::string math(const Exact& x);     ///< "17/12", "-3"
std::string math_in(const Exact& x);  ///< the same, in brackets unless a whole number >= 0

}  // namespace tallyround::cards
