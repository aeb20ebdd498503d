#pragma once
#include <cassert>
#include <cstdint>
#include <random>
#include <utility>
#include <vector>

namespace tallyround::base {

/// Draws that are the same on every standard library. std::mt19937_64 is specified to the bit by
/// ISO C++ ([rand.predef]); its distributions and std::shuffle are not, so the draws are ours.
class Random {
  public:
    explicit Random(std::uint64_t seed) : engine_(seed) {}

    std::uint64_t bits() { return engine_(); }

    /// Uniform in 0 .. bound-1 without modulo bias (rejection). Requires bound >= 1.
    std::uint64_t below(std::uint64_t bound) {
        assert(bound >= 1);
        const std::uint64_t limit = -bound % bound;
        std::uint64_t x = engine_();
        while (x < limit)
            x = engine_();
        return x % bound;
    }

    /// Uniform in low .. high, both included. Requires low <= high.
    std::int64_t between(std::int64_t low, std::int64_t high) {
        const auto span = static_cast<std::uint64_t>(high) - static_cast<std::uint64_t>(low) + 1;
        return static_cast<std::int64_t>(static_cast<std::uint64_t>(low) + below(span));
    }

    /// Uniform in [0, 1) with 53 random bits.
    double unit() { return static_cast<double>(engine_() >> 11) * 0x1.0p-53; }

    /// Fisher-Yates (Durstenfeld 1964).
    template <class T>
    void shuffle(std::vector<T>& items) {
        for (std::size_t i = items.size(); i > 1; --i) {
            std::swap(items[i - 1], items[static_cast<std::size_t>(below(i))]);
        }
    }

  private:
    std::mt19937_64 engine_;
};

}  // namespace tallyround::base
