#include "advise/judge.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "evidence/intervals.h"
#include "evidence/shrink.h"

namespace tallyround::advise {

namespace {

constexpr double usual_spread = 0.15;
constexpr double usual_freedom = 4.0;
constexpr double effect_weight = 3.0;  // looks a round's or group's effect is shrunk by
constexpr int most_sweeps = 50;

/// Additive effects of one way to sort looks: by center, by round, by group.
class Effects {
  public:
    Effects(std::span<const CenterLook> looks, int CenterLook::*by, double shrunk_by)
        : by_(by), shrunk_by_(shrunk_by) {
        for (const CenterLook& look : looks)
            effect_.emplace(look.*by, 0.0);
    }

    bool usable() const { return effect_.size() >= 2 && effect_.begin()->first >= 0; }
    double of(const CenterLook& look) const { return effect_.at(look.*by_); }

    /// Sets every effect to the shrunk mean of what the others leave, centered over the looks.
    void fit(std::span<const CenterLook> looks, const std::vector<double>& left, bool center) {
        std::map<int, std::pair<double, double>> sums;
        for (std::size_t i = 0; i < looks.size(); ++i) {
            sums[looks[i].*by_].first += left[i];
            sums[looks[i].*by_].second += 1.0;
        }
        double mean = 0.0;
        for (auto& [key, value] : effect_) {
            const auto& [sum, count] = sums.at(key);
            value = sum / (count + shrunk_by_);
            mean += value * count / static_cast<double>(looks.size());
        }
        if (!center) return;
        for (auto& [key, value] : effect_)
            value -= mean;
    }

  private:
    int CenterLook::*by_;
    double shrunk_by_;
    std::map<int, double> effect_;
};

/// Gains with the effects of round and group taken off, by backfitting (Hastie & Tibshirani 1986).
std::vector<double> adjusted_gains(std::span<const CenterLook> looks) {
    std::vector<double> gains;
    for (const CenterLook& look : looks)
        gains.push_back(look.after - look.before);
    Effects centers(looks, &CenterLook::center, 0.0);
    Effects rounds(looks, &CenterLook::round, effect_weight);
    Effects groups(looks, &CenterLook::group, effect_weight);
    const bool by_round = rounds.usable();
    const bool by_group = groups.usable();
    if (!by_round && !by_group) return gains;
    std::vector<double> left(gains.size());
    const auto sweep = [&](Effects& fitted, bool center) {
        for (std::size_t i = 0; i < looks.size(); ++i) {
            left[i] = gains[i] - (&fitted != &centers ? centers.of(looks[i]) : 0.0) -
                      (by_round && &fitted != &rounds ? rounds.of(looks[i]) : 0.0) -
                      (by_group && &fitted != &groups ? groups.of(looks[i]) : 0.0);
        }
        fitted.fit(looks, left, center);
    };
    for (int i = 0; i < most_sweeps; ++i) {
        sweep(centers, false);
        if (by_round) sweep(rounds, true);
        if (by_group) sweep(groups, true);
    }
    for (std::size_t i = 0; i < looks.size(); ++i) {
        gains[i] -= (by_round ? rounds.of(looks[i]) : 0.0) + (by_group ? groups.of(looks[i]) : 0.0);
    }
    return gains;
}

struct Visits {
    double gain = 0.0;
    double looks = 0.0;
};

struct Center {
    std::map<int, Visits> by_student;
    double stuck_minutes = 0.0;
    double looks = 0.0;
    double mean = 0.0;
    double squares = 0.0;
    double students() const { return static_cast<double>(by_student.size()); }
};

std::map<int, Center> gather(std::span<const CenterLook> looks, const std::vector<double>& gains) {
    std::map<int, Center> centers;
    for (std::size_t i = 0; i < looks.size(); ++i) {
        Center& c = centers[looks[i].center];
        Visits& v = c.by_student[looks[i].student];
        v.gain += gains[i];
        v.looks += 1.0;
        c.stuck_minutes += looks[i].stuck_minutes;
        c.looks += 1.0;
    }
    for (auto& [number, c] : centers) {
        for (const auto& [student, v] : c.by_student)
            c.mean += v.gain / v.looks / c.students();
        for (const auto& [student, v] : c.by_student)
            c.squares += (v.gain / v.looks - c.mean) * (v.gain / v.looks - c.mean);
    }
    return centers;
}

Verdict verdict(const CenterJudgement& c, const JudgeSettings& settings) {
    if (c.students < settings.least_students) return Verdict::too_early;
    if (c.p_helps >= settings.firm) return Verdict::keep;
    return c.p_helps <= 1.0 - settings.firm ? Verdict::swap : Verdict::watch;
}

}  // namespace

std::vector<CenterJudgement> judge_centers(std::span<const CenterLook> looks,
                                           const JudgeSettings& settings) {
    const auto centers = gather(looks, adjusted_gains(looks));
    double squares = usual_freedom * usual_spread * usual_spread;
    double freedom = usual_freedom;
    for (const auto& [number, c] : centers) {
        squares += c.squares;
        freedom += c.students() - 1.0;
    }
    std::vector<evidence::Observed> observed;
    for (const auto& [number, c] : centers)
        observed.push_back({c.mean, squares / freedom / c.students()});
    const auto shrinkage = evidence::shrink(observed);
    std::vector<CenterJudgement> out;
    for (const auto& [number, c] : centers) {
        const evidence::Shrunk& s = shrinkage.means[out.size()];
        const double deviation = std::sqrt(s.variance);
        CenterJudgement j;
        j.center = number;
        j.students = static_cast<int>(c.by_student.size());
        j.mean = c.mean;
        j.gain = s.mean;
        j.low = s.mean - evidence::z95 * deviation;
        j.high = s.mean + evidence::z95 * deviation;
        j.p_helps = evidence::normal_below((s.mean - settings.threshold) / deviation);
        j.stuck_minutes = c.stuck_minutes / c.looks;
        j.verdict = verdict(j, settings);
        out.push_back(j);
    }
    return out;
}

}  // namespace tallyround::advise
