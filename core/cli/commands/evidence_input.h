#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "cli/cli.h"
#include "evidence/calibration.h"
#include "evidence/model.h"

namespace tallyround::cli {

/// Numbers names in the order in which they first appear.
class Numbered {
  public:
    int number(std::string_view name);
    int find(std::string_view name) const;  ///< -1 when it is not there
    const std::string& name(int number) const { return names_[static_cast<std::size_t>(number)]; }
    int size() const { return static_cast<int>(names_.size()); }
    /// Numbers in byte order of their names.
    std::vector<int> sorted() const;

  private:
    std::vector<std::string> names_;
    std::unordered_map<std::string, int> numbers_;
};

/// One mark with dense numbers instead of names.
struct PairMark {
    int student = 0;
    int skill = 0;
    evidence::Mark mark;
};

/// The marks of an evidence request in the order given.
struct MarkList {
    std::vector<PairMark> marks;
    std::size_t out_of_order = 0;   ///< earlier in day than a mark of the same pair before it
    std::size_t copies = 0;         ///< like the mark of the same pair before it in every respect
    std::size_t extreme_cards = 0;  ///< difficulty beyond what the model tells apart
};

/// The optional "model" of a request: defaults where a key is missing. A state of "emit" given
/// without "shaky" has two levels; of "secure" and "stuck" one may be left out, it takes the rest.
/// A model that names forget_per_day and not spacing_growth forgets at a constant rate.
/// Raises a FieldError with the pointer for whatever cannot be used; repairs go to `warnings`.
evidence::Model read_model(const json::Field& root, std::vector<std::string>& warnings);
json::Json model_json(const evidence::Model& model);
json::Json scores_json(const evidence::Scores& scores);

/// The "marks" of a request. A missing day is 0, help none, difficulty 0.
MarkList read_marks(const json::Field& root, Numbered& students, Numbered& skills);

/// Says what `read_marks` noticed.
void warn_about(const MarkList& list, std::vector<std::string>& warnings);

/// Sorts by student, skill, day; same-day marks of a pair keep the order given.
void sort_by_pair(std::vector<PairMark>& marks);

}  // namespace tallyround::cli
