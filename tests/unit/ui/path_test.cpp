#include <set>

#include "planned.h"

using namespace tallyround::ui;

namespace {

/// From nothing to a chart, as a new user would.
void plan_a_class(Hands& h) {
    std::string names;
    for (int i = 1; i <= 24; ++i)
        names += "Student " + std::string(1, char('A' + i - 1)) + "\n";
    plan_to_groups(h, names);
    h.tap(Role::button, "Make groups");
    h.tap(Role::button, "Rotation chart");
    h.tap(Role::button, "Make the chart");
}

std::size_t marks(const Hands& h) {
    return std::size_t(std::count_if(h.journal.begin(), h.journal.end(), [](const auto& line) {
        return line.find("\"kind\":\"marked\"") != std::string::npos;
    }));
}

}  // namespace

TEST_CASE("from an empty app to a running lesson and a plan file, on a phone and a tablet") {
    for (const auto& [w, height] : {std::pair{390.0F, 844.0F}, {1024.0F, 768.0F}}) {
        CAPTURE(w);
        Hands h(w, height);
        plan_a_class(h);
        CHECK(h.sees(Role::heading, "Rotation chart"));
        // 24 students make six groups; each row of the chart is one of them.
        CHECK(h.starting(Role::button, "Group 6, round 1: center") != nullptr);
        CHECK(h.starting(Role::button, "Group 7, round 1") == nullptr);
        h.tap(Role::button, "To the lesson");
        h.tap(Role::button, "Start the lesson");
        CHECK(h.starting(Role::timer, "") != nullptr);
        h.tap(Role::button, "Start round 1");
        h.tap(Role::button, "Student A: shaky");
        CHECK(marks(h) == 1);
        CHECK(h.find(Role::button, "Student A: shaky")->value == "marked");
        CHECK(h.find(Role::button, "Student A: secure")->value.empty());
        h.tap(Role::button, "Undo: mark for Student A");
        CHECK(h.find(Role::button, "Student A: shaky")->value.empty());
    }
}

TEST_CASE("a tap counts for what was on screen when the finger went down") {
    Hands h(1024, 768);
    plan_a_class(h);
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    h.tap(Role::button, "Start round 1");
    const Node* n = h.find(Role::button, "Student B: stuck");
    REQUIRE(n != nullptr);
    const float x = n->rect.x + n->rect.w / 2;
    const float y = n->rect.y + n->rect.h / 2;
    h.app->pointer_down(0, x, y, h.now);
    // Another finger moves the lesson on before the first one lifts.
    const Node* next = h.find(Role::button, "Move on");
    REQUIRE(next != nullptr);
    h.app->pointer_down(1, next->rect.x + 20, next->rect.y + 20, h.now);
    h.app->pointer_up(1, next->rect.x + 20, next->rect.y + 20, h.now);
    h.frame();
    h.app->pointer_up(0, x, y, h.now);
    h.frame();
    REQUIRE(marks(h) == 1);
    const std::string mark = h.journal.back();
    CHECK(mark.find("\"round\":1") != std::string::npos);
    CHECK(mark.find("\"level\":\"stuck\"") != std::string::npos);
}

TEST_CASE("forty taps between two frames all count") {
    Hands h(1024, 768);
    plan_a_class(h);
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    h.tap(Role::button, "Start round 1");
    const Node* n = h.find(Role::button, "Student A: secure");
    REQUIRE(n != nullptr);
    const float x = n->rect.x + n->rect.w / 2;
    const float y = n->rect.y + n->rect.h / 2;
    for (int i = 0; i < 40; ++i) {
        h.now.utc_ms += 25;
        h.app->pointer_down(i, x, y, h.now);
        h.app->pointer_up(i, x, y, h.now);
    }
    h.frame();
    CHECK(marks(h) == 40);
}

TEST_CASE("a finger that moves scrolls and does not tap") {
    Hands h(390, 844);
    h.tap(Role::button, "Look around in the demo class");
    h.tap(Role::button, "Step 6 of 8, all steps");
    h.tap(Role::button, "1. Students");
    const Node* n = h.starting(Role::list_item, "");
    REQUIRE(n != nullptr);
    const auto row = n->id;
    const auto find = [&] {
        return *std::find_if(h.nodes.begin(), h.nodes.end(),
                             [&](const Node& other) { return other.id == row; });
    };
    const float before = find().full.y;
    h.app->pointer_down(0, 200, 500, h.now);
    for (int i = 1; i <= 10; ++i) {
        h.now.steady_ms += 16;
        h.app->pointer_move(0, 200, 500 - 20.0F * float(i), h.now);
    }
    h.now.steady_ms += 500;  // resting: no glide
    h.app->pointer_up(0, 200, 300, h.now);
    h.frame();
    CHECK(h.find(Role::dialog, "Student") == nullptr);
    // The move that leaves the slop starts the scroll; the nine after it move by 20 points each.
    CHECK(find().full.y == doctest::Approx(before - 180).epsilon(0.01));
}

