#include "cards/bank_parts.h"

namespace tallyround::cards {

namespace {

using enum Strand;

constexpr SkillRow rows[] = {
    {"integer-order", 6, "Find the least of several signed numbers", integers, "6.NS.C.7a", ""},
    {"absolute-value", 6, "Absolute value and distance from zero", integers, "6.NS.C.7c",
     "integer-order"},
    {"integer-add", 7, "Add integers", integers, "7.NS.A.1b", "absolute-value"},
    {"integer-subtract", 7, "Subtract integers", integers, "7.NS.A.1c", "integer-add"},
    {"integer-multiply", 7, "Multiply integers", integers, "7.NS.A.2a", "integer-add"},
    {"integer-divide", 7, "Divide integers", integers, "7.NS.A.2b", "integer-multiply"},
    {"signed-fractions", 7, "Add and subtract signed fractions", integers, "7.NS.A.1d",
     "integer-subtract frac-subtract-unlike"},
    {"integer-order-of-ops", 7, "Order of operations with integers", integers, "7.NS.A.3",
     "order-of-operations integer-subtract integer-multiply"},
    {"powers-value", 6, "Work out a power", expressions, "6.EE.A.1", ""},
    {"words-to-algebra", 6, "Write an expression with a letter from words", expressions,
     "6.EE.A.2a", "words-to-numbers"},
    {"evaluate-expression", 6, "Put a number in place of a letter", expressions, "6.EE.A.2c",
     "order-of-operations powers-value"},
    {"distribute", 6, "Multiply out a bracket", expressions, "6.EE.A.3", "evaluate-expression"},
    {"like-terms", 6, "Collect like terms", expressions, "6.EE.A.4", "evaluate-expression"},
    {"factor-out", 7, "Take out the greatest common factor", expressions, "7.EE.A.1",
     "distribute common-factor"},
    {"distribute-negative", 7, "Multiply out with a minus sign in front", expressions, "7.EE.A.1",
     "distribute like-terms integer-multiply"},
    {"exponent-rules", 8, "Multiply and divide powers of one base", expressions, "8.EE.A.1",
     "powers-value"},
    {"negative-exponents", 8, "Value of a power with exponent zero or below", expressions,
     "8.EE.A.1", "exponent-rules"},
    {"one-step-add", 6, "Equations with one addition or subtraction", equations, "6.EE.B.7",
     "evaluate-expression"},
    {"one-step-multiply", 6, "Equations with one multiplication or division", equations, "6.EE.B.7",
     "one-step-add"},
    {"inequality-write", 6, "Write an inequality for a limit", equations, "6.EE.B.8",
     "integer-order"},
    {"two-step-equation", 7, "Equations with two steps", equations, "7.EE.B.4a",
     "one-step-multiply integer-subtract"},
    {"bracket-equation", 7, "Equations with a bracket", equations, "7.EE.B.4a",
     "two-step-equation distribute"},
    {"inequality-solve", 7, "Solve an inequality in two steps", equations, "7.EE.B.4b",
     "two-step-equation inequality-write"},
    {"both-sides-equation", 8, "Equations with the letter on both sides", equations, "8.EE.C.7b",
     "bracket-equation like-terms"},
    {"solution-count", 8, "One, none or endless solutions", equations, "8.EE.C.7a",
     "both-sides-equation"},
    {"square-equation", 8, "Equations with a square or a cube", equations, "8.EE.A.2",
     "square-cube-roots two-step-equation"},
    {"system-substitute", 8, "Two equations by substitution", equations, "8.EE.C.8b",
     "both-sides-equation"},
    {"system-eliminate", 8, "Two equations by adding or subtracting", equations, "8.EE.C.8b",
     "both-sides-equation"},
};

}  // namespace

std::span<const SkillRow> algebra_skills() {
    return rows;
}

}  // namespace tallyround::cards
