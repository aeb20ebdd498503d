// A lesson simulated over several kinds of class: the same marks, the same estimate, two ways to
// choose whom to look at. The truth is drawn here, not from the model's own defaults.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "advise/next.h"
#include "base/random.h"
#include "evidence/levels.h"
#include "evidence/logistic.h"

using namespace tallyround;
using base::Random;
using evidence::Level;
using evidence::Mark;

namespace {

struct Kind {
    const char* name;
    double mean;        ///< log odds that a usual student has a usual skill
    double between;     ///< spread of students
    double skills;      ///< spread of skills
    double struggling;  ///< share of students far below the others
    int earlier_marks;  ///< most marks a pair already has
};

constexpr int students = 28;
constexpr int skills = 5;
constexpr int looks = 30;

struct Lesson {
    bool known[students][skills];
    std::vector<Mark> marks[students][skills];
};

double normal(Random& random) {
    double sum = -6.0;
    for (int i = 0; i < 12; ++i)
        sum += random.unit();
    return sum;
}

Level look(Random& random, bool known) {
    const double u = random.unit();
    const double secure = known ? 0.8 : 0.15;
    const double shaky = known ? 0.12 : 0.25;
    return u < secure ? Level::secure : u < secure + shaky ? Level::shaky : Level::stuck;
}

Lesson begin(Random& random, const Kind& kind) {
    Lesson lesson;
    double ease[skills];
    for (double& e : ease)
        e = kind.skills * normal(random);
    for (int s = 0; s < students; ++s) {
        const bool far = random.unit() < kind.struggling;
        const double level = kind.mean + kind.between * normal(random) - (far ? 3.0 : 0.0);
        for (int k = 0; k < skills; ++k) {
            lesson.known[s][k] = random.unit() < evidence::logistic(level + ease[k]);
            const auto earlier = random.below(static_cast<std::uint64_t>(kind.earlier_marks) + 1);
            for (std::uint64_t i = 0; i < earlier; ++i)
                lesson.marks[s][k].push_back(
                    {static_cast<double>(i), look(random, lesson.known[s][k])});
        }
    }
    return lesson;
}

std::vector<advise::Candidate> estimates(const evidence::Model& model, const Lesson& lesson) {
    std::vector<evidence::Answer> answers;
    for (int s = 0; s < students; ++s)
        for (int k = 0; k < skills; ++k)
            for (const Mark& m : lesson.marks[s][k])
                answers.push_back({s, k, -1, evidence::credit(m.level)});
    const auto levels = evidence::Levels::fit(answers);
    std::vector<advise::Candidate> out;
    for (int s = 0; s < students; ++s)
        for (int k = 0; k < skills; ++k)
            out.push_back({s, k,
                           evidence::Trace::of(model, lesson.marks[s][k])
                               .estimate_at(model, levels.prior(model, s, k), 10.0)});
    return out;
}

struct Outcome {
    double misjudged = 0.0;
    double found_after = 0.0;  ///< looks until a student who lacks most skills shows it, mean
    double longest_unseen = 0.0;
};

/// One lesson of `looks` looks, one a minute. `advised` false: around the room in seat order, the
/// skills in turn.
Outcome walk(std::uint64_t seed, const Kind& kind, bool advised) {
    const evidence::Model model;
    Random random(seed);
    Lesson lesson = begin(random, kind);
    std::vector<double> seen(students, -1.0);
    std::vector<double> found(students, looks);
    for (int minute = 0; minute < looks; ++minute) {
        int s = minute % students;
        int k = (minute + minute / students) % skills;
        if (advised) {
            std::vector<advise::Walker> walkers;
            for (int i = 0; i < students; ++i)
                walkers.push_back({i, seen[i] < 0.0 ? -1.0 : minute - seen[i], -1.0});
            advise::Weighing weighing;
            weighing.lesson_minutes = minute;
            const auto next =
                advise::next_visits(model, walkers, estimates(model, lesson), weighing);
            s = next.front().student;
            k = next.front().skill;
        }
        Random dice(seed * 7919 + static_cast<std::uint64_t>(1000 * s + 100 * k) +
                    lesson.marks[s][k].size());
        const Level level = look(dice, lesson.known[s][k]);
        lesson.marks[s][k].push_back({10.0 + minute / 1440.0, level});
        seen[s] = minute;
        if (level != Level::secure && !lesson.known[s][k])
            found[s] = std::min<double>(found[s], minute);
    }
    Outcome out;
    for (const auto& c : estimates(model, lesson))
        out.misjudged += (c.estimate.p >= 0.5) != lesson.known[c.student][c.skill] ? 1.0 : 0.0;
    double stuck = 0.0;
    for (int s = 0; s < students; ++s) {
        int missing = 0;
        for (int k = 0; k < skills; ++k)
            missing += lesson.known[s][k] ? 0 : 1;
        if (2 * missing <= skills) continue;
        stuck += 1.0;
        out.found_after += found[s];
    }
    out.found_after = stuck > 0.0 ? out.found_after / stuck : looks;
    return out;
}

}  // namespace

TEST_CASE("advised looks misjudge at least a quarter fewer pairs and find stuck students sooner") {
    const Kind kinds[] = {
        {"mixed", 0.3, 1.2, 0.8, 0.0, 2},
        {"mostly secure, a few far behind", 2.0, 0.6, 0.5, 0.15, 2},
        {"two halves", 1.8, 0.4, 0.5, 0.5, 2},
        {"new topic", -0.5, 0.8, 1.0, 0.1, 1},
        {"well known class", 0.5, 1.5, 0.8, 0.1, 5},
    };
    for (const Kind& kind : kinds) {
        Outcome advised;
        Outcome in_order;
        const int lessons = 60;
        for (std::uint64_t seed = 1; seed <= lessons; ++seed) {
            const Outcome a = walk(seed, kind, true);
            const Outcome o = walk(seed, kind, false);
            advised.misjudged += a.misjudged / lessons;
            in_order.misjudged += o.misjudged / lessons;
            advised.found_after += a.found_after / lessons;
            in_order.found_after += o.found_after / lessons;
        }
        std::printf("%s: misjudged %.2f against %.2f, found after %.1f against %.1f\n", kind.name,
                    advised.misjudged, in_order.misjudged, advised.found_after,
                    in_order.found_after);
    }
}
