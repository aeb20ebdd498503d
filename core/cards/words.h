#pragma once
#include <span>
#include <string_view>
#include <vector>

#include "cards/bank.h"

namespace tallyround::cards {

/// A term of grades 5 to 8 and what it means, in our own words.
struct Term {
    std::string_view term;
    std::string_view meaning;  ///< at most 120 characters, without the term itself
    int grade;                 ///< when it is first used with this meaning
    Strand strand;
};

/// Every term, by strand, then in teaching order.
std::span<const Term> vocabulary();

/// Up to `limit` terms for a skill: those of its strand and nearest its grade first.
std::vector<const Term*> terms_for(std::string_view skill, std::size_t limit = 8);

}  // namespace tallyround::cards
