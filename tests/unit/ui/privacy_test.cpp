#include "exchange/plan_file.h"
#include "planned.h"
#include "record/codec.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::ui;

namespace {

template <class E>
const E* last(const Hands& h) {
    const E* found = nullptr;
    for (const Effect& e : h.effects) {
        if (const auto* one = std::get_if<E>(&e)) found = one;
    }
    return found;
}

/// The demo class on screen.
void demo(Hands& h) {
    h.tap(Role::button, "Look around in the demo class");
}

void open_privacy(Hands& h) {
    h.tap(Role::button, "Settings and files");
    h.tap(Role::button, "Privacy and safety");
}

/// A class with one student of that name.
void class_of(Hands& h, const std::string& name) {
    h.tap(Role::button, "Start with your class");
    h.tap(Role::button, "Make the class");
    h.type("Names, one a line", name + "\nRowan Pell\n");
    h.tap(Role::button, "Add these names");
}

bool shown(const Hands& h, const std::string& words) {
    return std::any_of(h.nodes.begin(), h.nodes.end(), [&](const Node& n) {
        return n.label.find(words) != std::string::npos || n.value.find(words) != std::string::npos;
    });
}

}  // namespace

TEST_CASE("a student is deleted for good after a plain question; storage is written anew") {
    Hands h;
    class_of(h, "Quillon Marsh");
    h.tap(Role::button, "Quillon Marsh");
    h.tap(Role::button, "Delete for good");
    CHECK(shown(h, "This is final"));
    CHECK(shown(h, "printed pages"));
    h.tap(Role::button, "Delete for good");
    CHECK(last<RewriteRecord>(h) == nullptr);  // the box is not ticked
    h.tap(Role::checkbox, "I know that this is final");
    h.tap(Role::button, "Delete for good");
    const auto* rewrite = last<RewriteRecord>(h);
    REQUIRE(rewrite != nullptr);
    CHECK(rewrite->through == h.journal.size());
    const auto events = record::unpack(rewrite->bytes);
    REQUIRE(events.has_value());
    CHECK(exchange::write_plan(*events).find("Quillon") == std::string::npos);
    CHECK_FALSE(shown(h, "Undo: student"));
    h.wait(20'000);
    CHECK_FALSE(shown(h, "Quillon"));
    CHECK(shown(h, "Rowan Pell"));
}

TEST_CASE("a device that still holds the old events writes anew when it starts") {
    Hands h;
    class_of(h, "Quillon Marsh");
    std::string journal;
    for (const std::string& line : h.journal)
        journal += line + "\n";
    const auto first = record::from_line(h.journal.front());
    REQUIRE(first.has_value());
    record::Log log{record::ReplicaId("other")};
    const auto cls = std::get<record::ClassMade>(first->body).cls;
    const auto added = record::from_line(h.journal.at(1));
    const auto student = std::get<record::StudentAdded>(added->body).student;
    record::Event erased = *added;
    erased.stamp.sequence = 99;
    erased.stamp.ms += 1000;
    erased.body = record::Erased{cls, student};
    journal += record::to_line(erased) + "\n";
    h.app->open("", journal, h.journal.size() + 1, "", false, h.now);
    h.frame();
    const auto* rewrite = last<RewriteRecord>(h);
    REQUIRE(rewrite != nullptr);
    CHECK(rewrite->through == h.journal.size() + 1);
    h.app->rewritten("The device is full.");
    h.frame();
    CHECK(shown(h, "still keeps an old copy") == false);  // said aloud and on screen, no node
    CHECK(h.announced.find("still keeps an old copy") != std::string::npos);
}

TEST_CASE("initials: no name on any screen, nor in what is said; files keep the names") {
    Hands h(1024, 768);
    class_of(h, "Quillon Marsh");
    open_privacy(h);
    h.tap(Role::radio, "Initials");
    h.tap(Role::button, "All classes");
    h.tap_node(h.starting(Role::button, "My class")->id);
    h.tap(Role::tab, "1. Students, done");
    CHECK(shown(h, "QM"));
    CHECK_FALSE(shown(h, "Quillon"));
    h.tap(Role::button, "QM");
    CHECK_FALSE(h.sees(Role::text_field, "Name"));
    h.tap(Role::button, "Has left the class");
    CHECK(h.announced.find("QM left the class") == 0);
    h.tap(Role::button, "Settings and files");
    h.tap(Role::button, "Save plan file");
    CHECK(last<SaveFile>(h)->bytes.find("Quillon Marsh") != std::string::npos);
    CHECK(last<WritePreferences>(h)->json.find("\"initials\":\"yes\"") != std::string::npos);
}

TEST_CASE("a passcode: what is final is said first, eight characters, the same twice") {
    Hands h;
    demo(h);
    open_privacy(h);
    h.tap(Role::button, "Set a passcode");
    CHECK(shown(h, "A forgotten passcode is final."));
    CHECK(h.sees(Role::button, "Save a plan file first"));
    h.type("New passcode", "short");
    h.type("The same once more", "short");
    h.tap(Role::button, "Set it");
    CHECK(last<ChangePasscode>(h) == nullptr);  // the box is not ticked
    h.tap(Role::checkbox, "I know that forgetting it is final");
    h.tap(Role::button, "Set it");
    CHECK(shown(h, "at least 8 characters"));
    h.type("New passcode", "four words of chalk");
    h.tap(Role::button, "Set it");
    CHECK(shown(h, "not the same"));
    h.type("The same once more", "four words of chalk");
    h.tap(Role::button, "Set it");
    const auto* change = last<ChangePasscode>(h);
    REQUIRE(change != nullptr);
    CHECK(change->was.empty());
    CHECK(change->now == "four words of chalk");
    CHECK(record::unpack(change->snapshot).has_value());
    h.app->passcode_answer(true, "The passcode is set.", true);
    h.frame();
    CHECK(h.sees(Role::button, "Lock now"));
    h.tap(Role::radio, "1 min");
    CHECK(last<LockAfter>(h)->minutes == 1);
    h.tap(Role::button, "Save plan file");
    CHECK(last<SaveFile>(h)->seal);
    h.tap(Role::checkbox, "Seal plan files with it, too");
    h.tap(Role::button, "Save plan file");
    CHECK_FALSE(last<SaveFile>(h)->seal);
}

TEST_CASE("locked: nothing of the class is on screen, only the way in") {
    for (const auto& [w, height] : {std::pair{390.0F, 844.0F}, {1024.0F, 768.0F}}) {
        Hands h(w, height);
        class_of(h, "Quillon Marsh");
        h.app->locked("");
        h.frame();
        CHECK_FALSE(shown(h, "Quillon"));
        CHECK_FALSE(shown(h, "My class"));
        CHECK_FALSE(h.sees(Role::button, "All classes"));
        h.type("Passcode", "guess");
        h.tap(Role::button, "Open");
        CHECK(last<Unlock>(h)->passcode == "guess");
        h.app->locked("This is not the passcode.");
        h.frame();
        CHECK(shown(h, "This is not the passcode."));
        h.tap(Role::button, "Delete it and start over");
        CHECK(last<WipeDevice>(h) == nullptr);
        h.tap(Role::checkbox, "Yes, delete everything here");
        h.tap(Role::button, "Delete it and start over");
        CHECK(last<WipeDevice>(h) != nullptr);
    }
}

TEST_CASE("a sealed file asks for its passcode") {
    Hands h;
    h.app->file_picked("plan", "term.sealed.json",
                       R"({"format": "tallyround-sealed", "version": 1})", h.now);
    h.frame();
    CHECK(h.sees(Role::heading, "This file is sealed"));
    h.type("Passcode of the file", "four words of chalk");
    h.tap(Role::button, "Open the file");
    REQUIRE(last<OpenSealed>(h) != nullptr);
    CHECK(last<OpenSealed>(h)->passcode == "four words of chalk");
    h.app->sealed_refused("This is not the passcode.");
    h.frame();
    CHECK(shown(h, "This is not the passcode."));
    h.app->file_picked("plan", "term.sealed.json", exchange::write_plan({}), h.now);
    h.frame();
    CHECK_FALSE(h.sees(Role::heading, "This file is sealed"));
}

TEST_CASE("a copy that grew old, a quiet class, and an app that could be installed are told") {
    Hands h;
    class_of(h, "Quillon Marsh");
    h.tap(Role::button, "All classes");
    CHECK(h.starting(Role::button, "Save a copy") == nullptr);
    h.wait(8LL * 86'400'000);
    h.tap(Role::button, "Settings and files");
    h.tap(Role::button, "All classes");
    REQUIRE(h.starting(Role::button, "Save a copy") != nullptr);
    h.tap_node(h.starting(Role::button, "Save a copy")->id);
    CHECK(last<SaveFile>(h) != nullptr);
    CHECK(h.starting(Role::button, "Save a copy") == nullptr);
    h.app->installable(App::Installable::by_button);
    h.frame();
    h.tap_node(h.starting(Role::button, "Put Tallyround on this device")->id);
    CHECK(last<Install>(h) != nullptr);
    Hands old;
    demo(old);
    old.tap(Role::button, "All classes");
    CHECK(old.starting(Role::button, "Is the term over") == nullptr);
    old.wait(60LL * 86'400'000);
    old.tap(Role::button, "Settings and files");
    old.tap(Role::button, "All classes");
    CHECK(old.starting(Role::button, "Is the term over") != nullptr);
}

TEST_CASE("what the browser answered about keeping the data is shown and kept") {
    Hands h;
    demo(h);
    h.app->persistence(false);
    h.frame();
    CHECK(last<WritePreferences>(h)->json.find("\"persisted\":\"no\"") != std::string::npos);
    open_privacy(h);
    CHECK(shown(h, "has not promised"));
    h.tap(Role::button, "Ask the browser to keep the data");
    CHECK(last<AskToPersist>(h) != nullptr);
    h.app->persistence(true);
    h.frame();
    CHECK(shown(h, "has promised"));
}

TEST_CASE("after a merge, what two devices changed is shown and the other value can be taken") {
    Hands h;
    class_of(h, "Quillon Marsh");
    std::vector<record::Event> events;
    for (const std::string& line : h.journal)
        events.push_back(*record::from_line(line));
    record::Log phone{record::ReplicaId("phone002")};
    phone.load(events);
    const auto& added = std::get<record::StudentAdded>(events.at(1).body);
    phone.append(record::StudentRenamed{added.cls, added.student, "Quill"}, h.now.utc_ms + 60'000);
    h.tap(Role::button, "Quillon Marsh");
    h.type("Name", "Lonnie");
    h.tap(Role::button, "Keep this name");
    h.app->file_picked("plan", "phone.json", exchange::write_plan(phone.events()), h.now);
    h.frame();
    CHECK(h.sees(Role::heading, "What two devices changed"));
    CHECK(shown(h, "Holds, because it is later: \"Quill\""));
    h.wait(120'000);
    h.tap(Role::button, "Name of Quill: take \"Lonnie\"");
    CHECK(shown(h, "Holds now: \"Lonnie\""));
    h.tap(Role::button, "Done");
    CHECK(h.sees(Role::button, "Lonnie"));
}
