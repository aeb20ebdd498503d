#include "hands.h"
#include "ui/view.h"

using namespace tallyround::ui;

namespace {

void go_to(Hands& h, const std::string& step) {
    for (const Node& n : h.nodes) {
        if (n.role == Role::tab && n.label.starts_with(step)) return h.tap_node(n.id);
    }
    FAIL("no step " << step);
}

std::size_t starting(const Hands& h, Role role, const std::string& label) {
    return std::size_t(std::count_if(h.nodes.begin(), h.nodes.end(), [&](const Node& n) {
        return n.role == role && n.label.starts_with(label);
    }));
}

std::size_t list_items(const Hands& h) {
    return starting(h, Role::list_item, "");
}

}  // namespace

TEST_CASE("a name is found by its parts, without case and diacritics, in any script") {
    Hands h(1024, 768);
    h.tap(Role::button, "Look around in the demo class");
    go_to(h, "1. ");
    CHECK(list_items(h) == 27);
    for (const auto& [typed, name] : {std::pair{"dvorak", "Kateřina Dvořáková"},
                                      {"MUL noah", "Noah Müller"},
                                      {"ho minh", "Hồ Minh Anh"},
                                      {"thorsson", "Daníel Þórsson"},
                                      {"παππασ", "Νίκος Παππάς"},
                                      {"шевч", "Олена Шевчук"},
                                      {"小雨", "王小雨"},
                                      {"حداد", "ليلى حداد"},
                                      {"לוי", "נועה לוי"},
                                      {"शर्मा", "आरव शर्मा"}}) {
        h.type("Find a name", typed);
        CHECK_MESSAGE(list_items(h) == 1, typed);
        CHECK_MESSAGE(starting(h, Role::button, name) == 1, typed);
    }
    h.tap(Role::button, "Empty the search");
    CHECK(list_items(h) == 27);
}

TEST_CASE("where nothing is found it says so and leads back to all") {
    Hands h(1024, 768);
    h.tap(Role::button, "Look around in the demo class");
    go_to(h, "1. ");
    h.type("Find a name", "qq");
    CHECK(list_items(h) == 0);
    CHECK(starting(h, Role::status, "Nothing here has \"qq\" in it.") == 1);
    h.tap(Role::button, "Show all");
    CHECK(list_items(h) == 27);
}

TEST_CASE("what was looked for is forgotten on the way to another screen") {
    Hands h(1024, 768);
    h.tap(Role::button, "Look around in the demo class");
    go_to(h, "1. ");
    h.type("Find a name", "noah");
    go_to(h, "2. ");
    go_to(h, "1. ");
    CHECK(list_items(h) == 27);
}

TEST_CASE("a skill is looked for in every grade, and chosen where it is found") {
    Hands h(1024, 768);
    h.tap(Role::button, "Look around in the demo class");
    go_to(h, "2. ");
    const std::string slope = "Slope from two points";  // of grade 8; the class is in grade 6
    CHECK(starting(h, Role::checkbox, slope) == 0);
    h.type("Find a skill in all grades", "POINTS slope");
    REQUIRE(starting(h, Role::checkbox, "") == 1);
    const Node* found = h.starting(Role::checkbox, slope);
    REQUIRE(found != nullptr);
    CHECK(found->label.find("Grade 8") != std::string::npos);
    CHECK_FALSE(h.sees(Role::radio, "Grade 6"));
    CHECK_FALSE(found->checked);
    h.tap_node(found->id);
    CHECK(h.starting(Role::checkbox, slope)->checked);
}

TEST_CASE("the class picture shows the rows of the names that are looked for") {
    Hands h(1024, 768);
    h.tap(Role::button, "Look around in the demo class");
    go_to(h, "8. ");
    const auto rows = [&] {
        return std::count_if(h.nodes.begin(), h.nodes.end(),
                             [](const Node& n) { return n.label.ends_with(": all skills"); });
    };
    CHECK(rows() == 27);
    h.type("Find a name", "kova");
    CHECK(rows() == 2);  // Ana Kovačić, Kateřina Dvořáková
    h.type("Find a name", "nobody here");
    CHECK(rows() == 0);
    h.tap(Role::button, "Show all");
    CHECK(rows() == 27);
}
