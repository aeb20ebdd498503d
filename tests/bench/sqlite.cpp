// The same marks in this app's store and in SQLite: appending, opening and asking, in one run.
// Prints one JSON object, milliseconds. `open` ends when every mark is in memory as a value and the
// state is there: a fold here, rows of a SELECT there.
#include <sqlite3.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "base/random.h"
#include "record/codec.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::record;

namespace {

constexpr int classes = 5;
constexpr int students = 30;
constexpr int skills = 20;

std::vector<Event> years(std::size_t marks) {
    base::Random random(7);
    std::vector<Event> out;
    std::uint64_t n = 0;
    const auto add = [&](Body body) {
        ++n;
        out.push_back({{1'700'000'000'000 + static_cast<std::int64_t>(n) * 20'000, 0,
                        ReplicaId("k3x9q2ab"), n},
                       std::move(body),
                       ""});
    };
    for (int c = 0; c < classes; ++c) {
        const model::ClassId cls("c" + std::to_string(c));
        add(ClassMade{cls, "6b", 6});
        for (int s = 0; s < students; ++s) {
            const std::string name = std::to_string(s);
            add(StudentAdded{cls, model::StudentId("s" + name), "Student " + name, ""});
        }
        add(BlockMade{cls, model::BlockId("b"), "Fractions"});
    }
    const auto some = [&](int of) {
        return std::to_string(random.below(static_cast<std::uint64_t>(of)));
    };
    for (std::size_t i = 0; i < marks; ++i) {
        add(Marked{model::ClassId("c" + some(classes)),
                   model::BlockId("b"),
                   model::StudentId("s" + some(students)),
                   model::SkillId("skill-" + some(skills)),
                   model::CenterId("k1"),
                   1,
                   static_cast<model::Level>(random.below(3)),
                   {},
                   {}});
    }
    return out;
}

class Watch {
  public:
    double ms() const {
        return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start_)
            .count();
    }

