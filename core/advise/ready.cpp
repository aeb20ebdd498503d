#include "advise/ready.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "evidence/expectation.h"

namespace tallyround::advise {

namespace {

constexpr double helps = 1e-9;
constexpr double usual_students = 12.0;
constexpr int taught_rounds = 15;

std::vector<int> room_of(const ReadyProblem& problem) {
    std::vector<int> room;
    for (const ReadySlot& slot : problem.blocks) {
        room.push_back(slot.day > problem.on_day ? 0 : std::clamp(slot.skills, 0, problem.skills));
    }
    return room;
}

ReadySchedule rounds_from(const ReadyProblem& problem, int first) {
    ReadySchedule out(problem.blocks.size());
    const std::vector<int> room = room_of(problem);
    int next = first;
    for (std::size_t b = 0; b < out.size(); ++b) {
        for (int i = 0; i < room[b]; ++i, next = (next + 1) % problem.skills)
            out[b].push_back(next);
        std::sort(out[b].begin(), out[b].end());
    }
    return out;
}

/// What reviews of one skill in a set of blocks come to.
class SkillValue {
  public:
    SkillValue(const evidence::Model& model, const ReadyProblem& problem)
        : model_(model),
          problem_(problem),
          by_skill_(static_cast<std::size_t>(problem.skills)),
          taught_(problem.taught) {
        taught_.resize(by_skill_.size(), problem.effect.taught);
        for (const Holding& h : problem.holdings) {
            if (h.skill >= 0 && h.skill < problem.skills)
                by_skill_[static_cast<std::size_t>(h.skill)].push_back(h);
        }
    }

    /// `in[b]`: block b reviews the skill.
    double of(int skill, const std::vector<char>& in) const {
        double held = 0.0;
        for (const Holding& h : by_skill_[static_cast<std::size_t>(skill)])
            held += pair(h, in);
        return held;
    }

  private:
    double pair(const Holding& h, const std::vector<char>& in) const {
        double p = h.p;
        double spaced = h.spaced;
        double day = 0.0;
        bool seen = h.days >= 0.0;
        double looked = -h.days;
        for (std::size_t b = 0; b < in.size(); ++b) {
            const double at = problem_.blocks[b].day;
            if (in[b] == 0 || at > problem_.on_day) continue;
            p *= evidence::kept(model_, spaced, at - day);
            if (seen && at - looked >= 1.0) spaced += 1.0;
            const double taught = (1.0 - p) * taught_[static_cast<std::size_t>(h.skill)];
            p += taught;
            if (p > 0.0) spaced *= (p - taught) / p;
            day = looked = at;
            seen = true;
        }
        return p * evidence::kept(model_, spaced, problem_.on_day - day);
    }

    const evidence::Model& model_;
    const ReadyProblem& problem_;
    std::vector<std::vector<Holding>> by_skill_;
    std::vector<double> taught_;
};

class Planner {
  public:
    Planner(const evidence::Model& model, const ReadyProblem& problem, std::size_t tries)
        : problem_(problem), value_(model, problem), tries_(tries) {
        start({});
    }

    bool tries_left() const { return tries_ > 0; }
    double held() const { return std::accumulate(held_.begin(), held_.end(), 0.0); }

    void start(const ReadySchedule& from) {
        in_.assign(at(problem_.skills), std::vector<char>(problem_.blocks.size(), 0));
        room_ = room_of(problem_);
        for (std::size_t b = 0; b < from.size(); ++b) {
            for (const int k : from[b]) {
                in_[at(k)][b] = 1;
                --room_[b];
            }
        }
        held_.clear();
        for (int k = 0; k < problem_.skills; ++k)
            held_.push_back(value_.of(k, in_[at(k)]));
    }

    void fill() {
        const std::size_t blocks = room_.size();
        std::vector<std::vector<double>> gain(at(problem_.skills));
        for (int k = 0; k < problem_.skills; ++k)
            gain[at(k)] = gains(k);
        while (tries_ > 0) {
            std::pair<std::size_t, int> best{blocks, -1};
            double most = helps;
            for (std::size_t b = 0; b < blocks; ++b) {
                for (int k = 0; k < problem_.skills && room_[b] > 0; ++k) {
                    if (gain[at(k)][b] > most) {
                        most = gain[at(k)][b];
                        best = {b, k};
                    }
                }
            }
            if (best.second < 0) return;
            flip(best.second, best.first);
            gain[at(best.second)] = gains(best.second);
        }
    }

    void improve() {
        bool moved = true;
        while (moved && tries_ > 0) {
            moved = false;
            for (std::size_t b = 0; b < room_.size(); ++b) {
                for (int k = 0; k < problem_.skills; ++k) {
                    if (in_[at(k)][b] != 0 && better(k, b)) moved = true;
                }
            }
        }
    }

    ReadySchedule schedule() const {
        ReadySchedule out(room_.size());
        for (std::size_t b = 0; b < room_.size(); ++b) {
            for (int k = 0; k < problem_.skills; ++k) {
                if (in_[at(k)][b] != 0) out[b].push_back(k);
            }
        }
        return out;
    }

  private:
    static std::size_t at(int i) { return static_cast<std::size_t>(i); }

