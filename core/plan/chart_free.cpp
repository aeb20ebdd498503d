#include "plan/chart_free.h"

#include <algorithm>

namespace tallyround::plan::detail {

namespace {

Mask bit_of(int c) {
    return Mask{1} << unsigned(c);
}

bool has_room(const ChartModel& m, const Cells& cells, int g, int r, int center) {
    int there = 0;
    std::vector<int> left = m.stock;
    for (int other = 0; other < m.groups; ++other) {
        if (other == g || cells[other][r] < 0) continue;
        there += cells[other][r] == center;
        for (int d = 0; d < m.devices; ++d)
            left[d] -= m.needs[cells[other][r]][d];
    }
    if (there >= m.holds[center]) return false;
    for (int d = 0; d < m.devices; ++d)
        if (m.needs[center][d] > 0 && left[d] < m.needs[center][d]) return false;
    return true;
}

bool keeps_order(const ChartModel& m, const std::vector<int>& row, int g, int r, int center) {
    return std::all_of(m.before[g].begin(), m.before[g].end(), [&](const Before& rule) {
        return rule.then != center ||
               std::find(row.begin(), row.begin() + r, rule.first) != row.begin() + r;
    });
}

}  // namespace

int free_center(const ChartModel& m, const Cells& cells, int g, int r, bool fresh) {
    const auto& row = cells[g];
    for (int c = 0; c < m.centers; ++c) {
        if (c == row[r] || (m.allowed[m.cell(g, r)] & bit_of(c)) == 0) continue;
        if (fresh && std::find(row.begin(), row.begin() + r, c) != row.begin() + r) continue;
        const auto planned = std::count(row.begin() + m.first[g], row.end(), c);
        if (planned + 1 > m.limit[m.at_center(g, c)]) continue;
        if (keeps_order(m, row, g, r, c) && has_room(m, cells, g, r, c)) return c;
    }
    return -1;
}

void settle(const ChartProblem& p, const ChartModel& m, Cells& cells) {
    ChartScore now = measure(p, m, cells);
    // Each accepted step makes the score better, so the sweeps end.
    for (bool again = now.idle > 0 || now.early > 0; again;) {
        again = false;
        for (int r = 0; r < m.rounds; ++r) {
            for (int g = 0; g < m.groups; ++g) {
                if (r < m.first[g]) continue;
                const int before = cells[g][r];
                int free = free_center(m, cells, g, r, true);
                if (free < 0 && before == idle) free = free_center(m, cells, g, r, false);
                if (free < 0) continue;
                cells[g][r] = free;
                const ChartScore then = measure(p, m, cells);
                if (then.better(now) && faults(p, cells).none()) {
                    now = then;
                    again = true;
                } else {
                    cells[g][r] = before;
                }
            }
        }
    }
}

}  // namespace tallyround::plan::detail
