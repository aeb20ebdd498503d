#include "session/parts.h"
#include "session/procedures.h"

namespace tallyround::session {

namespace {

constexpr std::size_t procedures_limit = 2000;
constexpr std::int64_t hour_ms = 3'600'000;

}  // namespace

std::string_view usual_procedures() {
    return "Before the bell: finish the line you are on.\n"
           "At the bell: cards back in the envelope, pens in the box.\n"
           "Walk with your group to the next center. Voices low.\n"
           "Sit down and read the sign before you touch anything.\n"
           "Stuck? Read it again, ask your group, then show the help sign and go on with the "
           "next.\n"
           "Everyone writes. Check each other's work, not only the answer.";
}

std::string_view procedures_of(const Class& cls) {
    return cls.procedures.empty() ? usual_procedures() : std::string_view(cls.procedures);
}

Answer on(const Context& ctx, const SetProcedures& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    auto text = checked_lines("Procedures", wish.text, procedures_limit);
    if (!text) return pass(text);
    if (*text == usual_procedures()) text->clear();
    if (*text == (*cls)->procedures) return Decision{};
    return Decision{{record::ProceduresSet{wish.cls, *text}}, "Procedures kept.", {}};
}

Answer on(const Context& ctx, const PractiseMove& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    if (wish.took_ms < 1000 || wish.took_ms > hour_ms) {
        return base::fail("Practice move",
                          "It took less than a second or more than an hour. "
                          "Start the clock again.");
    }
    return Decision{{record::MovePractised{wish.cls, wish.took_ms}},
                    "The move took " + length_text(wish.took_ms) + ".",
                    {}};
}

}  // namespace tallyround::session
