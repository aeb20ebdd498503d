#include "cards/bank_parts.h"

namespace tallyround::cards {

namespace {

using enum Strand;

constexpr SkillRow rows[] = {
    {"digit-value", 5, "Value of a digit, ten times and one tenth", number, "5.NBT.A.1", ""},
    {"powers-of-ten", 5, "Multiply and divide by 10, 100 and 1,000", number, "5.NBT.A.2",
     "digit-value"},
    {"whole-subtract", 5, "Subtract whole numbers with regrouping", number, "5.NBT.B.7", ""},
    {"whole-multiply", 5, "Multiply two whole numbers of several digits", number, "5.NBT.B.5", ""},
    {"whole-divide", 5, "Divide by a two-digit number without remainder", number, "5.NBT.B.6",
     "whole-multiply whole-subtract"},
    {"order-of-operations", 5, "Order of operations with brackets", number, "5.OA.A.1", ""},
    {"words-to-numbers", 5, "Write a calculation from words and work it out", number, "5.OA.A.2",
     "order-of-operations"},
    {"two-patterns", 5, "Two number patterns side by side", number, "5.OA.B.3", ""},
    {"long-division", 6, "Long division with the rest as a fraction", number, "6.NS.B.2",
     "whole-divide"},
    {"common-factor", 6, "Greatest common factor of two numbers", number, "6.NS.B.4", ""},
    {"common-multiple", 6, "Least common multiple of two numbers", number, "6.NS.B.4", ""},
    {"square-cube-roots", 8, "Square roots and cube roots of perfect powers", number, "8.EE.A.2",
     "powers-value"},
    {"root-between", 8, "The whole number just below a square root", number, "8.NS.A.2",
     "square-cube-roots"},
    {"scientific-write", 8, "Write a number in scientific notation", number, "8.EE.A.3",
     "powers-of-ten exponent-rules"},
    {"scientific-multiply", 8, "Multiply numbers in scientific notation", number, "8.EE.A.4",
     "scientific-write"},
    {"decimal-expand", 5, "Read a decimal from its expanded form", decimals, "5.NBT.A.3a",
     "digit-value"},
    {"decimal-compare", 5, "Find the greatest of several decimals", decimals, "5.NBT.A.3b",
     "decimal-expand"},
    {"decimal-round", 5, "Round a decimal to a given place", decimals, "5.NBT.A.4",
     "decimal-expand"},
    {"decimal-add", 5, "Add decimals of different lengths", decimals, "5.NBT.B.7",
     "decimal-expand"},
    {"decimal-subtract", 5, "Subtract decimals of different lengths", decimals, "5.NBT.B.7",
     "decimal-add whole-subtract"},
    {"decimal-multiply", 5, "Multiply decimals", decimals, "5.NBT.B.7",
     "whole-multiply powers-of-ten"},
    {"decimal-divide", 5, "Divide a decimal by a whole number", decimals, "5.NBT.B.7",
     "whole-divide"},
    {"decimal-by-decimal", 6, "Divide by a decimal", decimals, "6.NS.B.3",
     "decimal-divide powers-of-ten"},
    {"fraction-to-decimal", 7, "Write a fraction as a decimal", decimals, "7.NS.A.2d",
     "fraction-as-division decimal-divide"},
    {"repeating-decimal", 8, "Write a repeating decimal as a fraction", decimals, "8.NS.A.1",
     "fraction-to-decimal two-step-equation"},
};

}  // namespace

std::span<const SkillRow> number_skills() {
    return rows;
}

}  // namespace tallyround::cards
