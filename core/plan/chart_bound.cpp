#include <algorithm>
#include <numeric>

#include "plan/chart_conflict.h"

namespace tallyround::plan::detail {

namespace {

/// Maximum flow on a small graph, one augmenting path at a time (Ford and Fulkerson 1956).
class Flow {
  public:
    explicit Flow(int nodes) : nodes_(nodes), room_(std::size_t(nodes) * std::size_t(nodes), 0) {}

    void edge(int from, int to, int capacity) { room(from, to) += capacity; }

    int largest(int source, int sink) {
        int total = 0;
        for (;;) {
            seen_.assign(std::size_t(nodes_), 0);
            const int more = push(source, sink, 1'000'000'000);
            if (more == 0) return total;
            total += more;
        }
    }

  private:
    int& room(int from, int to) {
        return room_[std::size_t(from) * std::size_t(nodes_) + std::size_t(to)];
    }
    int push(int at, int sink, int amount) {
        if (at == sink) return amount;
        seen_[at] = 1;
        for (int next = 0; next < nodes_; ++next) {
            if (seen_[next] || room(at, next) <= 0) continue;
            const int sent = push(next, sink, std::min(amount, room(at, next)));
            if (sent == 0) continue;
            room(at, next) -= sent;
            room(next, at) += sent;
            return sent;
        }
        return 0;
    }

    int nodes_;
    std::vector<int> room_;
    std::vector<char> seen_;
};

/// Most cells that find a center when only totals over all rounds count.
int most_visits(const ChartModel& m) {
    const int source = m.groups + m.centers;
    const int sink = source + 1;
    Flow flow(sink + 1);
    for (int g = 0; g < m.groups; ++g) {
        flow.edge(source, g, m.rounds - m.first[g]);
        for (int c = 0; c < m.centers; ++c) {
            int open = 0;
            for (int r = m.first[g]; r < m.rounds; ++r)
                open += (m.allowed[m.cell(g, r)] >> unsigned(c) & 1U) != 0;
            flow.edge(g, m.groups + c, std::min(open, m.limit[m.at_center(g, c)]));
        }
    }
    for (int c = 0; c < m.centers; ++c) {
        int places = 0;
        for (int r = 0; r < m.rounds; ++r)
            places += std::clamp(m.holds[c] - m.base_use[m.at_center(r, c)], 0, m.groups);
        flow.edge(m.groups + c, sink, places);
    }
    return flow.largest(source, sink);
}

}  // namespace

int idle_bound(const ChartModel& m) {
    const auto by_round = m.idle_bounds();
    int open = 0;
    for (int g = 0; g < m.groups; ++g)
        open += m.rounds - m.first[g];
    return std::max(std::accumulate(by_round.begin(), by_round.end(), 0), open - most_visits(m));
}

}  // namespace tallyround::plan::detail
