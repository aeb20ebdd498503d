#include "exchange/plan_writer.h"

#include <doctest/doctest.h>

#include "../../support/random_events.h"
#include "exchange/plan_file.h"

using namespace tallyround;
using exchange::PlanWriter;

TEST_CASE("a plan file written in pieces of any size has the bytes of one written at once") {
    constexpr std::uint64_t seed = 2718;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    testing::Draw draw{random};
    for (int round = 0; round < 200; ++round) {
        std::vector<record::Event> events;
        for (auto n = random.below(30); n > 0; --n)
            events.push_back(draw.event());
        const std::string extra = round % 3 == 0 ? R"({"room":"12","x":[1]})" : "";
        PlanWriter writer;
        std::string lines;
        std::span<const record::Event> rest = events;
        while (!rest.empty()) {
            const auto n = std::min<std::size_t>(rest.size(), random.below(8));
            writer.add(rest.first(n), lines);
            rest = rest.subspan(n);
        }
        CHECK(writer.count() == events.size());
        const std::string whole = exchange::write_plan(events, extra);
        CHECK(writer.head(extra) + lines + std::string(writer.tail()) == whole);
    }
}

TEST_CASE("a plan file begins, goes on and ends as it always did") {
    const record::Event e{
        {5, 0, record::ReplicaId("r"), 1}, record::ClassArchived{model::ClassId("c"), true}, {}};
    const std::string line = R"({"at":[5,0],"by":"r","n":1,"kind":"class_archived",)"
                             R"("class":"c","archived":true})";
    const std::string two = line + "\n" + line;
    CHECK(exchange::write_plan(std::vector{e, e}) ==
          R"({"format":"tallyround-plan","version":1,"app":"tallyround","checksum":")" +
              record::bytes_hash(two) + "\",\n\"events\":[\n" + line + ",\n" + line + "\n]}\n");
    CHECK(exchange::write_plan({}) ==
          R"({"format":"tallyround-plan","version":1,"app":"tallyround","checksum":")" +
              record::bytes_hash("") + "\",\n\"events\":[]}\n");
}
