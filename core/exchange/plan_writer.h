#pragma once
#include <span>
#include <string>
#include <string_view>

#include "exchange/plan_checksum.h"
#include "record/event.h"

namespace tallyround::exchange {

/// Writes a plan file (plan_file.h) piece by piece, for records whose whole text is too much to
/// hold. The file is `head`, then what `add` gave, in order, then `tail`; the head names the
/// checksum of all events, so it is known last though it stands first.
class PlanWriter {
  public:
    /// The text of these events, which come after those of the calls before, onto the end of `out`.
    void add(std::span<const record::Event> events, std::string& out);
    /// Events given so far.
    std::size_t count() const { return count_; }

    /// `extra` as in write_plan.
    std::string head(std::string_view extra = {}) const;
    std::string_view tail() const { return count_ == 0 ? "]}\n" : "\n]}\n"; }

  private:
    PlanChecksum checksum_;
    std::size_t count_ = 0;
};

}  // namespace tallyround::exchange
