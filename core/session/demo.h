#pragma once
#include <vector>

#include "base/civil.h"
#include "record/event.h"

namespace tallyround::session {

/// A class of our own invention to try things with: 27 students of grade 6 with names in several
/// scripts, two who sit apart, a block that was run two weeks before `today` with its marks, and
/// one that is planned and charted for `today` and the day after but not begun. The same events,
/// to the byte, for the same day; the first one is the ClassMade. They are stamped by a replica of
/// their own, so that any two devices that open the demo on one day have the same one.
std::vector<record::Event> demo_events(const base::Date& today);

}  // namespace tallyround::session
