#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "evidence/trace.h"

namespace tallyround::advise {

/// One student as seen from the middle of the room. Minutes count up from the event to now.
struct Walker {
    int student = 0;
    double minutes_since_seen = -1.0;  ///< negative: not seen yet in this lesson
    double minutes_waiting = -1.0;     ///< negative: no flag is up
};

/// One skill a student works on now, with the estimate of today.
struct Candidate {
    int student = 0;
    int skill = 0;
    evidence::Estimate estimate;
};

/// How the next visit is weighed. Everything is in the same unit: 1 is one bit of information.
/// Design choices, checked by simulation over several kinds of class; no source.
struct Weighing {
    double lesson_minutes = 0.0;  ///< minutes since the looking began
    double fair_minutes = 30.0;   ///< whoever has not been seen for so long comes first
    double need = 0.3;            ///< times the chance that the skill is missing
    double since = 0.05;          ///< times the share of `fair_minutes` since the last look
    double flag = 1.0;            ///< for a raised flag ...
    double flag_minute = 0.2;     ///< ... and for each minute it has been up, at most 5 in all
};

/// Why a student is where it is in the list: the largest part of the score.
enum class Reason {
    overdue,      ///< not seen for the fair time
    flag,         ///< waiting for help
    no_marks,     ///< nothing known yet on this skill
    few_marks,    ///< little known: one look tells much
    mixed_marks,  ///< marks point both ways: one look settles most
    need,         ///< marks say the skill is missing
    not_seen,     ///< a while since the last look
};

/// One visit to make: whom, on which skill, how pressing, why.
struct Visit {
    int student = 0;
    int skill = 0;
    double score = 0.0;
    Reason reason = Reason::not_seen;
    double minutes = 0.0;  ///< waiting or unseen, for the reasons that speak of minutes
    int marks = 0;         ///< marks on the skill so far
    double p = 0.0;        ///< chance today that the student has it
};

/// Ranks the students, best first; each appears once, with the skill a look at which is worth
/// most, and not at all without a candidate. Score = expected information of the look (bits,
/// evidence::information) + need + since + flag; students unseen for `fair_minutes` come before
/// all others, longest unseen first (a flag counts as up to five minutes more). So with n students
/// and looks of m minutes everyone is seen within fair_minutes + n * m. Equal scores: smaller
/// student number first. Candidates for students without a walker are left out. Linear in the
/// candidates, then a sort.
std::vector<Visit> next_visits(const evidence::Model& model, std::span<const Walker> walkers,
                               std::span<const Candidate> candidates, const Weighing& weighing);

/// The reason in one plain sentence: "Flag up for 4 minutes." `skill` is its title.
std::string plain(const Visit& visit, std::string_view skill);

}  // namespace tallyround::advise
