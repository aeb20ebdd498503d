#include "exchange/plan_file.h"
#include "hands.h"
#include "record/codec.h"
#include "record/recover.h"

using namespace tallyround;
using namespace tallyround::ui;

namespace {

std::string joined(const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines)
        out += (out.empty() ? "" : "\n") + line;
    return out;
}

/// A journal with the demo class in it, as another device would hold it.
std::vector<std::string> demo_journal() {
    Hands h(390, 844, 100, 43);
    h.tap(Role::button, "Look around in the demo class");
    return h.journal;
}

/// Students and marks of a plan file.
std::size_t events_in(const std::string& plan) {
    return exchange::read_plan(plan)->events.size();
}

template <class E>
std::vector<E> of_kind(const Effects& effects) {
    std::vector<E> out;
    for (const Effect& e : effects) {
        if (const auto* one = std::get_if<E>(&e)) out.push_back(*one);
    }
    return out;
}

}  // namespace

TEST_CASE("without storage the class is used in memory and goes into storage when it works again") {
    Hands h(1024, 768);
    h.app->no_storage("The device's storage does not answer.");
    h.frame();
    CHECK(h.starting(Role::status, "Nothing is kept on this device") != nullptr);
    CHECK(h.sees(Role::button, "Save a file"));
    h.tap(Role::button, "Look around in the demo class");
    CHECK(h.journal.empty());
    const std::size_t all = events_in(h.app->plan_file(h.now));
    REQUIRE(all > 30);

    SUBCASE("an empty one") {
        h.effects.clear();
        h.app->healed("", "", 0);
        h.frame();
        // What it never kept is written, though nothing of it has changed: where one was, too.
        CHECK(of_kind<WritePreferences>(h.effects).size() == 1);
        CHECK(h.journal.size() == all);
    }
    SUBCASE("one that holds another class: both are there, what it holds is not written again") {
        Hands other(390, 844, 100, 43);
        other.tap(Role::button, "Start with your class");
        other.tap(Role::button, "Make the class");
        const auto before = other.journal;
        REQUIRE_FALSE(before.empty());
        h.app->healed("", joined(before), before.size());
        h.frame();
        CHECK(h.journal.size() == all);
        CHECK(events_in(h.app->plan_file(h.now)) == all + before.size());
    }
    CHECK(h.starting(Role::status, "Saved on this device") != nullptr);
    CHECK_FALSE(h.sees(Role::button, "Save a file"));
}

TEST_CASE("what storage already holds of this page is not written twice") {
    Hands h;
    h.tap(Role::button, "Look around in the demo class");
    const auto before = h.journal;
    h.app->no_storage("What was stored here has been cleared.");
    h.app->healed("", joined({before.begin(), before.begin() + 10}), 10);
    h.frame();
    REQUIRE(h.journal.size() == 2 * before.size() - 10);
    CHECK(h.journal[before.size()] == before[10]);
    CHECK(of_kind<AppendRecord>(h.effects).back().key == before.size());
}

namespace {

/// The demo class with so many marks more.
std::vector<record::Event> demo_and(std::uint64_t marks) {
    std::vector<record::Event> events = record::recover("", joined(demo_journal())).events;
    const record::Event mark = *std::find_if(events.begin(), events.end(), [](const auto& e) {
        return std::holds_alternative<record::Marked>(e.body);
    });
    for (std::uint64_t n = 0; n < marks; ++n) {
        events.push_back(mark);
        events.back().stamp.sequence = 10'000 + n;
    }
    return events;
}

}  // namespace

TEST_CASE("very much in memory goes into storage as one snapshot, and is tried again") {
    const std::vector<record::Event> big = demo_and(2000);
    Hands h(1024, 768);
    h.app->open(record::pack(big), "", 5, "", false, h.now);
    h.app->no_storage("What was stored here has been cleared.");
    h.effects.clear();
    h.app->healed("", "", 0);
    h.frame();
    CHECK(h.starting(Role::status, "Saving") != nullptr);
    const auto snapshots = of_kind<WriteSnapshot>(h.effects);
    REQUIRE(snapshots.size() == 1);
    CHECK(snapshots[0].through == big.size());
    CHECK(snapshots[0].only);
    CHECK(record::unpack(snapshots[0].bytes)->size() == big.size());
    h.app->not_stored(snapshots[0].through, "The device is full.");
    h.wait(100);
    h.wait(5000);
    CHECK(of_kind<WriteSnapshot>(h.effects).size() == 2);
    h.app->stored(snapshots[0].through);
    h.frame();
    CHECK(h.starting(Role::status, "Saved on this device") != nullptr);
}

