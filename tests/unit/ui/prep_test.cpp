#include "exchange/plan_file.h"
#include "hands.h"
#include "session/session.h"

using namespace tallyround::ui;

namespace {

const PrintPage* last_print(const Hands& h) {
    const PrintPage* last = nullptr;
    for (const Effect& e : h.effects)
        if (const auto* page = std::get_if<PrintPage>(&e)) last = page;
    return last;
}

/// A plan file whose block has one center, for a skill of the teacher's own.
std::string plan_with_own_skill() {
    using namespace tallyround::session;
    Session session(ReplicaId("phone"), 3);
    std::int64_t now = 1'795'999'000'000;
    const auto made = [&](const Command& wish) {
        const auto happened = session.send(wish, now += 1000);
        REQUIRE(happened.has_value());
        return happened->made.empty() ? std::string() : happened->made.front();
    };
    const ClassId cls(made(MakeClass{"Room 7", 6}));
    made(AddStudents{cls, {{"Ada", ""}, {"Bo", ""}}});
    made(AddOwnSkill{cls, "Read a bus timetable", 6});
    const SkillId skill = session.state().find_class(cls)->own_skills.front().id;
    const BlockId block(made(MakeBlock{cls, "Week 1", {}}));
    made(ChooseSkill{cls, block, skill, true});
    made(AddCenter{cls, block, "cards", skill});
    tallyround::model::Timing timing;
    timing.rounds = 1;
    made(SetTime{cls, block, {{{2026, 11, 30}, 550, 605}}, timing});
    made(MakeGroups{cls, block, GroupPolicy::mixed, 4, 1});
    made(MakeChart{cls, block, 1});
    return tallyround::exchange::write_plan(session.log().events());
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

TEST_CASE("the levels of one center's cards are changed before printing") {
    Hands h(390, 844);
    h.tap(Role::button, "Look around in the demo class");
    h.tap(Role::button, "Print and prepare: cards, keys, signs and lists");
    h.wait(12'000);  // the message over the page has gone
    const auto pages = [&] {
        for (const Node& n : h.nodes)
            if (n.label.starts_with("Task cards")) return n.label;
        return std::string();
    };
    const std::string before = pages();
    const Node* row = nullptr;
    for (const Node& n : h.nodes)
        if (row == nullptr && n.label.find("Cards with the dots chosen above") != std::string::npos)
            row = &n;
    REQUIRE(row != nullptr);
    h.tap_node(row->id);
    CHECK(h.sees(Role::dialog, "How hard are the cards?"));
    const Node* two = h.starting(Role::checkbox, "Two dots");
    REQUIRE(two != nullptr);
    h.tap_node(two->id);
    CHECK(h.journal.back().find("\"tiers\":[2]") != std::string::npos);
    h.tap(Role::button, "Done");
    CHECK(std::any_of(h.nodes.begin(), h.nodes.end(), [](const Node& n) {
        return n.label.find("Cards with two dots") != std::string::npos;
    }));
    CHECK(pages() != before);
}

TEST_CASE("a card of one's own gets a picture from the device, described in words") {
    Hands h(390, 844);
    h.app->file_picked("plan", "own.json", plan_with_own_skill(), h.now);
    h.frame();
    h.wait(12'000);  // the message over the page has gone
    h.tap_node(h.starting(Role::button, "Print and prepare")->id);
    const Node* own = h.starting(Role::button, "Your cards: ");
    REQUIRE(own != nullptr);
    h.tap_node(own->id);
    h.type("Cards, one a line", "How many? | 5\nWhich one? | The first\n");
    h.tap(Role::button, "Keep these cards");
    const Node* card = h.starting(Role::button, "1  How many?");
    REQUIRE(card != nullptr);
    h.tap_node(card->id);
    h.tap(Role::button, "Choose a picture");
    const auto* asked = std::get_if<PickFile>(&h.effects.back());
    REQUIRE(asked != nullptr);
    h.app->file_picked(asked->purpose, "page.svg", "<svg><script>1</script></svg>", h.now);
    h.frame();
    CHECK(h.announced.find("PNG, JPEG or WebP") != std::string::npos);
    const std::string png("\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\2\x80\0\0\1\xe0\x8\6\0\0\0", 29);
    h.app->file_picked(asked->purpose, "pie.png", png, h.now);
    h.frame();
    h.wait(20'000);
    h.type("What it shows, in words", "A pie in 8 parts");
    h.tap(Role::button, "Keep");
    CHECK(h.journal.back().find("A pie in 8 parts") != std::string::npos);
    // The cards are typed anew: the problem that was there keeps its picture.
    h.type("Cards, one a line", "How many? | 6\n");
    h.tap(Role::button, "Keep these cards");
    CHECK(h.journal.back().find("A pie in 8 parts") != std::string::npos);
    h.tap(Role::button, "Done");
    const Node* print = h.starting(Role::button, "Print ");
    REQUIRE(print != nullptr);
    h.tap_node(print->id);
    CHECK(last_print(h)->html.find("<img alt=\"A pie in 8 parts\"") != std::string::npos);
}