  private:
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

struct Times {
    double append = 0, open = 0, query = 0;
    std::size_t answer = 0;
};

/// Marks of one student in one skill.
Times ours(const std::vector<Event>& events, const std::string& path) {
    Times out;
    Watch appending;
    std::string journal;
    for (const Event& e : events) {
        append_line(journal, e);
        journal += '\n';
    }
    std::ofstream(path + ".journal", std::ios::binary) << journal;
    out.append = appending.ms();
    std::ofstream(path, std::ios::binary) << pack(events);

    Watch opening;
    std::ifstream in(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    Log log{ReplicaId("k3x9q2ab")};
    const auto events_read = unpack(bytes);
    if (!events_read) {
        std::fprintf(stderr, "%s: %s\n", path.c_str(), events_read.error().text().c_str());
        std::exit(1);
    }
    log.load(*events_read);
    out.open = opening.ms();

    Watch asking;
    const model::StudentId student("s7");
    const model::SkillId skill("skill-3");
    for (const model::Mark& m : log.state().classes[2].marks)
        out.answer += m.student == student && m.skill == skill ? 1 : 0;
    out.query = asking.ms();
    return out;
}

void must(int code, sqlite3* db) {
    if (code == SQLITE_OK || code == SQLITE_DONE || code == SQLITE_ROW) return;
    std::fprintf(stderr, "sqlite: %s\n", sqlite3_errmsg(db));
    std::exit(1);
}

sqlite3* open_database(const std::string& path) {
    sqlite3* db = nullptr;
    must(sqlite3_open(path.c_str(), &db), db);
    return db;
}

sqlite3_stmt* prepare(sqlite3* db, const char* sql) {
    sqlite3_stmt* statement = nullptr;
    must(sqlite3_prepare_v2(db, sql, -1, &statement, nullptr), db);
    return statement;
}

void bind(sqlite3_stmt* statement, int at, std::string_view text) {
    sqlite3_bind_text(statement, at, text.data(), static_cast<int>(text.size()), SQLITE_TRANSIENT);
}

double fill(const std::vector<Event>& events, const std::string& path) {
    Watch watch;
    sqlite3* db = open_database(path);
    must(
        sqlite3_exec(db,
                     "CREATE TABLE marks(ms INTEGER, n INTEGER PRIMARY KEY, replica TEXT, cls TEXT,"
                     " block TEXT, student TEXT, skill TEXT, center TEXT, round INTEGER,"
                     " level INTEGER, help INTEGER); BEGIN",
                     nullptr, nullptr, nullptr),
        db);
    sqlite3_stmt* insert = prepare(db, "INSERT INTO marks VALUES(?,?,?,?,?,?,?,?,?,?,?)");
    for (const Event& e : events) {
        const auto* m = std::get_if<Marked>(&e.body);
        if (m == nullptr) continue;
        sqlite3_bind_int64(insert, 1, e.stamp.ms);
        sqlite3_bind_int64(insert, 2, static_cast<std::int64_t>(e.stamp.sequence));
        bind(insert, 3, e.stamp.replica.view());
        bind(insert, 4, m->cls.view());
        bind(insert, 5, m->block.view());
        bind(insert, 6, m->student.view());
        bind(insert, 7, m->skill.view());
        bind(insert, 8, m->center.view());
        sqlite3_bind_int(insert, 9, m->round);
        sqlite3_bind_int(insert, 10, static_cast<int>(m->level));
        sqlite3_bind_int(insert, 11, static_cast<int>(m->help));
        must(sqlite3_step(insert), db);
        sqlite3_reset(insert);
    }
    sqlite3_finalize(insert);
    must(sqlite3_exec(db, "COMMIT", nullptr, nullptr, nullptr), db);
    const double ms = watch.ms();
    must(sqlite3_exec(db, "CREATE INDEX by_student ON marks(cls, student, skill)", nullptr, nullptr,
                      nullptr),
         db);
    sqlite3_close(db);
    return ms;
}

Times theirs(const std::vector<Event>& events, const std::string& path) {
    Times out;
    out.append = fill(events, path);

    Watch opening;
    sqlite3* db = open_database(path);
    sqlite3_stmt* all = prepare(db, "SELECT * FROM marks ORDER BY n");
    std::vector<Event> read;
    const auto text = [&](int column) {
        return std::string_view(reinterpret_cast<const char*>(sqlite3_column_text(all, column)));
    };
    while (sqlite3_step(all) == SQLITE_ROW) {
        Event& e = read.emplace_back();
        e.stamp = {sqlite3_column_int64(all, 0), 0, ReplicaId(text(2)),
                   static_cast<std::uint64_t>(sqlite3_column_int64(all, 1))};
        e.body = Marked{model::ClassId(text(3)),
                        model::BlockId(text(4)),
                        model::StudentId(text(5)),
                        model::SkillId(text(6)),
                        model::CenterId(text(7)),
                        sqlite3_column_int(all, 8),
                        static_cast<model::Level>(sqlite3_column_int(all, 9)),
                        static_cast<model::Help>(sqlite3_column_int(all, 10)),
                        {}};
    }
    sqlite3_finalize(all);
    out.open = opening.ms();

    Watch asking;
    sqlite3_stmt* ask = prepare(
        db, "SELECT count(*) FROM marks WHERE cls='c2' AND student='s7' AND skill='skill-3'");
    must(sqlite3_step(ask), db);
    out.answer = static_cast<std::size_t>(sqlite3_column_int64(ask, 0));
    sqlite3_finalize(ask);
    out.query = asking.ms();
    sqlite3_close(db);
    return out;
}

}  // namespace

/// bench_sqlite FOLDER [MARKS]
int main(int count, char** words) {
    if (count < 2) return 2;
    const std::string folder = words[1];
    const std::size_t marks = count > 2 ? std::strtoull(words[2], nullptr, 10) : 1'000'000;
    const auto events = years(marks);
    const Times a = ours(events, folder + "/marks.snapshot");
    const Times b = theirs(events, folder + "/marks.sqlite");
    if (a.answer != b.answer) {
        std::fprintf(stderr, "%zu and %zu marks\n", a.answer, b.answer);
        return 1;
    }
    std::printf(
        "{\"marks\":%zu,\"append\":[%.0f,%.0f],\"open\":[%.0f,%.0f],"
        "\"query\":[%.3f,%.3f]}\n",
        marks, a.append, b.append, a.open, b.open, a.query, b.query);
    return 0;
}
