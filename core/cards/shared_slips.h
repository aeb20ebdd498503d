#pragma once
#include "cards/slip.h"

namespace tallyround::cards {

// Slips that show in several families; the others stand beside their generators.
inline constexpr SlipInfo constant_wrong_way{
    "constant-wrong-way", "Moves the number to the other side with its sign", payne, from_memory};
inline constexpr SlipInfo diameter_for_radius{"diameter-for-radius",
                                              "Uses the diameter for the radius", "", practice};
inline constexpr SlipInfo digits_joined{
    "digits-joined", "Puts the number next to the coefficient as digits", kuchemann, from_memory};
inline constexpr SlipInfo exponents_multiplied{
    "exponents-multiplied", "Multiplies or divides the exponents", ashlock, from_memory};
inline constexpr SlipInfo half_forgotten{"half-forgotten", "Forgets the half", ashlock,
                                         from_memory};
inline constexpr SlipInfo halves_too_often{"halves-too-often", "Halves where no half belongs", "",
                                           practice};
inline constexpr SlipInfo left_to_right{"left-to-right",
                                        "Works from left to right whatever the signs",
                                        "Kieran 1979, order of operations", from_memory};
inline constexpr SlipInfo not_divided{"not-divided", "Stops before dividing by the coefficient", "",
                                      practice};
inline constexpr SlipInfo partial_distribution{
    "partial-distribution", "Applies the factor to the first term only", matz, from_memory};
inline constexpr SlipInfo quotient_zero_omitted{
    "quotient-zero-omitted", "Leaves out a 0 inside the quotient", ashlock, from_memory};
inline constexpr SlipInfo rest_as_decimal{
    "rest-as-decimal", "Writes the remainder after a decimal point", ashlock, from_memory};
inline constexpr SlipInfo rule_order{"rule-order", "Adds first, then multiplies", "", practice};
inline constexpr SlipInfo tops_and_bottoms{
    "tops-and-bottoms", "Works on the tops and on the bottoms separately", ashlock, from_memory};
inline constexpr SlipInfo point_one_off{"point-one-off", "Puts the point one place wrong", "",
                                        practice};
inline constexpr SlipInfo coefficient_added{
    "coefficient-added", "Adds the coefficient instead of multiplying", kuchemann, from_memory};
inline constexpr SlipInfo square_all{"squares-coefficient-too",
                                     "Squares the coefficient together with the letter", payne,
                                     from_memory};
inline constexpr SlipInfo term_dropped{"term-dropped", "Drops the term that seems used up", payne,
                                       from_memory};
inline constexpr SlipInfo square_as_double{"square-as-double", "Doubles instead of squaring", matz,
                                           from_memory};

}  // namespace tallyround::cards
