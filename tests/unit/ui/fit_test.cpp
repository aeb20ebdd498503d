#include "hands.h"

using namespace tallyround::ui;

namespace {

void open_time(Hands& h) {
    h.tap(Role::button, "Look around in the demo class");
    h.wait(20'000);
    h.tap(Role::button, "Step 6 of 8, all steps");
    for (const Node& n : h.nodes) {
        if (n.label.starts_with("4. Time")) return h.tap_node(n.id);
    }
}

std::string outcome(const Hands& h) {
    const Node* region = h.find(Role::region, "What fits");
    if (region == nullptr) return "";
    for (const Node& n : h.nodes) {
        if (n.parent == region->id && n.role == Role::status) return n.label;
    }
    return "";
}

std::size_t times_set(const Hands& h) {
    return std::size_t(std::count_if(h.journal.begin(), h.journal.end(), [](const auto& line) {
        return line.find("\"kind\":\"time_set\"") != std::string::npos;
    }));
}

}  // namespace

TEST_CASE("what fits is in sight while a number is changed, and one tap makes it fit") {
    Hands h;
    open_time(h);
    const std::string at_first = outcome(h);
    REQUIRE(at_first.find(" fit") != std::string::npos);
    CHECK(h.sees(Role::button, "Make groups"));
    for (int i = 0; i < 8; ++i)
        h.tap(Role::button, "More One round");
    CHECK(outcome(h).find("do not fit") != std::string::npos);
    CHECK_FALSE(h.sees(Role::button, "Make groups"));
    // The band with the outcome lies inside the screen, above the steps.
    const Node* region = h.find(Role::region, "What fits");
    CHECK(region->rect.bottom() <= 844 - 64 + 1);
    const Node* shorter = h.starting(Role::button, "Rounds of ");
    REQUIRE(shorter != nullptr);
    h.tap_node(shorter->id);
    CHECK(outcome(h).find("do not fit") == std::string::npos);
    CHECK(h.sees(Role::button, "Make groups"));
    for (int i = 0; i < 9; ++i)
        h.tap(Role::button, "Undo: times");
    CHECK(outcome(h) == at_first);
}

TEST_CASE("a break is put into a day, its outcome said while it is typed, and bad times refused") {
    Hands h;
    open_time(h);
    const std::size_t before = times_set(h);
    const Node* day = nullptr;
    for (const Node& n : h.nodes) {
        if (n.role == Role::button && n.label.ends_with(" min") && day == nullptr) day = &n;
    }
    REQUIRE(day != nullptr);
    h.tap_node(day->id);
    REQUIRE(h.sees(Role::dialog, "Day and bell times"));
    const std::string whole = h.starting(Role::status, "")->label;
    h.tap(Role::button, "Add a break: an assembly, lunch");
    h.type("Break from", "nine");
    CHECK(h.sees(Role::status, "Break: write its times as 09:30 and 09:45."));
    h.type("Break from", "23:00");
    h.type("Break to", "23:30");
    h.tap(Role::button, "Keep");
    CHECK(h.announced.find("does not lie inside the lesson") != std::string::npos);
    CHECK(times_set(h) == before);
    CHECK(h.sees(Role::dialog, "Day and bell times"));
    h.tap(Role::button, "Take out break");
    h.tap(Role::button, "Add a break: an assembly, lunch");
    h.tap(Role::button, "Keep");
    CHECK(times_set(h) == before + 1);
    CHECK(h.journal.back().find("breaks") != std::string::npos);
    bool shown = false;
    for (const Node& n : h.nodes)
        shown = shown || n.label.find(" · Break ") != std::string::npos;
    CHECK(shown);
}

TEST_CASE("a lost day says beforehand what would be left") {
    Hands h;
    open_time(h);
    for (const Node& n : h.nodes) {
        if (n.role != Role::button || !n.label.ends_with(" min")) continue;
        h.tap_node(n.id);
        break;
    }
    CHECK(h.starting(Role::text, "Without this day: ") != nullptr);
    const std::size_t before = times_set(h);
    h.tap(Role::button, "Take this day out");
    CHECK(times_set(h) == before + 1);
    h.tap(Role::button, "Undo: times");
    CHECK(times_set(h) == before + 1);
}
