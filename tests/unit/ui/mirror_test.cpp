#include <doctest/doctest.h>

#include "ui/mirror/mirror.h"

using namespace tallyround::ui;

namespace {

Node node(std::uint32_t id, const char* label) {
    Node n;
    n.id = id;
    n.label = label;
    return n;
}

}  // namespace

TEST_CASE("a mirror diff holds what changed and no more") {
    const std::vector<Node> before{node(1, "one"), node(2, "two"), node(3, "three")};
    CHECK(diff(before, before).empty());

    std::vector<Node> after = before;
    after[1].label = "zwei";
    MirrorDiff d = diff(before, after);
    REQUIRE(d.changed.size() == 1);
    CHECK(d.changed[0].id == 2);
    CHECK(d.order.empty());

    d = diff(before, {node(1, "one"), node(3, "three")});
    CHECK(d.changed.empty());
    CHECK(d.removed == std::vector<std::uint32_t>{2});
    CHECK(d.order == std::vector<std::uint32_t>{1, 3});

    d = diff(before, {node(3, "three"), node(1, "one"), node(2, "two")});
    CHECK(d.changed.empty());
    CHECK(d.removed.empty());
    CHECK(d.order == std::vector<std::uint32_t>{3, 1, 2});
}

TEST_CASE("the diff as JSON escapes what a name may hold") {
    Node n = node(7, "Ann \"the\\pen\"\n");
    n.rect = {1.25F, -2, 30, 40.06F};
    CHECK(to_json({{n}, {8}, {7}}) ==
          "{\"set\":[{\"id\":7,\"parent\":0,\"role\":\"text\",\"rect\":[1.3,-2,30,40.1],"
          "\"label\":\"Ann \\\"the\\\\pen\\\"\\u000a\"}],\"gone\":[8],\"order\":[7]}");
}
