#pragma once
#include <cstddef>
#include <span>
#include <unordered_map>

#include "evidence/fit.h"
#include "evidence/levels.h"
#include "model/state.h"

namespace tallyround::session {

/// By what a class's marks are read: parameters and starts, taken from its first `marks` marks.
/// Shared by derived_*.cpp and insight_*.cpp only.
class ClassReading {
  public:
    ClassReading() = default;
    /// With `usual` set the parameters are the usual ones, whatever the marks say.
    ClassReading(std::span<const model::Mark> marks, bool usual);

    const evidence::Model& model() const { return model_; }
    double start(const model::StudentId& student, const model::SkillId& skill) const;
    bool fitted() const { return fitted_; }
    /// Marks that went into the fit, or that it found too few.
    std::size_t marks_fitted() const { return marks_fitted_; }

  private:
    evidence::Model model_;
    evidence::Levels levels_;
    bool fitted_ = false;
    std::size_t marks_fitted_ = 0;
    std::unordered_map<model::StudentId, int> students_;
    std::unordered_map<model::SkillId, int> skills_;
};

/// The largest number of the row 0, 12, 24, … (each an eighth more than the last, at least 12 more)
/// that is at most `marks`.
std::size_t checkpoint(std::size_t marks);

}  // namespace tallyround::session
