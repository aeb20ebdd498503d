#include <algorithm>
#include <functional>

#include "planned.h"

using namespace tallyround::ui;

namespace {

/// A class with `students` on the groups screen.
void to_groups(Hands& h, int students = 12) {
    std::string names;
    for (int i = 1; i <= students; ++i)
        names += "Student " + std::to_string(i) + "\n";
    plan_to_groups(h, names);
}

void make_groups(Hands& h) {
    h.tap(Role::button, "Make groups");
    REQUIRE(h.sees(Role::group, "Group 1"));
    h.wait(11'000);  // until the message at the bottom has gone
}

const Node& node(const Hands& h, std::uint32_t id) {
    const auto it =
        std::find_if(h.nodes.begin(), h.nodes.end(), [&](const Node& n) { return n.id == id; });
    REQUIRE(it != h.nodes.end());
    return *it;
}

/// The names on the chips of a group, from top to bottom.
std::vector<std::string> members(const Hands& h, const std::string& group) {
    const Node* g = h.find(Role::group, group);
    REQUIRE(g != nullptr);
    std::vector<std::string> out;
    for (const Node& n : h.nodes) {
        if (n.role == Role::checkbox && n.parent == g->id) out.push_back(n.label);
    }
    return out;
}

bool in_group(const Hands& h, const std::string& student, const std::string& group) {
    const auto all = members(h, group);
    return std::find(all.begin(), all.end(), student) != all.end();
}

std::size_t events(const Hands& h, const std::string& kind) {
    return std::size_t(std::count_if(h.journal.begin(), h.journal.end(), [&](const auto& line) {
        return line.find("\"kind\":\"" + kind + "\"") != std::string::npos;
    }));
}

/// Touches what is in the sheet, where the screen behind it has the same name.
void tap_over(Hands& h, Role role, const std::string& label) {
    const auto it = std::find_if(h.nodes.rbegin(), h.nodes.rend(),
                                 [&](const Node& n) { return n.role == role && n.label == label; });
    REQUIRE_MESSAGE(it != h.nodes.rend(), "no such thing on screen: " << label);
    h.tap_node(it->id);
}

void tap_starting(Hands& h, Role role, const std::string& label) {
    const Node* n = h.starting(role, label);
    REQUIRE_MESSAGE(n != nullptr, "no such thing on screen: " << label);
    h.tap_node(n->id);
}

struct Point {
    float x = 0;
    float y = 0;
};
Point middle(const Node& n) {
    return {n.rect.x + n.rect.w / 2, n.rect.y + n.rect.h / 2};
}

/// Holds `from` until it is lifted, moves to `to` in steps and lets go.
void drag(Hands& h, Point from, Point to) {
    h.app->pointer_down(0, from.x, from.y, h.now);
    h.frame();
    h.wait(400);
    for (int i = 1; i <= 8; ++i) {
        h.now.steady_ms += 16;
        h.app->pointer_move(0, from.x + (to.x - from.x) * float(i) / 8,
                            from.y + (to.y - from.y) * float(i) / 8, h.now);
    }
    h.app->pointer_up(0, to.x, to.y, h.now);
    h.frame();
}

}  // namespace

TEST_CASE("a picked student shows on every other chip what a swap would do, before it is done") {
    Hands h(1024, 768);
    to_groups(h);
    make_groups(h);
    const std::string first = members(h, "Group 1")[0];
    const std::string mate = members(h, "Group 1")[1];
    const std::string other = members(h, "Group 2")[0];
    CHECK(h.find(Role::checkbox, other)->value.empty());
    h.tap(Role::checkbox, first);
    CHECK(h.find(Role::checkbox, first)->checked);
    CHECK(h.find(Role::checkbox, other)->value == "Nothing else changes.");
    h.tap(Role::checkbox, first);  // put down again
    h.tap(Role::button, "Rules for groups");
    h.tap(Role::checkbox, "Apart");
    tap_over(h, Role::checkbox, mate);
    tap_over(h, Role::checkbox, other);
    h.tap(Role::button, "Done");
    const std::size_t before = events(h, "groups_set");
    h.tap(Role::checkbox, first);
    const std::string effect = h.find(Role::checkbox, other)->value;
    CHECK(effect.starts_with("Against a rule: "));
    CHECK(effect.find(" sit apart") != std::string::npos);
    CHECK(events(h, "groups_set") == before);
    // The other way round nothing is in the way.
    CHECK(h.find(Role::checkbox, members(h, "Group 3")[0])->value == "Nothing else changes.");
    h.tap(Role::checkbox, members(h, "Group 3")[0]);
    CHECK(events(h, "groups_set") == before + 1);
    CHECK(in_group(h, first, "Group 3"));
}

TEST_CASE("a chip that is held and dragged onto another one swaps them") {
    Hands h(1024, 768);
    to_groups(h);
    make_groups(h);
    const std::string a = members(h, "Group 1")[0];
    const std::string b = members(h, "Group 2")[1];
    drag(h, middle(*h.find(Role::checkbox, a)), middle(*h.find(Role::checkbox, b)));
    CHECK(in_group(h, a, "Group 2"));
    CHECK(in_group(h, b, "Group 1"));
    CHECK(h.announced.find("changed places") != std::string::npos);
    h.tap(Role::button, "Undo");
    CHECK(in_group(h, a, "Group 1"));
}

TEST_CASE("a chip dropped on a group with room moves there; on nothing it stays") {
    Hands h(1024, 768);
    to_groups(h, 11);
    make_groups(h);
    std::string full;
    std::string room;
    for (const char* g : {"Group 1", "Group 2", "Group 3"})
        (members(h, g).size() == 4 ? full : room) = g;
    const std::string a = members(h, full)[0];
    const Node& card = *h.find(Role::group, room);
    drag(h, middle(*h.find(Role::checkbox, a)), {card.rect.x + 12, card.rect.bottom() - 4});
    CHECK(in_group(h, a, room));
    CHECK(members(h, room).size() == 4);
    const std::size_t before = events(h, "groups_set");
    drag(h, middle(*h.find(Role::checkbox, a)), {2, 400});
    CHECK(events(h, "groups_set") == before);
    CHECK(in_group(h, a, room));
}

TEST_CASE("a finger that moves at once scrolls the groups and carries nobody") {
    Hands h(390, 844);
    to_groups(h);
    make_groups(h);
    const std::uint32_t id = h.find(Role::checkbox, members(h, "Group 1")[0])->id;
    h.app->focus(id);
    h.frame();
    const Point from = middle(node(h, id));
    const float before = node(h, id).full.y;
    const std::size_t groups = events(h, "groups_set");
    h.app->pointer_down(0, from.x, from.y, h.now);
    for (int i = 1; i <= 10; ++i) {
        h.now.steady_ms += 16;
        h.app->pointer_move(0, from.x, from.y - 15.0F * float(i), h.now);
    }
    h.wait(600);  // resting on another chip: still no hold
    h.app->pointer_up(0, from.x, from.y - 150, h.now);
    h.frame();
    CHECK(node(h, id).full.y < before - 100);
    CHECK(events(h, "groups_set") == groups);
    CHECK_FALSE(node(h, id).checked);
}

TEST_CASE("what is carried to the edge scrolls the page under it") {
    Hands h(390, 844);
    to_groups(h, 24);
    make_groups(h);
    const std::uint32_t id = h.find(Role::checkbox, members(h, "Group 1")[0])->id;
    h.app->focus(id);
    h.frame();
    const Point from = middle(node(h, id));
    const float before = node(h, id).full.y;
    h.app->pointer_down(0, from.x, from.y, h.now);
    h.frame();
    h.wait(400);
    h.app->pointer_move(0, from.x, 770, h.now);
    for (int i = 0; i < 40; ++i)
        h.wait(16);
    CHECK(node(h, id).full.y < before - 60);
    h.app->pointer_move(0, from.x, 400, h.now);
    h.frame();
    const float rest = node(h, id).full.y;
    h.wait(300);
    CHECK(node(h, id).full.y == rest);
    h.app->pointer_up(0, from.x, 400, h.now);
    h.frame();
}

TEST_CASE("a locked group stays when the rest is mixed, and the lock goes by a tap") {
    Hands h(1024, 768);
    to_groups(h);
    make_groups(h);
    const auto kept = members(h, "Group 2");
    h.tap(Role::button, "Lock Group 2");
    CHECK(h.sees(Role::button, "Unlock Group 2"));
    CHECK(h.sees(Role::button, "Rules for groups, 1"));
    for (int i = 0; i < 3; ++i) {
        h.tap(Role::button, "Mix again");
        CHECK(members(h, "Group 2") == kept);
    }
    h.tap(Role::button, "Unlock Group 2");
    CHECK(h.sees(Role::button, "Rules for groups"));
}

TEST_CASE("every kind of rule by thumb, in words, and gone with a tap") {
    Hands h(390, 844);
    to_groups(h);
    make_groups(h);
    h.tap(Role::button, "Rules for groups");
    h.tap(Role::checkbox, "Together");
    tap_over(h, Role::checkbox, "Student 1");
    tap_over(h, Role::checkbox, "Student 2");
    CHECK(h.sees(Role::button, "Take away: Student 1 and Student 2 sit together"));
    h.tap(Role::checkbox, "With one of");
    tap_over(h, Role::checkbox, "Student 3");
    tap_over(h, Role::checkbox, "Student 4");
    tap_over(h, Role::checkbox, "Student 5");
    h.tap(Role::button, "Keep this rule");
    CHECK(h.sees(Role::button, "Take away: Student 3 sits with Student 4 or Student 5"));
    h.tap(Role::checkbox, "In a group");
    tap_over(h, Role::checkbox, "Student 6");
    tap_over(h, Role::checkbox, "Group 3");
    CHECK(h.sees(Role::button, "Take away: Student 6 always works in Group 3"));
    h.tap(Role::checkbox, "Helper");
    h.type("Who helps", "Aide");
    h.tap(Role::checkbox, "Round 1");
    tap_over(h, Role::checkbox, "Student 7");
    tap_over(h, Role::checkbox, "Student 8");
    h.tap(Role::button, "Keep this rule");
    const std::string aide =
        "Aide goes along with Student 7 and Student 8 in round 1, so they share one group";
    CHECK(h.sees(Role::button, "Take away: " + aide));
    h.tap(Role::button, "Take away: " + aide);
    CHECK_FALSE(h.sees(Role::button, "Take away: " + aide));
    h.tap(Role::button, "Done");
    h.tap(Role::button, "Mix again");
    CHECK(in_group(h, "Student 6", "Group 3"));
}

TEST_CASE("rules that cannot all hold are named; taking one away tries again") {
    Hands h(390, 844);
    to_groups(h);
    make_groups(h);
    h.tap(Role::button, "Rules for groups");
    h.tap(Role::checkbox, "Together");
    tap_over(h, Role::checkbox, "Student 1");
    tap_over(h, Role::checkbox, "Student 2");
    h.tap(Role::checkbox, "In a group");
    tap_over(h, Role::checkbox, "Student 1");
    tap_over(h, Role::checkbox, "Group 1");
    tap_over(h, Role::checkbox, "Student 2");
    tap_over(h, Role::checkbox, "Group 2");
    h.tap(Role::button, "Done");
    h.tap(Role::button, "Mix again");
    REQUIRE(h.sees(Role::dialog, "This cannot all be"));
    CHECK(h.announced.find("Taking any one of them away resolves it.") != std::string::npos);
    const std::size_t before = events(h, "groups_set");
    h.tap(Role::button, "Take away: Student 2 always works in Group 2");
    CHECK_FALSE(h.sees(Role::dialog, "This cannot all be"));
    CHECK(events(h, "groups_set") == before + 1);
    CHECK(in_group(h, "Student 2", "Group 1"));
}

TEST_CASE("a new student is offered a seat and nothing changes before the yes") {
    Hands h(390, 844);
    to_groups(h, 11);
    make_groups(h);
    const std::size_t before = events(h, "groups_set");
    h.tap(Role::button, "Step 5 of 8, all steps");
    tap_starting(h, Role::button, "1. Students");
    h.type("Add names, one a line", "Late");
    h.tap(Role::button, "Add these names");
    REQUIRE(h.sees(Role::dialog, "Change the groups?"));
    CHECK(h.starting(Role::text, "Late joins Group ") != nullptr);
    CHECK(events(h, "groups_set") == before);
    SUBCASE("leave it") {
        h.tap(Role::button, "Leave it");
        CHECK_FALSE(h.sees(Role::dialog, "Change the groups?"));
        CHECK(events(h, "groups_set") == before);
    }
    SUBCASE("make it, and take it back") {
        h.tap(Role::button, "Make this change");
        CHECK(events(h, "groups_set") == before + 1);
        CHECK(h.announced.find("Nobody has to move.") != std::string::npos);
        h.tap(Role::button, "Undo");
        h.tap(Role::button, "Step 1 of 8, all steps");
        tap_starting(h, Role::button, "5. Groups");
        CHECK(h.sees(Role::heading, "Not in a group yet"));
    }
}

TEST_CASE("another number of groups is shown with its sizes before it is made") {
    Hands h(390, 844);
    to_groups(h, 24);
    make_groups(h);
    const std::size_t before = events(h, "groups_set");
    h.tap(Role::button, "More Number of groups");
    h.tap(Role::button, "More Number of groups");
    CHECK(h.starting(Role::status, "8 groups of up to 4 (3, 3, 3, 3, 3, 3, 3, 3).") != nullptr);
    CHECK(events(h, "groups_set") == before);
    h.tap(Role::button, "Make them so");
    CHECK(members(h, "Group 8").size() == 3);
    h.tap(Role::button, "Undo");
    CHECK_FALSE(h.sees(Role::group, "Group 8"));
}

TEST_CASE("why a group is as it is, and a term of partners whose first groups are used") {
    Hands h(390, 844);
    to_groups(h, 16);
    make_groups(h);
    h.tap(Role::button, "Why Group 1 is as it is");
    REQUIRE(h.sees(Role::dialog, "Why Group 1?"));
    h.tap(Role::button, "Done");
    h.tap(Role::button, "Partners over a term");
    h.tap(Role::button, "Less Blocks to plan");
    h.tap(Role::button, "Plan the term");
    for (int i = 0; i < 20 && !h.sees(Role::button, "Use these groups for this block"); ++i)
        h.frame();
    CHECK(h.sees(Role::status, "5 blocks planned: no two students meet twice."));
    const std::size_t before = events(h, "groups_set");
    h.tap(Role::button, "Use these groups for this block");
    CHECK(events(h, "groups_set") == before + 1);
}
