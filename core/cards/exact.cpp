#include "cards/exact.h"

#include <array>
#include <numeric>
#include <string_view>

namespace tallyround::cards {

namespace {

bool times(std::int64_t a, std::int64_t b, std::int64_t& out) {
    return !__builtin_mul_overflow(a, b, &out);
}

constexpr std::string_view minus_sign = "−";

std::string signed_text(bool negative, std::string digits) {
    return negative ? std::string(minus_sign) + digits : digits;
}

/// Digits of |n|, grouped in threes from 10,000 up.
std::string grouped(std::int64_t n) {
    std::string digits = std::to_string(n < 0 ? -n : n);
    if (digits.size() > 4) {
        for (std::size_t at = digits.size() - 3;
             at > 0 && at<digits.size(); at = at> 3 ? at - 3 : 0)
            digits.insert(at, ",");
    }
    return digits;
}

std::string plain_fraction(std::int64_t top, std::int64_t bottom) {
    return bottom == 1 ? grouped(top) : grouped(top) + "/" + grouped(bottom);
}

}  // namespace

Exact::Exact(std::int64_t top, std::int64_t bottom) {
    if (bottom == 0 || top == INT64_MIN || bottom == INT64_MIN) {
        bottom_ = 0;
        return;
    }
    const std::int64_t common = std::gcd(top, bottom);
    const std::int64_t sign = bottom < 0 ? -1 : 1;
    top_ = sign * top / common;
    bottom_ = sign * bottom / common;
}

Exact Exact::undefined() {
    return Exact(0, 0);
}

bool Exact::ends() const {
    if (!defined()) return false;
    std::int64_t rest = bottom_;
    while (rest % 2 == 0)
        rest /= 2;
    while (rest % 5 == 0)
        rest /= 5;
    return rest == 1;
}

Exact operator+(const Exact& a, const Exact& b) {
    std::int64_t left = 0;
    std::int64_t right = 0;
    std::int64_t top = 0;
    std::int64_t bottom = 0;
    const bool fits = a.defined() && b.defined() && times(a.top_, b.bottom_, left) &&
                      times(b.top_, a.bottom_, right) &&
                      !__builtin_add_overflow(left, right, &top) &&
                      times(a.bottom_, b.bottom_, bottom);
    return fits ? Exact(top, bottom) : Exact::undefined();
}

Exact operator-(const Exact& a, const Exact& b) {
    return a + b * Exact(-1);
}

Exact operator*(const Exact& a, const Exact& b) {
    std::int64_t top = 0;
    std::int64_t bottom = 0;
    const bool fits = a.defined() && b.defined() && times(a.top_, b.top_, top) &&
                      times(a.bottom_, b.bottom_, bottom);
    return fits ? Exact(top, bottom) : Exact::undefined();
}

Exact operator/(const Exact& a, const Exact& b) {
    if (!b.defined()) return b;
    return a * Exact(b.bottom_, b.top_);
}

std::partial_ordering operator<=>(const Exact& a, const Exact& b) {
    if (!a.defined() || !b.defined())
        return a == b ? std::partial_ordering::equivalent : std::partial_ordering::unordered;
    // Compare whole parts, then the flipped remainders: Euclid's algorithm, no products, no
    // overflow.
    const std::int64_t fa = floor_of(a);
    const std::int64_t fb = floor_of(b);
    if (fa != fb) return fa <=> fb;
    const Exact ra(a.top_ - fa * a.bottom_, a.bottom_);
    const Exact rb(b.top_ - fb * b.bottom_, b.bottom_);
    if (ra.top_ == 0 || rb.top_ == 0) return ra.top_ <=> rb.top_;
    return Exact(rb.bottom_, rb.top_) <=> Exact(ra.bottom_, ra.top_);
}

Exact abs(const Exact& x) {
    return x < Exact(0) ? -x : x;
}

Exact power(const Exact& base, int exponent) {
    if (exponent < -64 || exponent > 64 || (base == Exact(0) && exponent <= 0))
        return Exact::undefined();
    Exact out(1);
    for (int i = 0; i < (exponent < 0 ? -exponent : exponent); ++i)
        out = out * base;
    return exponent < 0 ? Exact(1) / out : out;
}

std::int64_t floor_of(const Exact& x) {
    if (!x.defined()) return 0;
    const std::int64_t quotient = x.top() / x.bottom();
    return x.top() % x.bottom() < 0 ? quotient - 1 : quotient;
}

Exact round_to(const Exact& x, int places) {
    const Exact scale = power(Exact(10), places);
    const Exact shifted = abs(x) * scale + Exact(1, 2);
    if (!shifted.defined()) return Exact::undefined();
    const Exact rounded = Exact(floor_of(shifted)) / scale;
    return x < Exact(0) ? -rounded : rounded;
}

std::int64_t gcd(std::int64_t a, std::int64_t b) {
    return std::gcd(a, b);
}

std::int64_t lcm(std::int64_t a, std::int64_t b) {
    return std::lcm(a, b);
}

std::string whole_text(std::int64_t n) {
    return signed_text(n < 0, grouped(n));
}

std::string fraction_text(const Exact& x) {
    return signed_text(x.top() < 0, plain_fraction(x.top(), x.bottom()));
}

std::string mixed_text(const Exact& x) {
    const std::int64_t top = x.top() < 0 ? -x.top() : x.top();
    if (x.bottom() <= 1 || top < x.bottom()) return fraction_text(x);
    return signed_text(x.top() < 0, grouped(top / x.bottom()) + " " +
                                        plain_fraction(top % x.bottom(), x.bottom()));
}

std::string fixed_text(const Exact& x, int places) {
    if (!x.ends()) return fraction_text(x);
    Exact rest = abs(x);
    const std::int64_t whole = floor_of(rest);
    rest = rest - Exact(whole);
    std::string digits;
    while (rest.top() != 0) {
        rest = rest * Exact(10);
        const std::int64_t digit = floor_of(rest);
        digits += static_cast<char>('0' + digit);
        rest = rest - Exact(digit);
    }
    while (static_cast<int>(digits.size()) < places)
        digits += '0';
    return signed_text(x < Exact(0), grouped(whole) + (digits.empty() ? "" : "." + digits));
}

std::string decimal_text(const Exact& x) {
    return fixed_text(x, 0);
}

std::string money_text(const Exact& x) {
    if (x.whole()) return signed_text(x < Exact(0), "$" + grouped(x.top()));
    if (!(x * Exact(100)).whole()) return fraction_text(x);
    return signed_text(x < Exact(0), "$" + fixed_text(abs(x), 2));
}

std::string power_text(int exponent) {
    static constexpr std::array<std::string_view, 10> raised{"⁰", "¹", "²", "³", "⁴",
                                                             "⁵", "⁶", "⁷", "⁸", "⁹"};
    std::string out = exponent < 0 ? "⁻" : "";
    for (char digit : std::to_string(exponent < 0 ? -exponent : exponent))
        out += raised[static_cast<std::size_t>(digit - '0')];
    return out;
}

std::string math(const Exact& x) {
    std::string out = std::to_string(x.top());
    if (x.bottom() != 1) out += "/" + std::to_string(x.bottom());
    return out;
}

std::string math_in(const Exact& x) {
    return x.whole() && x.top() >= 0 ? math(x) : "(" + math(x) + ")";
}

}  // namespace tallyround::cards
