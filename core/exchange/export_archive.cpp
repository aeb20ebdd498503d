#include <algorithm>
#include <map>

#include "exchange/csv_out.h"
#include "exchange/export.h"
#include "exchange/export_names.h"
#include "exchange/mark_keys.h"

namespace tallyround::exchange {

using namespace model;  // NOLINT

namespace {

using Row = std::vector<std::string>;

const Row columns{"mark_key",    "class_key",  "class",       "grade",     "student_key",
                  "student",     "student_id", "time_utc",    "block_key", "block",
                  "round",       "center_key", "center_kind", "center",    "skill",
                  "skill_title", "level",      "help",        "slip"};

std::string key_of(const std::string& what, const Class& cls, const std::string& id) {
    return id.empty() ? std::string() : uuid_of(what + "/" + cls.id.str() + "/" + id);
}

/// The wrong answer that was named with a mark, by the mark's place in the record.
std::map<std::uint64_t, std::string> slips_of(const Class& cls) {
    std::map<std::uint64_t, std::string> out;
    for (const SlipSeen& seen : cls.slips)
        out[seen.event] = seen.slip;
    return out;
}

const Center* center_of(const Class& cls, const Mark& mark) {
    const Block* block = cls.block(mark.block);
    return block == nullptr ? nullptr : find_center(*block, mark.center);
}

}  // namespace

std::string archive_csv(const State& state, const ExportOptions& options) {
    std::vector<Row> rows{columns};
    for (std::size_t c = 0; c < state.classes.size(); ++c) {
        const Class& cls = state.classes[c];
        const ExportNames names(cls, c, options);
        const auto slips = slips_of(cls);
        const std::string class_key = uuid_of("class/" + cls.id.str());
        MarkKeys keys(cls);
        for (const Mark& m : cls.marks) {
            const std::string key = keys.next(m);
            const Student* student = cls.student(m.student);
            if (student == nullptr) continue;
            const Center* center = center_of(cls, m);
            const auto slip = slips.find(m.event);
            // A skill of the teacher's own has no meaning outside of the class but by its key.
            const bool own = cls.own_skill(m.skill) != nullptr;
            rows.push_back(
                {key, class_key, names.class_name(), std::to_string(cls.grade),
                 key_of("student", cls, m.student.str()), names.student(*student),
                 names.student_id(*student), utc_text(m.at_ms), key_of("block", cls, m.block.str()),
                 names.block(m.block), m.round > 0 ? std::to_string(m.round) : "",
                 key_of("center", cls, m.center.str()), center == nullptr ? "" : center->kind,
                 center == nullptr ? "" : names.center(*center),
                 own ? key_of("skill", cls, m.skill.str()) : m.skill.str(),
                 names.skill_title(m.skill), std::string(to_text(m.level)),
                 std::string(to_text(m.help)), slip == slips.end() ? "" : slip->second});
        }
    }
    return csv_text(rows);
}

}  // namespace tallyround::exchange
