#include "session/demo.h"

#include <array>
#include <cassert>
#include <map>
#include <string_view>
#include <utility>

#include "session/command.h"
#include "session/session.h"

namespace tallyround::session {

namespace {

using model::Level;

constexpr std::array<std::string_view, 27> names{"Ana Kovačić",
                                                 "Bruno Almeida",
                                                 "Chloé Dubois",
                                                 "Daníel Þórsson",
                                                 "Ewa Wójcik",
                                                 "Fátima Núñez",
                                                 "Grace Okafor",
                                                 "Hồ Minh Anh",
                                                 "İpek Yılmaz",
                                                 "Jack Whitfield",
                                                 "Kateřina Dvořáková",
                                                 "Liam O’Rourke",
                                                 "Maya Thompson",
                                                 "Noah Müller",
                                                 "Olivia Bennett",
                                                 "Sofía Peña",
                                                 "Tomáš Šimek",
                                                 "Zoë van Dijk",
                                                 "Олена Шевчук",
                                                 "Νίκος Παππάς",
                                                 "王小雨",
                                                 "佐藤はると",
                                                 "김서연",
                                                 "ليلى حداد",
                                                 "נועה לוי",
                                                 "आरव शर्मा",
                                                 "ณัฐพล ใจดี"};

struct DemoCenter {
    std::string_view kind;
    std::string_view skill;
};

struct DemoBlock {
    std::string_view title;
    int days_ago;
    std::array<DemoCenter, 7> centers;
};

/// Three blocks of two days each, weeks apart, so that skills come back and centers can be judged.
constexpr std::array<DemoBlock, 3> earlier_blocks{{{"Numbers and operations",
                                                    35,
                                                    {{{"teacher", "frac-add-unlike"},
                                                      {"cards", "decimal-multiply"},
                                                      {"match", "frac-add-unlike"},
                                                      {"error", "decimal-multiply"},
                                                      {"game", "order-of-operations"},
                                                      {"build", "frac-add-unlike"},
                                                      {"words", "frac-add-unlike"}}}},
                                                   {"Ratios and decimals",
                                                    28,
                                                    {{{"teacher", "ratio-equivalent"},
                                                      {"cards", "decimal-multiply"},
                                                      {"match", "ratio-equivalent"},
                                                      {"error", "decimal-multiply"},
                                                      {"game", "order-of-operations"},
                                                      {"build", "ratio-equivalent"},
                                                      {"words", "ratio-equivalent"}}}},
                                                   {"Fractions and decimals",
                                                    14,
                                                    {{{"teacher", "frac-add-unlike"},
                                                      {"cards", "decimal-multiply"},
                                                      {"match", "frac-add-unlike"},
                                                      {"error", "decimal-multiply"},
                                                      {"game", "order-of-operations"},
                                                      {"build", "ratio-equivalent"},
                                                      {"words", "frac-add-unlike"}}}}}};

constexpr std::array<DemoCenter, 7> planned_centers{{{"teacher", "percent-of"},
                                                     {"cards", "frac-add-unlike"},
                                                     {"match", "ratio-equivalent"},
                                                     {"error", "one-step-add"},
                                                     {"build", "area-triangle"},
                                                     {"game", "order-of-operations"},
                                                     {"device", "decimal-multiply"}}};

constexpr std::int64_t minute_ms = 60'000;
constexpr std::int64_t day_length_ms = 24 * 60 * minute_ms;

std::uint64_t seed_of(const base::Date& date) {
    return 0x7461'6c6c'7972'6f75ULL + std::uint64_t(base::days_from_civil(date));
}

ReplicaId replica_of(const base::Date& date) {
    return make_replica(seed_of(date));
}

/// The next day that is neither Saturday nor Sunday.
base::Date school_day_after(const base::Date& date) {
    std::int64_t day = base::days_from_civil(date) + 1;
    while (base::weekday(base::civil_from_days(day)) >= 5)
        ++day;
    return base::civil_from_days(day);
}

/// Plays the blocks through a Session, command by command, as a teacher would.
class Maker {
  public:
    explicit Maker(const base::Date& today)
        : today_(today), session_(replica_of(today), seed_of(today)), draw_(seed_of(today) + 1) {}

    std::vector<record::Event> make() {
        at(days_ago(42), 20 * 60);
        cls_ = ClassId(send(MakeClass{"Room 12 (demo)", 6}).front());
        add_students();
        for (const DemoBlock& block : earlier_blocks) {
            const base::Date first = days_ago(block.days_ago);
            const std::array<base::Date, 2> days{first, school_day_after(first)};
            at(days_ago(block.days_ago + 1), 20 * 60);
            plan_block(std::string(block.title), block.centers, days);
            for (const base::Date& day : days)
                run_lesson(day);
        }
        at(days_ago(1), 20 * 60);
        plan_block("Getting ready for the unit test", planned_centers,
                   {today_, school_day_after(today_)});
        const auto events = session_.log().events();
        return {events.begin(), events.end()};
    }

