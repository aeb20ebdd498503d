#pragma once
#include <string>
#include <vector>

#include "record/codec.h"
#include "record/event.h"

namespace tallyround::ui {

/// A class with one student and so many marks, one a second, as another device has it.
inline std::vector<record::Event> large_class(std::size_t marks) {
    const model::ClassId cls("c");
    const model::StudentId student("s");
    std::vector<record::Event> out;
    const auto add = [&](record::Body body) {
        const std::uint64_t n = out.size() + 1;
        const auto ms = 1'700'000'000'000 + std::int64_t(n) * 1000;
        out.push_back({{ms, 0, model::ReplicaId("other"), n}, std::move(body), {}});
    };
    add(record::ClassMade{cls, "Room 9", 6});
    add(record::StudentAdded{cls, student, "Ada", ""});
    while (out.size() < marks + 2) {
        add(record::Marked{cls, model::BlockId("b"), student, model::SkillId("k"),
                           model::CenterId("m"), 1, model::Level::secure, model::Help::none});
    }
    return out;
}

inline std::string as_records(const std::vector<record::Event>& events) {
    std::string out;
    for (const record::Event& e : events)
        out += (out.empty() ? "" : "\n") + record::to_line(e);
    return out;
}

}  // namespace tallyround::ui
