#pragma once
#include <optional>
#include <vector>

namespace tallyround::plan::detail {

/// A finite field with `order` elements, numbered 0 (zero), 1 (one), ...
struct Field {
    int order = 0;
    std::vector<int> sums;      ///< order x order
    std::vector<int> products;  ///< order x order

    int add(int a, int b) const { return sums[std::size_t(a) * std::size_t(order) + b]; }
    int multiply(int a, int b) const { return products[std::size_t(a) * std::size_t(order) + b]; }
};

/// The field of a prime-power order up to 128; nothing for other orders. Elements of GF(p^e) are
/// polynomials with digits base p, modulo the first monic polynomial without zero divisors.
std::optional<Field> finite_field(int order);

}  // namespace tallyround::plan::detail
