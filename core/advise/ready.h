#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "advise/review.h"
#include "evidence/fit.h"

namespace tallyround::advise {

/// A block left before the date: when it is and how many skills it can review.
struct ReadySlot {
    double day = 0.0;  ///< days from today, not negative
    int skills = 0;
};

/// Which skills to review in which block so that most is held on a date.
struct ReadyProblem {
    std::vector<Holding> holdings;  ///< as of today; skills numbered from 0
    int skills = 0;
    std::vector<ReadySlot> blocks;  ///< in order of day
    double on_day = 0.0;            ///< days from today; blocks after it count for nothing
    ReviewEffect effect;
    std::vector<double> taught;  ///< by skill, where known better than `effect` says; else empty
};

/// Chance that one review teaches a skill to a student who misses it, from marks of that skill (the
/// last of each review, a pair a student): expectation-maximisation of that one parameter, the
/// usual effect standing for twelve students who missed it.
double taught_from(const evidence::Model& model, const evidence::Sequences& reviews,
                   const ReviewEffect& usual = {});

/// Skills of each block, in increasing order.
using ReadySchedule = std::vector<std::vector<int>>;

/// Student-skill pairs expected to be held on the day under a schedule. Of a pair, the share that
/// holds the skill keeps it by `evidence::kept` and grows its half-life with each review a day or
/// more after the last look; the share taught at a review starts without growth, and the two are
/// carried on as one with their mean.
double held_on(const evidence::Model& model, const ReadyProblem& problem,
               const ReadySchedule& schedule);

/// The schedule with the largest `held_on` that is found: the best single review is added as long
/// as one helps and a block has room (greedy), then reviews are moved, replaced and exchanged as
/// long as that helps; the same from equal rounds begun at each skill while tries are left, and the
/// best is kept. `most_tries` bounds the evaluations of one skill (each takes some ten
/// microseconds a class). Deterministic; ties go to the earlier block, then the smaller skill.
ReadySchedule plan_ready(const evidence::Model& model, const ReadyProblem& problem,
                         std::size_t most_tries = 6000);

/// For comparison: every skill in turn, block after block, until the room is used up.
ReadySchedule equal_rounds(const ReadyProblem& problem);
/// For comparison: as many reviews of each skill as in equal rounds, in blocks next to each other.
ReadySchedule massed(const ReadyProblem& problem);

}  // namespace tallyround::advise