  private:
    base::Date days_ago(int days) const {
        return base::civil_from_days(base::days_from_civil(today_) - days);
    }

    void at(const base::Date& date, int minute) {
        now_ms_ = base::days_from_civil(date) * day_length_ms + minute * minute_ms;
    }

    std::vector<std::string> send(const Command& command) {
        auto happened = session_.send(command, now_ms_);
        assert(happened);
        now_ms_ += 1'000;
        return happened ? std::move(happened->made) : std::vector<std::string>(1);
    }

    const Class& cls() const { return *session_.state().find_class(cls_); }
    const Block& block() const { return *cls().current_block(); }

    void add_students() {
        AddStudents add{cls_, {}};
        for (const std::string_view name : names)
            add.students.push_back({std::string(name), ""});
        send(add);
        const auto& students = cls().students;
        send(SetPair{cls_, students[9].id, students[11].id, PairRule::apart});
    }

    void plan_block(std::string title, const std::array<DemoCenter, 7>& centers,
                    std::array<base::Date, 2> days) {
        const BlockId id(send(MakeBlock{cls_, std::move(title), {}}).front());
        send(SetDevices{cls_, id, 4});
        for (const DemoCenter& center : centers)
            send(AddCenter{cls_, id, std::string(center.kind), SkillId(center.skill)});
        Timing timing;
        timing.rounds = 7;
        timing.round_minutes = 10;
        constexpr int bell = 9 * 60 + 10;
        send(SetTime{cls_, id, {{days[0], bell, bell + 55}, {days[1], bell, bell + 55}}, timing});
        send(MakeGroups{cls_, id, GroupPolicy::mixed, 4, 1});
        send(MakeChart{cls_, id, 1});
    }

    /// One day of the earlier block, at 09:10 in a place five hours behind UTC.
    void run_lesson(const base::Date& date) {
        at(date, 14 * 60 + 10);
        send(StartLesson{cls_, block().id});
        while (block().lesson.running()) {
            now_ms_ = block().lesson.phase_ends_ms;
            send(NextPhase{cls_, block().id});
            if (block().lesson.phase == Phase::working) walk(block().lesson.round);
        }
    }

    /// One round: up to two looks at each student; more where the teacher sits.
    void walk(int round) {
        for (int look = 0; look < 2; ++look) {
            for (std::size_t g = 0; g < block().groups.size(); ++g) {
                const Center* center = find_center(block(), center_at(block(), int(g), round));
                if (center == nullptr) continue;
                const double often = center->kind == "teacher" ? 0.7 : 0.4;
                const std::vector<StudentId> group = block().groups[g];
                for (const StudentId& student : group) {
                    if (draw_.unit() < often) mark(student, *center, round);
                }
            }
        }
    }

    std::size_t place_of(const StudentId& student) const {
        std::size_t number = 0;
        while (cls().students[number].id != student)
            ++number;
        return number;
    }

    /// Whether a student of the tale has a skill by now; some begin with it.
    bool& has(const StudentId& student, const SkillId& skill) {
        const auto key = std::pair{student, skill};
        const auto it = has_.find(key);
        if (it != has_.end()) return it->second;
        const double strength =
            double((place_of(student) * 7) % names.size()) / double(names.size());
        return has_[key] = draw_.unit() < 0.05 + 0.9 * strength;
    }

    /// How often a visit to such a center teaches the skill in this tale.
    static double teaches(std::string_view kind) {
        return kind == "teacher" ? 0.5 : kind == "build" ? 0.4 : 0.25;
    }

    void mark(const StudentId& student, const Center& center, int round) {
        bool& there = has(student, center.skill);
        const double x = draw_.unit();
        const double secure = there ? 0.88 : 0.12;
        const double shaky = there ? 0.09 : 0.38;
        const Level level = x < secure           ? Level::secure
                            : x < secure + shaky ? Level::shaky
                                                 : Level::stuck;
        const bool helped = level != Level::secure && draw_.unit() < 0.3;
        send(PutMark{cls_, block().id, student, center.skill, center.id, round, level,
                     helped ? Help::hint : Help::none});
        now_ms_ += 4'000;
        // The board game of this tale is played without checking answers: some come away unsure.
        const bool learned = draw_.unit() < teaches(center.kind);
        there = center.kind == "game" ? there && !learned : there || learned;
    }

    base::Date today_;
    Session session_;
    base::Random draw_;
    ClassId cls_;
    std::map<std::pair<StudentId, SkillId>, bool> has_;
    std::int64_t now_ms_ = 0;
};

}  // namespace

std::vector<record::Event> demo_events(const base::Date& today) {
    return Maker(today).make();
}

}  // namespace tallyround::session
