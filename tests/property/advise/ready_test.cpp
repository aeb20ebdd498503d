// "Ready by": the plan against every possible schedule on small cases, and against equal rounds
// and massed review on simulated classes whose learning and forgetting are not the model's own.
#include "advise/ready.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <functional>

#include "base/random.h"
#include "evidence/levels.h"
#include "evidence/trace.h"

using namespace tallyround;
using advise::Holding;
using advise::ReadyProblem;
using advise::ReadySchedule;
using base::Random;

namespace {

/// The largest value over all schedules that leave no room unused (a review never lowers `held_on`
/// by more than rounding, so those are enough).
double best_of_all(const evidence::Model& model, const ReadyProblem& problem) {
    double best = 0.0;
    ReadySchedule schedule(problem.blocks.size());
    const std::function<void(std::size_t, int)> choose = [&](std::size_t block, int from) {
        if (block == problem.blocks.size()) {
            best = std::max(best, advise::held_on(model, problem, schedule));
            return;
        }
        if (static_cast<int>(schedule[block].size()) == problem.blocks[block].skills) {
            choose(block + 1, 0);
            return;
        }
        for (int k = from; k < problem.skills; ++k) {
            schedule[block].push_back(k);
            choose(block, k + 1);
            schedule[block].pop_back();
        }
    };
    choose(0, 0);
    return best;
}

ReadyProblem small_case(Random& random) {
    ReadyProblem p;
    p.skills = 3 + static_cast<int>(random.below(2));
    double day = 0.0;
    for (int b = 0; b < 4; ++b) {
        day += 1.0 + 9.0 * random.unit();
        p.blocks.push_back({day, 1 + static_cast<int>(random.below(2))});
    }
    p.on_day = day + 14.0 * random.unit();
    for (int s = 0; s < 6; ++s) {
        for (int k = 0; k < p.skills; ++k) {
            p.holdings.push_back({s, k, random.unit(), static_cast<int>(random.below(3)),
                                  random.below(3) == 0 ? -1.0 : 10.0 * random.unit()});
        }
    }
    return p;
}

/// A class as it is, not as the model says.
struct Kind {
    const char* name;
    double has_it;     ///< chance that a pair is held at the start; by skill it varies by .35
    double learns;     ///< chance that a review teaches what is missing; by skill it varies by .15
    double half_life;  ///< days, of a skill never reviewed
    double grows;      ///< with every review of a held skill on another day
};

constexpr int students = 26;
constexpr int skills = 12;
constexpr int places = 4;
constexpr double block_days[] = {1, 6, 11, 16, 21};
constexpr double exam = 24.0;

struct Pair {
    bool known = false;
    int grown = 0;
    std::vector<evidence::Mark> marks;
};

evidence::Level look(Random& random, bool known) {
    const double u = random.unit();
    const double secure = known ? 0.82 : 0.15;
    const double shaky = known ? 0.12 : 0.3;
    return u < secure           ? evidence::Level::secure
           : u < secure + shaky ? evidence::Level::shaky
                                : evidence::Level::stuck;
}

enum class Way { planned, equal, massed };

class Room {
  public:
    Room(std::uint64_t seed, const Kind& kind)
        : kind_(kind), random_(seed), pairs_(students * skills) {
        for (int k = 0; k < skills; ++k) {
            const double share = kind.has_it + 0.35 * (2.0 * random_.unit() - 1.0);
            learns_.push_back(kind.learns + 0.15 * (2.0 * random_.unit() - 1.0));
            for (int s = 0; s < students; ++s)
                pair(s, k).known = random_.unit() < share;
        }
    }

    void until(double day) {
        for (Pair& p : pairs_) {
            const double half = kind_.half_life * std::pow(kind_.grows, p.grown);
            if (p.known) p.known = random_.unit() < std::exp2(-(day - today_) / half);
        }
        today_ = day;
    }

    void review(int k) {
        for (int s = 0; s < students; ++s) {
            Pair& p = pair(s, k);
            p.marks.push_back({today_, look(random_, p.known)});
            if (p.known) {
                ++p.grown;
            } else {
                p.known = random_.unit() < learns_[static_cast<std::size_t>(k)];
            }
        }
    }

    double held() const {
        return static_cast<double>(
            std::count_if(pairs_.begin(), pairs_.end(), [](const Pair& p) { return p.known; }));
    }

