// Filtering and EM against an independent library: data/evidence/hmm_values.csv was written by
// hmm_values.c with the General Hidden Markov Model library of Debian (libghmm 0.9~rc3).
#include <doctest/doctest.h>

#include <cmath>

#include "evidence/fit.h"
#include "evidence/trace.h"
#include "table.h"

using namespace tallyround::evidence;

namespace {

using Row = std::vector<std::string>;

double number(const Row& row, std::size_t column) {
    return std::stod(row.at(column));
}

Model model_of(const Row& row) {
    Model m;
    m.spacing_growth = 1.0;
    m.prior = number(row, 4);
    m.learn = number(row, 5);
    m.forget_per_day = number(row, 6);
    m.known = {number(row, 7), number(row, 8), 1.0 - number(row, 7) - number(row, 8)};
    m.unknown = {number(row, 9), number(row, 10), 1.0 - number(row, 9) - number(row, 10)};
    return m;
}

/// One mark a day.
std::vector<Mark> marks_of(const std::string& symbols) {
    std::vector<Mark> out;
    for (const char c : symbols) {
        const Level level = c == '0' ? Level::secure : c == '1' ? Level::shaky : Level::stuck;
        out.push_back({static_cast<double>(out.size()), level});
    }
    return out;
}

Sequences all_of(const std::vector<Row>& rows) {
    Sequences all;
    for (const Row& row : rows) {
        if (row[0] != "filter") continue;
        for (const Mark& mark : marks_of(row[1]))
            all.marks.push_back(mark);
        all.close();
    }
    return all;
}

}  // namespace

TEST_CASE("filtered chances and likelihoods are those of an independent library") {
    const auto rows = read_table("evidence/hmm_values.csv");
    const Model m = model_of(rows.at(1));
    int checked = 0;
    for (const Row& row : rows) {
        if (row[0] != "filter") continue;
        const std::vector<Mark> marks = marks_of(row[1]);
        // The library's chance is at the last mark, ours after its learn step.
        const double seen = number(row, 2);
        CHECK(Trace::of(m, marks).estimate(m).p ==
              doctest::Approx(seen + (1.0 - seen) * m.learn).epsilon(1e-12));
        Sequences one;
        one.marks = marks;
        one.close();
        CHECK(log_likelihood(one, m) == doctest::Approx(number(row, 3)).epsilon(1e-12));
        ++checked;
    }
    CHECK(checked == 400);
}

TEST_CASE("EM comes to the model that an independent library's Baum-Welch comes to") {
    const auto rows = read_table("evidence/hmm_values.csv");
    const Row& fit = rows.back();
    REQUIRE(fit[0] == "fit");
    const Model theirs = model_of(fit);
    Model start;
    start.spacing_growth = 1.0;
    start.forget_per_day = 0.05;
    FitSettings settings;
    settings.start_weight = 0.0;
    settings.most_rounds = 5000;
    settings.settled = 1e-9;
    const Sequences all = all_of(rows);
    const Fitted ours = fit_model(all, start, settings);
    REQUIRE_FALSE(ours.at_bound);
    CHECK(log_likelihood(all, theirs) == doctest::Approx(number(fit, 3)).epsilon(1e-10));
    CHECK(ours.log_likelihood >= number(fit, 3) - 1e-3);
    CHECK(std::abs(ours.log_likelihood - number(fit, 3)) < 0.05);
    const Model& m = ours.model;
    CHECK(std::abs(m.prior - theirs.prior) < 0.01);
    CHECK(std::abs(m.learn - theirs.learn) < 0.01);
    CHECK(std::abs(m.forget_per_day - theirs.forget_per_day) < 0.01);
    CHECK(std::abs(m.known.secure - theirs.known.secure) < 0.01);
    CHECK(std::abs(m.known.shaky - theirs.known.shaky) < 0.01);
    CHECK(std::abs(m.unknown.secure - theirs.unknown.secure) < 0.01);
    CHECK(std::abs(m.unknown.shaky - theirs.unknown.shaky) < 0.01);
}
