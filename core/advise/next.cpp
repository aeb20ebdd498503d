#include "advise/next.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "base/text.h"

namespace tallyround::advise {

namespace {

constexpr double overdue_bonus = 100.0;
constexpr double most_flag = 5.0;
constexpr double few_strength = 2.5;
constexpr double unclear_low = 0.25;

/// A candidate's worth and what speaks loudest for it, before anything about the student's wait.
struct Worth {
    double score = -1.0;
    double bits = 0.0;
    double need = 0.0;
};

Worth worth(const evidence::Model& model, const evidence::Estimate& e, const Weighing& w) {
    // Thin evidence is itself uncertain: the parameters, not only the state, are learnt from it.
    const double bits = evidence::information(model, e.p) / (1.0 + 0.1 * e.strength);
    const double need = w.need * (1.0 - e.p);
    return {bits + need, bits, need};
}

double unseen_minutes(const Walker& walker, const Weighing& w) {
    return walker.minutes_since_seen < 0.0 ? std::max(w.lesson_minutes, 0.0)
                                           : walker.minutes_since_seen;
}

Reason skill_reason(const evidence::Estimate& e, const Worth& best) {
    if (e.marks == 0) return Reason::no_marks;
    if (best.need >= best.bits && e.p < 0.5) return Reason::need;
    if (e.strength < few_strength) return Reason::few_marks;
    return e.p > unclear_low && e.p < 1.0 - unclear_low ? Reason::mixed_marks : Reason::not_seen;
}

Visit visit(const Walker& walker, const Candidate& candidate, const Worth& best,
            const Weighing& w) {
    const double unseen = unseen_minutes(walker, w);
    const double share = w.fair_minutes > 0.0 ? std::min(unseen / w.fair_minutes, 1.0) : 0.0;
    const double since = w.since * share;
    const bool waiting = walker.minutes_waiting >= 0.0;
    const double flag =
        waiting ? std::min(w.flag + w.flag_minute * walker.minutes_waiting, most_flag) : 0.0;
    Visit out;
    out.student = candidate.student;
    out.skill = candidate.skill;
    out.score = best.score + since + flag;
    out.minutes = unseen;
    out.marks = candidate.estimate.marks;
    out.p = candidate.estimate.p;
    if (w.fair_minutes > 0.0 && unseen >= w.fair_minutes) {
        out.score = overdue_bonus + unseen + flag;
        out.reason = Reason::overdue;
    } else if (waiting) {
        out.reason = Reason::flag;
        out.minutes = walker.minutes_waiting;
    } else if (best.score >= since) {
        out.reason = skill_reason(candidate.estimate, best);
    }
    return out;
}

std::string minutes_text(double minutes) {
    const auto whole = static_cast<std::size_t>(std::clamp(std::floor(minutes), 0.0, 100'000.0));
    return whole == 0 ? "less than a minute" : base::count_of(whole, "minute", "minutes");
}

}  // namespace

std::vector<Visit> next_visits(const evidence::Model& model, std::span<const Walker> walkers,
                               std::span<const Candidate> candidates, const Weighing& weighing) {
    struct Best {
        const Candidate* candidate = nullptr;
        Worth worth;
    };
    std::map<int, Best> best;
    for (const Candidate& c : candidates) {
        const Worth value = worth(model, c.estimate, weighing);
        Best& held = best[c.student];
        const bool better = held.candidate == nullptr || value.score > held.worth.score ||
                            (value.score == held.worth.score && c.skill < held.candidate->skill);
        if (better) held = {&c, value};
    }
    std::vector<Visit> out;
    out.reserve(walkers.size());
    for (const Walker& walker : walkers) {
        const auto it = best.find(walker.student);
        if (it == best.end()) continue;
        out.push_back(visit(walker, *it->second.candidate, it->second.worth, weighing));
    }
    std::sort(out.begin(), out.end(), [](const Visit& a, const Visit& b) {
        return std::tuple(-a.score, a.student, a.skill) < std::tuple(-b.score, b.student, b.skill);
    });
    return out;
}

std::string plain(const Visit& visit, std::string_view skill) {
    const std::string title(skill);
    const auto marks = static_cast<std::size_t>(std::max(visit.marks, 0));
    switch (visit.reason) {
        case Reason::overdue:
            return "Not seen for " + minutes_text(visit.minutes) + ".";
        case Reason::flag:
            return "Flag up for " + minutes_text(visit.minutes) + ".";
        case Reason::no_marks:
            return "No marks yet on " + title + ".";
        case Reason::few_marks:
            return "Only " + base::count_of(marks, "mark", "marks") + " on " + title +
                   ": one look tells much.";
        case Reason::mixed_marks:
            return "Marks on " + title + " point both ways.";
        case Reason::need:
            return "Marks say " + title + " needs another go.";
        case Reason::not_seen:
            break;
    }
    return visit.minutes >= 1.0 ? "Last look was " + minutes_text(visit.minutes) + " ago."
                                : "A quick look keeps the picture fresh.";
}

}  // namespace tallyround::advise
