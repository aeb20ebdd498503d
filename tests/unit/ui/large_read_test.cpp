// Plan files that come in pieces.
#include "exchange/plan_file.h"
#include "hands.h"
#include "large_class.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::ui;
using Piece = App::Piece;

namespace {

/// Hands the file over as the page does; `between` runs after half of the pieces.
template <class Between>
Piece hand_over(Hands& h, const std::string& bytes, Between between) {
    constexpr std::size_t piece = 10'007;
    h.app->file_begins("term.json", bytes.size(), h.now);
    Piece answer = Piece::more;
    for (std::size_t at = 0; at < bytes.size() && answer == Piece::more; at += piece) {
        answer = h.app->file_piece(std::string_view(bytes).substr(at, piece), h.now);
        h.now.steady_ms += 20;
        h.frame();
        if (at / piece == bytes.size() / piece / 2) between();
    }
    if (answer != Piece::whole && answer != Piece::again) answer = h.app->file_ends(h.now);
    h.frame();
    return answer;
}
Piece hand_over(Hands& h, const std::string& bytes) {
    return hand_over(h, bytes, [] {});
}

std::string whole_of(Hands& h) {
    return h.app->plan_file(h.now);
}

void open(Hands& h, const std::vector<record::Event>& events) {
    h.app->open("", as_records(events), events.size(), "", false, h.now);
    h.frame();
    h.effects.clear();
    h.journal.clear();
}

}  // namespace

TEST_CASE("a plan file in pieces comes in as one that is handed over whole") {
    const auto events = large_class(3000);
    const std::string bytes = exchange::write_plan(events);
    Hands h(1024, 768);
    int seen = 0;
    CHECK(hand_over(h, bytes, [&] {
              seen += h.starting(Role::text, "Reading the plan file: 5") != nullptr ? 1 : 0;
              CHECK(whole_of(h) == exchange::write_plan({}));
          }) == Piece::enough);
    CHECK(seen == 1);
    CHECK(whole_of(h) == bytes);
    CHECK(h.announced == "term.json: 3002 entries brought in.");
    CHECK(h.starting(Role::text, "Reading the plan file: ") == nullptr);
    // Very many go into storage as one snapshot.
    CHECK(std::count_if(h.effects.begin(), h.effects.end(), [](const Effect& e) {
              return std::holds_alternative<WriteSnapshot>(e);
          }) == 1);
    CHECK(hand_over(h, bytes) == Piece::enough);
    CHECK(h.announced == "Everything in term.json was here already.");
}

TEST_CASE("of a file that is mostly known only what is new comes in, and is written as records") {
    const auto events = large_class(3000);
    Hands h(1024, 768);
    open(h, {events.begin(), events.end() - 5});
    CHECK(hand_over(h, exchange::write_plan(events)) == Piece::enough);
    CHECK(h.announced == "term.json: 5 entries brought in.");
    CHECK(h.journal.size() == 5);
    CHECK(whole_of(h) == exchange::write_plan(events));
}

TEST_CASE("a file that turns out broken at its end changes nothing") {
    const auto events = large_class(3000);
    const std::string good = exchange::write_plan(events);
    Hands h(1024, 768);
    open(h, {events.begin(), events.end() - 5});
    const std::string before = whole_of(h);
    std::string bytes = good;
    SUBCASE("cut short") {
        bytes.resize(bytes.size() - 30);
    }
    SUBCASE("one letter changed") {
        bytes[bytes.rfind("secure")] = 'S';
    }
    SUBCASE("a mark that is another") {
        bytes.replace(bytes.rfind("\"round\":1"), 9, "\"round\":2");
    }
    SUBCASE("more behind its end") {
        bytes += "{}";
    }
    CHECK(hand_over(h, bytes) == Piece::enough);
    const auto error = exchange::read_plan(bytes).error().text();
    CHECK(h.announced == "term.json: " + error + " Nothing here was changed.");
    CHECK(whole_of(h) == before);
    CHECK(h.journal.empty());
}

TEST_CASE("reading a plan file can be given up") {
    Hands h(1024, 768);
    open(h, large_class(2));
    const std::string before = whole_of(h);
    const std::string bytes = exchange::write_plan(large_class(3000));
    CHECK(hand_over(h, bytes, [&] { h.tap(Role::button, "Cancel"); }) == Piece::enough);
    CHECK(h.announced == "term.json was not brought in. Nothing here was changed.");
    CHECK(whole_of(h) == before);
}

TEST_CASE("what happens while a file comes in: taps go on, older events begin it again") {
    const auto events = large_class(3000);
    const std::string bytes = exchange::write_plan(events);
    Hands h(1024, 768);
    open(h, {events.begin() + 1, events.end() - 5});
    SUBCASE("something newer") {
        CHECK(hand_over(h, bytes, [&] {
                  const record::Event& newest = events.back();
                  h.app->file_picked("plan", "x.json", exchange::write_plan({&newest, 1}), h.now);
              }) == Piece::enough);
    }
    SUBCASE("something older") {
        CHECK(
            hand_over(h, bytes, [&] {
                h.app->file_picked("plan", "x.json", exchange::write_plan({&events[0], 1}), h.now);
            }) == Piece::again);
        CHECK(hand_over(h, bytes) == Piece::enough);
    }
    CHECK(whole_of(h) == bytes);
}

TEST_CASE("a tab that only reads takes no file; one that cannot be read in pieces is asked for") {
    Hands h(1024, 768);
    const std::string sealed = R"({"format":"tallyround-sealed","box":")" + std::string(300, 'x');
    CHECK(hand_over(h, sealed) == Piece::whole);
    h.app->lost_lock();
    CHECK(hand_over(h, exchange::write_plan(large_class(9))) == Piece::enough);
    CHECK(h.announced == "This tab only shows the class. Take over first.");
    CHECK(whole_of(h) == exchange::write_plan({}));
}
