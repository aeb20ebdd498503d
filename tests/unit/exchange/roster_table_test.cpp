#include "roster_check.h"

using namespace tallyround;
using exchange::RosterFormat;
using test::names;
using test::parts;
using test::roster_of;
using test::source_ids;
using test::Strings;
using test::warned;

TEST_CASE("a header in any order and case") {
    const Strings both{"Ana Lee", "Bo Park"};
    CHECK(names("Name\nAna Lee\nBo Park\n") == both);
    CHECK(roster_of("Name\nAna Lee\n").format == RosterFormat::csv);
    CHECK(names("student,points\nAna Lee,3\nBo Park,4\n") == both);
    CHECK(names("Points;Student Name\n3;Ana Lee\n4;Bo Park\n") == both);
    CHECK(names("LAST NAME\tFIRST NAME\nLee\tAna\nPark\tBo\n") == both);
    CHECK(names("surname,forename\nLee,Ana\nPark,Bo\n") == both);
    CHECK(names("first_name,last_name\nAna,Lee\nBo,Park\n") == both);
    CHECK(names("GivenName;FamilyName\nAna;Lee\nBo;Park\n") == both);
    CHECK(names("Vorname;Nachname\nAna;Lee\nBo;Park\n") == both);
    CHECK(names("NOM;PR\u00C9NOM\nLee;Ana\nPark;Bo\n") == both);
    CHECK(names("Nombre,Apellidos\nAna,Lee\nBo,Park\n") == both);
    CHECK(names("Name,Surname\nAna,Lee\nBo,Park\n") == both);
    CHECK(names("\"Name\",\"ID\"\n\"Lee, Ana\",1\n\"Park, Bo\",2\n") == both);
    CHECK(names("\"Name (Last, First)\";ID\nLee, Ana;1\nPark, Bo;2\n") == both);
    CHECK(names("Last, First\nLee, Ana\nPark, Bo\n") == both);
    CHECK(parts("\"Name\",\"ID\"\n\"Lee, Ana\",1\n") == Strings{"Ana|Lee"});
    CHECK(parts("First,Last\nAna,Lee\nBo,\n,Cy\n") == Strings{"Ana|Lee", "Bo|", "|Cy"});
    CHECK(names("First,Last\nAna,Lee\nBo,\n,Cy\n") == Strings{"Ana Lee", "Bo", "Cy"});
}

TEST_CASE("a plain Name beside a column of family names may hold the whole name") {
    CHECK(parts("Name,Surname\nAna Lee,Lee\nBo,Park\n\"Cox, Cy\",Cox\n") ==
          Strings{"Ana|Lee", "Bo|Park", "Cy|Cox"});
    CHECK(parts("Name,First name\nAna Lee,Ana\nPark,Bo\n") == Strings{"Ana|Lee", "Bo|Park"});
}

TEST_CASE("ids come from the column that is most surely one") {
    CHECK(source_ids("No,Name,Student ID\n1,Ana,A-7\n2,Bo,A-8\n") == Strings{"A-7", "A-8"});
    CHECK(source_ids("#,Name\n1,Ana\n2,Bo\n") == Strings{"1", "2"});
    CHECK(source_ids("Number,Name\n11,Ana\n12,Bo\n") == Strings{"11", "12"});
    CHECK(source_ids("Name,Points\nAna,1\nBo,2\n") == Strings{"", ""});
    const auto twice = roster_of("id,name\n7,Ana\n8,Bo\n7,Cy\n");
    CHECK(warned(twice, 4, "Rows 2 and 4 have the same id"));
    CHECK(twice.students.size() == 3);
}

TEST_CASE("without a header the columns are judged by what stands in them") {
    CHECK(names("1,Ana Lee\n2,Bo Park\n") == Strings{"Ana Lee", "Bo Park"});
    CHECK(source_ids("1,Ana Lee\n2,Bo Park\n") == Strings{"1", "2"});
    CHECK(names("Ana Lee;ana@school.example\nBo Park;bo@school.example\n") ==
          Strings{"Ana Lee", "Bo Park"});
    CHECK(source_ids("Ana Lee\t1001\nBo Park\t1002\n") == Strings{"1001", "1002"});
    CHECK(source_ids("Ana Lee\t9\nBo Park\t10\n") == Strings{"", ""});
    CHECK(parts("Ana\tLee\nBo\tPark\n") == Strings{"Ana|Lee", "Bo|Park"});
    CHECK(warned(roster_of("Ana\tLee\nBo\tPark\n"), 0, "column 1 is taken as given name"));
    CHECK(parts("1;Ana;Lee;6\n2;Bo;Park;6\n") == Strings{"Ana|Lee", "Bo|Park"});
    CHECK(names("Ana Lee,Red\nBo Park,Red\nCy Cox,Blue\nDi Fox,Red\nEd Roe,Blue\nFlo Day,Red\n")
              .front() == "Ana Lee");
    CHECK(names("Ana Lee\tHill Road\nBo Park\tLow Road\n") == Strings{"Ana Lee", "Bo Park"});
    CHECK(names("1.,\"Lee, Ana\"\n2.,\"Park, Bo\"\n") == Strings{"Ana Lee", "Bo Park"});
}

TEST_CASE("a header in words unknown is told by the numbers below it") {
    const auto roster = roster_of("Kind,Punkte\nAna,3\nBo,4\nCy,5\n");
    CHECK(roster.students.size() == 3);
    CHECK(roster.students[0].name == "Ana");
    CHECK(warned(roster, 1, "header"));
}

