#pragma once
#include <string>
#include <string_view>

#include "record/hash.h"

namespace tallyround::exchange {

/// The checksum of a plan file (plan_file.h): XXH3-128 of the events' texts joined by line feeds.
class PlanChecksum {
  public:
    void add(std::string_view text) {
        if (any_) hasher_.add("\n");
        any_ = true;
        hasher_.add(text);
    }
    std::string hex() const { return hasher_.hex(); }

  private:
    record::Hasher hasher_;
    bool any_ = false;
};

}  // namespace tallyround::exchange
