#include <cmath>

#include "hands.h"

using namespace tallyround::ui;

namespace {

const Node* group(const Hands& h, int number) {
    return h.starting(Role::text, "Group " + std::to_string(number) + ": ");
}

void start_round(Hands& h) {
    h.tap(Role::button, "Look around in the demo class");
    h.wait(20'000);
    h.tap(Role::button, "To the lesson");
    h.tap(Role::button, "Start the lesson");
    h.tap(Role::button, "Start round 1");
}

void open_board(Hands& h) {
    h.tap(Role::button, "Lesson menu");
    h.tap(Role::button, "Board for the class");
}

}  // namespace

TEST_CASE("the board shows who is where now and next and the time left, and nothing about anyone") {
    Hands h(1024, 768);
    start_round(h);
    h.tap_node(h.starting(Role::checkbox, "")->id);  // somebody's flag goes up
    open_board(h);
    CHECK(h.starting(Role::heading, "Round 1 of ") != nullptr);
    REQUIRE(group(h, 1) != nullptr);
    CHECK(group(h, 1)->label.find(", then ") != std::string::npos);
    const Node* clock = h.starting(Role::timer, "");
    REQUIRE(clock != nullptr);
    const std::string before = clock->label;
    h.wait(3'000);
    CHECK(h.starting(Role::timer, "")->label != before);
    CHECK(h.app->next_frame_in(h.now) <= 1001);
    for (const Node& n : h.nodes) {
        CHECK(n.role != Role::checkbox);
        for (const char* word : {"secure", "shaky", "stuck", "flag", "help"})
            CHECK_MESSAGE(n.label.find(": " + std::string(word)) == std::string::npos, n.label);
    }
    // One thing can be touched, and it goes back.
    CHECK(std::count_if(h.nodes.begin(), h.nodes.end(),
                        [](const Node& n) { return n.role == Role::button; }) == 1);
    h.tap(Role::button, "Back");
    CHECK(h.sees(Role::button, "Lesson menu"));
}

TEST_CASE("Escape leads back to where the board was opened from") {
    Hands h(390, 844);
    h.tap(Role::button, "Look around in the demo class");
    h.wait(20'000);
    h.tap(Role::button, "Board for the class");
    CHECK(group(h, 1) != nullptr);
    h.app->key(Key::escape, h.now);
    h.frame();
    CHECK(h.sees(Role::heading, "Rotation chart"));
}

TEST_CASE("on a projector the smallest letters about groups can be read from the last row") {
    // ISO 9241-303:2011 asks for characters of at least 16 minutes of arc and prefers 20 to 22. At
    // 8 m, 20 minutes are 8 m x tan(20/60 degrees) = 46.5 mm from the foot to the head of a
    // capital, which is 1485/2048 of the em in the bundled font.
    const double pi = std::acos(-1.0);
    const double wanted_mm = 8000 * std::tan(20.0 / 60.0 * pi / 180);
    CHECK(wanted_mm == doctest::Approx(46.5).epsilon(0.002));
    for (const auto& [w, height] : {std::pair{1920.0F, 1080.0F}, {1280.0F, 800.0F}}) {
        Hands h(w, height);
        start_round(h);
        open_board(h);
        const Node* g = group(h, 1);
        REQUIRE(g != nullptr);
        const double capital = double(g->font_size) * 1485 / 2048;
        const double screen_mm = wanted_mm / (capital / double(height));
        CAPTURE(w);
        MESSAGE("picture height for 20 minutes of arc at 8 m: " << int(screen_mm) << " mm");
        CHECK(screen_mm < 1700);
    }
}

TEST_CASE("every group is on the board at every size, none outside it") {
    for (const auto& [w, height] :
         {std::pair{360.0F, 640.0F}, {390.0F, 844.0F}, {768.0F, 1024.0F}, {1024.0F, 768.0F}}) {
        Hands h(w, height);
        start_round(h);
        open_board(h);
        int groups = 0;
        for (const Node& n : h.nodes) {
            if (!n.label.starts_with("Group ")) continue;
            ++groups;
            CHECK(n.rect.bottom() <= height);
            CHECK(n.rect.h == doctest::Approx(n.full.h));
        }
        CHECK(groups >= 6);
    }
}

TEST_CASE("a tab that only reads follows what the writing one records") {
    std::string journal;
    std::string news;
    std::size_t known = 0;
    Now now;
    {
        Hands writer(1024, 768);
        start_round(writer);
        for (const std::string& line : writer.journal)
            journal += line + "\n";
        known = writer.journal.size();
        writer.tap(Role::button, "Move on");
        REQUIRE(writer.journal.size() == known + 1);
        news = writer.journal.back();
        now = writer.now;
    }
    Hands board(1920, 1080);
    board.now = now;
    board.app->open("", journal, known, "", true, board.now);
    board.app->show_board();
    board.frame();
    CHECK(board.starting(Role::heading, "Round 1 of ") != nullptr);
    board.app->heard(news);
    board.frame();
    CHECK(board.sees(Role::heading, "Move to round 2"));
    CHECK(group(board, 1)->label.find("go to: ") != std::string::npos);
    board.app->heard(news);  // heard twice, nothing changes
    board.app->heard("not a record");
    board.frame();
    CHECK(board.sees(Role::heading, "Move to round 2"));
}
