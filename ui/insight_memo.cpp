#include "ui/insight_memo.h"

#include <algorithm>
#include <set>

#include "base/text.h"

namespace tallyround::ui {

namespace {

constexpr std::int64_t hour_ms = 3'600'000;
constexpr std::int64_t day_length_ms = 24 * hour_ms;
constexpr std::size_t most_kept = 120;

/// Letters U+00C0 to U+017F without their marks, so that İpek stands between Hugo and Jack
/// (decompositions of the Unicode Character Database; letters without one as they are read).
constexpr std::string_view plain_letters =
    "aaaaaaaceeeeiiiidnooooo*ouuuuytsaaaaaaaceeeeiiiidnooooo/ouuuuyty"
    "aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiiiiijjkkklllllll"
    "lllnnnnnnnnnoooooooorrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs";

std::string name_key(std::string_view name) {
    std::string key;
    for (std::size_t at = 0; at < name.size();) {
        char32_t c = base::next_code_point(name, at);
        if (c >= 'A' && c <= 'Z') c += 'a' - 'A';
        if (c >= 0xC0 && c - 0xC0 < plain_letters.size()) c = char32_t(plain_letters[c - 0xC0]);
        base::append_utf8(key, c);
    }
    return key;
}

ClassPicture::Row row_of(const model::Class& cls, const session::Standings& standings,
                         const model::Student& student, ClassPicture& picture) {
    ClassPicture::Row row{student.id, student.name, -1, 0, 0.0, {}};
    if (const model::Block* block = cls.current_block()) {
        row.group = model::group_of(*block, student.id);
    }
    for (std::size_t k = 0; k < picture.skills.size(); ++k) {
        row.cells.push_back(standings.of(student.id, picture.skills[k]));
        const session::Word word = session::word_for(row.cells.back());
        ++picture.counts[k][std::size_t(word)];
        row.needs += word == session::Word::needs_time ? 1 : 0;
        row.held += row.cells.back().p;
    }
    return row;
}

ClassPicture picture_of(const model::Class& cls, const session::Standings& standings,
                        ClassPicture::Order order) {
    ClassPicture picture;
    picture.skills = session::skills_of(cls);
    std::set<model::SkillId> marked;
    for (const model::Mark& m : cls.marks)
        marked.insert(m.skill);
    std::stable_partition(picture.skills.begin(), picture.skills.end(),
                          [&](const model::SkillId& skill) { return marked.count(skill) > 0; });
    picture.counts.resize(picture.skills.size());
    std::vector<std::pair<std::string, ClassPicture::Row>> rows;
    for (const model::Student* s : session::present_students(cls))
        rows.emplace_back(name_key(s->name), row_of(cls, standings, *s, picture));
    std::stable_sort(rows.begin(), rows.end(), [&](const auto& a, const auto& b) {
        const auto key = [&](const auto& entry) {
            const auto& [name, row] = entry;
            const bool by_group = order == ClassPicture::Order::group;
            const bool by_need = order == ClassPicture::Order::need;
            // Without a seat: after all groups.
            const auto group = by_group ? unsigned(row.group) : 0U;
            return std::tuple(group, by_need ? -row.needs : 0, by_need ? row.held : 0.0, name);
        };
        return key(a) < key(b);
    });
    for (auto& [name, row] : rows)
        picture.rows.push_back(std::move(row));
    return picture;
}

std::vector<JudgedBlock> judged_blocks(const model::Class& cls,
                                       const session::Standings& standings) {
    std::set<model::BlockId> seen;
    for (const model::Mark& m : cls.marks)
        seen.insert(m.block);
    auto verdicts = session::judge_blocks(cls, standings);
    std::vector<JudgedBlock> out;
    for (std::size_t b = verdicts.size(); b-- > 0;) {
        const model::BlockId& id = cls.blocks[b].id;
        if (seen.count(id) > 0) out.push_back({id, std::move(verdicts[b])});
    }
    return out;
}

}  // namespace

template <class Key, class T, class Make>
const T& InsightMemo::kept(Kept<Key, T>& all, const Key& key, Make&& make) const {
    const auto it =
        std::find_if(all.begin(), all.end(), [&](const auto& entry) { return entry.first == key; });
    if (it != all.end()) return it->second;
    if (all.size() >= most_kept) all.erase(all.begin());
    // Room for all at once: what was handed out in this frame stays where it is.
    all.reserve(most_kept);
    ++worked_;
    return all.emplace_back(key, make()).second;
}

void InsightMemo::update(const model::Class& cls, const session::Standings& standings,
                         std::size_t events, std::int64_t now_ms) {
    cls_ = &cls;
    standings_ = &standings;
    now_ms_ = now_ms;
    const Stamp stamp{cls.id, events, now_ms / hour_ms};
    if (stamp == stamp_) return;
    stamp_ = stamp;
    answers_ = {};
}

void InsightMemo::forget() {
    stamp_ = {};
    answers_ = {};
}

const ClassPicture& InsightMemo::picture(ClassPicture::Order order) const {
    return kept(answers_.pictures, order, [&] { return picture_of(*cls_, *standings_, order); });
}

const std::vector<JudgedBlock>& InsightMemo::verdicts() const {
    return kept(answers_.verdicts, 0, [&] { return judged_blocks(*cls_, *standings_); });
}

const std::vector<session::ReviewNext>& InsightMemo::review_next() const {
    return kept(answers_.review_next, 0, [&] {
        const model::Block* block = cls_->current_block();
        return block == nullptr ? std::vector<session::ReviewNext>()
                                : session::review_next(*cls_, *block, *standings_);
    });
}

const std::vector<session::PathPoint>& InsightMemo::path(const model::StudentId& student) const {
    return kept(answers_.paths, student,
                [&] { return session::path_of(*cls_, *standings_, student); });
}

const session::SkillPage& InsightMemo::skill(const model::SkillId& skill) const {
    return kept(answers_.skills, skill,
                [&] { return session::skill_page(*cls_, *standings_, skill); });
}

const std::vector<session::Due>& InsightMemo::due() const {
    return kept(answers_.due, 0, [&] { return session::due_looks(*cls_, *standings_, now_ms_); });
}

const std::vector<session::SkillForecast>& InsightMemo::forecast(const base::Date& day) const {
    return kept(answers_.forecasts, day, [&] {
        const std::int64_t then_ms = base::days_from_civil(day) * day_length_ms;
        return session::forecast_for(*cls_, *standings_, now_ms_, then_ms);
    });
}

const session::NextBlock& InsightMemo::next_block() const {
    return kept(answers_.next_block, 0,
                [&] { return session::next_block(*cls_, *standings_, now_ms_); });
}

const std::vector<session::SwapIdea>& InsightMemo::swaps(const model::BlockId& block,
                                                         const model::CenterId& center) const {
    return kept(answers_.swaps, std::pair{block, center}, [&] {
        const model::Block* b = cls_->block(block);
        return b == nullptr ? std::vector<session::SwapIdea>()
                            : session::swap_ideas(*cls_, *b, center, *standings_);
    });
}

const session::TierAdvice& InsightMemo::tiers(const model::BlockId& block,
                                              const model::SkillId& skill) const {
    return kept(answers_.tiers, std::pair{block, skill}, [&] {
        const model::Block* b = cls_->block(block);
        return b == nullptr ? session::TierAdvice()
                            : session::tier_advice(*cls_, *b, *standings_, skill);
    });
}

const session::ReadyPlan& InsightMemo::ready(const session::ReadyWish& wish) const {
    return kept(answers_.ready, wish,
                [&] { return session::ready_plan(*cls_, *standings_, wish, now_ms_); });
}

const session::Calibration& InsightMemo::calibration() const {
    return kept(answers_.calibration, 0, [&] { return session::calibration_of(*cls_); });
}

}  // namespace tallyround::ui
