#include "ui/chart_desk.h"

namespace tallyround::ui {

namespace {

/// About 8 milliseconds native.
constexpr std::int64_t slice = 4'000;

}  // namespace

bool ChartDesk::update(const model::Block* block) {
    if (block == nullptr || block->chart.empty()) {
        seen_.reset();
        check_.reset();
        return false;
    }
    if (!seen_ || *seen_ != *block) {
        seen_ = *block;
        check_.emplace(*block);
    }
    return !check_->step(slice);
}

}  // namespace tallyround::ui
