#pragma once
#include <string_view>

#include "record/event.h"

namespace tallyround::record {

/// How enumerations are written; the place in the list is the value.
template <class E>
struct Words;
template <>
struct Words<PairRule> {
    static constexpr std::string_view list[] = {"none", "apart", "together"};
};
template <>
struct Words<ChartOrder> {
    static constexpr std::string_view list[] = {"cyclic", "balanced", "any"};
};
template <>
struct Words<ChartRuleKind> {
    static constexpr std::string_view list[] = {"must_visit",     "before",  "not_in_round",
                                                "visit_in_round", "at_most", "only_in_rounds"};
};
template <>
struct Words<Phase> {
    static constexpr std::string_view list[] = {"ready",  "opening", "working",
                                                "moving", "closing", "ended"};
};
template <>
struct Words<Level> {
    static constexpr std::string_view list[] = {"secure", "shaky", "stuck"};
};
template <>
struct Words<Help> {
    static constexpr std::string_view list[] = {"none", "hint", "together"};
};

}  // namespace tallyround::record
