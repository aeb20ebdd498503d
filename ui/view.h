#pragma once
#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "model/state.h"
#include "session/derived.h"
#include "sheets/sheet.h"
#include "ui/theme/theme.h"

namespace tallyround::ui {

enum class Screen {
    home,
    students,
    skills,
    centers,
    fit,
    groups,
    chart,
    walk,
    review,
    settings,
    procedures,
    prep
};

/// What lies over a screen, if anything.
enum class Overlay {
    none,
    new_class,
    steps,    ///< the list of steps, on narrow screens
    student,  ///< one student: rename, left
    pairs,    ///< who must (not) sit together
    own_skill,
    center,        ///< edit a center
    center_skill,  ///< choose the center's skill
    mark,          ///< a mark with help
    marks,         ///< the lesson's marks, to take one back
    absent,
    day,  ///< a period's date and times
    why,  ///< where a number comes from
    confirm_end,
    late,       ///< minutes lost: share them over the rounds left?
    group,      ///< one mark for a whole group
    stock,      ///< what the class owns
    own_cards,  ///< the teacher's own problems for a skill
    notices,
};

/// What this person is looking at on this device: never in the record, lost without harm.
struct View {
    Screen screen = Screen::home;
    Overlay overlay = Overlay::none;
    model::ClassId cls;

    // What an overlay is about.
    model::StudentId student;
    model::SkillId skill;
    model::CenterId center;
    std::string slip;  ///< the wrong answer to name with the next mark
    int round = 0;
    int index = 0;

    // Choices on screens.
    int skill_grade = 0;      ///< 0 = all grades
    model::StudentId picked;  ///< first of two taps
    std::uint64_t group_seed = 1;
    int group_policy = 0;
    int group_size = 4;
    bool review_by_center = false;
    std::int64_t late_accepted_ms = 0;   ///< lateness that was left as it is
    std::int64_t practice_began_ms = 0;  ///< UTC, of the practice move that is being timed
    sheets::SheetChoices print;
    /// Kinds of sheets that are to be printed next.
    std::set<std::string> print_left = {"cards",    "keys",  "instructions", "signs", "groups",
                                        "handouts", "chart", "checklist",    "boxes"};

    /// Text being typed, by the field's name.
    std::map<std::string, std::string> drafts;

    // Preferences of this device.
    Look look = Look::light;
    bool look_chosen = false;
    float text_scale = 1;

    // A short message at the bottom.
    std::string toast;
    double toast_until = 0;  ///< steady milliseconds
    bool toast_undo = false;
    bool toast_bad = false;

    const std::string& draft(const std::string& name) const {
        static const std::string none;
        const auto it = drafts.find(name);
        return it == drafts.end() ? none : it->second;
    }
};

}  // namespace tallyround::ui
