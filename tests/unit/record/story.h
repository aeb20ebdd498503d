#pragma once
#include <string>
#include <utility>
#include <vector>

#include "../../support/random_events.h"
#include "record/fold.h"

/// A small class that things happen to, for the tests of the fold.
namespace tallyround::testing::story {

inline const ClassId cls("x0");
inline const BlockId block("x1");

/// A record written by one hand, a second between two events.
class Story {
  public:
    Story() {
        for (Body& body : testing::some_class())
            add(std::move(body));
    }
    Story& add(Body body) {
        const auto n = events_.size() + 1;
        events_.push_back(
            {{static_cast<std::int64_t>(n) * 1000, 0, ReplicaId("r0"), n}, std::move(body), ""});
        return *this;
    }
    Class now() const { return fold(events_).classes.at(0); }
    Block here() const { return *now().block(block); }
    std::int64_t last_ms() const { return events_.back().stamp.ms; }

  private:
    std::vector<Event> events_;
};

inline StudentId s(int n) {
    return StudentId("x" + std::to_string(n));
}
inline CenterId k(int n) {
    return CenterId("x" + std::to_string(n));
}

}  // namespace tallyround::testing::story
