// What a hand can rely on in the lesson: Undo, a whole group at once, two fingers, keys, no
// flashes.
#include <cmath>

#include "hands.h"
#include "ui/input.h"
#include "ui/view.h"

using namespace tallyround::ui;

namespace {

constexpr std::int64_t minute = 60'000;

void in_round_one(Hands& h) {
    h.tap(Role::button, "Look around in the demo class");
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    h.tap(Role::button, "Start round 1");
}

std::size_t records(const Hands& h, const std::string& kind) {
    return std::size_t(std::count_if(h.journal.begin(), h.journal.end(), [&](const auto& line) {
        return line.find("\"kind\":\"" + kind + "\"") != std::string::npos;
    }));
}

bool marked(const Hands& h, const std::string& label) {
    const Node* n = h.find(Role::button, label);
    REQUIRE_MESSAGE(n != nullptr, label);
    return n->value == "marked";
}

/// Students at the Teacher center, as the room lists them.
std::vector<std::string> first_group(const Hands& h) {
    std::vector<std::string> out;
    const Node* center = h.starting(Role::region, "1  ");
    REQUIRE(center != nullptr);
    for (const Node& n : h.nodes) {
        if (n.parent == center->id && n.label.ends_with(": secure"))
            out.push_back(n.label.substr(0, n.label.size() - 8));
    }
    REQUIRE(out.size() >= 3);
    return out;
}

void move(Hands& h, int finger, float x, float y) {
    h.now.steady_ms += 16;
    h.app->pointer_move(finger, x, y, h.now);
    h.frame();
}

}  // namespace

