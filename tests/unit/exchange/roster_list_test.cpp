#include "exchange/roster_names.h"
#include "roster_check.h"

using namespace tallyround;
using exchange::has_name;
using exchange::RosterFormat;
using test::names;
using test::parts;
using test::roster_of;
using test::Strings;
using test::warned;

TEST_CASE("one name a line") {
    const auto roster = roster_of("Ana Lee\nBo\n\n  Cy   Park \n");
    CHECK(roster.format == RosterFormat::names);
    CHECK(name_of(roster.format) == "names");
    CHECK(roster.warnings.empty());
    REQUIRE(roster.students.size() == 3);
    CHECK(roster.students[0].id == "s01");
    CHECK(roster.students[2].id == "s03");
    CHECK(roster.students[2].name == "Cy Park");
    CHECK(roster.students[2].row == 4);
    // A whole name is not cut up by guessing.
    CHECK(roster.students[0].given.empty());
    CHECK(roster.students[0].family.empty());
}

TEST_CASE("numbers, bullets and trailing commas are no part of a name") {
    const Strings three{"Ana", "Bo", "Cy"};
    CHECK(names("1. Ana\n2. Bo\n3. Cy\n") == three);
    CHECK(names("1) Ana\n(2) Bo\n#3 Cy\n") == three);
    CHECK(names("- Ana\n* Bo\n\u2022 Cy\n") == three);
    CHECK(names("\u2022\tAna\n\u2022\tBo\n\u2022\tCy\n") == three);
    CHECK(names("- 1. Ana\n- 2. Bo\n- 3. Cy") == three);
    CHECK(names("Ana,\nBo,\nCy,\n") == three);
    CHECK(names("Ana;\nBo;\nCy\n") == three);
    CHECK(names("Ana\t\nBo\t\t\nCy\n") == three);
    CHECK(names("1.\tAna\n2.\tBo\n3.\tCy\n") == three);
    CHECK(names("Ana\rBo\rCy") == three);
    CHECK(names("Ana\vBo\u2028Cy") == three);
    CHECK(names("Ana\u0085Bo\fCy") == three);
    CHECK(names("12345. Ana\n2. Bo\n") == Strings{"12345. Ana", "Bo"});
    // Names that only look a little like that.
    CHECK(names("Anne-Marie\nO'Neil\n-Bo\n") == Strings{"Anne-Marie", "O'Neil", "Bo"});
}

TEST_CASE("all names in one line") {
    const Strings three{"Ana", "Bo", "Cy"};
    CHECK(names("Ana, Bo, Cy") == three);
    CHECK(names("Ana, Bo, Cy\n") == three);
    CHECK(names("Ana,Bo,Cy,") == three);
    CHECK(names("Ana, Bo and Cy") == three);
    CHECK(names("Ana, Bo, and Cy") == three);
    CHECK(names("Ana, Bo & Cy") == three);
    CHECK(names("Ana; Bo; Cy") == three);
    CHECK(names("Ana\tBo\tCy") == three);
    CHECK(names("1. Ana, 2. Bo, 3. Cy") == three);
    CHECK(names("Ana\u3001Bo\uFF0CCy") == three);
    CHECK(names("\u0639\u0644\u064A\u060C \u0633\u0627\u0631\u0629") ==
          Strings{"\u0639\u0644\u064A", "\u0633\u0627\u0631\u0629"});
    CHECK(names("Alexandra, Bo") == Strings{"Bo Alexandra"});
    CHECK(names("Ana Lee") == Strings{"Ana Lee"});
    CHECK(names("Lee, Ana; Park, Bo; Chen, Cy") == Strings{"Ana Lee", "Bo Park", "Cy Chen"});
    CHECK(names("\"Lee, Ana\", \"Park, Bo\"") == Strings{"Ana Lee", "Bo Park"});
    CHECK(warned(roster_of("Lee, Ana"), 1, "one student"));
}

