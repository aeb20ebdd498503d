#include <doctest/doctest.h>

#include "sheets/center_set.h"
#include "sheets/sheet.h"
#include "sheets/supplies.h"

using namespace tallyround;
using namespace tallyround::sheets;

namespace {

CenterBox center(int number, std::string kind, std::string skill) {
    CenterBox c;
    c.id = "p" + std::to_string(number);
    c.number = number;
    c.kind = std::move(kind);
    c.title = "Center title";
    c.skill = std::move(skill);
    c.skill_title = "A skill";
    c.steps = {"One", "Two"};
    c.visits = 3;
    return c;
}

PrepBox room() {
    PrepBox box;
    box.class_name = "Room 12";
    box.block_title = "Block";
    box.centers = {center(1, "teacher", "percent-of"), center(2, "words", "frac-add-unlike"),
                   center(3, "device", "mean")};
    box.centers[0].materials = {"4 whiteboards", "1 cloth"};
    box.centers[0].usual_materials = true;
    box.centers[1].materials = {"4 sheets of paper"};
    box.centers[1].usual_materials = true;
    box.centers[2].uses_devices = true;
    box.groups = {{"Group 1", {"Ada", "Bo", "Cy"}, {1, 2, 3}},
                  {"Group 2", {"Di", "Ed", "Flo"}, {2, 3, 1}},
                  {"Group 3", {"Gus", "Hal"}, {3, 1, 2}}};
    box.rounds = {{1, "Tue 1 Dec", "09:13–09:25"}, {2, "", ""}, {3, "", ""}};
    box.has_chart = true;
    box.devices = 2;
    return box;
}

const Supply& find(const std::vector<Supply>& all, const std::string& words) {
    for (const Supply& s : all)
        if (s.words == words) return s;
    FAIL("no " << words);
    return all.front();
}

}  // namespace

TEST_CASE("quantities come from groups, rounds and kinds") {
    PrepBox box = room();
    box.stock = {{"whiteboards", 2}};
    box.ticked = {"p1/cloth"};
    const auto all = supplies(box);
    // Three students are the largest group, so three boards; paper for each of three groups.
    CHECK(find(all, "whiteboards").count == 3);
    CHECK(find(all, "whiteboards").have == 2);
    CHECK(find(all, "sheets of paper").count == 9);
    CHECK(find(all, "cloth").ready);
    CHECK_FALSE(find(all, "whiteboards").ready);
    CHECK(devices_at_once(box) == 3);
    box.centers[0].usual_materials = false;
    CHECK(find(supplies(box), "whiteboards").count == 4);
    CHECK(counted("12 pens").count == 12);
    CHECK(counted("12 pens").words == "pens");
    CHECK(counted("pens").count == 1);
    CHECK(counted("3D shapes").words == "3D shapes");
}

TEST_CASE("every kind can be made, or says what the plan lacks") {
    Printer printer(room(), {});
    for (const SheetKind& kind : sheet_kinds()) {
        CAPTURE(kind.id);
        const auto& sheet = printer.sheet(kind.id);
        REQUIRE(sheet);
        CHECK(sheet->pages >= 1);
        std::size_t pages = 0;
        for (std::size_t at = 0; (at = sheet->body.find("<section", at)) != std::string::npos; ++at)
            ++pages;
        CHECK(pages == std::size_t(sheet->pages));
    }
    CHECK_FALSE(printer.sheet("wallpaper"));
    PrepBox bare = room();
    bare.groups.clear();
    bare.has_chart = false;
    Printer early(bare, {});
    CHECK(early.sheet("signs"));
    CHECK(early.sheet("groups").error().message == "There are no groups yet: make them first.");
    CHECK_FALSE(early.sheet("substitute"));
    Printer empty(PrepBox{}, {});
    CHECK_FALSE(empty.sheet("cards"));
}

TEST_CASE("the substitute's note names students only if that was chosen") {
    SheetChoices choices;
    Printer without(room(), choices);
    CHECK(without.sheet("substitute")->body.find("Ada") == std::string::npos);
    choices.names = true;
    Printer with(room(), choices);
    CHECK(with.sheet("substitute")->body.find("Ada") != std::string::npos);
    CHECK(with.sheet("substitute")->pages == 1);
}

TEST_CASE("a skill without generator gets the teacher's own cards, or empty ones to write on") {
    CenterBox own = center(1, "cards", "");
    CHECK(center_set(own, {}).faces.empty());
    own.own_cards = {{"What is 2 + 2?", "4"}, {"What is 3 + 3?", "6"}};
    const CenterSet set = center_set(own, {});
    REQUIRE(set.faces.size() == 2);
    CHECK(set.faces[0].text == "What is 2 + 2?");
    CHECK(set.key[1].answer == "6");
    PrepBox box = room();
    box.centers = {center(1, "cards", "")};
    Printer printer(box, {});
    CHECK(printer.sheet("cards")->pages == 1);
}

TEST_CASE("cards of a center are numbered through its tiers and keyed with slips") {
    const CenterSet set = center_set(center(5, "cards", "frac-add-unlike"), {});
    REQUIRE(set.faces.size() == 12);
    CHECK(set.faces.front().mark == "5-01");
    CHECK(set.faces.back().mark == "5-12");
    CHECK(set.faces.front().tier == cards::Tier::support);
    CHECK(set.faces.back().tier == cards::Tier::stretch);
    for (const KeyRow& row : set.key)
        CHECK(row.slips.size() >= 1);
    for (const CenterSet::Code& code : set.codes)
        CHECK(code.word.size() == 4);
}

TEST_CASE("a card with a picture prints it with its words, and what is no picture as words") {
    CenterBox own = center(1, "cards", "");
    own.own_cards = {{"How many?", "5", "i1", 640, 480, "A \"pie\" <cut>"}};
    PrepBox box = room();
    box.centers = {own};
    std::string data = "iVBORw0KGgoAAAA=";
    const auto printed = [&] {
        Printer printer(box, {}, [&](std::string_view id) { return id == "i1" ? data : ""; });
        return printer.sheet("cards")->body;
    };
    const std::string alt = "A &quot;pie&quot; &lt;cut&gt;";
    CHECK(printed().find("<img alt=\"" + alt + "\"") != std::string::npos);
    CHECK(printed().find("src=\"data:image/png;base64,iVBORw0KGgoAAAA=\"") != std::string::npos);
    for (const char* bad : {"PHN2Zz4=", "", "iVBORw0KGgo\" onload=\"x"}) {
        data = bad;
        CHECK(printed().find("<img") == std::string::npos);
        CHECK(printed().find("onload") == std::string::npos);
        CHECK(printed().find(alt) != std::string::npos);
    }
    Printer keys(box, {});
    CHECK(keys.sheet("keys")->body.find("picture: A") != std::string::npos);
}

TEST_CASE("a center with levels of its own gets cards of those alone") {
    CenterBox stretch = center(1, "cards", "mean");
    stretch.tiers = {3};
    const CenterSet set = center_set(stretch, {});
    REQUIRE(set.faces.size() == 4);
    for (const CardFace& face : set.faces)
        CHECK(face.tier == cards::Tier::stretch);
}
