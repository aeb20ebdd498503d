#pragma once
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "session/groups_now.h"
#include "session/session.h"

namespace tallyround::ui {

/// What the groups on screen are worth and what a change would do, made once and again when the
/// record or the choice has changed.
class GroupDesk {
  public:
    void update(const session::Session& session, const model::Class& cls, const model::Block& block,
                const session::Standings& standings, int policy, const model::StudentId& picked,
                int why_group);

    /// What the groups are worth; nothing before the first groups.
    const session::GroupsNow* now() const { return now_ ? &*now_ : nullptr; }
    /// With the picked student: what changing places would do, by the other student.
    const session::SeatEffect* swap_with(const model::StudentId& other) const;
    /// With the picked student: what moving into a group would do.
    const session::SeatEffect* move_to(int group) const;
    /// Why the group that was asked about is as it is.
    const std::vector<std::string>& why() const { return why_; }

  private:
    struct Key {
        std::size_t events = 0;
        model::BlockId block;
        int policy = 0;
        model::StudentId picked;
        int why_group = -1;
        friend bool operator==(const Key&, const Key&) = default;
    };
    Key key_;
    std::optional<session::GroupsNow> now_;
    std::map<model::StudentId, session::SeatEffect> swaps_;
    std::vector<session::SeatEffect> moves_;
    std::vector<std::string> why_;
};

}  // namespace tallyround::ui
