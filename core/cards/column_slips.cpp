#include "cards/column_slips.h"

#include <array>
#include <cstddef>

namespace tallyround::cards {

namespace {

constexpr std::size_t columns = 18;
using Digits = std::array<std::int64_t, columns + 1>;

Digits digits_of(std::int64_t n) {
    Digits digits{};
    for (std::size_t i = 0; i < columns; ++i, n /= 10)
        digits[i] = n % 10;
    return digits;
}

/// Columns of `top` and `bottom` from the right; `borrow` is called with the top digits and the
/// column that needs ten more, after which ten has been added.
template <class Borrow, class Column>
std::int64_t subtract(std::int64_t top, std::int64_t bottom, Borrow borrow, Column column) {
    Digits up = digits_of(top);
    const Digits down = digits_of(bottom);
    std::int64_t result = 0;
    std::int64_t place = 1;
    for (std::size_t i = 0; i < columns; ++i, place *= 10) {
        std::int64_t digit = 0;
        if (!column(up[i], down[i], digit)) {
            if (up[i] < down[i]) {
                borrow(up, i);
                up[i] += 10;
            }
            digit = up[i] - down[i];
        }
        if (digit > 0) result += digit * place;
    }
    return result;
}

bool as_usual(std::int64_t, std::int64_t, std::int64_t&) {
    return false;
}

void decrement_next(Digits& up, std::size_t i) {
    std::size_t next = i + 1;
    while (next < columns && up[next] == 0)
        up[next++] = 9;
    if (next < columns) --up[next];
}

}  // namespace

std::int64_t smaller_from_larger(std::int64_t top, std::int64_t bottom) {
    return subtract(
        top, bottom, [](Digits&, std::size_t) {},
        [](std::int64_t up, std::int64_t down, std::int64_t& digit) {
            digit = up < down ? down - up : up - down;
            return true;
        });
}

std::int64_t borrow_no_decrement(std::int64_t top, std::int64_t bottom) {
    return subtract(
        top, bottom, [](Digits&, std::size_t) {}, as_usual);
}

std::int64_t zero_gives_bottom(std::int64_t top, std::int64_t bottom) {
    return subtract(top, bottom, decrement_next,
                    [](std::int64_t up, std::int64_t down, std::int64_t& digit) {
                        digit = down;
                        return up == 0;
                    });
}

std::int64_t borrow_from_zero(std::int64_t top, std::int64_t bottom) {
    return subtract(
        top, bottom,
        [](Digits& up, std::size_t i) { up[i + 1] = up[i + 1] == 0 ? 9 : up[i + 1] - 1; },
        as_usual);
}

std::int64_t borrow_across_zero(std::int64_t top, std::int64_t bottom) {
    return subtract(
        top, bottom,
        [](Digits& up, std::size_t i) {
            std::size_t next = i + 1;
            while (next < columns && up[next] == 0)
                ++next;
            if (next < columns) --up[next];
        },
        as_usual);
}

std::int64_t borrow_from_left(std::int64_t top, std::int64_t bottom) {
    std::size_t left = columns - 1;
    const Digits up_digits = digits_of(top);
    while (left > 0 && up_digits[left] == 0)
        --left;
    return subtract(
        top, bottom, [left](Digits& up, std::size_t) { --up[left]; }, as_usual);
}

}  // namespace tallyround::cards
