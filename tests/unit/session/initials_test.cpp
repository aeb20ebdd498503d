#include "session/initials.h"

#include <set>

#include "base/random.h"
#include "classroom.h"

using namespace tallyround::testing;

namespace {

Class named(const std::vector<std::string>& names) {
    Class cls;
    for (std::size_t i = 0; i < names.size(); ++i)
        cls.students.push_back({StudentId("s" + std::to_string(i)), names[i], "", false});
    return cls;
}

}  // namespace

TEST_CASE("initials: first and last word, one letter more where two are the same, then numbers") {
    CHECK(initials_of(named({"Wren Alder", "Rowan", "Zoë de la Mer", "李 伟", "نور"})) ==
          std::vector<std::string>{"WA", "R", "ZM", "李伟", "ن"});
    CHECK(initials_of(named({"Wren Alder", "Willa Ash", "Bo Ash"})) ==
          std::vector<std::string>{"WrA", "WiA", "BA"});
    CHECK(initials_of(named({"Bo", "Bea", "B"})) == std::vector<std::string>{"B 1", "Be", "B 2"});
    CHECK(initials_of(named({"Wren Alder", "Wren Ash", ""})) ==
          std::vector<std::string>{"WrA 1", "WrA 2", "?"});
}

TEST_CASE("no two students of a class look the same") {
    tallyround::base::Random random(77);
    for (int world = 0; world < 500; ++world) {
        std::vector<std::string> names;
        for (auto n = 1 + random.below(40); n > 0; --n) {
            std::string name;
            for (auto letters = 1 + random.below(3); letters > 0; --letters)
                name += char('A' + random.below(3));
            if (random.below(2) == 0) name += std::string(" ") + char('A' + random.below(2));
            if (random.below(4) == 0) name += " 1";
            names.push_back(name);
        }
        const auto shown = initials_of(named(names));
        REQUIRE(std::set<std::string>(shown.begin(), shown.end()).size() == names.size());
    }
}

TEST_CASE("names in sentences are replaced as whole words, the longer name first") {
    const Class cls = named({"Bo", "Bo Tarn", "Zoë"});
    CHECK(hide_names(cls, "Bo Tarn and Bo; Bobbin; Zoë.") == "BT and B; Bobbin; Z.");
    CHECK(with_initials(cls).students[1].name == "BT");
}
