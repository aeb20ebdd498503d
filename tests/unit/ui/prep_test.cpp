#include "hands.h"

using namespace tallyround::ui;

namespace {

const PrintPage* last_print(const Hands& h) {
    const PrintPage* last = nullptr;
    for (const Effect& e : h.effects)
        if (const auto* page = std::get_if<PrintPage>(&e)) last = page;
    return last;
}

}  // namespace

TEST_CASE("the prep screen prints what is chosen, ticks it off, and keeps what is ready") {
    Hands h(390, 844);
    h.tap(Role::button, "Look around in the demo class");
    h.tap(Role::button, "Print and prepare: cards, keys, signs and lists");
    CHECK(h.sees(Role::heading, "Print and prepare"));
    const Node* print = h.starting(Role::button, "Print ");
    REQUIRE(print != nullptr);
    h.tap_node(print->id);
    const PrintPage* page = last_print(h);
    REQUIRE(page != nullptr);
    CHECK(page->html.find("size:letter portrait") != std::string::npos);
    CHECK(page->html.find("<section") != std::string::npos);
    // The poster lies the other way: it waits for its own turn.
    CHECK(h.sees(Role::button, "Print 1 page"));
    h.tap(Role::button, "Print 1 page");
    CHECK(last_print(h)->html.find("size:letter landscape") != std::string::npos);
    CHECK(h.sees(Role::button, "Choose what to print"));
    const Node* supply = h.starting(Role::checkbox, "4 whiteboards");
    REQUIRE(supply != nullptr);
    const std::size_t before = h.journal.size();
    h.tap_node(supply->id);
    CHECK(h.journal.size() == before + 1);
    CHECK(h.journal.back().find("\"kind\":\"ready_set\"") != std::string::npos);
}

TEST_CASE("what is in stock is counted, and a shortage is said") {
    Hands h(1024, 768);
    h.tap(Role::button, "Look around in the demo class");
    h.tap(Role::button, "Print and prepare: cards, keys, signs and lists");
    h.wait(20'000);  // the greeting at the bottom goes
    h.tap(Role::button, "What is in stock");
    CHECK(h.sees(Role::dialog, "What is in stock"));
    const Node* more = h.starting(Role::button, "More whiteboards");
    REQUIRE(more != nullptr);
    h.tap_node(more->id);
    CHECK(h.journal.back().find("\"kind\":\"stock_set\"") != std::string::npos);
}

TEST_CASE("a wrong answer is named with a mark and shows in the class picture") {
    Hands h(390, 844);
    h.tap(Role::button, "Look around in the demo class");
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    const Node* start = h.starting(Role::button, "Start round");
    REQUIRE(start != nullptr);
    h.tap_node(start->id);
    const Node* more = nullptr;
    for (const Node& n : h.nodes)
        if (n.role == Role::button && n.label.ends_with(", more")) more = &n;
    REQUIRE(more != nullptr);
    h.tap_node(more->id);
    const Node* slip = nullptr;
    for (const Node& n : h.nodes)
        if (n.role == Role::checkbox && slip == nullptr && !n.rect.empty() &&
            n.label.find("flag") == std::string::npos)
            slip = &n;
    REQUIRE(slip != nullptr);
    h.tap_node(slip->id);
    h.tap(Role::button, "On their own: stuck");
    CHECK(h.journal.back().find("\"slip\":\"") != std::string::npos);
}

TEST_CASE("a framework file brings skills of one's own, and what is none changes nothing") {
    Hands h(390, 844);
    h.tap(Role::button, "Look around in the demo class");
    const std::size_t before = h.journal.size();
    h.app->file_picked("framework", "half.json", "{", h.now);
    h.frame();
    CHECK(h.announced.find("half.json") != std::string::npos);
    CHECK(h.journal.size() == before);
    h.app->file_picked("framework", "ours.json",
                       R"({"CFDocument":{"title":"Ours"},"CFItems":[
                           {"identifier":"a","fullStatement":"Add","humanCodingScheme":"X.1"}]})",
                       h.now);
    h.frame();
    CHECK(h.journal.size() == before + 1);
    CHECK(h.journal.back().find("\"code\":\"X.1\"") != std::string::npos);
}
