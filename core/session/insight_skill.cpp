#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "session/insight.h"
#include "session/insight_parts.h"

namespace tallyround::session {

namespace {

constexpr std::size_t words = 5;
constexpr double support_below = 0.4;
constexpr double stretch_from = 0.85;

std::vector<CenterUse> uses_of(const model::Class& cls, const Standings& standings,
                               const model::SkillId& skill) {
    std::vector<CenterUse> uses;
    const auto verdicts = judge_blocks(cls, standings);
    for (std::size_t b = verdicts.size(); b-- > 0;) {
        for (const CenterVerdict& verdict : verdicts[b]) {
            const model::Center* center = model::find_center(cls.blocks[b], verdict.center);
            if (center != nullptr && center->skill == skill)
                uses.push_back({cls.blocks[b].id, verdict});
        }
    }
    return uses;
}

std::vector<SlipNote> slips_of(const model::SkillId& skill) {
    std::vector<SlipNote> notes;
    for (const cards::SlipInfo* slip : cards::skill_slips(skill.view())) {
        notes.push_back({std::string(slip->rule),
                         std::string(slip->source.empty() ? slip->status : slip->source)});
    }
    return notes;
}

std::string where_it_stands(const SkillPage& page) {
    std::vector<std::string> parts;
    for (const Word word :
         {Word::needs_time, Word::on_the_way, Word::likely_has_it, Word::early, Word::no_marks}) {
        const std::size_t n = page.by_word[std::size_t(word)].size();
        if (n > 0) parts.push_back(word_count(word, n));
    }
    return parts.empty() ? "Nobody is in the class yet." : base::list_of(parts) + ".";
}

}  // namespace

cards::Tier tier_for(double p) {
    return p < support_below  ? cards::Tier::support
           : p < stretch_from ? cards::Tier::core
                              : cards::Tier::stretch;
}

SkillPage skill_page(const model::Class& cls, const Standings& standings,
                     const model::SkillId& skill) {
    SkillPage page;
    page.by_word.resize(words);
    std::vector<std::vector<double>> chances(words);
    const auto students = present_students(cls);
    for (const model::Student* student : students) {
        const Standing standing = standings.of(student->id, skill);
        page.held += standing.p;
        const auto word = std::size_t(word_for(standing));
        const auto place = std::upper_bound(chances[word].begin(), chances[word].end(), standing.p);
        page.by_word[word].insert(page.by_word[word].begin() + (place - chances[word].begin()),
                                  student->id);
        chances[word].insert(place, standing.p);
    }
    if (!students.empty()) page.tier = tier_for(page.held / double(students.size()));
    page.centers = uses_of(cls, standings, skill);
    page.slips = slips_of(skill);
    page.why = where_it_stands(page);
    return page;
}

}  // namespace tallyround::session