TEST_CASE("a title above the header is left out, a header repeated too") {
    const auto roster = roster_of("Class 6B\n\nName,Points\nAna,3\nName,Points\nBo,4\n");
    REQUIRE(roster.students.size() == 2);
    CHECK(roster.students[0].name == "Ana");
    CHECK(roster.students[0].row == 4);
    CHECK(warned(roster, 1, "row 3"));
    CHECK(names("Class 6B\nName\nAna\nBo\n") == Strings{"Ana", "Bo"});
    CHECK(names("School,Hill,2026,Fall\nFirst,Last,Grade,ID\nAna,Lee,6,1\n") == Strings{"Ana Lee"});
}

TEST_CASE("rows without a name are left out: silently when blank, else with a warning") {
    const auto roster = roster_of("Name,Points\nAna,3\n,\n ,4\n,,,,\nBo,5\n");
    CHECK(roster.students.size() == 2);
    CHECK(roster.warnings.size() == 1);
    CHECK(warned(roster, 4, "No name"));
    CHECK(roster.students[1].id == "s02");
    CHECK(roster.students[1].row == 6);
}

TEST_CASE("a comma that should have been quoted is pointed out once") {
    const auto roster = roster_of("Name,ID\nBo,8\nLee, Ana,7\nCox, Cy,9\n");
    CHECK(warned(roster, 3, "more cells than the header"));
    CHECK(roster.warnings.size() == 1);
}

TEST_CASE("OneRoster users.csv: students only, deleted rows left out") {
    const std::string head =
        "sourcedId,status,dateLastModified,enabledUser,orgSourcedIds,role,username,userIds,"
        "givenName,familyName,middleName,identifier,email\r\n";
    const auto roster =
        roster_of("\xEF\xBB\xBF" + head +
                  "u1,active,2026-09-01,true,o1,student,ana,,Ana,Lee,Q,,a@school.example\r\n"
                  "u2,tobedeleted,2026-09-01,true,o1,student,bo,,Bo,Park,,,\r\n"
                  "t1,active,2026-09-01,true,o1,teacher,ms,,Tea,Cher,,,\r\n"
                  "u3,active,2026-09-01,true,o1,student,cy,,\"Cy, J.\",Cox,,,\r\n"
                  "g1,active,2026-09-01,true,o1,guardian,gu,,Gu,Ardian,,,\r\n");
    CHECK(roster.format == RosterFormat::oneroster_users);
    CHECK(name_of(roster.format) == "oneroster-users");
    REQUIRE(roster.students.size() == 2);
    CHECK(roster.students[0].name == "Ana Lee");
    CHECK(roster.students[0].source_id == "u1");
    CHECK(roster.students[1].given == "Cy, J.");
    CHECK(roster.students[1].name == "Cy, J. Cox");
    CHECK(warned(roster, 3, "tobedeleted"));
    CHECK(warned(roster, 4, "2 rows are left out"));
    CHECK(roster.warnings.size() == 2);
    CHECK(test::says(test::refused(head), "holds no names"));
}

TEST_CASE("OneRoster 1.2 has no role column; other files of the bundle are refused") {
    const auto roster = roster_of(
        "sourcedId,status,dateLastModified,enabledUser,username,givenName,familyName\n"
        "u1,,,true,ana,Ana,Lee\n");
    CHECK(roster.format == RosterFormat::oneroster_users);
    CHECK(roster.students.size() == 1);
    CHECK(warned(roster, 0, "role"));
    const auto classes = test::refused("sourcedId,status,title\nc1,active,Maths 6\n");
    CHECK(classes.where == "row 1");
    CHECK(test::says(classes, "users.csv"));
}

TEST_CASE("OneRoster column names count only as the standard spells them") {
    const auto roster = roster_of("SourcedID,Role,GivenName,FamilyName\nu1,teacher,Ana,Lee\n");
    CHECK(roster.format == RosterFormat::csv);
    CHECK(roster.students.size() == 1);
    CHECK(roster.students[0].source_id == "u1");
}

TEST_CASE("several lists become one with new ids") {
    const auto joined = exchange::join_rosters({roster_of("Ana\nBo\n"), roster_of("bo\nCy\n")});
    REQUIRE(joined);
    REQUIRE(joined->students.size() == 4);
    CHECK(joined->students[2].id == "s03");
    CHECK(joined->students[2].file == 1);
    REQUIRE(joined->warnings.size() == 1);
    CHECK(joined->warnings[0].file == 1);
    CHECK(joined->warnings[0].row == 1);
    CHECK(joined->warnings[0].message.find("row 2") != std::string::npos);
}

TEST_CASE("joined lists keep each file's warnings; two of one name in one file are told once") {
    const auto joined =
        exchange::join_rosters({roster_of("Ana\nAna\n"), roster_of("Name,Id\n!!,7\nBo,8\n")});
    REQUIRE(joined);
    CHECK(joined->students.size() == 3);
    REQUIRE(joined->warnings.size() == 2);
    CHECK(joined->warnings[0].file == 0);
    CHECK(joined->warnings[0].message.find("Rows 1 and 2") == 0);
    CHECK(joined->warnings[1].file == 1);
    CHECK(joined->warnings[1].row == 2);
}

TEST_CASE("formats have names for the shell and for files") {
    CHECK(name_of(roster_of("Ana\nBo\n").format) == "names");
    CHECK(name_of(roster_of("Name,Id\nAna,1\n").format) == "csv");
    CHECK(name_of(roster_of("sourcedId,givenName,familyName\n1,Ana,Lee\n").format) ==
          "oneroster-users");
}
