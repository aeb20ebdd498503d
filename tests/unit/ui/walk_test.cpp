#include "hands.h"

using namespace tallyround::ui;

namespace {

constexpr std::int64_t minute = 60'000;

/// The demo class in its first round.
void in_round_one(Hands& h) {
    h.tap_node(h.starting(Role::button, "Look around in the demo class")->id);
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    h.tap_node(h.starting(Role::button, "Start round")->id);
}

std::size_t records(const Hands& h, const std::string& kind) {
    return std::size_t(std::count_if(h.journal.begin(), h.journal.end(), [&](const auto& line) {
        return line.find("\"kind\":\"" + kind + "\"") != std::string::npos;
    }));
}

std::size_t chimes(const Hands& h, bool final) {
    return std::size_t(std::count_if(h.effects.begin(), h.effects.end(), [&](const Effect& e) {
        const auto* chime = std::get_if<Chime>(&e);
        return chime != nullptr && chime->final == final;
    }));
}

}  // namespace

TEST_CASE("a round warns once at two minutes and rings once at its end") {
    Hands h(1024, 768);
    in_round_one(h);
    h.wait(minute);
    CHECK(chimes(h, false) == 0);
    while (h.announced != "Two minutes left.") {
        REQUIRE(chimes(h, true) == 0);
        h.wait(10'000);
    }
    CHECK(chimes(h, false) == 1);
    h.wait(100'000);
    CHECK(chimes(h, false) == 1);
    CHECK(chimes(h, true) == 0);
    h.wait(25'000);
    CHECK(h.announced == "Time is up.");
    h.wait(minute);
    CHECK(chimes(h, true) == 1);
    CHECK(chimes(h, false) == 1);
}

TEST_CASE("the bell rings on other screens, too, without a frame a second") {
    Hands h(1024, 768);
    in_round_one(h);
    h.tap(Role::button, "All classes");
    CHECK(h.app->next_frame_in(h.now) > minute);
    while (chimes(h, true) == 0) {
        const double due = h.app->next_frame_in(h.now);
        REQUIRE(due >= 0);
        h.wait(std::max<std::int64_t>(1, std::int64_t(due)));
    }
    CHECK(chimes(h, false) == 1);
}

TEST_CASE("a center's name marks everyone there, and one Undo takes it back") {
    for (const auto& [w, height] : {std::pair{390.0F, 844.0F}, {1024.0F, 768.0F}}) {
        Hands h(w, height);
        in_round_one(h);
        const std::size_t before = records(h, "marked");
        h.tap(Role::button, "Everyone at Teacher center");
        CHECK(h.sees(Role::dialog, "Everyone at Teacher center"));
        h.tap(Role::button, "Everyone: secure");
        CHECK_FALSE(h.sees(Role::dialog, "Everyone at Teacher center"));
        CHECK(records(h, "marked") - before >= 3);
        REQUIRE(h.starting(Role::button, "Undo") != nullptr);
        h.tap_node(h.starting(Role::button, "Undo")->id);
        CHECK(records(h, "retracted") == 1);
    }
}

TEST_CASE("a group whose center is taken out in its round stays in the room, with its flags") {
    Hands h(1024, 768);
    in_round_one(h);
    h.tap(Role::button, "Lesson menu");
    h.tap(Role::button, "Change the chart");
    h.tap(Role::tab, "3. Centers, done");
    h.tap_node(h.starting(Role::button, "5. Hands-on")->id);
    h.tap(Role::button, "Take this center out");
    h.tap(Role::button, "Make this change");
    h.tap(Role::tab, "7. Walk");
    const Node* card = h.starting(Role::region, "No center in this round: ");
    REQUIRE(card != nullptr);
    const auto inside = [card = card->id](const Node& n) {
        return n.parent == card && n.role == Role::button;
    };
    REQUIRE(std::count_if(h.nodes.begin(), h.nodes.end(), inside) >= 3);
    std::string name = std::find_if(h.nodes.begin(), h.nodes.end(), inside)->label;
    name.resize(name.rfind(", more"));
    CHECK(h.starting(Role::button, name + ": secure") == nullptr);
    h.tap(Role::checkbox, name + ": raise a flag");
    CHECK(h.sees(Role::checkbox, name + ": waits for help"));
    h.tap(Role::button, name + ", more");
    CHECK(h.sees(Role::text_field, "Note"));
}

TEST_CASE("the bell rings while nothing is drawn") {
    Hands h(1024, 768);
    in_round_one(h);
    h.wait(minute);
    const std::size_t drawn = h.drawn.size();
    for (int i = 0; i < 9; ++i) {
        h.now.utc_ms += minute;
        h.now.steady_ms += double(minute);
        h.app->unseen(h.now);
    }
    for (const Effect& e : h.app->take_effects())
        h.effects.push_back(e);
    CHECK(chimes(h, false) == 1);
    CHECK(chimes(h, true) == 1);
    CHECK(h.drawn.size() == drawn);
}

TEST_CASE("a note is written where help is marked") {
    Hands h;
    in_round_one(h);
    const Node* name = nullptr;
    for (const Node& n : h.nodes) {
        if (name == nullptr && n.role == Role::button && n.label.ends_with(", more")) name = &n;
    }
    REQUIRE(name != nullptr);
    h.tap_node(name->id);
    h.type("Note", "draws it first");
    const auto field = std::find_if(h.nodes.begin(), h.nodes.end(),
                                    [](const Node& n) { return n.label == "Note"; });
    REQUIRE(field != h.nodes.end());
    h.app->edit_done(field->id, h.now);
    h.frame();
    CHECK(records(h, "noted") == 1);
    CHECK(std::any_of(h.nodes.begin(), h.nodes.end(),
                      [](const Node& n) { return n.label.ends_with(": draws it first"); }));
}

TEST_CASE("lost minutes: asked when a phase begins, shared over the rounds left, once") {
    Hands h;
    h.wait((8 * 60 + 20) * minute);  // 9:13, within the demo's period
    in_round_one(h);
    h.wait(25 * minute);
    h.tap(Role::button, "Move on");
    REQUIRE(h.sees(Role::dialog, "Time and the bell"));
    const Node* share = h.starting(Role::button, "Shorten the round");
    REQUIRE(share != nullptr);
    h.tap_node(share->id);
    CHECK(records(h, "rounds_retimed") == 1);
    CHECK_FALSE(h.sees(Role::dialog, "Time and the bell"));
    h.tap_node(h.starting(Role::button, "Start round")->id);
    CHECK_FALSE(h.sees(Role::dialog, "Time and the bell"));
}

TEST_CASE("a clock that is set back leaves the countdown as it was") {
    Hands h;
    in_round_one(h);
    h.wait(2 * minute);
    const std::string shown = h.starting(Role::timer, "")->label;
    h.now.utc_ms -= 10 * minute;
    h.frame();
    CHECK(h.starting(Role::timer, "")->label == shown);
    CHECK(records(h, "time_added") == 1);
    CHECK(h.announced.starts_with("This device's clock was set back."));
    h.wait(1000);
    CHECK(records(h, "time_added") == 1);
}

TEST_CASE("a clock that is set back while paused, or a little, changes nothing") {
    Hands h;
    in_round_one(h);
    h.now.utc_ms -= 1500;
    h.frame();
    h.tap(Role::button, "Pause");
    h.now.utc_ms -= 10 * minute;
    h.frame();
    h.tap(Role::button, "Go on");
    h.wait(1000);
    CHECK(records(h, "time_added") == 0);
}

TEST_CASE("a device that slept finds the countdown where it would be") {
    Hands h;
    in_round_one(h);
    const std::string before = h.starting(Role::timer, "")->label;
    h.now.utc_ms += 4 * minute;  // the steady clock stood still
    h.frame();
    const std::string after = h.starting(Role::timer, "")->label;
    CHECK(std::stoi(before) - std::stoi(after) == 4);
    CHECK(records(h, "time_added") == 0);
}

TEST_CASE("procedures in own words, and a practice move on the clock") {
    Hands h;
    h.tap_node(h.starting(Role::button, "Look around in the demo class")->id);
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Procedures and practice moves");
    h.type("Rules, one a line", "Sit.\nRead the sign.");
    const auto field = std::find_if(h.nodes.begin(), h.nodes.end(),
                                    [](const Node& n) { return n.role == Role::text_area; });
    h.app->edit_done(field->id, h.now);
    h.frame();
    CHECK(records(h, "procedures_set") == 1);
    h.tap(Role::button, "Start a practice move");
    h.wait(47'000);
    CHECK(h.sees(Role::timer, "0:47"));
    h.tap(Role::button, "Everyone sits");
    CHECK(records(h, "move_practised") == 1);
    CHECK(std::any_of(h.nodes.begin(), h.nodes.end(), [](const Node& n) {
        return n.label.find("practice: 47 seconds") != std::string::npos;
    }));
    h.tap(Role::button, "Back to the usual rules");
    CHECK(records(h, "procedures_set") == 2);
}