    /// What the app would plan for today's block: parameters and starts fitted to the marks.
    std::vector<int> planned(ReadyProblem problem) {
        std::vector<evidence::Answer> answers;
        evidence::Sequences all;
        std::vector<evidence::Sequences> by_skill(skills);
        for (int s = 0; s < students; ++s) {
            for (int k = 0; k < skills; ++k) {
                for (const evidence::Mark& m : pair(s, k).marks) {
                    answers.push_back({s, k, -1, evidence::credit(m.level)});
                    all.marks.push_back(m);
                    by_skill[static_cast<std::size_t>(k)].marks.push_back(m);
                }
                all.close();
                by_skill[static_cast<std::size_t>(k)].close();
            }
        }
        const evidence::Model model = evidence::fit_model(all, evidence::Model{}).model;
        const auto levels = evidence::Levels::fit(answers);
        for (int k = 0; k < skills; ++k)
            problem.taught.push_back(
                advise::taught_from(model, by_skill[static_cast<std::size_t>(k)]));
        for (int s = 0; s < students; ++s) {
            for (int k = 0; k < skills; ++k) {
                const auto trace = evidence::Trace::of(model, pair(s, k).marks);
                const double start = levels.prior(model, s, k);
                problem.holdings.push_back({s, k, trace.estimate_at(model, start, today_).p,
                                            trace.spaced(), today_ - trace.last_day()});
            }
        }
        return advise::plan_ready(model, problem, 2000).front();
    }

  private:
    Pair& pair(int s, int k) { return pairs_[static_cast<std::size_t>(s * skills + k)]; }

    const Kind& kind_;
    Random random_;
    std::vector<Pair> pairs_;
    std::vector<double> learns_;
    double today_ = -7.0;
};

ReadyProblem blocks_from(std::size_t first) {
    ReadyProblem problem;
    problem.skills = skills;
    for (std::size_t b = first; b < std::size(block_days); ++b)
        problem.blocks.push_back({block_days[b] - block_days[first], places});
    problem.on_day = exam - block_days[first];
    return problem;
}

/// Pairs really held on the day. Every skill was reviewed once to three times before. `planned`
/// plans again before every block from the marks so far, as a teacher with the app would.
double held_at_exam(std::uint64_t seed, const Kind& kind, Way way) {
    Room room(seed, kind);
    for (int past = 0; past < 3; ++past) {
        room.until(-7.0 + 2.0 * past);
        for (int k = 0; k < skills; ++k) {
            if (past <= k % 3) room.review(k);
        }
    }
    const ReadyProblem problem = blocks_from(0);
    const ReadySchedule schedule =
        way == Way::equal ? advise::equal_rounds(problem) : advise::massed(problem);
    for (std::size_t b = 0; b < std::size(block_days); ++b) {
        room.until(block_days[b]);
        for (const int k : way == Way::planned ? room.planned(blocks_from(b)) : schedule[b])
            room.review(k);
    }
    room.until(exam);
    return room.held();
}

}  // namespace

TEST_CASE("on small cases the plan reaches the best of all schedules") {
    const evidence::Model model;
    Random random(20261201);
    double worst = 1.0;
    int exact = 0;
    const int cases = 40;
    for (int i = 0; i < cases; ++i) {
        const ReadyProblem problem = small_case(random);
        const double none = advise::held_on(model, problem, {});
        const double best = best_of_all(model, problem);
        const double planned = advise::held_on(model, problem, advise::plan_ready(model, problem));
        const double share = (planned - none) / (best - none);
        worst = std::min(worst, share);
        if (share > 1.0 - 1e-9) ++exact;
    }
    std::printf(
        "ready by, seed 20261201: best schedule in %d of %d small cases, worst %.4f of it\n", exact,
        cases, worst);
    CHECK(worst >= 0.985);
    CHECK(exact >= cases * 9 / 10);
}

TEST_CASE("more pairs are held on the day than with equal rounds or massed review") {
    const Kind kinds[] = {
        {"half of it there", 0.5, 0.35, 30.0, 1.8},
        {"mostly there, fades fast", 0.75, 0.4, 12.0, 2.2},
        {"new topic", 0.2, 0.3, 40.0, 1.5},
        {"learns slowly, keeps well", 0.45, 0.2, 90.0, 1.3},
    };
    const int classes = 12;
    for (const Kind& kind : kinds) {
        double planned = 0.0;
        double equal = 0.0;
        double massed = 0.0;
        for (std::uint64_t seed = 1; seed <= classes; ++seed) {
            planned += held_at_exam(seed, kind, Way::planned) / classes;
            equal += held_at_exam(seed, kind, Way::equal) / classes;
            massed += held_at_exam(seed, kind, Way::massed) / classes;
        }
        std::printf(
            "ready by, %s, seeds 1 to %d: %.1f of %d pairs held, equal rounds %.1f, massed "
            "%.1f\n",
            kind.name, classes, planned, students * skills, equal, massed);
        CHECK(planned > equal);
        CHECK(planned > massed);
    }
}
