#include "plan/field.h"

#include <algorithm>

namespace tallyround::plan::detail {

namespace {

struct PrimePower {
    int prime = 0;
    int exponent = 0;
};

PrimePower prime_power(int n) {
    int prime = 2;
    while (prime <= n && n % prime != 0)
        ++prime;
    PrimePower out{prime, 0};
    for (; n > 1 && n % prime == 0; n /= prime)
        ++out.exponent;
    return n == 1 ? out : PrimePower{};
}

using Digits = std::vector<int>;

Digits digits_of(int value, int base, int count) {
    Digits out;
    for (int i = 0; i < count; ++i, value /= base)
        out.push_back(value % base);
    return out;
}

int value_of(const Digits& digits, int base) {
    int value = 0;
    for (std::size_t i = digits.size(); i > 0; --i)
        value = value * base + digits[i - 1];
    return value;
}

/// a * b modulo x^e + modulus (low digits), coefficients modulo p.
int product(int a, int b, const PrimePower& pp, const Digits& modulus) {
    const auto e = std::size_t(pp.exponent);
    const Digits x = digits_of(a, pp.prime, pp.exponent);
    const Digits y = digits_of(b, pp.prime, pp.exponent);
    Digits wide(2 * e, 0);
    for (std::size_t i = 0; i < e; ++i)
        for (std::size_t j = 0; j < e; ++j)
            wide[i + j] = (wide[i + j] + x[i] * y[j]) % pp.prime;
    for (std::size_t top = 2 * e - 1; top >= e; --top) {
        const int factor = wide[top];
        wide[top] = 0;
        for (std::size_t i = 0; i < e; ++i) {
            int& digit = wide[top - e + i];
            digit = (digit + (pp.prime - modulus[i]) * factor) % pp.prime;
        }
    }
    wide.resize(e);
    return value_of(wide, pp.prime);
}

}  // namespace

std::optional<Field> finite_field(int order) {
    if (order < 2 || order > 128) return std::nullopt;
    const PrimePower pp = prime_power(order);
    if (pp.exponent == 0) return std::nullopt;
    Field field;
    field.order = order;
    for (int a = 0; a < order; ++a) {
        for (int b = 0; b < order; ++b) {
            Digits sum = digits_of(a, pp.prime, pp.exponent);
            const Digits other = digits_of(b, pp.prime, pp.exponent);
            for (std::size_t i = 0; i < sum.size(); ++i)
                sum[i] = (sum[i] + other[i]) % pp.prime;
            field.sums.push_back(value_of(sum, pp.prime));
        }
    }
    for (int low = 0; low < order; ++low) {
        const Digits modulus = digits_of(low, pp.prime, pp.exponent);
        field.products.clear();
        bool zero_divisor = false;
        for (int a = 0; a < order && !zero_divisor; ++a) {
            for (int b = 0; b < order; ++b) {
                field.products.push_back(product(a, b, pp, modulus));
                zero_divisor = zero_divisor || (a > 0 && b > 0 && field.products.back() == 0);
            }
        }
        if (!zero_divisor) return field;
    }
    return std::nullopt;
}

}  // namespace tallyround::plan::detail
