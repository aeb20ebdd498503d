#include <algorithm>
#include <set>

#include "base/civil.h"
#include "hands.h"
#include "ui/insight_memo.h"

using namespace tallyround;
using namespace tallyround::ui;

namespace {

/// The review of the demo class, on a phone by default.
void open_review(Hands& h) {
    h.tap(Role::button, "Look around in the demo class");
    if (h.surface.width >= 900) {
        h.tap(Role::tab, "8. Review");
    } else {
        h.tap(Role::button, "Step 6 of 8, all steps");
        h.tap(Role::button, "8. Review");
    }
    REQUIRE(h.sees(Role::heading, "Who has what"));
    h.wait(20'000);  // the message about the demo class has gone
}

/// Labels of the role that end so, in the order of the screen.
std::vector<std::string> ending(const Hands& h, Role role, const std::string& end) {
    std::vector<std::string> out;
    for (const Node& n : h.nodes) {
        if (n.role == role && n.label.ends_with(end)) {
            out.push_back(n.label.substr(0, n.label.size() - end.size()));
        }
    }
    return out;
}

bool says(const Hands& h, const std::string& part) {
    return std::any_of(h.nodes.begin(), h.nodes.end(),
                       [&](const Node& n) { return n.label.find(part) != std::string::npos; });
}

std::size_t lines_of_kind(const Hands& h, const std::string& kind) {
    return std::size_t(std::count_if(h.journal.begin(), h.journal.end(), [&](const auto& line) {
        return line.find("\"kind\":\"" + kind + "\"") != std::string::npos;
    }));
}

}  // namespace

TEST_CASE("the class picture: by name, by group, by need") {
    Hands h(1024, 768);
    open_review(h);
    const auto by_name = ending(h, Role::button, ": all skills");
    REQUIRE(by_name.size() == 27);
    CHECK(by_name.front() == "Ana Kovačić");
    // Letters with marks stand where a reader looks for them.
    const auto place = [&](const std::string& name) {
        return std::find(by_name.begin(), by_name.end(), name) - by_name.begin();
    };
    CHECK(place("İpek Yılmaz") < place("Jack Whitfield"));
    CHECK(place("Zoë van Dijk") > place("Tomáš Šimek"));
    h.tap(Role::radio, "Group");
    CHECK(h.sees(Role::text, "Group 1"));
    h.tap(Role::radio, "Need");
    CHECK_FALSE(h.sees(Role::text, "Group 1"));
    const auto by_need = ending(h, Role::button, ": all skills");
    REQUIRE(by_need.size() == 27);
    const auto needs = [&](const std::string& name) {
        return std::count_if(h.nodes.begin(), h.nodes.end(), [&](const Node& n) {
            return n.label.starts_with(name + ", ") && n.label.ends_with("needs time with this");
        });
    };
    CHECK(needs(by_need.front()) > 0);
    CHECK(needs(by_need.front()) >= needs(by_need.back()));
    CHECK(needs(by_need.back()) == 0);
}

TEST_CASE("on a phone the skills come a few at a time, all of them in turn") {
    Hands h(390, 844);
    open_review(h);
    const auto heads = [&] { return ending(h, Role::button, " likely have it"); };
    std::vector<std::string> all = heads();
    CHECK(all.size() < 8);
    while (!h.find(Role::button, "More skills")->disabled) {
        h.tap(Role::button, "More skills");
        for (const std::string& head : heads())
            all.push_back(head);
    }
    CHECK(all.size() == 7);
    std::sort(all.begin(), all.end());
    CHECK(std::adjacent_find(all.begin(), all.end()) == all.end());
    h.tap(Role::button, "Skills before");
    CHECK_FALSE(h.find(Role::button, "More skills")->disabled);
}

TEST_CASE("a cell leads to its marks, and a mark can be taken back and brought back") {
    Hands h(390, 844);
    open_review(h);
    const Node* cell = nullptr;
    for (const Node& n : h.nodes) {
        if (n.label.find(": likely has it") != std::string::npos) cell = &n;
    }
    while (cell == nullptr) {
        h.tap(Role::button, "More skills");
        for (const Node& n : h.nodes) {
            if (n.label.find(": likely has it") != std::string::npos) cell = &n;
        }
    }
    const std::string name = cell->label.substr(0, cell->label.find(','));
    h.tap_node(cell->id);
    CHECK(h.sees(Role::dialog, name));
    const auto marks = [&] {
        return std::count_if(h.nodes.begin(), h.nodes.end(),
                             [](const Node& n) { return n.label.starts_with("Take back "); });
    };
    const auto before = marks();
    REQUIRE(before > 1);
    CHECK(says(h, "from " + std::to_string(before) + " marks"));
    h.tap_node(h.starting(Role::button, "Take back ")->id);
    CHECK(marks() == before - 1);
    // Nothing moves: no frame is due before the message goes.
    CHECK(h.app->next_frame_in(h.now) > 1000);
    h.tap(Role::button, "Undo");
    CHECK(marks() == before);
}

TEST_CASE("a student's page and a skill's page, and the way back along them") {
    for (const auto& [w, height] : {std::pair{390.0F, 844.0F}, {1024.0F, 768.0F}}) {
        CAPTURE(w);
        Hands h(w, height);
        open_review(h);
        h.tap(Role::button, "Chloé Dubois: all skills");
        CHECK(h.sees(Role::heading, "Chloé Dubois"));
        CHECK(h.starting(Role::button, "Path of ") != nullptr);
        const auto marks = std::count_if(h.nodes.begin(), h.nodes.end(), [](const Node& n) {
            return n.label.starts_with("Take back ");
        });
        CHECK(says(h, std::to_string(marks) + " marks"));
        h.type("A new note", "Explained her drawing to the group");
        const auto field = std::find_if(h.nodes.begin(), h.nodes.end(),
                                        [](const Node& n) { return n.label == "A new note"; });
        h.app->edit_done(field->id, h.now);
        h.frame();
        CHECK(says(h, ": Explained her drawing to the group"));
        CHECK(lines_of_kind(h, "noted") == 1);
        h.wait(20'000);
        const Node* skill = nullptr;
        for (const Node& n : h.nodes) {
            if (n.label.find("Chance of having it") != std::string::npos) skill = &n;
        }
        REQUIRE(skill != nullptr);
        h.tap_node(skill->id);
        CHECK(h.sees(Role::heading, "Students"));
        CHECK(h.sees(Role::heading, "Wrong answers to look for"));
        const std::string by = h.starting(Role::text, "By ")->label;
        h.tap(Role::button, "A week later");
        CHECK(h.starting(Role::text, "By ")->label != by);
        h.tap(Role::button, "Back");
        CHECK(h.sees(Role::heading, "Chloé Dubois"));
        h.tap(Role::button, "Back");
        CHECK(h.sees(Role::heading, "Who has what"));
    }
}

TEST_CASE("what the marks say is worked out once, not in every frame") {
    Hands h(1024, 768);
    open_review(h);
    model::Class cls;
    cls.id = model::ClassId("c1");
    cls.students.push_back({model::StudentId("s1"), "Ana", "", false});
    session::Standings standings;
    InsightMemo memo;
    constexpr std::int64_t now = 1'796'000'000'000;
    const auto ask = [&](std::size_t events, std::int64_t at) {
        standings.update(cls, at);
        memo.update(cls, standings, events, at);
        static_cast<void>(memo.picture(ClassPicture::Order::name));
        static_cast<void>(memo.verdicts());
        static_cast<void>(memo.calibration());
        static_cast<void>(memo.path(model::StudentId("s1")));
        return memo.worked();
    };
    CHECK(ask(5, now) == 4);
    CHECK(ask(5, now + 16) == 4);
    CHECK(ask(6, now + 32) == 8);
    CHECK(ask(6, now + 3'600'000) == 12);
    cls.id = model::ClassId("c2");
    CHECK(ask(6, now + 3'600'000) == 16);
}

TEST_CASE("every center has a verdict in words, and its marks behind it") {
    Hands h(390, 844);
    open_review(h);
    h.tap(Role::button, "Did centers help?");
    CHECK(h.sees(Role::heading, "Did each center help?"));
    CHECK(h.sees(Role::heading, "Fractions and decimals"));
    const Node* verdict = h.starting(Role::button, "Teacher center: ");
    REQUIRE(verdict != nullptr);
    CHECK(says(h, "Change of "));
    h.tap_node(verdict->id);
    CHECK(says(h, "Marks made here"));
    h.tap_node(h.starting(Role::button, "Ana Kovačić, ")->id);
    CHECK(h.sees(Role::heading, "Ana Kovačić"));
    h.tap(Role::button, "Back");
    CHECK(h.sees(Role::heading, "Did each center help?"));
}

TEST_CASE("one tap swaps a center that does not help and is planned again, one takes it back") {
    Hands h(1024, 768);
    open_review(h);
    h.tap(Role::button, "Did centers help?");
    const Node* swap = h.starting(Role::button, "Swap in ");
    REQUIRE(swap != nullptr);
    const std::string label = swap->label;
    const std::size_t closed = lines_of_kind(h, "center_closed");
    h.tap_node(swap->id);
    CHECK(lines_of_kind(h, "center_closed") == closed + 1);
    CHECK(h.announced.find(" takes the place of ") != std::string::npos);
    CHECK(h.announced.find(label.substr(8, label.find(" for ") - 8)) == 0);
    CHECK_FALSE(h.sees(Role::button, label));
    h.tap(Role::button, "Undo");
    CHECK(h.sees(Role::button, label));
}

TEST_CASE("the next block: proposals are changed, made in one go, and taken back in one") {
    Hands h(390, 844);
    open_review(h);
    h.tap(Role::button, "Next block");
    std::vector<std::string> skills;
    for (const Node& n : h.nodes) {
        if (n.role == Role::checkbox && n.label.find("Their marks") == std::string::npos)
            skills.push_back(n.label);
    }
    REQUIRE(skills.size() == 6);
    CHECK(h.sees(Role::button, "Make this block with 6 centers"));
    h.tap(Role::checkbox, skills[1]);
    CHECK(h.sees(Role::button, "Make this block with 5 centers"));
    h.tap_node(h.starting(Role::button, "Center: ")->id);
    CHECK(h.sees(Role::dialog, "What kind of center?"));
    h.tap_node(h.starting(Role::button, "Board game")->id);
    CHECK(h.starting(Role::button, "Center: Board game") != nullptr);
    const std::size_t blocks = lines_of_kind(h, "block_made");
    h.tap(Role::button, "Make this block with 5 centers");
    CHECK(h.sees(Role::heading, "Centers"));
    CHECK(lines_of_kind(h, "block_made") == blocks + 1);
    CHECK(h.sees(Role::button, "Undo"));
    h.tap(Role::button, "Undo");
    CHECK(h.announced.find("new block") != std::string::npos);
}

TEST_CASE("one skill at a time has the teacher") {
    Hands h(390, 844);
    open_review(h);
    h.tap(Role::button, "Next block");
    const auto teachers = [&] {
        return std::count_if(h.nodes.begin(), h.nodes.end(), [](const Node& n) {
            return n.role == Role::button && n.label.starts_with("Center: Teacher");
        });
    };
    std::vector<std::uint32_t> groups;
    for (const Node& n : h.nodes) {
        if (n.role == Role::checkbox && n.label.find("Their marks") != std::string::npos)
            groups.push_back(n.id);
    }
    REQUIRE_FALSE(groups.empty());
    for (const std::uint32_t id : groups) {
        const auto on = [&] {
            return std::find_if(h.nodes.begin(), h.nodes.end(),
                                [&](const Node& n) { return n.id == id; })
                ->checked;
        };
        if (on()) h.tap_node(id);
        CHECK_FALSE(on());
        h.tap_node(id);
        CHECK(on());
        CHECK(teachers() == 1);
    }
}

TEST_CASE("ready by a date: days, blocks and what comes of them") {
    Hands h(390, 844);
    open_review(h);
    h.tap(Role::button, "Ready by a date");
    const auto blocks = [&] {
        return std::count_if(h.nodes.begin(), h.nodes.end(), [](const Node& n) {
            return n.role == Role::heading && n.label.starts_with("Block on ");
        });
    };
    CHECK(blocks() == 4);
    h.tap(Role::button, "More Blocks");
    CHECK(blocks() == 5);
    for (const char* day : {"Mon", "Tue", "Wed", "Thu"})
        h.tap(Role::checkbox, day);
    // Two weeks on hold two Fridays, or one and the day itself.
    CHECK(blocks() <= 2);
    CHECK(h.starting(Role::heading, "Block on Fri") != nullptr);
    h.tap(Role::checkbox, "Fri");
    CHECK(blocks() == 0);
    CHECK(says(h, "choose more weekdays or a later day"));
    const std::string by = h.starting(Role::text, "By ")->label;
    h.tap(Role::button, "A day later");
    CHECK(h.starting(Role::text, "By ")->label != by);
    CHECK(says(h, "with this plan: "));
}

TEST_CASE("how sure: words against what came, and the usual numbers kept or not") {
    Hands h(390, 844);
    open_review(h);
    h.tap(Role::button, "How sure is this?");
    CHECK(says(h, "the next look was secure "));
    CHECK(h.sees(Role::image, "Chances given before a look against what came"));
    h.tap(Role::button, "Keep the usual numbers");
    CHECK(says(h, "because you keep them"));
    h.wait(20'000);
    h.tap(Role::button, "Let them be fitted again");
    CHECK_FALSE(says(h, "because you keep them"));
}

TEST_CASE("files of marks have numbers for names unless the teacher wants the names") {
    Hands h(390, 844);
    open_review(h);
    h.tap(Role::button, "Files of marks");
    CHECK(says(h, "34 CFR 99.3"));
    CHECK(says(h, "34 CFR 300.304(b)"));
    const auto file = [&]() -> const SaveFile& {
        return std::get<SaveFile>(*std::find_if(h.effects.rbegin(), h.effects.rend(), [](auto& e) {
            return std::holds_alternative<SaveFile>(e);
        }));
    };
    h.tap(Role::button, "Every mark (CSV)");
    CHECK(file().name.starts_with("tallyround-marks-"));
    CHECK(file().bytes.find("Student 01") != std::string::npos);
    CHECK(file().bytes.find("Kovačić") == std::string::npos);
    h.wait(20'000);
    h.tap(Role::radio, "Real names");
    h.tap(Role::button, "Counts a skill (CSV)");
    CHECK(file().name.starts_with("tallyround-summary-"));
    CHECK(file().bytes.find("Kovačić") != std::string::npos);
}

TEST_CASE("pages of the review: ids are one of a kind and nothing touchable is small") {
    for (const int more : {0, 10}) {
        CAPTURE(more);
        Hands h(390, 844);
        open_review(h);
        h.tap(Role::button, "Settings and files");
        for (int i = 0; i < more; ++i)
            h.tap(Role::button, "More Text size");
        h.tap(Role::button, "Back to Room 12 (demo)");
        h.tap_node(h.starting(Role::button, "Step ")->id);
        h.tap(Role::button, "8. Review");
        const char* pages[] = {"Chloé Dubois: all skills", "Next block",        "Did centers help?",
                               "Ready by a date",          "How sure is this?", "Files of marks"};
        for (const char* page : pages) {
            CAPTURE(page);
            h.tap(Role::button, page);
            std::set<std::uint32_t> ids;
            for (const Node& n : h.nodes) {
                CHECK_MESSAGE(ids.insert(n.id).second, "twice: " << n.label);
                if (!n.focusable || n.rect.empty() || n.rect.h < n.full.h) continue;
                CHECK_MESSAGE(n.rect.w >= 47.5F, n.label);
                CHECK_MESSAGE(n.rect.h >= 47.5F, n.label);
            }
            h.tap(Role::button, "Back");
            CHECK(h.sees(Role::heading, "Who has what"));
        }
    }
}

TEST_CASE("an idle page of the review asks for no frame, nor a sheet over it") {
    for (const auto& [w, height] : {std::pair{390.0F, 844.0F}, {1024.0F, 768.0F}}) {
        CAPTURE(w);
        Hands h(w, height);
        open_review(h);
        CHECK(h.app->next_frame_in(h.now) < 0);
        const auto marks = [](const Node& n) { return n.label.ends_with(": likely has it"); };
        const auto cell = std::find_if(h.nodes.begin(), h.nodes.end(), marks);
        REQUIRE(cell != h.nodes.end());
        h.tap_node(cell->id);
        CHECK(h.app->next_frame_in(h.now) < 0);
        h.tap(Role::button, "Close");
        for (const char* page : {"Chloé Dubois: all skills", "Next block", "Did centers help?",
                                 "Ready by a date", "How sure is this?", "Files of marks"}) {
            CAPTURE(page);
            h.tap(Role::button, page);
            CHECK(h.app->next_frame_in(h.now) < 0);
            h.tap(Role::button, "Back");
        }
    }
}
