#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "exchange/oneroster.h"
#include "model/state.h"
#include "session/chart_plan.h"
#include "session/command.h"
#include "session/conflicts.h"
#include "session/derived.h"
#include "sheets/sheet.h"
#include "ui/insight_memo.h"
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
    prep,
    student_page,
    skill_page,
    verdicts,
    next_block,
    ready,
    sureness,
    share,
    board,    ///< for the class to see: where everybody is
    privacy,  ///< passcode, initials, deleting for good
    locked,   ///< what is stored is sealed: asks for the passcode
};

/// Where a page was opened from, to go back to.
struct Place {
    Screen screen = Screen::review;
    model::StudentId student;
    model::SkillId skill;
};

/// What lies over a screen, if anything.
enum class Overlay {
    none,
    new_class,
    steps,    ///< the list of steps, on narrow screens
    student,  ///< one student: rename, left
    own_skill,
    center,        ///< edit a center
    center_skill,  ///< choose the center's skill
    mark,          ///< a mark with help
    marks,         ///< the lesson's marks, to take one back
    absent,
    day,  ///< a period's date and times
    why,  ///< where a number comes from
    confirm_end,
    late,           ///< minutes lost: share them over the rounds left?
    group,          ///< one mark for a whole group
    stock,          ///< what the class owns
    own_cards,      ///< the teacher's own problems for a skill
    card_picture,   ///< the picture of one of them (View::skill, View::index)
    center_levels,  ///< how hard the cards of one center are
    school_class,   ///< which class of a school's file to take
    next_levels,    ///< the same for a skill of the next block
    chart_rules,    ///< what the chart keeps to
    center_rules,   ///< the same for one center
    chart_trouble,  ///< rules that do not go together
    repair,         ///< a change shown before it is made
    notices,
    proposal,     ///< a change of groups that waits for a yes
    obstacles,    ///< why there is no plan, and rules to take away
    group_rules,  ///< what all groups keep to
    group_why,
    group_term,    ///< partners over a term
    center_marks,  ///< what was marked at one center
    next_kind,     ///< the kind of center for a skill of the next block
    keys,          ///< what can be done by keyboard
    erase,         ///< asks before View::student, or the whole class, is deleted for good
    passcode,      ///< sets, changes or takes away the passcode
    sealed_file,   ///< asks for the passcode of a file
    conflicts,     ///< what two devices changed
};

/// What the passcode sheet is for.
enum class PasscodeStep { set, change, remove };

/// A sealed plan file that waits for its passcode.
struct SealedFile {
    std::string purpose;
    std::string name;
    std::string bytes;
};

/// A change of the chart that is shown before it is made.
struct Proposal {
    session::Command command;
    std::string title;
    std::string said;
    std::vector<std::string> effects;  ///< what would not be as it should
    model::Block after;
    model::Block was;
    Overlay back = Overlay::none;  ///< what lies over the screen afterwards
};

/// What this person is looking at on this device: never in the record, lost without harm.
struct View {
    Screen screen = Screen::home;
    Overlay overlay = Overlay::none;
    model::ClassId cls;
    std::vector<Place> trail;  ///< pages about the evidence lead back along it

    // What an overlay is about.
    model::StudentId student;
    model::SkillId skill;
    model::CenterId center;
    std::string slip;  ///< the wrong answer to name with the next mark
    int round = 0;
    int index = 0;
    std::optional<Proposal> proposal;
    session::ChartTrouble trouble;
    model::ChartRules wanted_rules;  ///< those that `trouble` is about
    std::set<int> rule_groups;       ///< whom the next rule is for; nobody: every group

    // How the chart is shown.
    int chart_side = 0;  ///< 0 all of it, 1 one round, 2 one group
    int chart_at = 1;    ///< that round, or that group from 1
    int cell_group = 0;  ///< first of two taps: the group from 1, 0 none
    int cell_round = 0;
    int day_breaks = 0;  ///< breaks of the day being typed

    Screen board_from = Screen::walk;  ///< where the board goes back to

    // Choices on screens.
    int skill_grade = 0;      ///< 0 = all grades
    model::StudentId picked;  ///< first of two taps
    std::uint64_t group_seed = 1;
    int group_policy = 0;
    int group_size = 4;
    int term_blocks = 6;
    int group_count = 0;  ///< 0 = as few as hold everybody
    // A rule of the groups that is being made.
    int rule_kind = 0;
    std::vector<model::StudentId> rule_students;
    std::vector<int> rule_rounds;
    ClassPicture::Order picture_order = ClassPicture::Order::name;
    std::size_t picture_first = 0;  ///< first skill of the class picture's columns on screen
    bool all_marks = false;         ///< the student page lists every mark
    base::Date ready_by;            ///< 1970: not chosen
    int ready_blocks = 4;
    int ready_skills = 6;                    ///< in each of those blocks
    unsigned ready_weekdays = 0b11111;       ///< bit 0: Monday
    std::set<model::SkillId> next_left_out;  ///< proposals for the next block that are not wanted
    std::map<model::SkillId, std::string> next_kinds;  ///< kinds chosen in place of the proposed
    std::map<model::SkillId, std::vector<int>> next_tiers;  ///< levels of cards chosen, too
    std::vector<exchange::OneRosterClass> school;  ///< classes of a school's file, to choose one
    bool share_names = false;                      ///< files of marks name the students
    std::int64_t late_accepted_ms = 0;             ///< lateness that was left as it is
    std::int64_t practice_began_ms = 0;  ///< UTC, of the practice move that is being timed
    sheets::SheetChoices print;
    /// Kinds of sheets that are to be printed next.
    std::set<std::string> print_left = {"cards",    "keys",  "instructions", "signs", "groups",
                                        "handouts", "chart", "checklist",    "boxes"};

    model::ClassId erase_class;  ///< what Overlay::erase asks about
    bool sure = false;           ///< the box that has to be ticked before something final
    PasscodeStep passcode_step = PasscodeStep::set;
    std::string passcode_trouble;  ///< why the last try did not work
    SealedFile sealed;
    std::vector<session::Conflict> conflicts;  ///< of the last merge
    std::string sides;  ///< of that merge (session::Sides), so that they are found after a reload
    std::set<std::size_t> conflicts_taken;  ///< where the other device's value was taken

    /// Text being typed, by the field's name.
    std::map<std::string, std::string> drafts;

    // Preferences of this device.
    Look look = Look::light;
    bool look_chosen = false;
    float text_scale = 1;
    bool vibrates = true;
    bool single_keys = true;  ///< keys without Ctrl do something (WCAG 2.2, 2.1.4: can be off)
    bool initials = false;    ///< students are shown by their initials
    int lock_minutes = 5;     ///< hidden for so long locks a sealed device; 0: never
    bool seal_files = true;   ///< plan files are sealed while there is a passcode

    /// What was just tapped and stays where it is on screen in the next frame, 0: nothing.
    std::uint32_t stays = 0;

    // A short message at the bottom.
    std::string toast;
    double toast_until = 0;  ///< steady milliseconds; negative: some seconds from the next frame
    bool toast_undo = false;
    bool toast_bad = false;

    /// Puts a message there; `until` as `toast_until`.
    void show(std::string text, bool bad, double until) {
        toast = std::move(text);
        toast_bad = bad;
        toast_undo = false;
        toast_until = until;
    }

    const std::string& draft(const std::string& name) const {
        static const std::string none;
        const auto it = drafts.find(name);
        return it == drafts.end() ? none : it->second;
    }
};

}  // namespace tallyround::ui