TEST_CASE("addresses copied with the names are left out") {
    CHECK(names("Ana Lee <ana@school.example>; Bo <bo@school.example>") ==
          Strings{"Ana Lee", "Bo"});
    CHECK(names("\"Lee, Ana\" <ana@school.example>\nBo <bo@school.example>\nCy\n") ==
          Strings{"\"Lee, Ana\"", "Bo", "Cy"});
    CHECK(names("Ana <3\nBo <x> y\n") == Strings{"Ana <3", "Bo <x> y"});
}

TEST_CASE("Family, Given in a plain list when most lines have one comma") {
    const auto roster =
        roster_of("Lee, Ana\nPark, Bo\nChen, Cy, Jr.\nPel\u00E9\nDe Souza, Di Maria\n");
    CHECK(roster.format == RosterFormat::names);
    CHECK(roster.warnings.empty());
    Strings out;
    for (const auto& s : roster.students)
        out.push_back(s.name + "/" + s.given + "/" + s.family);
    CHECK(out == Strings{"Ana Lee/Ana/Lee", "Bo Park/Bo/Park", "Cy Chen Jr./Cy/Chen Jr.", "Pelé//",
                         "Di Maria De Souza/Di Maria/De Souza"});
    CHECK(names("1. Lee, Ana\n2. Park, Bo\n3. Cox, Cy") == Strings{"Ana Lee", "Bo Park", "Cy Cox"});
    CHECK(parts("\"Lee, Ana\"\n\"Park, Bo\"\nCy\n") == Strings{"Ana|Lee", "Bo|Park", "|"});
    CHECK(warned(roster_of("Lee,Ana\nPark,Bo\n"), 0, "family name"));
    const auto few = roster_of("Ana Lee\nBo Park\nChen, Cy\n");
    CHECK(few.students[2].name == "Chen, Cy");
    CHECK(warned(few, 3, "comma"));
    CHECK(few.warnings.size() == 1);
    CHECK(names("\"Lee, Ana, Bo\"\nCy\n") == Strings{"Lee, Ana, Bo", "Cy"});
    CHECK(names("\"Ana Lee, Jr.\"\nCy\n") == Strings{"Ana Lee, Jr.", "Cy"});
}

TEST_CASE("names of Chinese, Japanese and Korean script go family name first") {
    CHECK(names("\u738B, \u4F1F\n\u674E, \u5A1C\n") == Strings{"\u738B\u4F1F", "\u674E\u5A1C"});
    CHECK(names("\uAE40, \uBBFC\uC900\nLee, \u5A1C\n") ==
          Strings{"\uAE40\uBBFC\uC900", "\u5A1C Lee"});
}

TEST_CASE("groups pasted as a grid are all students, with a warning") {
    const auto roster = roster_of("Ana,Bo,Cy\nDi,Ed,Flo\n");
    CHECK(roster.students.size() == 6);
    CHECK(roster.students[3].name == "Di");
    CHECK(roster.students[3].row == 2);
    CHECK(warned(roster, 0, "every cell"));
}

TEST_CASE("names in any script survive byte for byte") {
    const Strings all{
        "Zoë Brontë",
        "Łucja Żółć",
        "Νίκη Παπαδοπούλου",
        "Анна Ёлкина",
        "עדי כהן",
        "فاطمة الزهراء",
        "रिया शर्मा",
        "\u09A4\u09BE\u09B8\u09A8\u09BF\u09AE",
        "\u0BAE\u0BC0\u0BA9\u0BBE",
        "\u0E2A\u0E21\u0E0A\u0E32\u0E22",
        "\u5C71\u7530\u592A\u90CE",
        "김민준",
        "Nguyễn Thị Ánh",
        "Kealoha \u02BBAk\u0101nui",
        "\u0645\u06CC\u200C\u062E\u0648\u0627\u0647\u0645",  // with a zero-width non-joiner
        "A\u030Angstro\u0308m",                              // combining marks, not composed
        "\U0001E900\U0001E901",                              // Adlam, outside the BMP
        "Jos\u00E9 \u2019t Hooft",
    };
    std::string text;
    for (const auto& name : all)
        text += name + "\n";
    CHECK(names(text) == all);
    CHECK(roster_of(text).warnings.empty());
    std::string csv = "Student,Note\n";
    for (const auto& name : all)
        csv += "\"" + name + "\",x\n";
    CHECK(names(csv) == all);
}

