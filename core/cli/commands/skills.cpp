#include <nlohmann/json.hpp>

#include "cards/bank.h"
#include "cards/generate.h"
#include "cli/cli.h"

namespace tallyround::cli {

Outcome run_skills(const Invocation& call) {
    if (!call.args.empty()) return wrong_usage("skills");
    json::Json list = json::Json::array();
    for (const cards::SkillInfo& skill : cards::skill_bank()) {
        json::Json slips = json::Json::array();
        for (const cards::SlipInfo* slip : cards::skill_slips(skill.id))
            slips.push_back({{"id", slip->id},
                             {"rule", slip->rule},
                             {"source", slip->source},
                             {"status", slip->status}});
        json::Json entry{{"id", skill.id},         {"grade", skill.grade},
                         {"title", skill.title},   {"strand", cards::strand_id(skill.strand)},
                         {"code", skill.code},     {"slips", std::move(slips)},
                         {"before", skill.before}, {"generator", cards::has_generator(skill.id)}};
        if (cards::has_generator(skill.id)) {
            for (const auto tier : {cards::Tier::support, cards::Tier::core, cards::Tier::stretch})
                entry["tiers"][std::string(cards::tier_id(tier))] =
                    cards::tier_features(skill.id, tier);
        }
        list.push_back(std::move(entry));
    }
    return done({{"skills", std::move(list)}, {"notice", cards::standards_notice()}});
}

}  // namespace tallyround::cli
