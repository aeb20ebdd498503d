#pragma once
#include <span>
#include <vector>

namespace tallyround::advise {

/// What is known about one student's visit to one center: chance of having its skill before and
/// after. `round` and `group` are -1 when they are not known.
struct CenterLook {
    int center = 0;
    int student = 0;
    double before = 0.0;
    double after = 0.0;
    double stuck_minutes = 0.0;
    int round = -1;
    int group = -1;
};

/// What to do with a center. Never firm on few students.
enum class Verdict { too_early, keep, watch, swap };

/// How one center did.
struct CenterJudgement {
    int center = 0;
    int students = 0;   ///< different students there
    double mean = 0.0;  ///< their mean gain as seen, adjusted for round and group
    double gain = 0.0;  ///< shrunk toward the mean of all centers
    double low = 0.0;   ///< 95 % interval of the shrunk gain
    double high = 0.0;
    double p_helps = 0.0;        ///< belief that the true gain exceeds the threshold
    double stuck_minutes = 0.0;  ///< mean a student
    Verdict verdict = Verdict::too_early;
};

struct JudgeSettings {
    double threshold = 0.02;  ///< a gain below this is not worth a center's time
    int least_students = 5;   ///< fewer are always too early
    double firm = 0.8;        ///< belief from which keep (or 1 - firm: swap) is said
};

/// All centers, by number. A student's visits to one center count as one, their mean. Gains are
/// first adjusted for round and group (additive effects, shrunk, only where at least two rounds or
/// groups are known and centers are spread over them). Then empirical Bayes for normal means
/// (Efron & Morris 1975, JASA 70:311): true gains of centers are normal around their common mean
/// with a variance by DerSimonian & Laird 1986; within-center variance is pooled, with four
/// degrees of freedom of a usual spread (.15) added so that few looks cannot look exact.
std::vector<CenterJudgement> judge_centers(std::span<const CenterLook> looks,
                                           const JudgeSettings& settings = {});

}  // namespace tallyround::advise