TEST_CASE("control characters and direction overrides are removed") {
    CHECK(names("An\x01"
                "a\x7F\nB\u202Eo\u202C\nC\u2066y\u2069\n") == Strings{"Ana", "Bo", "Cy"});
}

TEST_CASE("a name of more than 120 characters is cut with a warning") {
    std::string just;
    for (int i = 0; i < 120; ++i)
        just += "é";
    const auto roster = roster_of(just + "\n" + just + just + "xx\nAna\n");
    REQUIRE(roster.students.size() == 3);
    CHECK(roster.students[0].name == just);
    CHECK(roster.students[1].name == just);
    CHECK_FALSE(warned(roster, 1, "120"));
    CHECK(warned(roster, 2, "120 characters"));
    // The two are now alike, which is said too.
    CHECK(warned(roster, 2, "same name"));
    const auto space = roster_of(std::string(119, 'x') + " yy\nAna");
    CHECK(space.students[0].name == std::string(119, 'x'));
}

TEST_CASE("two students of one name are kept and the warning names both rows") {
    const auto roster = roster_of("Ana Lee\nBo\nana  lee\nZo\u00CB\nzo\u00EB\n");
    CHECK(roster.students.size() == 5);
    CHECK(roster.warnings.size() == 2);
    CHECK(warned(roster, 3, "Rows 1 and 3"));
    CHECK(warned(roster, 5, "Rows 4 and 5"));
}

TEST_CASE("a row with marks but no name is left out with a warning") {
    const auto roster = roster_of("1. Ana\n2.\n3. Bo\n...\n\u200B\u200D\n");
    CHECK(roster.students.size() == 2);
    CHECK(warned(roster, 2, "No name"));
    CHECK(warned(roster, 4, "No name"));
    CHECK(warned(roster, 5, "No name"));
    CHECK(roster.students[1].id == "s02");
}

TEST_CASE("digits in a few names are pointed out, but not in a class that goes by codes") {
    const auto title = roster_of("Grade 6\nAna\nBo\n");
    CHECK(warned(title, 1, "digit"));
    CHECK(roster_of("R-01\nR-02\nR-03\n").warnings.empty());
    CHECK(names("17\n18\n19\n") == Strings{"17", "18", "19"});
}

TEST_CASE("rarer letters of East Asian names are such letters, too") {
    // Extension A and B, compatibility ideographs, kana, the iteration mark.
    for (const char* family : {"\u3400", "\U00020000", "\uF900", "\u3042", "\u3005"})
        CHECK(names(std::string(family) + ", \u4F1F\nLee, Bo\n") ==
              Strings{std::string(family) + "\u4F1F", "Bo Lee"});
    CHECK(names("\U000323B0, \u4F1F\nLee, Bo\n") == Strings{"\u4F1F \U000323B0", "Bo Lee"});
    CHECK(names("\uFB00, \u4F1F\nLee, Bo\n")[0] == "\u4F1F \uFB00");
}

TEST_CASE("a row of signs that cannot be seen has no name") {
    for (const char* sign : {"\u00AD", "\u034F", "\u061C", "\u2028\u202E", "\u2060", "\u3000"})
        CHECK_FALSE(has_name(sign));
    for (const char* name : {"a", "Z", "7", "\u00C4", "\u5C71", "\u2030"})
        CHECK(has_name(name));
    CHECK_FALSE(has_name("-?!"));
}

TEST_CASE("commas and line ends of other scripts part names") {
    CHECK(names("\u0410\u043D\u043D\u0430\u2029\u0411\u043E") ==
          Strings{"\u0410\u043D\u043D\u0430", "\u0411\u043E"});
    for (const char* comma : {"\u3001", "\uFF0C", "\u060C", "\u061B", "\uFF1B", "\u055D", "\u1363"})
        CHECK(names("Ana" + std::string(comma) + "Bo" + comma + "Cy") ==
              Strings{"Ana", "Bo", "Cy"});
}