    /// The skill's value with some blocks turned over.
    double tried(int skill, std::initializer_list<std::size_t> blocks) {
        if (tries_ > 0) --tries_;
        std::vector<char>& in = in_[at(skill)];
        for (const std::size_t b : blocks)
            in[b] ^= 1;
        const double value = value_.of(skill, in);
        for (const std::size_t b : blocks)
            in[b] ^= 1;
        return value;
    }

    void flip(int skill, std::size_t block) {
        char& in = in_[at(skill)][block];
        in ^= 1;
        room_[block] += in != 0 ? -1 : 1;
        held_[at(skill)] = value_.of(skill, in_[at(skill)]);
    }

    std::vector<double> gains(int skill) {
        std::vector<double> out(room_.size(), 0.0);
        for (std::size_t b = 0; b < room_.size(); ++b) {
            if (room_[b] > 0 && in_[at(skill)][b] == 0)
                out[b] = tried(skill, {b}) - held_[at(skill)];
        }
        return out;
    }

    /// Looks for a better use of the place that skill `k` has in block `b`: another block with
    /// room, another skill here, or an exchange with a skill elsewhere.
    bool better(int k, std::size_t b) {
        const double without = tried(k, {b}) - held_[at(k)];
        for (int other = 0; other < problem_.skills && tries_ > 0; ++other) {
            if (other == k || in_[at(other)][b] != 0) continue;
            if (without + tried(other, {b}) - held_[at(other)] > helps) {
                flip(k, b);
                flip(other, b);
                return true;
            }
        }
        for (std::size_t to = 0; to < room_.size() && tries_ > 0; ++to) {
            if (to == b || in_[at(k)][to] != 0) continue;
            const double change = tried(k, {b, to}) - held_[at(k)];
            if (room_[to] > 0 && change > helps) {
                flip(k, b);
                flip(k, to);
                return true;
            }
            if (exchange(k, b, to, change)) return true;
        }
        return false;
    }

    bool exchange(int k, std::size_t b, std::size_t to, double change) {
        for (int other = 0; other < problem_.skills && tries_ > 0; ++other) {
            if (in_[at(other)][to] == 0 || in_[at(other)][b] != 0) continue;
            if (change + tried(other, {b, to}) - held_[at(other)] <= helps) continue;
            for (const std::size_t block : {b, to}) {
                flip(k, block);
                flip(other, block);
            }
            return true;
        }
        return false;
    }

    const ReadyProblem& problem_;
    SkillValue value_;
    std::size_t tries_;
    std::vector<std::vector<char>> in_;  ///< by skill, then block
    std::vector<double> held_;           ///< by skill
    std::vector<int> room_;              ///< by block
};

}  // namespace

double held_on(const evidence::Model& model, const ReadyProblem& problem,
               const ReadySchedule& schedule) {
    const SkillValue value(model, problem);
    double held = 0.0;
    for (int k = 0; k < problem.skills; ++k) {
        std::vector<char> in(problem.blocks.size(), 0);
        for (std::size_t b = 0; b < std::min(in.size(), schedule.size()); ++b) {
            in[b] = std::find(schedule[b].begin(), schedule[b].end(), k) != schedule[b].end();
        }
        held += value.of(k, in);
    }
    return held;
}

ReadySchedule plan_ready(const evidence::Model& model, const ReadyProblem& problem,
                         std::size_t most_tries) {
    Planner planner(model, problem, most_tries);
    planner.fill();
    planner.improve();
    ReadySchedule best = planner.schedule();
    double most = planner.held();
    for (int first = 0; first < problem.skills && planner.tries_left(); ++first) {
        planner.start(rounds_from(problem, first));
        planner.improve();
        if (planner.held() <= most + helps) continue;
        most = planner.held();
        best = planner.schedule();
    }
    return best;
}

ReadySchedule equal_rounds(const ReadyProblem& problem) {
    return rounds_from(problem, 0);
}

double taught_from(const evidence::Model& model, const evidence::Sequences& reviews,
                   const ReviewEffect& usual) {
    evidence::Model fitted = model;
    fitted.learn = usual.taught;
    for (int round = 0; round < taught_rounds; ++round) {
        const evidence::Counts counts = evidence::expect(reviews, fitted);
        fitted.learn = (usual_students * usual.taught + counts.learned) /
                       (usual_students + counts.could_learn);
    }
    return fitted.learn;
}

ReadySchedule massed(const ReadyProblem& problem) {
    std::vector<int> left(static_cast<std::size_t>(problem.skills), 0);
    for (const auto& block : equal_rounds(problem)) {
        for (const int k : block)
            ++left[static_cast<std::size_t>(k)];
    }
    ReadySchedule out(problem.blocks.size());
    const std::vector<int> room = room_of(problem);
    for (std::size_t b = 0; b < out.size(); ++b) {
        for (int k = 0; k < problem.skills && static_cast<int>(out[b].size()) < room[b]; ++k) {
            if (left[static_cast<std::size_t>(k)] == 0) continue;
            out[b].push_back(k);
            --left[static_cast<std::size_t>(k)];
        }
    }
    return out;
}

}  // namespace tallyround::advise
