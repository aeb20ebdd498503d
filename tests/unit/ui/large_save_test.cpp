// Plan files of large records: made between frames, in parts.
#include "exchange/plan_file.h"
#include "hands.h"
#include "large_class.h"

using namespace tallyround;
using namespace tallyround::ui;

namespace {

/// What the page makes of the effects so far: the file it hands over, or nothing.
struct Made {
    std::string file;
    bool handed = false;
    std::size_t parts = 0;
    std::size_t longest = 0;
    int announced = 0;
};
Made made(const Hands& h) {
    Made out;
    std::string kept;
    for (const Effect& e : h.effects) {
        if (const auto* part = std::get_if<FilePart>(&e)) {
            kept += part->bytes;
            out.longest = std::max(out.longest, part->bytes.size());
            ++out.parts;
        }
        if (std::holds_alternative<ForgetParts>(e)) {
            kept.clear();
            out.parts = 0;
        }
        if (const auto* save = std::get_if<SaveFile>(&e)) {
            out.handed = true;
            out.file = save->parts ? save->bytes + kept : save->bytes;
        }
        if (const auto* said = std::get_if<Announce>(&e)) {
            out.announced += said->text.starts_with("Making") ? 1 : 0;
        }
    }
    return out;
}

void open_large(Hands& h, std::size_t marks) {
    const auto events = large_class(marks);
    h.app->open("", as_records(events), events.size(), R"({"class":"c"})", false, h.now);
    h.frame();
    h.tap(Role::button, "Settings and files");
    h.effects.clear();
}

/// Touches without letting more than one frame be drawn.
void press(Hands& h, const std::string& label) {
    const Node* n = h.find(Role::button, label);
    REQUIRE_MESSAGE(n != nullptr, label);
    h.app->activate(n->id, h.now);
    h.one_frame();
    h.now.steady_ms += 300;
}

}  // namespace

TEST_CASE("a small record is saved at once, as one file") {
    Hands h(1024, 768);
    open_large(h, 4990);
    press(h, "Save plan file");
    CHECK(made(h).handed);
    CHECK(made(h).parts == 0);
    CHECK(made(h).file == h.app->plan_file(h.now));
}

TEST_CASE("a large record is saved in parts, frame by frame, and is the same file") {
    Hands h(1024, 768);
    open_large(h, 30'000);
    press(h, "Save plan file");
    CHECK_FALSE(made(h).handed);
    CHECK(h.app->next_frame_in(h.now) == 0);
    h.one_frame();
    CHECK(h.starting(Role::text, "Making the plan file: ") != nullptr);
    // What happens meanwhile goes into the file, too.
    h.app->file_picked("names", "more.txt", "Bo Lund\n", h.now);
    h.frame();
    const Made all = made(h);
    REQUIRE(all.handed);
    CHECK(all.file == h.app->plan_file(h.now));
    CHECK(all.file.find("Bo Lund") != std::string::npos);
    CHECK(all.parts >= 12);
    CHECK(all.longest < 1'000'000);
    CHECK(all.announced == 1);
    CHECK(h.announced.starts_with("Plan file made: "));
    CHECK(h.starting(Role::text, "Making the plan file: ") == nullptr);
    CHECK(h.app->next_frame_in(h.now) != 0);
}

TEST_CASE("under a passcode every part of a large file is to be sealed") {
    Hands h(1024, 768);
    open_large(h, 10'000);
    h.app->passcode_answer(true, "", true);
    press(h, "Save plan file");
    h.frame();
    REQUIRE(made(h).handed);
    for (const Effect& e : h.effects) {
        if (const auto* part = std::get_if<FilePart>(&e)) CHECK(part->seal);
        if (const auto* save = std::get_if<SaveFile>(&e)) CHECK(save->seal);
    }
}

TEST_CASE("what comes in before the place reached, or goes for good, starts the file over") {
    Hands h(1024, 768);
    open_large(h, 15'000);  // what comes to so few comes at once
    press(h, "Save plan file");
    h.one_frame();
    REQUIRE(made(h).parts >= 2);
    std::vector<record::Event> older = large_class(2);
    for (record::Event& e : older) {
        e.stamp.ms -= 5000;
        e.stamp.replica = model::ReplicaId("third");
    }
    SUBCASE("older events") {
        h.app->file_picked("plan", "third.json", exchange::write_plan(older), h.now);
    }
    SUBCASE("a deletion") {
        older.erase(older.begin(), older.end() - 1);
        older[0].stamp.ms = h.now.utc_ms;
        older[0].body = record::Erased{model::ClassId("c"), model::StudentId("s")};
        h.app->file_picked("plan", "third.json", exchange::write_plan(older), h.now);
    }
    h.frame();
    CHECK(std::any_of(h.effects.begin(), h.effects.end(),
                      [](const Effect& e) { return std::holds_alternative<ForgetParts>(e); }));
    CHECK(made(h).handed);
    CHECK(made(h).file == h.app->plan_file(h.now));
}

TEST_CASE("a file that is being made can be given up") {
    Hands h(1024, 768);
    open_large(h, 30'000);
    press(h, "Save plan file");
    h.one_frame();
    press(h, "Cancel");
    h.frame();
    CHECK_FALSE(made(h).handed);
    CHECK(made(h).parts == 0);
    CHECK(h.find(Role::button, "Cancel") == nullptr);
    h.tap(Role::button, "Save plan file");
    h.frame();
    CHECK(made(h).file == h.app->plan_file(h.now));
}
