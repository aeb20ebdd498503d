// Published tables of groupings and designs, read from data/plan (see LICENCES.md there).
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>

#include "plan/chart.h"
#include "plan/group.h"
#include "plan/partners.h"

using namespace tallyround;
using plan::Block;
using plan::PartnersProblem;

namespace {

std::vector<std::string> lines_of(const std::string& name) {
    std::ifstream in(std::string(TALLYROUND_TEST_DATA) + "/plan/" + name);
    REQUIRE_MESSAGE(in, name);
    std::vector<std::string> out;
    for (std::string line; std::getline(in, line);)
        if (!line.empty()) out.push_back(line);
    return out;
}

/// "1 2 3;4 5 6": one block a line, students from 1.
std::vector<Block> numbered(const std::string& name) {
    std::vector<Block> blocks;
    for (const auto& line : lines_of(name)) {
        Block block;
        std::stringstream groups(line);
        for (std::string text; std::getline(groups, text, ';');) {
            std::vector<int> group;
            std::stringstream numbers(text);
            for (int n = 0; numbers >> n;)
                group.push_back(n - 1);
            if (!group.empty()) block.push_back(std::move(group));
        }
        blocks.push_back(std::move(block));
    }
    return blocks;
}

/// "abc dhl ...": one block a line, students a, b, c, ...
std::vector<Block> lettered(const std::string& name) {
    std::vector<Block> blocks;
    for (const auto& line : lines_of(name)) {
        Block block;
        std::stringstream words(line);
        for (std::string word; words >> word;) {
            std::vector<int> group;
            for (const char letter : word)
                group.push_back(letter - 'a');
            block.push_back(std::move(group));
        }
        blocks.push_back(std::move(block));
    }
    return blocks;
}

PartnersProblem term(int students, int size, int blocks) {
    PartnersProblem p;
    p.students = students;
    p.size = size;
    p.blocks = blocks;
    return p;
}

}  // namespace

TEST_CASE("Kirkman 1850: the fifteen girls' week is accepted, a faulty one is not") {
    const auto valid = measure(term(15, 3, 7), numbered("kirkman_15_A_valid.txt"));
    CHECK(valid.blocks.size() == 7);
    CHECK(valid.distinct_pairs == 105);
    CHECK(valid.repeat_pairs == 0);
    auto blocks = lettered("kirkman_15_B_INVALID_negative_fixture.txt");
    const auto faulty = measure(term(15, 3, 7), blocks);
    CHECK(faulty.distinct_pairs == 101);
    CHECK(faulty.repeat_pairs == 4);
    // "beg cmn" of the fourth day should read "bmn ceg".
    std::replace(blocks[3].begin(), blocks[3].end(), std::vector<int>{1, 4, 6}, {1, 12, 13});
    std::replace(blocks[3].begin(), blocks[3].end(), std::vector<int>{2, 12, 13}, {2, 4, 6});
    const auto repaired = measure(term(15, 3, 7), blocks);
    CHECK(repaired.distinct_pairs == 105);
    CHECK(repaired.repeat_pairs == 0);
}

TEST_CASE("tables of fours (CSPLib prob010 and others) and what the search reaches") {
    struct Table {
        const char* file;
        int students, blocks, distinct;
    };
    for (const Table& t : {Table{"4-4-5.txt", 16, 5, 120}, Table{"5-4-5.txt", 20, 5, 150},
                           Table{"6-4-7.txt", 24, 7, 252}, Table{"7-4-9.txt", 28, 9, 378},
                           Table{"8-4-9-csplib.txt", 32, 9, 432}}) {
        CAPTURE(t.file);
        const auto p = term(t.students, 4, t.blocks);
        const auto table = measure(p, numbered(t.file));
        CHECK(int(table.blocks.size()) == t.blocks);
        CHECK(table.repeat_pairs == 0);
        CHECK(table.distinct_pairs == t.distinct);
        const auto search = solve_partners(p);
        CHECK(search.best()->repeat_pairs == 0);
        CHECK(search.best()->distinct_pairs == t.distinct);
        CHECK(search.proved_best());
    }
}

TEST_CASE("blocks of fours without a repeat: at most floor((v-1)/3)") {
    CHECK(plan::bound_blocks(16, 4) == 5);
    CHECK(plan::bound_blocks(20, 4) == 6);
    CHECK(plan::bound_blocks(24, 4) == 7);
    CHECK(plan::bound_blocks(28, 4) == 9);
    CHECK(plan::bound_blocks(32, 4) == 10);
}

