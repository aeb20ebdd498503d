#include "plan/cover_lp.h"

#include <algorithm>
#include <cmath>

namespace tallyround::plan::detail {

namespace {

constexpr double tolerance = 1e-6;
constexpr std::size_t price_block = 2048;
constexpr std::size_t none = ~std::size_t{0};

}  // namespace

CoverLp::CoverLp(const std::vector<CoverColumn>& columns, int items, int groups, std::int64_t dear)
    : columns_(columns),
      rows_(items + 1),
      dear_(double(dear)),
      inverse_(std::size_t(rows_) * std::size_t(rows_), 0.0),
      cost_(std::size_t(rows_), dear_),
      dual_(std::size_t(rows_), dear_) {
    for (int i = 0; i < rows_; ++i) {
        inverse_[std::size_t(i) * std::size_t(rows_) + std::size_t(i)] = 1.0;
        const double shift = double((i * 7919 + 13) % 997 + 1) * 1e-6;
        value_.push_back((i == items ? double(groups) : 1.0) + shift);
    }
}

double CoverLp::reduced(std::size_t column) const {
    double sum = dual_.back();
    for (const std::int16_t item : columns_[column].items)
        sum += dual_[std::size_t(item)];
    return double(columns_[column].cost) - sum;
}

/// The cheapest column of the first block of columns that has one worth entering.
std::size_t CoverLp::entering() {
    const std::size_t count = columns_.size();
    std::size_t best = none;
    double least = -tolerance * (1.0 + dear_);
    for (std::size_t seen = 0; seen < count;) {
        const std::size_t end = std::min(count, seen + price_block);
        for (; seen < end; ++seen) {
            const std::size_t column = look_from_;
            look_from_ = look_from_ + 1 == count ? 0 : look_from_ + 1;
            const double value = reduced(column);
            if (value >= least) continue;
            least = value;
            best = column;
        }
        if (best != none) return best;
    }
    return none;
}

void CoverLp::pivot(const std::vector<double>& direction, int leaving, double cost) {
    const auto rows = std::size_t(rows_);
    double* const out = &inverse_[std::size_t(leaving) * rows];
    const double by = direction[std::size_t(leaving)];
    for (std::size_t k = 0; k < rows; ++k)
        out[k] /= by;
    value_[std::size_t(leaving)] /= by;
    for (std::size_t i = 0; i < rows; ++i) {
        if (i == std::size_t(leaving) || direction[i] == 0.0) continue;
        double* const row = &inverse_[i * rows];
        for (std::size_t k = 0; k < rows; ++k)
            row[k] -= direction[i] * out[k];
        value_[i] -= direction[i] * value_[std::size_t(leaving)];
    }
    cost_[std::size_t(leaving)] = cost;
    std::fill(dual_.begin(), dual_.end(), 0.0);
    for (std::size_t i = 0; i < rows; ++i)
        for (std::size_t k = 0; k < rows; ++k)
            dual_[k] += cost_[i] * inverse_[i * rows + k];
}

bool CoverLp::step(int pivots) {
    const auto rows = std::size_t(rows_);
    std::vector<double> direction(rows);
    for (int n = 0; n < pivots; ++n) {
        const std::size_t column = entering();
        if (column == none) return true;
        for (std::size_t i = 0; i < rows; ++i) {
            double sum = inverse_[i * rows + rows - 1];
            for (const std::int16_t item : columns_[column].items)
                sum += inverse_[i * rows + std::size_t(item)];
            direction[i] = sum;
        }
        int leaving = -1;
        double least = 0.0;
        for (std::size_t i = 0; i < rows; ++i) {
            if (direction[i] <= 1e-9) continue;
            const double ratio = value_[i] / direction[i];
            if (leaving >= 0 && ratio >= least) continue;
            least = ratio;
            leaving = int(i);
        }
        if (leaving < 0) return true;
        pivot(direction, leaving, double(columns_[column].cost));
    }
    return false;
}

std::vector<std::int64_t> CoverLp::prices() const {
    std::vector<std::int64_t> out;
    for (const double price : dual_)
        out.push_back(std::int64_t(std::floor(price * double(scale))));
    // Rounding and an unfinished search leave some columns too cheap: the last price makes it good.
    std::int64_t worst = 0;
    for (const CoverColumn& column : columns_) {
        std::int64_t slack = column.cost * scale - out.back();
        for (const std::int16_t item : column.items)
            slack -= out[std::size_t(item)];
        worst = std::min(worst, slack);
    }
    out.back() += worst;
    return out;
}

std::int64_t CoverLp::bound(const std::vector<std::int64_t>& prices, int groups) {
    std::int64_t total = prices.back() * groups;
    for (std::size_t i = 0; i + 1 < prices.size(); ++i)
        total += prices[i];
    return total <= 0 ? 0 : (total + scale - 1) / scale;
}

}  // namespace tallyround::plan::detail
