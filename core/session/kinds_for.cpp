#include "session/kinds_for.h"

#include "cards/bank.h"

namespace tallyround::session {

std::vector<std::string_view> kinds_for(const model::SkillId& skill) {
    using cards::Strand;
    const cards::SkillInfo* info = cards::find_skill(skill.view());
    switch (info == nullptr ? Strand::number : info->strand) {
        case Strand::geometry:
        case Strand::measurement:
        case Strand::fractions:
            return {"build", "cards", "match", "error", "game", "device", "words"};
        case Strand::expressions:
        case Strand::equations:
        case Strand::functions:
            return {"error", "match", "cards", "game", "device", "build", "words"};
        case Strand::ratio_percent:
        case Strand::statistics:
        case Strand::probability:
            return {"cards", "build", "match", "error", "device", "game", "words"};
        case Strand::number:
        case Strand::decimals:
        case Strand::integers:
            break;
    }
    return {"cards", "game", "error", "match", "device", "words", "build"};
}

bool devices_suffice(const model::CenterKind& kind, int used, int devices) {
    return !kind.uses_devices || (used + 1) * 4 <= devices;
}

}  // namespace tallyround::session
