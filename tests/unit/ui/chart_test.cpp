#include "hands.h"

using namespace tallyround::ui;

namespace {

void open_demo_chart(Hands& h) {
    h.tap(Role::button, "Look around in the demo class");
    h.wait(20'000);  // the message at the bottom is gone
}

std::string cell(const Hands& h, const std::string& place) {
    const Node* n = h.starting(Role::button, place + ": ");
    return n == nullptr ? "" : n->label;
}

void tap_cell(Hands& h, const std::string& place) {
    const std::string label = cell(h, place);
    REQUIRE_MESSAGE(!label.empty(), "no cell " << place);
    h.tap(Role::button, label);
}

}  // namespace

TEST_CASE("a swap is shown with what it does before it is done, and can be left or undone") {
    Hands h(430, 932);  // as narrow as seven rounds can be touched
    open_demo_chart(h);
    const std::string before = cell(h, "Group 1, round 2");
    const std::string other = cell(h, "Group 3, round 2");
    const std::size_t events = h.journal.size();
    tap_cell(h, "Group 1, round 2");
    CHECK(h.starting(Role::status, "Group 1, round 2: ") != nullptr);
    tap_cell(h, "Group 3, round 2");
    CHECK(h.sees(Role::dialog, "Swap two groups"));
    CHECK(h.starting(Role::text, "! Group 1 is at ") != nullptr);
    CHECK(h.journal.size() == events);
    h.tap(Role::button, "Leave it");
    CHECK(h.journal.size() == events);
    CHECK(cell(h, "Group 1, round 2") == before);
    tap_cell(h, "Group 1, round 2");
    tap_cell(h, "Group 3, round 2");
    h.tap(Role::button, "Make this change");
    CHECK(h.journal.size() == events + 1);
    CHECK(cell(h, "Group 1, round 2") == "Group 1, round 2" + other.substr(16));
    h.tap(Role::button, "Undo");
    CHECK(cell(h, "Group 1, round 2") == before);
}

TEST_CASE("a cell is pinned by thumb and listed in words, and the rule is taken away again") {
    Hands h(430, 932);
    open_demo_chart(h);
    tap_cell(h, "Group 2, round 1");
    h.tap(Role::button, "Pin it");
    CHECK(cell(h, "Group 2, round 1").find(", pinned") != std::string::npos);
    h.wait(20'000);
    h.tap(Role::button, "Rules for the chart");
    const Node* rule = h.starting(Role::button, "Take away: Group 2 is at ");
    REQUIRE(rule != nullptr);
    CHECK(rule->label.find("in round 1.") != std::string::npos);
    h.tap_node(rule->id);
    CHECK(h.starting(Role::button, "Take away: ") == nullptr);
    h.tap(Role::button, "Done");
    CHECK(cell(h, "Group 2, round 1").find(", pinned") == std::string::npos);
}

TEST_CASE("rules that do not go together are named, and one tap takes one away") {
    Hands h(430, 932);
    open_demo_chart(h);
    h.tap(Role::button, "Rules for the chart");
    const auto first_center = [&] {
        for (const Node& n : h.nodes) {
            if (n.role == Role::button && n.label.starts_with("1 ")) return n.id;
        }
        return 0U;
    };
    const std::uint32_t center = first_center();
    REQUIRE(center != 0);
    h.tap_node(center);
    h.tap(Role::checkbox, "Must be visited");
    CHECK(h.find(Role::checkbox, "Must be visited")->checked);
    h.tap(Role::checkbox, "Not in round 1");
    // Six groups, one at a time, cannot all come in five rounds.
    CHECK(h.sees(Role::dialog, "These do not go together"));
    const Node* drop = h.starting(Role::button, "Take away: Every group goes to ");
    REQUIRE(drop != nullptr);
    h.tap_node(drop->id);
    CHECK_FALSE(h.sees(Role::dialog, "These do not go together"));
    h.wait(20'000);
    h.tap(Role::button, "Rules for the chart");
    CHECK(h.starting(Role::button, "Take away: Nobody is at ") != nullptr);
    CHECK(h.starting(Role::button, "Take away: Every group goes") == nullptr);
}

TEST_CASE("another order is chosen in one tap and makes the chart anew") {
    Hands h(430, 932);
    open_demo_chart(h);
    const std::string before =
        cell(h, "Group 2, round 2") + cell(h, "Group 3, round 2") + cell(h, "Group 4, round 3");
    h.tap(Role::button, "Rules for the chart");
    const Node* balanced = h.starting(Role::radio, "Balanced");
    REQUIRE(balanced != nullptr);
    h.tap_node(balanced->id);
    CHECK(h.starting(Role::radio, "Balanced")->checked);
    h.tap(Role::button, "Done");
    CHECK(cell(h, "Group 2, round 2") + cell(h, "Group 3, round 2") + cell(h, "Group 4, round 3") !=
          before);
}

TEST_CASE("the chart says what it is worth, and that a swap made it worse") {
    Hands h(430, 932);
    open_demo_chart(h);
    CHECK(h.sees(Role::text, "No chart does better."));
    tap_cell(h, "Group 1, round 2");
    tap_cell(h, "Group 3, round 2");
    h.tap(Role::button, "Make this change");
    h.wait(20'000);
    CHECK_FALSE(h.sees(Role::text, "No chart does better."));
    CHECK(h.starting(Role::text, "A chart with ") != nullptr);
}

TEST_CASE("in mid-lesson a change of the chart is shown first, with the places that change") {
    Hands h(430, 932);
    open_demo_chart(h);
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    h.tap(Role::button, "Start round 1");
    h.tap(Role::button, "Lesson menu");
    h.tap(Role::button, "Change the chart");
    const std::size_t events = h.journal.size();
    h.tap(Role::button, "A round is lost");
    CHECK(h.sees(Role::dialog, "A round is lost"));
    CHECK(h.starting(Role::text, "One round is lost: ") != nullptr);
    h.tap(Role::button, "Leave it");
    CHECK(h.journal.size() == events);
    tap_cell(h, "Group 1, round 1");
    h.tap(Role::button, h.starting(Role::button, "Stay on: Group 1")->label);
    CHECK(h.sees(Role::dialog, "What the chart keeps to"));
    CHECK(h.starting(Role::text, "Group 1: ")->label.find(", was ") != std::string::npos);
    h.tap(Role::button, "Make this change");
    CHECK(h.journal.size() == events + 2);
    CHECK(cell(h, "Group 1, round 2").find(", pinned") != std::string::npos);
}

TEST_CASE("where columns are too narrow for a finger, rows open and lists are touched") {
    Hands h(360, 700);
    open_demo_chart(h);
    CHECK(cell(h, "Group 1, round 1").empty());
    const Node* row = h.starting(Role::button, "Group 4: round 1 ");
    REQUIRE(row != nullptr);
    CHECK(row->full.h >= 48);
    h.tap_node(row->id);
    CHECK(h.starting(Role::button, "Group 4, round 3: ") != nullptr);
    tap_cell(h, "Group 4, round 3");
    // The others of that round are there to swap with.
    CHECK(h.starting(Role::text, "Round 3 of ") != nullptr);
    tap_cell(h, "Group 2, round 3");
    CHECK(h.sees(Role::dialog, "Swap two groups"));
}

TEST_CASE("a round that cannot be lost names the rule in its way; without it, it can") {
    Hands h(430, 932);
    open_demo_chart(h);
    h.tap(Role::button, "Rules for the chart");
    h.tap(Role::button, "1 Teacher center");
    h.tap(Role::checkbox, "Must be visited");
    h.tap(Role::button, "Done");
    h.tap(Role::button, "Done");
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    h.tap(Role::button, "Lesson menu");
    h.tap(Role::button, "Change the chart");
    h.tap(Role::button, "A round is lost");
    REQUIRE(h.sees(Role::dialog, "These do not go together"));
    h.tap(Role::button, "Take away: Every group goes to Teacher center at least once.");
    CHECK_FALSE(h.sees(Role::dialog, "These do not go together"));
    h.wait(20'000);  // the message at the bottom is gone
    h.tap(Role::button, "A round is lost");
    CHECK(h.sees(Role::dialog, "A round is lost"));
}
