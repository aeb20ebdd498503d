#pragma once
#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "base/result.h"
#include "exchange/plan_file.h"

namespace tallyround::exchange {

class PlanWalker;

/// Reads a plan file that comes in pieces, cut anywhere, and keeps no more of it than the events
/// that the caller wants. Says what read_plan says of the whole.
class PlanReader {
  public:
    /// Whether an event is kept. All are checked, in the file's order.
    using Keep = std::function<bool(const record::Event&)>;
    enum class Fed {
        on,    ///< more, please
        over,  ///< what is wrong is known: `finish` says it
        /// It is laid out in a way that cannot be read in pieces (one value of many megabytes, a
        /// sealed file): read_plan takes it whole.
        whole
    };
    /// More than this between two events, or in all other members, is not read in pieces.
    static constexpr std::size_t longest_piece = std::size_t{4} << 20U;

    /// `bytes`: of the whole file.
    explicit PlanReader(
        std::size_t bytes, Keep keep = [](const record::Event&) { return true; });
    ~PlanReader();
    PlanReader(PlanReader&&) noexcept;
    PlanReader& operator=(PlanReader&&) noexcept;

    Fed feed(std::string_view piece);
    /// After the last piece; `events` are those that were kept.
    base::Result<PlanFile> finish();

  private:
    std::unique_ptr<PlanWalker> walker_;
    std::size_t bytes_;
    std::string rest_;  ///< fed and not read yet
    Fed fed_ = Fed::on;
    bool begun_ = false;
};

}  // namespace tallyround::exchange
