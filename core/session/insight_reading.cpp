#include <cmath>

#include "base/text.h"
#include "evidence/fit.h"
#include "session/evidence_model.h"
#include "session/insight.h"

namespace tallyround::session {

namespace {

std::string in_100(double chance) {
    return std::to_string(std::lround(100.0 * chance)) + " in 100";
}

std::string days_text(double days) {
    if (!std::isfinite(days)) return "does not fade";
    return base::count_of(std::size_t(std::lround(days)), "day", "days");
}

std::string which(const Reading& reading, std::size_t marks) {
    if (reading.kept_usual) {
        return "The usual numbers are in use because you keep them. Let them be fitted to change "
               "that.";
    }
    if (reading.fitted) {
        return "Fitted to the last " + base::count_of(reading.marks, "mark", "marks") +
               " of this class.";
    }
    if (marks < evidence::fit_least_marks) {
        return "The usual numbers: with " + std::to_string(evidence::fit_least_marks) +
               " marks they can be fitted to this class, there are " + std::to_string(marks) + ".";
    }
    return "The usual numbers: too few students have two marks on one skill yet to fit them to "
           "this class.";
}

}  // namespace

Reading reading_of(const model::Class& cls, const Standings& standings) {
    const evidence::Model& ours = standings.model();
    const evidence::Model& usual = evidence_model();
    Reading out;
    out.fitted = standings.fitted();
    out.kept_usual = cls.usual_reading;
    out.marks = standings.marks_fitted();
    out.why = which(out, cls.marks.size());
    const auto chance = [&](const char* what, double a, double b) {
        out.lines.push_back({what, in_100(a), in_100(b)});
    };
    chance("Has a skill before the first mark", ours.prior, usual.prior);
    chance("Secure mark though the skill is missing", ours.unknown.secure, usual.unknown.secure);
    chance("Stuck mark though the skill is there", ours.known.stuck, usual.known.stuck);
    chance("Learns it at one look", ours.learn, usual.learn);
    out.lines.push_back({"Half have lost it without review after",
                         days_text(evidence::half_life(ours, 0)),
                         days_text(evidence::half_life(usual, 0))});
    return out;
}

}  // namespace tallyround::session
