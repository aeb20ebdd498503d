#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "session/session.h"
#include "ui/act.h"

namespace tallyround::ui {

/// A plan that takes long: what runs between frames, and what came of the last ones.
struct PlanDesk {
    /// Work in one frame: some 20 ms in the browser, so that a frame keeps under 50.
    static constexpr std::int64_t work_a_frame = 25'000;
    /// Shorter plans are over before anybody could read a message about them.
    static constexpr double quiet_ms = 250;

    struct Running {
        session::Command command;
        session::Job job;
        PlanEnd end = PlanEnd::commit;
        double began_ms = 0;   ///< steady
        bool unasked = false;  ///< nobody tapped for it
    };
    std::optional<Running> running;

    /// A plan that is made but not in the record.
    struct Made {
        session::Command command;
        session::Decision decision;
        std::size_t events = 0;  ///< in the record it was made for
    };
    std::optional<Made> asked;  ///< waits for a yes (Overlay::proposal)
    std::optional<Made> shown;  ///< what if
    std::string shown_trouble;  ///< why the last what-if is not possible; empty if it is

    /// What was said of the groups that a plan made last; no word of others.
    std::string said;
    model::Groups said_of;

    /// Why the last plan failed (Overlay::obstacles).
    struct Stuck {
        session::Command command;
        PlanEnd end = PlanEnd::commit;
        std::string text;
        std::vector<session::Obstacle> obstacles;
    };
    std::optional<Stuck> stuck;
};

}  // namespace tallyround::ui
