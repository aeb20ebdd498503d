// What one more mark costs a class with a year of them: the standings are brought up to date after
// every mark. Prints milliseconds as JSON; built natively and for Node.js.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <string>
#include <vector>

#include "base/random.h"
#include "session/derived.h"

using namespace tallyround;

int main() {
    constexpr int students = 30;
    constexpr int skills = 20;
    constexpr int marks = 30 * 180 * 3;
    base::Random random(1);
    std::vector<model::Mark> year;
    for (int i = 0; i < marks; ++i) {
        model::Mark mark;
        mark.student = model::StudentId("s" + std::to_string(i % students));
        mark.skill = model::SkillId("k" + std::to_string((i / students) % skills));
        mark.at_ms = 1'796'000'000'000 + std::int64_t{i} * 86'400'000 / 90;
        mark.event = std::uint64_t(i);
        mark.level = static_cast<model::Level>(random.below(3));
        year.push_back(mark);
    }
    model::Class cls;
    cls.id = model::ClassId("c");
    cls.marks.reserve(year.size());
    session::Standings standings;
    std::vector<double> took;
    double sum = 0.0;
    for (const model::Mark& mark : year) {
        cls.marks.push_back(mark);
        const auto start = std::chrono::steady_clock::now();
        standings.update(cls, mark.at_ms);
        sum += standings.of(mark.student, mark.skill).p;
        took.push_back(
            std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
                .count());
    }
    double total = 0.0;
    for (const double ms : took)
        total += ms;
    std::sort(took.begin(), took.end());
    std::printf(
        "{\"marks\":%d,\"mean\":%.4f,\"p50\":%.5f,\"p99\":%.5f,\"most\":%.2f,\"sum\":%.3f}\n",
        marks, total / marks, took[took.size() / 2], took[took.size() * 99 / 100], took.back(),
        sum);
    return 0;
}
