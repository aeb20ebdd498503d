#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "session/insight.h"

namespace tallyround::ui {

/// Students and skills of a class with their standings, as the class picture shows them.
struct ClassPicture {
    enum class Order { name, group, need };
    struct Row {
        model::StudentId student;
        std::string name;
        int group = -1;                        ///< in the current block, -1 without a seat
        int needs = 0;                         ///< skills that need time
        double held = 0.0;                     ///< skills expected to be held
        std::vector<session::Standing> cells;  ///< as `skills`
    };
    std::vector<model::SkillId> skills;      ///< with marks first, then those only planned
    std::vector<std::array<int, 5>> counts;  ///< a skill: students by session::Word
    std::vector<Row> rows;
};

/// A block with marks and how its centers did.
struct JudgedBlock {
    model::BlockId block;
    std::vector<session::CenterVerdict> verdicts;
};

/// What the marks of the class on screen say, worked out when a screen first asks and kept until
/// the record, the class or the hour is another: no frame judges centers or replays marks anew.
class InsightMemo {
  public:
    /// Before a frame. `events`: how many the record has. Both references must outlive the frame.
    void update(const model::Class& cls, const session::Standings& standings, std::size_t events,
                std::int64_t now_ms);
    /// Another record: nothing kept is true of it.
    void forget();
    /// How often something was worked out so far.
    int worked() const { return worked_; }

    const ClassPicture& picture(ClassPicture::Order order) const;
    /// Newest block first.
    const std::vector<JudgedBlock>& verdicts() const;
    const std::vector<session::ReviewNext>& review_next() const;
    const std::vector<session::PathPoint>& path(const model::StudentId& student) const;
    const session::SkillPage& skill(const model::SkillId& skill) const;
    const std::vector<session::Due>& due() const;
    const std::vector<session::SkillForecast>& forecast(const base::Date& day) const;
    const session::NextBlock& next_block() const;
    const std::vector<session::SwapIdea>& swaps(const model::BlockId& block,
                                                const model::CenterId& center) const;
    const session::TierAdvice& tiers(const model::BlockId& block,
                                     const model::SkillId& skill) const;
    const session::ReadyPlan& ready(const session::ReadyWish& wish) const;
    const session::Calibration& calibration() const;

  private:
    /// Answers to the last questions of one kind.
    template <class Key, class T>
    using Kept = std::vector<std::pair<Key, T>>;
    template <class Key, class T, class Make>
    const T& kept(Kept<Key, T>& all, const Key& key, Make&& make) const;

    /// What makes an answer old.
    using Stamp = std::tuple<model::ClassId, std::size_t, std::int64_t>;
    Stamp stamp_;
    const model::Class* cls_ = nullptr;
    const session::Standings* standings_ = nullptr;
    std::int64_t now_ms_ = 0;
    mutable int worked_ = 0;

    struct Answers {
        Kept<ClassPicture::Order, ClassPicture> pictures;
        Kept<int, std::vector<JudgedBlock>> verdicts;
        Kept<int, std::vector<session::ReviewNext>> review_next;
        Kept<model::StudentId, std::vector<session::PathPoint>> paths;
        Kept<model::SkillId, session::SkillPage> skills;
        Kept<int, std::vector<session::Due>> due;
        Kept<base::Date, std::vector<session::SkillForecast>> forecasts;
        Kept<int, session::NextBlock> next_block;
        Kept<std::pair<model::BlockId, model::CenterId>, std::vector<session::SwapIdea>> swaps;
        Kept<std::pair<model::BlockId, model::SkillId>, session::TierAdvice> tiers;
        Kept<session::ReadyWish, session::ReadyPlan> ready;
        Kept<int, session::Calibration> calibration;
    };
    mutable Answers answers_;
};

}  // namespace tallyround::ui
