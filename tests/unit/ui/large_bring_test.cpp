// What very large files bring is put in place between frames.
#include "exchange/plan_file.h"
#include "hands.h"
#include "large_class.h"

using namespace tallyround;
using namespace tallyround::ui;

namespace {

constexpr const char* box = "Putting the file's entries in place: ";

/// More than are put in at once: 25,000 marks.
const std::string& large_file() {
    static const std::string bytes = exchange::write_plan(large_class(25'000));
    return bytes;
}

void pick(Hands& h) {
    h.announced.clear();
    h.app->file_picked("plan", "decade.json", large_file(), h.now);
}

int frames_until_over(Hands& h) {
    int frames = 0;
    while (h.announced.find("brought in") == std::string::npos && frames < 1000) {
        h.now.steady_ms += 100;
        h.one_frame();
        ++frames;
    }
    return frames;
}

}  // namespace

TEST_CASE("very many events are put in place between frames, and the record goes on meanwhile") {
    Hands h(1024, 768);
    h.app->open("", as_records(large_class(2)), 4, R"({"class":"c"})", false, h.now);
    pick(h);
    CHECK(h.announced.empty());
    for (int i = 0; i < 4; ++i) {
        h.now.steady_ms += 100;
        CHECK(h.one_frame());
    }
    CHECK(h.starting(Role::text, box) != nullptr);
    h.app->file_picked("names", "more.txt", "Bo Lund\n", h.now);
    CHECK(frames_until_over(h) > 2);
    CHECK(h.announced == "decade.json: 24998 entries brought in.");
    const auto plan = exchange::read_plan(h.app->plan_file(h.now));
    REQUIRE(plan);
    CHECK(plan->events.size() == 25'003);
    CHECK(std::holds_alternative<record::StudentAdded>(plan->events.back().body));
    h.frame();
    CHECK(h.starting(Role::text, box) == nullptr);
}

TEST_CASE("a second file waits for the first, which is then put in place at once") {
    Hands h(1024, 768);
    h.app->open("", "", 0, "", false, h.now);
    pick(h);
    h.one_frame();
    const auto small = large_class(3);
    h.app->file_picked("plan", "small.json", exchange::write_plan(small), h.now);
    h.frame();
    CHECK(h.app->plan_file(h.now) == large_file());
}

TEST_CASE("putting a file's entries in place can be given up") {
    Hands h(1024, 768);
    h.app->open("", "", 0, "", false, h.now);
    pick(h);
    h.now.steady_ms += 1000;
    h.one_frame();
    SUBCASE("by the person") {
        h.app->activate(h.find(Role::button, "Cancel")->id, h.now);
        h.one_frame();
        CHECK(h.announced == "decade.json was not brought in. Nothing here was changed.");
    }
    SUBCASE("when another tab takes over") {
        h.app->lost_lock();
        h.frame();
        CHECK(h.announced == "decade.json was not brought in. Nothing here was changed.");
    }
    SUBCASE("when the device is locked") {
        h.app->locked("");
    }
    for (int i = 0; i < 30; ++i)
        h.frame();
    CHECK(h.app->plan_file(h.now) == exchange::write_plan({}));
}