TEST_CASE("25 to 27 students: as many clean blocks as deleting players from 28 gives, or more") {
    struct Case {
        int students, blocks;
    };
    // Deleting one player of the 28 x 9 table leaves nine clean blocks of fours and threes.
    for (const Case c : {Case{27, 9}, Case{26, 8}, Case{25, 8}, Case{31, 9}, Case{30, 9},
                         Case{29, 8}, Case{36, 11}}) {
        CAPTURE(c.students);
        const auto search = solve_partners(term(c.students, 4, c.blocks));
        CHECK(search.best()->repeat_pairs == 0);
    }
}

TEST_CASE("a term planned block by block beats the expectation of random grouping") {
    // Expected distinct pairs of w random groupings: C(v,2) (1 - (1 - 3/(v-1))^w).
    struct Case {
        int students, blocks;
        double expected;
    };
    for (const Case& c : {Case{16, 5, 80.6784}, Case{20, 5, 109.5390}, Case{24, 7, 172.2414},
                          Case{28, 9, 247.0459}, Case{32, 9, 297.5511}}) {
        CAPTURE(c.students);
        const double v = c.students;
        const double formula = v * (v - 1) / 2 * (1 - std::pow(1 - 3 / (v - 1), c.blocks));
        CHECK(formula == doctest::Approx(c.expected).epsilon(1e-6));
        plan::GroupProblem p;
        p.students = c.students;
        int repeats = 0;
        for (int block = 0; block < c.blocks; ++block) {
            const auto search = plan::solve_groups(p, 60'000);
            repeats += search.best()->repeat_pairs > 0 ? search.best()->repeat_pairs : 0;
            p.past.push_back(search.best()->groups);
        }
        const auto all = measure(term(c.students, 4, c.blocks), p.past);
        CHECK(all.distinct_pairs > 1.1 * c.expected);
        CHECK(repeats >= all.repeat_pairs);
    }
}

TEST_CASE("Williams squares as printed by crossdes 1.1-2, n = 4, 5, 6") {
    const auto rows_of = [](const std::vector<std::string>& texts) {
        plan::Cells rows;
        for (const auto& text : texts) {
            rows.emplace_back();
            for (const char digit : text)
                rows.back().push_back(digit - '1');
        }
        std::sort(rows.begin(), rows.end());
        return rows;
    };
    const auto sorted = [](plan::Cells rows) {
        std::sort(rows.begin(), rows.end());
        return rows;
    };
    const auto counts_of = [](const plan::Cells& rows, int n) {
        plan::ChartProblem p;
        p.groups = int(rows.size());
        p.rounds = n;
        p.centers.resize(std::size_t(n));
        return neighbour_counts(p, rows);
    };
    const auto four = rows_of({"1243", "2314", "3421", "4132"});
    const auto six = rows_of({"126354", "231465", "342516", "453621", "564132", "615243"});
    const auto five = rows_of(
        {"12534", "23145", "34251", "45312", "51423", "43521", "54132", "15243", "21354", "32415"});
    CHECK(sorted(plan::williams(4)) == four);
    CHECK(sorted(plan::williams(6)) == six);
    CHECK(sorted(plan::williams(5)) == five);
    const auto all_equal = [&](const plan::Cells& rows, int n, int times) {
        const auto counts = counts_of(rows, n);
        for (int a = 0; a < n; ++a)
            for (int b = 0; b < n; ++b)
                if (counts[a][b] != (a == b ? 0 : times)) return false;
        return true;
    };
    CHECK(all_equal(four, 4, 1));
    CHECK(all_equal(five, 5, 2));
    CHECK(all_equal(six, 6, 1));
    for (const int n : {3, 7, 8, 10, 11})
        CHECK(all_equal(plan::williams(n), n, n % 2 == 0 ? 1 : 2));
    // The cyclic square sends everybody from a center to the next one every time.
    plan::Cells cyclic;
    for (int g = 0; g < 6; ++g) {
        cyclic.emplace_back();
        for (int r = 0; r < 6; ++r)
            cyclic.back().push_back((g + r) % 6);
    }
    CHECK_FALSE(all_equal(cyclic, 6, 1));
    CHECK(counts_of(cyclic, 6)[0][1] == 5);
}