TEST_CASE("the lesson comes back where it was, with the right time left") {
    Hands h(1024, 768);
    plan_a_class(h);
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    h.tap(Role::button, "Start round 1");
    CHECK(h.sees(Role::timer, "12:00 left"));
    h.wait(65'000);
    CHECK(h.sees(Role::timer, "10:55 left"));
    std::string journal;
    for (const std::string& line : h.journal)
        journal += line + "\n";
    std::string preferences;
    for (const Effect& e : h.effects) {
        if (const auto* p = std::get_if<WritePreferences>(&e)) preferences = p->json;
    }
    h.now.utc_ms += 30'000;
    h.app->open("", journal, h.journal.size(), preferences, false, h.now);
    h.frame();
    CHECK(h.sees(Role::timer, "10:25 left"));
    CHECK(h.sees(Role::status, "Round 1 of 3"));
}

TEST_CASE("an idle screen asks for no frame; a running lesson for one a second") {
    Hands h(1024, 768);
    h.tap(Role::button, "Look around in the demo class");
    h.wait(20'000);
    CHECK(h.app->next_frame_in(h.now) < 0);
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    h.wait(20'000);
    const double due = h.app->next_frame_in(h.now);
    CHECK(due > 0);
    CHECK(due <= 1001);
}

TEST_CASE("a file that is not a plan changes nothing and says what to do") {
    Hands h(1024, 768);
    h.tap(Role::button, "Look around in the demo class");
    const std::size_t before = h.journal.size();
    for (const char* bytes : {"", "{", "[1,2,3]", "{\"app\":\"other\"}",
                              "{\"format\":\"tallyround-plan\",\"version\":99,\"events\":[]}"}) {
        h.app->file_picked("plan", "odd.json", bytes, h.now);
        h.frame();
        CHECK(h.journal.size() == before);
        CHECK(h.announced.find("odd.json") != std::string::npos);
        CHECK(h.announced.find("Nothing here was changed") != std::string::npos);
    }
}

TEST_CASE("read only: nothing is written and it says so") {
    Hands h(1024, 768);
    h.tap(Role::button, "Look around in the demo class");
    h.app->lost_lock();
    h.frame();
    const std::size_t before = h.journal.size();
    CHECK(h.sees(Role::button, "Take over"));
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    CHECK(h.journal.size() == before);
    h.tap(Role::button, "Take over");
    CHECK(std::holds_alternative<TakeOver>(h.effects.back()));
}

TEST_CASE("a write that fails is shown, tried again, and shown as saved only when it is") {
    Hands h(1024, 768);
    h.tap(Role::button, "Look around in the demo class");
    h.tap(Role::button, "To the lesson");
    h.app->take_effects();
    // This one is not answered by the hands: taken out before they see it.
    const Node* start = h.find(Role::button, "Start the lesson");
    REQUIRE(start != nullptr);
    h.app->activate(start->id, h.now);
    std::uint64_t key = 0;
    for (const Effect& e : h.app->take_effects()) {
        if (const auto* r = std::get_if<AppendRecord>(&e)) key = r->key;
    }
    REQUIRE(key > 0);
    h.frame();
    CHECK(h.sees(Role::status, "Saving"));
    h.app->not_stored(key, "The device is full.");
    h.frame();
    CHECK(h.starting(Role::status, "Not saved: The device is full.") != nullptr);
    const std::size_t before = h.journal.size();
    h.wait(5'000);
    h.wait(5'000);
    CHECK(h.journal.size() > before);
    CHECK(h.sees(Role::status, "Saved on this device"));
}

TEST_CASE("ids are one of a kind on every screen, and nothing touchable is small") {
    Hands h(390, 844);
    h.tap(Role::button, "Look around in the demo class");
    const char* steps[] = {"Students", "Skills", "Centers", "Time",
                           "Groups",   "Chart",  "Walk",    "Review"};
    for (int step = 0; step < 8; ++step) {
        h.tap(Role::button, "Step " + std::to_string(step == 0 ? 6 : step) + " of 8, all steps");
        h.tap(Role::button, std::to_string(step + 1) + ". " + steps[step]);
        std::set<std::uint32_t> ids;
        for (const Node& n : h.nodes) {
            CHECK_MESSAGE(ids.insert(n.id).second, "twice: " << n.label);
            if (!n.focusable || n.rect.empty() || n.rect.h < n.full.h) continue;
            // WCAG 2.2, 2.5.8 (AA): at least 24 by 24 CSS pixels.
            CHECK_MESSAGE(n.rect.w >= 24, n.label);
            CHECK_MESSAGE(n.rect.h >= 22, n.label);
        }
    }
}
