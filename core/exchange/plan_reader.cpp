#include "exchange/plan_reader.h"

#include <utility>

#include "exchange/plan_walk.h"
#include "exchange/sealed.h"

namespace tallyround::exchange {

namespace {

/// What tells a sealed file.
constexpr std::size_t beginning = 200;

}  // namespace

PlanReader::PlanReader(std::size_t bytes, Keep keep)
    : walker_(std::make_unique<PlanWalker>(bytes, false, std::move(keep))), bytes_(bytes) {
    if (too_long(bytes)) fed_ = Fed::over;
}
PlanReader::~PlanReader() = default;
PlanReader::PlanReader(PlanReader&&) noexcept = default;
PlanReader& PlanReader::operator=(PlanReader&&) noexcept = default;

PlanReader::Fed PlanReader::feed(std::string_view piece) {
    if (fed_ != Fed::on) return fed_;
    if (!rest_.empty() || !begun_) piece = rest_ += piece;
    if (!begun_ && piece.size() < beginning) return fed_;
    if (!begun_ && is_sealed(piece)) return fed_ = Fed::whole;
    begun_ = true;
    const std::size_t read = walker_->on(piece, false);
    if (walker_->over()) return fed_ = Fed::over;
    if (rest_.empty()) {
        rest_ = piece.substr(read);
    } else {
        rest_.erase(0, read);
    }
    if (rest_.size() > longest_piece || walker_->kept() > longest_piece) fed_ = Fed::whole;
    return fed_;
}

base::Result<PlanFile> PlanReader::finish() {
    if (auto error = too_long(bytes_)) return tl::make_unexpected(*std::move(error));
    if (!begun_ && is_sealed(rest_)) return tl::make_unexpected(sealed_error());
    if (!walker_->over()) walker_->on(rest_, true);
    return conclude(walker_->take());
}

}  // namespace tallyround::exchange
