#pragma once
#include <map>
#include <string>

#include "exchange/export.h"

namespace tallyround::exchange {

/// Names marks for other programs: the same mark has the same UUID in every export of any device,
/// whatever else the record holds.
class MarkKeys {
  public:
    explicit MarkKeys(const model::Class& cls) : cls_(cls.id.str()) {}

    /// To be asked for every mark of the class in the record's order: marks that are alike to the
    /// millisecond are counted.
    std::string next(const model::Mark& mark) {
        const std::string what = cls_ + "/" + mark.student.str() + "/" + mark.skill.str() + "/" +
                                 mark.block.str() + "/" + mark.center.str() + "/" +
                                 std::to_string(mark.at_ms);
        return uuid_of(what + "/" + std::to_string(alike_[what]++));
    }

  private:
    std::string cls_;
    std::map<std::string, int> alike_;
};

}  // namespace tallyround::exchange
