#include "cards/words.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace tallyround::cards {

namespace {

using enum Strand;

constexpr std::array terms{
    Term{"place value", "What a digit is worth because of where it stands in a number.", 5, number},
    Term{"digit", "One of the ten signs 0 to 9 that numbers are written with.", 5, number},
    Term{"factor", "A whole number that divides another one with nothing left over.", 5, number},
    Term{"multiple", "What you get when you take a number a whole number of times.", 5, number},
    Term{"prime number", "A whole number above 1 that only 1 and itself divide.", 5, number},
    Term{"composite number", "A whole number above 1 that can be cut into smaller equal rows.", 5,
         number},
    Term{"quotient", "The result of dividing one number by another.", 5, number},
    Term{"dividend", "In a division, the number that is being shared out.", 5, number},
    Term{"divisor", "In a division, the number you divide by.", 5, number},
    Term{"remainder", "What is left over when things do not share out evenly.", 5, number},
    Term{"product", "The result of a multiplication.", 5, number},
    Term{"estimate", "A quick answer that is close enough, made with friendly numbers.", 5, number},
    Term{"greatest common factor", "The largest whole number that goes into two numbers evenly.", 6,
         number},
    Term{"least common multiple", "The smallest number above 0 found in both skip-counting lists.",
         6, number},
    Term{"prime factorization", "A whole number written as primes multiplied together.", 6, number},
    Term{"scientific notation", "A number from 1 up to 10, times a power of ten.", 8, number},
    Term{"irrational number", "A number that no fraction of whole numbers hits exactly.", 8,
         number},
    Term{"square root", "The number that, times itself, gives the one you began with.", 8, number},
    Term{"cube root", "The number that, used three times as a factor, gives the first one.", 8,
         number},

    Term{"decimal point", "The mark between the ones and the tenths.", 5, decimals},
    Term{"tenths", "The parts when a whole is cut into ten equal ones.", 5, decimals},
    Term{"hundredths", "The parts when a whole is cut into a hundred equal ones.", 5, decimals},
    Term{"rounding", "Trading a number for a nearby simpler one at a chosen place.", 5, decimals},
    Term{"terminating decimal", "A number whose digits after the point come to an end.", 7,
         decimals},
    Term{"repeating decimal", "A number whose digits after the point go on in a loop.", 7,
         decimals},

    Term{"fraction", "A number for equal parts of a whole, one count over another.", 5, fractions},
    Term{"numerator", "The top number: how many parts are taken.", 5, fractions},
    Term{"denominator", "The bottom number: how many equal parts make the whole.", 5, fractions},
    Term{"common denominator", "One size of parts that two fractions can both be cut into.", 5,
         fractions},
    Term{"equivalent fractions", "Two ways to write the same amount, such as 1/2 and 3/6.", 5,
         fractions},
    Term{"mixed number", "A whole number and a part written side by side.", 5, fractions},
    Term{"improper fraction", "A count of parts that is as large as the whole or larger.", 5,
         fractions},
    Term{"simplest form", "Written so that top and bottom share no factor but 1.", 5, fractions},
    Term{"unit fraction", "Exactly one of the equal parts: 1 on top.", 5, fractions},
    Term{"reciprocal", "The number you multiply by to get 1: top and bottom change places.", 6,
         fractions},

    Term{"ratio", "A comparison of two amounts: for every so many, so many.", 6, ratio_percent},
    Term{"rate", "A comparison of amounts in different units, such as miles and hours.", 6,
         ratio_percent},
    Term{"unit rate", "How much there is for exactly one of the other amount.", 6, ratio_percent},
    Term{"equivalent ratios", "Pairs that compare alike, such as 2 to 3 and 4 to 6.", 6,
         ratio_percent},
    Term{"percent", "So many out of every hundred.", 6, ratio_percent},
    Term{"proportion", "A statement that two ratios are the same.", 7, ratio_percent},
    Term{"constant of proportionality",
         "The one number that always leads from x to y by multiplying.", 7, ratio_percent},
    Term{"discount", "The part of a price that is taken off.", 7, ratio_percent},
    Term{"markup", "What a shop adds to the cost to make its price.", 7, ratio_percent},
    Term{"simple interest", "Money paid for lending, each year the same share of the sum lent.", 7,
         ratio_percent},
    Term{"percent change", "How much more or less, as a share of what there was before.", 7,
         ratio_percent},
    Term{"scale", "How many real lengths one length of a drawing stands for.", 7, ratio_percent},

    Term{"integer", "A whole number, its opposite, or zero.", 6, integers},
    Term{"opposite", "The number as far from zero on the other side.", 6, integers},
    Term{"absolute value", "How far a number is from zero, never below it.", 6, integers},
    Term{"negative number", "A number on the lower side of zero.", 6, integers},
    Term{"positive number", "A number on the upper side of zero.", 6, integers},
    Term{"additive inverse", "What you add to a number to be back at zero.", 7, integers},
    Term{"rational number", "A number that can be written as one integer over another.", 7,
         integers},
    Term{"zero pair", "One plus and one minus that cancel each other.", 7, integers},

    Term{"expression", "Numbers, letters and operations without an equals sign.", 6, expressions},
    Term{"variable", "A letter that stands for a number not yet known or free to change.", 6,
         expressions},
    Term{"coefficient", "The number that stands in front of a letter and multiplies it.", 6,
         expressions},
    Term{"constant", "A part that stays the same, with no letter in it.", 6, expressions},
    Term{"term", "One of the parts that are added or taken away in a row of them.", 6, expressions},
    Term{"like terms", "Parts with the same letters, so that they can be counted together.", 6,
         expressions},
    Term{"distributive property", "Multiplying a sum: each part gets multiplied, then you add.", 6,
         expressions},
    Term{"exponent", "The small raised number that says how often to use the factor.", 6,
         expressions},
    Term{"base", "The number that a power uses as a factor again and again.", 6, expressions},
    Term{"power", "A number multiplied by itself a number of times.", 6, expressions},
    Term{"order of operations", "The agreement which part of a calculation comes first.", 5,
         expressions},
    Term{"evaluate", "To put numbers in for the letters and work out the value.", 6, expressions},
    Term{"equivalent expressions", "Two that give the same value whatever the letters stand for.",
         6, expressions},
    Term{"factored form", "Written as things multiplied, not as things added.", 7, expressions},

    Term{"equation", "A statement that two sides have the same value.", 6, equations},
    Term{"solution", "A value that makes the statement true.", 6, equations},
    Term{"inverse operation", "The step that undoes another one.", 6, equations},
    Term{"inequality", "A statement that one side is greater or smaller.", 6, equations},
    Term{"solution set", "All the values that make a statement true.", 6, equations},
    Term{"substitution", "Putting one thing in the place of another that equals it.", 8, equations},
    Term{"system of equations", "Two or more statements that must be true at once.", 8, equations},
    Term{"identity", "A statement that is true for every value of the letter.", 8, equations},

    Term{"polygon", "A closed flat figure with straight sides.", 5, geometry},
    Term{"parallelogram", "A four-sided figure whose facing sides never meet.", 5, geometry},
    Term{"trapezoid", "A four-sided figure with a pair of parallel sides.", 5, geometry},
    Term{"right angle", "A square corner: 90 degrees.", 5, geometry},
    Term{"origin", "Where the two axes cross.", 5, geometry},
    Term{"coordinates", "The pair of numbers that says across and up to a point.", 5, geometry},
    Term{"quadrant", "One of the four parts that the axes cut the plane into.", 6, geometry},
    Term{"net", "A flat pattern that folds up into a solid.", 6, geometry},
    Term{"prism", "A solid with two equal facing ends and flat sides between them.", 6, geometry},
    Term{"complementary angles", "Two that fill a square corner: together 90 degrees.", 7,
         geometry},
    Term{"supplementary angles", "Two that make a straight line: together 180 degrees.", 7,
         geometry},
    Term{"vertical angles", "The two facing each other where lines cross; they are equal.", 7,
         geometry},
    Term{"congruent", "Same shape and same size.", 8, geometry},
    Term{"similar figures", "Same shape, perhaps larger or smaller.", 8, geometry},
    Term{"translation", "A slide: every point moves the same way and just as far.", 8, geometry},
    Term{"reflection", "A flip over a line, as in a mirror.", 8, geometry},
    Term{"rotation", "A turn around a point.", 8, geometry},
    Term{"hypotenuse", "The side across from the square corner of a triangle.", 8, geometry},
    Term{"transversal", "A line that cuts across two others.", 8, geometry},

    Term{"area", "How much flat surface is inside, in square units.", 5, measurement},
    Term{"perimeter", "The way once around a figure.", 5, measurement},
    Term{"volume", "How much space a solid fills, in cubic units.", 5, measurement},
    Term{"unit cube", "A block that is 1 long, 1 wide and 1 high.", 5, measurement},
    Term{"surface area", "What all the faces of a solid cover together.", 6, measurement},
    Term{"height", "The straight distance from the bottom to the top, at a right angle.", 6,
         measurement},
    Term{"circumference", "The way once around a circle.", 7, measurement},
    Term{"diameter", "Straight across a circle through its middle.", 7, measurement},
    Term{"radius", "From the middle of a circle to its edge.", 7, measurement},
    Term{"pi", "How many times a circle's width fits around it: about 3.14.", 7, measurement},

    Term{"data", "Facts or numbers that were gathered to answer a question.", 6, statistics},
    Term{"mean", "The value if everything were shared out evenly.", 6, statistics},
    Term{"median", "The middle value when all are in order.", 6, statistics},
    Term{"mode", "The value that occurs most often.", 6, statistics},
    Term{"range", "The largest value minus the smallest.", 6, statistics},
    Term{"quartile", "One of the three marks that cut ordered values into four parts.", 6,
         statistics},
    Term{"interquartile range", "How wide the middle half of the values is.", 6, statistics},
    Term{"mean absolute deviation", "How far the values are from their average, on average.", 6,
         statistics},
    Term{"outlier", "A value that lies far from all the rest.", 6, statistics},
    Term{"population", "Everybody or everything that a question is about.", 7, statistics},
    Term{"sample", "The part that is looked at in place of all.", 7, statistics},
    Term{"scatter plot", "Points that show two measurements of each thing.", 8, statistics},
    Term{"trend line", "A straight line that goes close to most of the points.", 8, statistics},
    Term{"two-way table", "Counts sorted by two questions, one along the top, one down the side.",
         8, statistics},

    Term{"probability", "How likely something is, from 0 (never) to 1 (always).", 7, probability},
    Term{"outcome", "One of the things that can happen in a chance experiment.", 7, probability},
    Term{"event", "The outcomes you are interested in.", 7, probability},
    Term{"sample space", "The list of everything that can happen.", 7, probability},
    Term{"relative frequency", "How often it happened, divided by how often it was tried.", 7,
         probability},
    Term{"compound event", "Two or more things happening together or one after another.", 7,
         probability},
    Term{"tree diagram", "A drawing whose branches show every way things can turn out.", 7,
         probability},

    Term{"function", "A rule that gives exactly one output for each input.", 8, functions},
    Term{"input", "The number that goes into a rule.", 8, functions},
    Term{"output", "The number that comes out of a rule.", 8, functions},
    Term{"slope", "How much y changes when x grows by 1.", 8, functions},
    Term{"y-intercept", "Where a line crosses the upright axis.", 8, functions},
    Term{"linear function", "A rule whose graph is a straight line.", 8, functions},
    Term{"rate of change", "How fast one amount changes as another goes up.", 8, functions},
    Term{"initial value", "The output when the input is zero.", 8, functions},
};

}  // namespace

std::span<const Term> vocabulary() {
    return terms;
}

std::vector<const Term*> terms_for(std::string_view skill, std::size_t limit) {
    const SkillInfo* info = find_skill(skill);
    const Strand strand = info == nullptr ? number : info->strand;
    const int grade = info == nullptr ? 6 : info->grade;
    std::vector<const Term*> all;
    for (const Term& term : terms)
        all.push_back(&term);
    const auto far = [&](const Term* term) {
        return (term->strand == strand ? 0 : 100) + std::abs(term->grade - grade);
    };
    std::stable_sort(all.begin(), all.end(),
                     [&](const Term* a, const Term* b) { return far(a) < far(b); });
    if (all.size() > limit) all.resize(limit);
    return all;
}

}  // namespace tallyround::cards