TEST_CASE("for ten seconds one tap takes back what was just marked, without lying over a mark") {
    for (const int percent : {100, 200}) {
        Hands h(390, 844, percent);
        in_round_one(h);
        const auto place = [&] {
            std::vector<Rect> all;
            for (const Target& t : h.app->painted().targets) {
                if (t.scroller != 0) all.push_back(t.rect);
            }
            return all;
        };
        const std::string student = first_group(h).front();
        h.tap(Role::button, student + ": shaky");
        const auto marks = place();
        const Node* undo = h.find(Role::button, "Undo");
        REQUIRE(undo != nullptr);
        for (const Rect& r : marks)
            CHECK(intersect(r, undo->rect).empty());
        h.wait(9'500);
        REQUIRE(h.sees(Role::button, "Undo"));
        h.tap(Role::button, "Undo");
        CHECK(records(h, "retracted") == 1);
        CHECK_FALSE(marked(h, student + ": shaky"));
        h.tap(Role::button, student + ": shaky");
        const auto with = place();
        h.wait(10'100);
        CHECK_FALSE(h.sees(Role::button, "Undo"));
        CHECK(place() == with);  // nothing moves when a message comes or goes
    }
}

TEST_CASE("the lesson's list takes back any mark of it, not just the last") {
    Hands h;
    in_round_one(h);
    const auto group = first_group(h);
    h.tap(Role::button, group[0] + ": stuck");
    h.tap(Role::button, group[1] + ": secure");
    h.tap(Role::button, group[2] + ": shaky");
    h.tap(Role::button, "Lesson menu");
    const Node* oldest = h.starting(Role::button, "Take back " + group[0] + ": stuck");
    REQUIRE(oldest != nullptr);
    h.tap_node(oldest->id);
    h.app->key(Key::escape, h.now);
    h.frame();
    CHECK_FALSE(marked(h, group[0] + ": stuck"));
    CHECK(marked(h, group[1] + ": secure"));
    CHECK(marked(h, group[2] + ": shaky"));
}

TEST_CASE("a message over a sheet belongs to the sheet, so that its Undo can be reached") {
    Hands h(430, 932);
    h.tap(Role::button, "Look around in the demo class");
    h.wait(20'000);  // the message of before is gone
    h.tap(Role::button, "Rules for the chart");
    const Node* center = h.starting(Role::button, "1 ");
    REQUIRE(center != nullptr);
    h.tap_node(center->id);
    h.tap(Role::checkbox, "Not in round 1");
    const Node* undo = h.find(Role::button, "Undo");
    const Node* dialog = nullptr;
    for (const Node& n : h.nodes) {
        if (n.role == Role::dialog) dialog = &n;
    }
    REQUIRE(undo != nullptr);
    REQUIRE(dialog != nullptr);
    CHECK(undo->parent == dialog->id);
    CHECK(intersect(undo->rect, dialog->rect).empty());
}

TEST_CASE("a whole group in one gesture: hold its name, slide to a mark, lift; then corrections") {
    for (const auto& [w, height, percent] :
         {std::tuple{390.0F, 844.0F, 100}, {390.0F, 844.0F, 200}, {1024.0F, 768.0F, 100}}) {
        Hands h(w, height, percent);
        in_round_one(h);
        const auto group = first_group(h);
        const std::size_t before = records(h, "marked");
        const Node* name = h.starting(Role::button, "Everyone at ");
        REQUIRE(name != nullptr);
        const auto [x, y] = h.middle(name->id);
        h.app->pointer_down(0, x, y, h.now);
        h.frame();
        CHECK(h.app->painted().targets.back().drop == nullptr);
        h.wait(400);
        // Three places to lift on, none under the finger.
        std::vector<Rect> zones;
        for (const Target& t : h.app->painted().targets) {
            if (t.drop && t.passive) zones.push_back(t.rect);
        }
        REQUIRE(zones.size() == 3);
        for (const Rect& zone : zones) {
            CHECK_FALSE(zone.contains(x, y));
            CHECK(zone.w >= 48);
            CHECK(zone.h >= 48);
            CHECK(zone.x >= 0);
            CHECK(zone.right() <= w);
            CHECK(zone.y >= 0);
        }
        const Rect& shaky = zones[1];
        move(h, 0, x + 4, y - 12);
        move(h, 0, shaky.x + shaky.w / 2, shaky.y + shaky.h / 2);
        h.app->pointer_up(0, shaky.x + shaky.w / 2, shaky.y + shaky.h / 2, h.now);
        h.frame();
        CHECK(records(h, "marked") - before == group.size());
        for (const std::string& student : group)
            CHECK(marked(h, student + ": shaky"));
        h.tap(Role::button, group[1] + ": secure");
        CHECK(marked(h, group[1] + ": secure"));
        CHECK(marked(h, group[0] + ": shaky"));
    }
}

TEST_CASE("a held name let go of in its place opens the sheet; beside the marks, nothing") {
    Hands h;
    in_round_one(h);
    const std::size_t before = h.journal.size();
    const auto [x, y] = h.middle(h.starting(Role::button, "Everyone at ")->id);
    h.app->pointer_down(0, x, y, h.now);
    h.wait(500);
    SUBCASE("in its place") {
        h.app->pointer_up(0, x, y, h.now);
        h.frame();
        CHECK(h.app->view().overlay == Overlay::group);
    }
    SUBCASE("far away") {
        move(h, 0, x, y + 300);
        h.app->pointer_up(0, x, y + 300, h.now);
        h.frame();
        CHECK(h.app->view().overlay == Overlay::none);
    }
    SUBCASE("cancelled") {
        h.app->pointer_cancel(0);
        h.frame();
        CHECK(h.app->view().overlay == Overlay::none);
    }
    CHECK(h.journal.size() == before);
    CHECK(std::none_of(h.app->painted().targets.begin(), h.app->painted().targets.end(),
                       [](const Target& t) { return t.drop != nullptr; }));
}

TEST_CASE("a pressed mark shows its shape above the finger") {
    Hands h;
    in_round_one(h);
    const Node* mark = h.find(Role::button, first_group(h).front() + ": stuck");
    REQUIRE(mark != nullptr);
    const auto [x, y] = h.middle(mark->id);
    h.frame();
    const int before = h.vertices;
    h.app->pointer_down(0, x, y, h.now);
    h.frame();
    CHECK(h.vertices > before);
    h.app->pointer_cancel(0);
    h.frame();
}

TEST_CASE("a mark that is held adds how much help it took") {
    Hands h;
    in_round_one(h);
    const std::string student = first_group(h).front();
    const std::size_t before = records(h, "marked");
    h.hold_node(h.find(Role::button, student + ": shaky")->id);
    REQUIRE(h.sees(Role::dialog, student));
    CHECK(records(h, "marked") == before);
    h.tap(Role::button, "With a hint: shaky");
    CHECK(records(h, "marked") == before + 1);
    CHECK(h.journal.back().find("\"help\":\"hint\"") != std::string::npos);
    CHECK(h.announced == student + ": shaky after a hint.");
    h.tap(Role::button, "Undo");
    CHECK(records(h, "retracted") == 1);
}

TEST_CASE("vibration answers a mark, and can be turned off") {
    Hands h;
    in_round_one(h);
    const auto shakes = [&] {
        return std::count_if(h.effects.begin(), h.effects.end(),
                             [](const Effect& e) { return std::holds_alternative<Vibrate>(e); });
    };
    const std::string mark = first_group(h).front() + ": stuck";
    h.tap(Role::button, mark);
    const auto once = shakes();
    CHECK(once > 0);
    h.tap(Role::button, "Lesson menu");
    h.tap(Role::button, "Settings and files");
    h.tap(Role::checkbox, "Short vibration with each mark");
    h.tap_node(h.starting(Role::button, "Back to ")->id);
    h.tap(Role::button, mark);
    CHECK(shakes() == once);
}

TEST_CASE("a button that makes text larger stays under the finger") {
    Hands h;
    h.tap(Role::button, "Look around in the demo class");
    h.tap(Role::button, "Settings and files");
    const auto [x, y] = h.middle(h.find(Role::button, "More Text size")->id);
    for (int percent = 110; percent <= 200; percent += 10) {
        h.app->pointer_down(0, x, y, h.now);
        h.app->pointer_up(0, x, y, h.now);
        h.frame();
        CHECK(h.app->view().text_scale == doctest::Approx(float(percent) / 100));
    }
}

TEST_CASE("two fingers change the text in steps, and the size is kept") {
    Hands h;
    h.tap(Role::button, "Look around in the demo class");
    const std::size_t before = h.journal.size();
    h.app->pointer_down(0, 195, 500, h.now);
    h.app->pointer_down(1, 195, 400, h.now);
    move(h, 0, 195, 510);
    move(h, 1, 195, 390);
    CHECK(h.app->view().text_scale == doctest::Approx(1.0F));
    move(h, 0, 195, 520);
    move(h, 1, 195, 380);  // 1.4 times as far apart
    CHECK(h.app->view().text_scale == doctest::Approx(1.4F));
    move(h, 0, 195, 800);
    move(h, 1, 195, 100);
    CHECK(h.app->view().text_scale == doctest::Approx(2.0F));
    move(h, 0, 195, 525);
    move(h, 1, 195, 375);
    CHECK(h.app->view().text_scale == doctest::Approx(1.5F));
    CHECK(h.announced == "Text size 150 %");
    h.app->pointer_up(0, 195, 525, h.now);
    h.app->pointer_up(1, 195, 375, h.now);
    h.frame();
    CHECK(h.journal.size() == before);
    CHECK(h.app->view().overlay == Overlay::none);
    const auto kept = std::find_if(h.effects.rbegin(), h.effects.rend(), [](const Effect& e) {
        return std::holds_alternative<WritePreferences>(e);
    });
    REQUIRE(kept != h.effects.rend());
    CHECK(std::get<WritePreferences>(*kept).json.find("\"text\":\"150\"") != std::string::npos);
    // Together again, from where it was left.
    h.app->pointer_down(0, 195, 600, h.now);
    h.app->pointer_down(1, 195, 300, h.now);
    move(h, 0, 195, 570);
    move(h, 1, 195, 330);
    CHECK(h.app->view().text_scale == doctest::Approx(1.2F));
}

TEST_CASE(
    "two fingers that tap at once are two taps, and one that scrolls beside a still one is no "
    "pinch") {
    Hands h;
    in_round_one(h);
    const auto group = first_group(h);
    const auto [ax, ay] = h.middle(h.find(Role::button, group[0] + ": secure")->id);
    const auto [bx, by] = h.middle(h.find(Role::button, group[1] + ": stuck")->id);
    h.app->pointer_down(0, ax, ay, h.now);
    h.app->pointer_down(1, bx, by, h.now);
    move(h, 0, ax + 3, ay);
    move(h, 1, bx - 3, by);
    h.app->pointer_up(0, ax, ay, h.now);
    h.app->pointer_up(1, bx, by, h.now);
    h.frame();
    CHECK(marked(h, group[0] + ": secure"));
    CHECK(marked(h, group[1] + ": stuck"));
    h.app->pointer_down(0, ax, ay, h.now);
    h.app->pointer_down(1, bx, by + 200, h.now);
    move(h, 1, bx, by + 100);
    move(h, 1, bx, by);
    CHECK(h.app->view().text_scale == doctest::Approx(1.0F));
    h.app->pointer_cancel(0);
    h.app->pointer_cancel(1);
}

TEST_CASE(
    "by keyboard: arrows lead to a student, single keys mark and flag, and can be turned off") {
    Hands h;
    in_round_one(h);
    const auto group = first_group(h);
    h.app->focus(h.starting(Role::button, group[1] + ", more")->id);
    h.frame();
    const auto press = [&](Key key) {
        h.app->key(key, h.now);
        h.frame();
    };
    press(Key::stuck);
    CHECK(marked(h, group[1] + ": stuck"));
    press(Key::flag);
    CHECK(h.starting(Role::checkbox, group[1] + ": waits for help") != nullptr);
    press(Key::undo);
    press(Key::undo);
    CHECK_FALSE(marked(h, group[1] + ": stuck"));
    h.app->focus(h.starting(Role::button, "Everyone at ")->id);
    press(Key::secure);
    for (const std::string& student : group)
        CHECK(marked(h, student + ": secure"));
    press(Key::keys);
    REQUIRE(h.app->view().overlay == Overlay::keys);
    h.tap(Role::checkbox, "Single keys count");
    press(Key::escape);
    const std::size_t before = h.journal.size();
    h.app->focus(h.starting(Role::button, group[1] + ", more")->id);
    press(Key::stuck);
    press(Key::keys);
    CHECK(h.journal.size() == before);
    CHECK(h.app->view().overlay == Overlay::none);
}

TEST_CASE("nothing flashes: through warning and end of a round no second has six frames") {
    // WCAG 2.2, 2.3.1: a flash is a pair of opposing changes, and no second may have more than
    // three; five frames in a second cannot hold three pairs.
    Hands h(1024, 768);
    in_round_one(h);
    h.tap(Role::button, first_group(h).front() + ": stuck");
    h.drawn.clear();
    bool warned = false;
    double over = 0;
    while (over == 0 || h.now.steady_ms < over + 30'000) {
        const double due = h.app->next_frame_in(h.now);
        REQUIRE(due > 0);
        h.wait(std::int64_t(std::ceil(due)));
        warned = warned || h.announced == "Two minutes left.";
        if (over == 0 && h.announced == "Time is up.") over = h.now.steady_ms;
        REQUIRE(h.drawn.size() < 10'000);
    }
    CHECK(warned);
    CHECK(h.drawn.size() > 100);
    for (std::size_t i = 5; i < h.drawn.size(); ++i)
        CHECK(h.drawn[i] - h.drawn[i - 5] >= 1'000);
}

TEST_CASE("who asks for less motion gets lists that stop where the finger leaves them") {
    for (const bool still : {false, true}) {
        Hands h;
        h.surface.prefers_reduced_motion = still;
        in_round_one(h);
        h.frame();
        h.app->pointer_down(0, 195, 700, h.now);
        for (int i = 1; i <= 8; ++i) {
            h.now.steady_ms += 16;
            h.app->pointer_move(0, 195, 700 - 30.0F * float(i), h.now);
        }
        h.app->pointer_up(0, 195, 460, h.now);
        h.frame();
        const auto top = [&] { return h.starting(Role::button, "Everyone at ")->full.y; };
        const float left_at = top();
        h.wait(100);
        CHECK((top() == left_at) == still);
    }
}
