// golden_replay FILE: replays the record in a plan file and prints what it comes to, as hashes of
// canonical bytes, so that runs on different machines can be compared.
#include <fstream>
#include <iostream>
#include <iterator>
#include <span>
#include <string>

#include "exchange/plan_file.h"
#include "record/hash.h"
#include "record/log.h"

namespace {

using namespace tallyround;

/// The state reached when the later half of the record arrives before the earlier one.
std::string hash_when_merged(const std::vector<record::Event>& events) {
    const std::span<const record::Event> all(events);
    const std::size_t half = all.size() / 2;
    record::Log log{record::ReplicaId("golden")};
    log.merge(all.subspan(half));
    log.merge(all.first(half));
    return record::state_hash(log.state());
}

int replay(const char* path) {
    std::ifstream file(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(file), {}};
    const auto plan = exchange::read_plan(bytes);
    if (!plan) {
        std::cerr << path << ": " << plan.error().text() << '\n';
        return 1;
    }
    record::Log log{record::ReplicaId("golden")};
    log.load(plan->events);
    std::cout << "events " << log.events().size() << '\n'
              << "state " << record::state_hash(log.state()) << '\n'
              << "merged " << hash_when_merged(plan->events) << '\n'
              << "written " << record::bytes_hash(exchange::write_plan(log.events())) << '\n';
    return 0;
}

}  // namespace

int main(int count, char** words) {
    if (count != 2) {
        std::cerr << "usage: golden_replay FILE\n";
        return 2;
    }
    return replay(words[1]);
}
