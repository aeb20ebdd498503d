// A school year of 5 classes x 30 students x 180 days x 3 marks, drawn from a fixed seed: writes
// the levels to the file named (one student and skill a line, digits 0 secure, 1 shaky, 2 stuck; a
// blank line after each class) and prints what fitting and estimating it takes, as JSON. The same
// file is fitted by year.py.
#include <chrono>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <vector>

#include "base/random.h"
#include "evidence/calibration.h"
#include "evidence/fit.h"
#include "evidence/trace.h"

using namespace tallyround::evidence;
using tallyround::base::Random;

namespace {

constexpr int classes = 5;
constexpr int students = 30;
constexpr int days = 180;
constexpr int skills = 20;
constexpr int marks_a_day = 3;

struct Pair {
    bool known = false;
    double last = 0.0;
    int spaced = 0;
    std::vector<Mark> marks;
};

Level look(Random& random, const Emission& e) {
    const double u = random.unit();
    return u < e.secure ? Level::secure : u < e.secure + e.shaky ? Level::shaky : Level::stuck;
}

/// Each skill is reviewed on every twentieth day or so, three skills a day.
Sequences draw(Random& random) {
    Model truth;
    truth.prior = 0.4;
    truth.learn = 0.15;
    std::vector<Pair> pairs(students * skills);
    for (Pair& p : pairs)
        p.known = random.unit() < truth.prior;
    for (int day = 0; day < days; ++day) {
        for (int i = 0; i < marks_a_day; ++i) {
            for (int s = 0; s < students; ++s) {
                Pair& p = pairs[static_cast<std::size_t>(s * skills + (day * 7 + i * 3) % skills)];
                if (p.known) p.known = random.unit() < kept(truth, p.spaced, day - p.last);
                const Level level = look(random, p.known ? truth.known : truth.unknown);
                if (level == Level::secure && day > p.last) ++p.spaced;
                p.marks.push_back({static_cast<double>(day), level});
                p.last = day;
                if (!p.known) p.known = random.unit() < truth.learn;
            }
        }
    }
    Sequences out;
    for (const Pair& p : pairs) {
        out.marks.insert(out.marks.end(), p.marks.begin(), p.marks.end());
        if (!p.marks.empty()) out.close();
    }
    return out;
}

/// Chance of secure before each mark, and what came.
void forecast(const Model& model, const Sequences& all, std::vector<Forecast>& out) {
    std::size_t begin = 0;
    for (const std::size_t end : all.ends) {
        Trace trace;
        for (std::size_t i = begin; i < end; ++i) {
            const Mark& mark = all.marks[i];
            const double p = trace.estimate_at(model, model.prior, mark.day).p;
            out.push_back({next_mark(model, p).secure, mark.level == Level::secure});
            trace.add(model, mark);
        }
        begin = end;
    }
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 2) return 2;
    Random random(1);
    std::vector<Sequences> year;
    std::ofstream file(argv[1]);
    std::size_t marks = 0;
    for (int c = 0; c < classes; ++c) {
        year.push_back(draw(random));
        marks += year.back().marks.size();
        std::size_t begin = 0;
        for (const std::size_t end : year.back().ends) {
            for (; begin < end; ++begin)
                file << 2 - static_cast<int>(year.back().marks[begin].level);
            file << '\n';
        }
        file << '\n';
    }
    const auto start = std::chrono::steady_clock::now();
    int rounds = 0;
    double sum = 0.0;
    std::vector<Model> models;
    for (const Sequences& all : year) {
        const Fitted fit = fit_model(all, Model{});
        rounds += fit.rounds;
        models.push_back(fit.model);
        std::size_t begin = 0;
        for (const std::size_t end : all.ends) {
            Trace trace;
            for (; begin < end; ++begin)
                trace.add(fit.model, all.marks[begin]);
            sum += trace.estimate(fit.model).p;
        }
    }
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    std::vector<Forecast> forecasts;
    for (std::size_t c = 0; c < year.size(); ++c)
        forecast(models[c], year[c], forecasts);
    const Scores scores = score(forecasts);
    std::printf(
        "{\"marks\":%zu,\"rounds\":%d,\"ms\":%.2f,\"held\":%.3f,\"log_loss\":%.4f,"
        "\"auc\":%.4f,\"calibration_error\":%.4f}\n",
        marks, rounds, took.count(), sum, scores.log_loss, scores.auc, scores.calibration_error);
    return 0;
}