TEST_CASE("ten years of marks: opened and packed in slices, and what comes meanwhile waits") {
    const std::vector<record::Event> big = demo_and(45'000);
    Hands h(1024, 768);
    h.app->begin_open(record::pack(big), "", 5, "", false);
    int steps = 1;
    for (; !h.app->step_open(10'000, h.now); ++steps) {
    }
    CHECK(steps > 12);
    h.frame();
    CHECK(h.starting(Role::status, "Saved on this device") != nullptr);
    h.tap(Role::button, "New class");
    const std::uint32_t make = h.find(Role::button, "Make the class")->id;
    h.app->no_storage("What was stored here has been cleared.");
    h.effects.clear();
    h.app->healed("", "", 0);
    h.app->activate(make, h.now);  // before the first slice is packed
    for (const Effect& e : h.app->take_effects()) {
        CHECK_FALSE(std::holds_alternative<WriteSnapshot>(e));
        CHECK_FALSE(std::holds_alternative<AppendRecord>(e));
    }
    h.frame();
    const auto place = [&](auto is) {
        return std::find_if(h.effects.begin(), h.effects.end(), is) - h.effects.begin();
    };
    CHECK(place([](const Effect& e) { return std::holds_alternative<WriteSnapshot>(e); }) <
          place([](const Effect& e) { return std::holds_alternative<AppendRecord>(e); }));
    const auto appended = of_kind<AppendRecord>(h.effects);
    REQUIRE(appended.size() == 1);
    CHECK(appended[0].key == big.size() + 1);
    const auto snapshots = of_kind<WriteSnapshot>(h.effects);
    REQUIRE(snapshots.size() == 1);
    CHECK(snapshots[0].only);
    CHECK(snapshots[0].through == big.size());
    CHECK(record::unpack(snapshots[0].bytes)->size() == big.size());
    h.app->stored(appended[0].key);
    h.frame();
    CHECK(h.starting(Role::status, "Saved on this device") != nullptr);
    CHECK(h.app->next_frame_in(h.now) != 0);
}

TEST_CASE("a stored line that is no event is set aside and named; the rest is there") {
    auto lines = demo_journal();
    const std::size_t all = lines.size();
    lines[20] = R"({"at":[1,0],"by":"r","n":1,"kind":"marked","class":5})";
    Hands h(1024, 768);
    h.effects.clear();
    h.app->open("", joined(lines), all, "", false, h.now);
    h.frame();
    const auto aside = of_kind<SetAside>(h.effects);
    REQUIRE(aside.size() == 1);
    CHECK(aside[0].record == lines[20]);
    CHECK(aside[0].why.find("/class") != std::string::npos);
    CHECK(events_in(h.app->plan_file(h.now)) == all - 1);
    REQUIRE(h.sees(Role::button, "Save a file"));
    h.tap(Role::button, "Save a file");
    CHECK(of_kind<SaveStored>(h.effects).size() == 1);
    CHECK_FALSE(h.sees(Role::button, "Save a file"));
    h.tap(Role::button, "Settings and files");
    CHECK(h.sees(Role::button, "Save all that is stored"));
}

TEST_CASE("damage that storage found is told, and what is left goes into a snapshot at once") {
    const auto lines = demo_journal();
    Hands h(390, 844);
    h.effects.clear();
    h.app->open("", joined(lines), lines.size(), "", false, h.now);
    h.app->damage(2, 3);
    h.frame();
    CHECK(of_kind<WriteSnapshot>(h.effects).size() == 1);
    CHECK(h.sees(Role::button, "Save a file"));
    h.tap(Role::button, "Save a file");
    CHECK(of_kind<SaveStored>(h.effects).size() == 1);
}

TEST_CASE("a snapshot that cannot be read is said, and the records are there") {
    const auto lines = demo_journal();
    Hands h;
    h.app->open("TRSNAP", joined(lines), lines.size(), "", false, h.now);
    CHECK(events_in(h.app->plan_file(h.now)) == lines.size());
    h.frame();
    CHECK(h.announced.find("snapshot is cut short") != std::string::npos);
}
