// The first screen: which classes it lists, and where.
#include <doctest/doctest.h>

#include "hands.h"
#include "large_class.h"

namespace tallyround::ui {

namespace {

constexpr std::int64_t week_ms = 7LL * 86'400'000;

/// Records of classes "c0", "c1" and so on, each with one mark so many weeks ago; negative: none.
std::string classes(const Hands& h, const std::vector<int>& weeks_ago) {
    std::vector<record::Event> events;
    const auto add = [&](std::int64_t ms, record::Body body) {
        events.push_back(
            {{ms, 0, model::ReplicaId("other"), events.size() + 1}, std::move(body), {}});
    };
    const std::int64_t start = h.now.utc_ms - 100 * week_ms;
    const auto id = [](std::size_t i) { return model::ClassId("c" + std::to_string(i)); };
    for (std::size_t i = 0; i < weeks_ago.size(); ++i) {
        const std::int64_t ms = start + std::int64_t(i) * 10;
        add(ms, record::ClassMade{id(i), "Class " + std::to_string(i), 6});
        add(ms + 1, record::StudentAdded{id(i), model::StudentId("s"), "Ada", ""});
    }
    for (std::size_t i = 0; i < weeks_ago.size(); ++i) {
        if (weeks_ago[i] < 0) continue;
        add(h.now.utc_ms - weeks_ago[i] * week_ms,
            record::Marked{id(i), model::BlockId("b"), model::StudentId("s"), model::SkillId("k"),
                           model::CenterId("m"), 1, model::Level::secure, model::Help::none});
    }
    return as_records(events);
}

void open(Hands& h, const std::vector<int>& weeks_ago) {
    const std::string records = classes(h, weeks_ago);
    h.app->open("", records, 2 * weeks_ago.size() + 20, "", false, h.now);
    h.frame();
}

/// The buttons of classes, from top to bottom.
std::string order(const Hands& h) {
    std::vector<std::pair<float, std::string>> found;
    for (const Node& n : h.nodes) {
        if (n.role == Role::button && n.label.starts_with("Class ")) {
            found.emplace_back(n.full.y, n.label.substr(6, 1));
        }
    }
    std::sort(found.begin(), found.end());
    std::string out;
    for (const auto& [y, name] : found)
        out += name;
    return out;
}

}  // namespace

TEST_CASE("classes of now come first, as they were made; earlier ones after, the latest first") {
    Hands h(1024, 2000);
    open(h, {90, 2, 30, -1, 5, 40, 30});
    CHECK(order(h) == "1342650");
    CHECK(h.sees(Role::heading, "Earlier classes"));
    CHECK(h.sees(Role::list, "Classes"));
    CHECK(h.sees(Role::list, "Earlier classes"));
    // A row leads to its own class.
    h.tap_node(h.starting(Role::button, "Class 5")->id);
    CHECK(h.starting(Role::button, "Class 5") == nullptr);
}

TEST_CASE("six weeks make a class an earlier one; alone, earlier ones need no heading") {
    Hands h(1024, 2000);
    open(h, {5, 6});
    CHECK(order(h) == "01");
    CHECK(h.sees(Role::heading, "Earlier classes"));
    open(h, {9, 6});
    CHECK(order(h) == "10");
    CHECK_FALSE(h.sees(Role::heading, "Earlier classes"));
}

TEST_CASE("many classes whose term may be over are asked about in one row") {
    Hands h(1024, 2000);
    open(h, {7, 2});
    CHECK(h.starting(Role::button, "Is the term over for Class 0?") != nullptr);
    open(h, {50, 2, 7, 8});
    const Node* row = h.starting(Role::button, "Is the term over for 3 classes?");
    REQUIRE(row != nullptr);
    CHECK(row->label.find("for 7 weeks or more") != std::string::npos);
    open(h, {1, 2});
    CHECK(h.starting(Role::button, "Is the term over") == nullptr);
}

}  // namespace tallyround::ui
