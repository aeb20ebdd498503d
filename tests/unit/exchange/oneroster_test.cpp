#include "exchange/oneroster.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>

#include "../../support/zip_file.h"

using namespace tallyround;
using namespace tallyround::exchange;

namespace {

using Files = std::map<std::string, std::string>;

/// Two classes of two and one student, one without; columns as OneRoster spells them.
Files school() {
    return {{"users.csv",
             "sourcedId,status,role,givenName,familyName\n"
             "u1,active,student,Ada,Quill\n"
             "u2,,student,Bo,Fern\n"
             "u3,,teacher,Tess,Moor\n"
             "u4,tobedeleted,student,Gone,Away\n"
             "u5,,student,Cy,\"Moss, Jr.\"\n"},
            {"classes.csv",
             "sourcedId,status,title,classCode\n"
             "c1,,Maths 6B,m6b\n"
             "c2,,,m7a\n"
             "c3,,,\n"
             "c4,tobedeleted,Old,\n"
             "c5,,Empty,\n"},
            {"enrollments.csv",
             "sourcedId,status,classSourcedId,userSourcedId,role\n"
             "e1,,c1,u1,student\n"
             "e2,,c1,u2,Student\n"
             "e3,,c1,u3,teacher\n"
             "e4,,c2,u5,student\n"
             "e5,tobedeleted,c2,u1,student\n"
             "e6,,c3,u2,student\n"}};
}

std::string zip_of(const Files& files) {
    std::vector<testing::ZipPart> parts;
    for (const auto& [name, text] : files)
        parts.push_back({name, text});
    return testing::zip_of(parts);
}

base::Result<OneRosterBundle> read(const Files& files) {
    return read_oneroster(zip_of(files));
}

OneRosterBundle good(const Files& files) {
    auto bundle = read(files);
    REQUIRE_MESSAGE(bundle.has_value(), (bundle ? "" : bundle.error().text()));
    return *std::move(bundle);
}

/// Place and message of what such files are refused with.
base::Error refused(const Files& files) {
    const auto bundle = read(files);
    REQUIRE_FALSE(bundle.has_value());
    return bundle.error();
}

Files with(const std::string& file, const std::string& what, const std::string& instead) {
    Files files = school();
    std::string& text = files[file];
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    text.replace(at, what.size(), instead);
    return files;
}

std::vector<std::string> names(const OneRosterClass& cls) {
    std::vector<std::string> out;
    for (const RosterStudent& student : cls.roster.students)
        out.push_back(student.name);
    return out;
}

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("a school's zip: classes with students, in the order of the file") {
    const OneRosterBundle bundle = good(school());
    CHECK(bundle.version == "1.1");
    CHECK(bundle.warnings.empty());
    REQUIRE(bundle.classes.size() == 3);
    CHECK(bundle.classes[0].id == "c1");
    CHECK(bundle.classes[0].title == "Maths 6B");
    CHECK(names(bundle.classes[0]) == Names{"Ada Quill", "Bo Fern"});
    CHECK(bundle.classes[0].roster.students[1].source_id == "u2");
    CHECK(bundle.classes[0].roster.students[1].row == 3);
    CHECK(bundle.classes[0].roster.format == RosterFormat::oneroster_users);
    // Without a title the code stands for it, without a code the id.
    CHECK(bundle.classes[1].title == "m7a");
    CHECK(names(bundle.classes[1]) == Names{"Cy Moss, Jr."});
    CHECK(bundle.classes[2].title == "c3");
}

TEST_CASE("a student enrolled twice in a class is in it once") {
    Files files = school();
    files["enrollments.csv"] += "e7,,c1,u2,student\n";
    CHECK(names(good(files).classes[0]) == Names{"Ada Quill", "Bo Fern"});
}

TEST_CASE("1.2: whom roles.csv names, but not as a student, is left out with a warning") {
    Files files = with("users.csv", "role,", "orgSourcedIds,");
    CHECK(good(files).version == "1.2");
    files["roles.csv"] =
        "userSourcedId,role,status\n"
        "u1,student,\n"
        "u2,aide,\n"
        "u5,aide,\n"
        "u5,student,\n"
        "u1,aide,tobedeleted\n";
    const OneRosterBundle bundle = good(files);
    CHECK(bundle.version == "1.2");
    REQUIRE(bundle.classes.size() == 2);  // nobody is left in c3
    CHECK(names(bundle.classes[0]) == Names{"Ada Quill"});
    CHECK(names(bundle.classes[1]) == Names{"Cy Moss, Jr."});
    REQUIRE(bundle.warnings.size() == 2);
    CHECK(bundle.warnings[0] ==
          "enrollments.csv, row 3, userSourcedId: roles.csv does not name \"u2\" as a student; "
          "left out.");
}

TEST_CASE("an enrollment of somebody or of a class that is not there is told with its row") {
    Files files = school();
    files["enrollments.csv"] += "e7,,c1,u9,student\ne8,,c9,u1,student\n";
    const OneRosterBundle bundle = good(files);
    CHECK(
        bundle.warnings ==
        Names{"enrollments.csv, row 8, userSourcedId: \"u9\" is not in users.csv and is left out.",
              "enrollments.csv, row 9, classSourcedId: \"c9\" is not in classes.csv and is left "
              "out."});
    CHECK(names(bundle.classes[0]) == Names{"Ada Quill", "Bo Fern"});

    for (int i = 0; i < 60; ++i)
        files["enrollments.csv"] += "e,,c1,nobody,student\n";
    const auto warnings = good(files).warnings;
    CHECK(warnings.size() == 51);
    CHECK(warnings.back() == "And 12 more of this kind.");
}

TEST_CASE("a file or a column that is missing is named") {
    for (const char* name : {"users.csv", "classes.csv", "enrollments.csv"}) {
        Files files = school();
        files.erase(name);
        CHECK(refused(files).where == name);
        CHECK(has(refused(files).message, "A OneRoster export has users.csv, classes.csv and"));
        // A row that is too long or not closed, or no row at all.
        files[name] = "";
        CHECK(refused(files).where == name);
        CHECK(has(refused(files).message, "no header row"));
        files[name] = "a,b\n\"not closed\n";
        CHECK(refused(files).where.starts_with(std::string(name) + ", row 2"));
        files[name] = "a,b\n";
        CHECK(refused(files).where == std::string(name) + ", row 1");
        CHECK(has(refused(files).message, "Export all columns of OneRoster."));
    }
    const auto column = refused(with("users.csv", "givenName", "given"));
    CHECK(column.message == "The column givenName is missing. Export all columns of OneRoster.");
    Files files = school();
    files["roles.csv"] = "userSourcedId,roleType\n";
    CHECK(has(refused(files).message, "The column role is missing."));
    files["roles.csv"] = "\n\n";
    CHECK(refused(files).where == "roles.csv");
}

TEST_CASE("ids that are empty or stand twice are refused with file, row and column") {
    CHECK(refused(with("users.csv", "\nu2,", "\n,")).where == "users.csv, row 3, sourcedId");
    const auto twin = refused(with("users.csv", "\nu2,", "\nu1,"));
    CHECK(twin.where == "users.csv, row 3, sourcedId");
    CHECK(twin.message == "\"u1\" stands in row 2, too. Export the file again.");
    CHECK(refused(with("classes.csv", "\nc2,", "\n,")).where == "classes.csv, row 3, sourcedId");
    const auto cls = refused(with("classes.csv", "\nc2,", "\nc1,"));
    CHECK(cls.where == "classes.csv, row 3, sourcedId");
    CHECK(cls.message == "\"c1\" stands twice. Export the file again.");
    // A long id is cut where it is told.
    const std::string vast(200, 'v');
    Files files = with("users.csv", "\nu2,", "\n" + vast + ",");
    files["users.csv"] += vast + ",,student,Di,Reed\n";
    CHECK(refused(files).message.starts_with("\"" + std::string(60, 'v') + "\" stands in row 3"));
}

TEST_CASE("a school's zip without anybody in a class, and a class that is too large") {
    Files files = school();
    files["enrollments.csv"] = "classSourcedId,userSourcedId,role\n";
    CHECK(refused(files).where == "enrollments.csv");
    CHECK(has(refused(files).message, "Choose the export of a school year that has begun."));

    files = school();
    for (std::size_t i = 0; i <= max_roster_students; ++i) {
        const std::string id = "x" + std::to_string(i);
        files["users.csv"] += id + ",,student,Given" + id + ",Name\n";
        files["enrollments.csv"] += "e,,c1," + id + ",student\n";
    }
    CHECK(refused(files).where == "class Maths 6B");
    CHECK(has(refused(files).message, "Keep only the rows of one class."));
}

TEST_CASE("rows that end early have empty cells; other encodings are read, binary files not") {
    Files files = with("users.csv", "u2,,student,Bo,Fern", "u2,,student,Bo");
    CHECK(names(good(files).classes[0]) == Names{"Ada Quill", "Bo"});
    files = with("users.csv", "Ada", "Zo\xEB");
    CHECK(names(good(files).classes[0]) == Names{"Zo\u00EB Quill", "Bo Fern"});
    files["users.csv"] = std::string("PK\x03\x04\0\0\0\x01\x02", 9);
    CHECK(refused(files).where == "users.csv");
    CHECK_FALSE(refused(files).message.empty());
}

TEST_CASE("what is no zip, or damaged inside, is refused as a whole") {
    CHECK_FALSE(read_oneroster("sourcedId,givenName\n").has_value());
    const Files files = school();
    std::string zip = zip_of(files);
    zip[zip.find("Tess")] = 'B';
    const auto bundle = read_oneroster(zip);
    REQUIRE_FALSE(bundle.has_value());
    CHECK(bundle.error().where == "users.csv");
    ZipLimits limits;
    limits.entries = 2;
    CHECK_FALSE(read_oneroster(zip_of(files), limits));
}
