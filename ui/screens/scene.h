#pragma once
#include <string>

#include "session/derived.h"
#include "session/session.h"
#include "ui/app.h"
#include "ui/group_desk.h"
#include "ui/insight_memo.h"
#include "ui/plan_desk.h"
#include "ui/print_desk.h"
#include "ui/view.h"
#include "ui/widgets/controls.h"
#include "ui/widgets/sheet.h"

namespace tallyround::ui {

struct FileDesk;

/// How safe the record is, as the top bar shows it.
enum class Saved { saved, saving, not_saved, memory_only, read_only };

/// Everything a screen may look at. Screens read it and paint; what they want changed they put
/// into actions.
struct Scene {
    const session::Session& session;
    const model::State& state;
    const model::Class* cls = nullptr;    ///< the class on screen, if any
    const model::Block* block = nullptr;  ///< its current block, if any
    const View& view;
    const session::Standings& standings;
    Now now;
    Saved saved = Saved::saved;
    std::string trouble;  ///< why it is not saved
    bool update_waiting = false;
    std::int64_t last_export_ms = 0;
    const PrintDesk* desk = nullptr;
    const session::ChartCheck* chart_check = nullptr;  ///< of the chart on screen
    const PlanDesk* plans = nullptr;
    const GroupDesk* groups = nullptr;
    const InsightMemo* insight = nullptr;  ///< of `cls`
    std::string undo;                      ///< what Undo would take back, as it may be shown
    bool passcode_set = false;
    std::string persisted;  ///< "yes" or "no" once the browser was asked to keep the data
    App::Installable installable = App::Installable::no;
    std::size_t damaged = 0;    ///< stored things found damaged and not yet given to the person
    std::size_t set_aside = 0;  ///< all such things that storage keeps
    const FileDesk* files = nullptr;
};

// One a screen. `area` is what the bars leave free.
void home_screen(Ui& ui, const Scene& scene, const Rect& area);
void students_screen(Ui& ui, const Scene& scene, const Rect& area);
void skills_screen(Ui& ui, const Scene& scene, const Rect& area);
void centers_screen(Ui& ui, const Scene& scene, const Rect& area);
void fit_screen(Ui& ui, const Scene& scene, const Rect& area);
void groups_screen(Ui& ui, const Scene& scene, const Rect& area);
void chart_screen(Ui& ui, const Scene& scene, const Rect& area);
void walk_screen(Ui& ui, const Scene& scene, const Rect& area);
void review_screen(Ui& ui, const Scene& scene, const Rect& area);
void settings_screen(Ui& ui, const Scene& scene, const Rect& area);
void procedures_screen(Ui& ui, const Scene& scene, const Rect& area);
void prep_screen(Ui& ui, const Scene& scene, const Rect& area);
void student_page(Ui& ui, const Scene& scene, const Rect& area);
void skill_page(Ui& ui, const Scene& scene, const Rect& area);
void verdicts_screen(Ui& ui, const Scene& scene, const Rect& area);
void next_block_screen(Ui& ui, const Scene& scene, const Rect& area);
void ready_screen(Ui& ui, const Scene& scene, const Rect& area);
void sureness_screen(Ui& ui, const Scene& scene, const Rect& area);
void share_screen(Ui& ui, const Scene& scene, const Rect& area);
void board_screen(Ui& ui, const Scene& scene, const Rect& area);
void privacy_screen(Ui& ui, const Scene& scene, const Rect& area);
void locked_screen(Ui& ui, const Scene& scene, const Rect& area);

/// Whatever lies over the screen (View::overlay), if anything.
void draw_overlay(Ui& ui, const Scene& scene);

// Overlays, each beside the screen it belongs to.
void new_class_sheet(Ui& ui, const Scene& scene);
void steps_sheet(Ui& ui, const Scene& scene);
void student_sheet(Ui& ui, const Scene& scene);
void own_skill_sheet(Ui& ui, const Scene& scene);
void center_sheet(Ui& ui, const Scene& scene);
void center_skill_sheet(Ui& ui, const Scene& scene);
void day_sheet(Ui& ui, const Scene& scene);
void mark_sheet(Ui& ui, const Scene& scene);
void marks_sheet(Ui& ui, const Scene& scene);
void absent_sheet(Ui& ui, const Scene& scene);
void end_sheet_question(Ui& ui, const Scene& scene);
void late_sheet(Ui& ui, const Scene& scene);
void group_sheet(Ui& ui, const Scene& scene);
void why_sheet(Ui& ui, const Scene& scene);
void stock_sheet(Ui& ui, const Scene& scene);
void own_cards_sheet(Ui& ui, const Scene& scene);
void card_picture_sheet(Ui& ui, const Scene& scene);
void center_levels_sheet(Ui& ui, const Scene& scene);
void next_levels_sheet(Ui& ui, const Scene& scene);
void school_class_sheet(Ui& ui, const Scene& scene);
void notices_sheet(Ui& ui, const Scene& scene);
void chart_rules_sheet(Ui& ui, const Scene& scene);
void center_rules_sheet(Ui& ui, const Scene& scene);
void chart_trouble_sheet(Ui& ui, const Scene& scene);
void repair_sheet(Ui& ui, const Scene& scene);
void proposal_sheet(Ui& ui, const Scene& scene);
void obstacles_sheet(Ui& ui, const Scene& scene);
void group_rules_sheet(Ui& ui, const Scene& scene);
void group_why_sheet(Ui& ui, const Scene& scene);
void group_term_sheet(Ui& ui, const Scene& scene);

void erase_sheet(Ui& ui, const Scene& scene);
void passcode_sheet(Ui& ui, const Scene& scene);
void sealed_file_sheet(Ui& ui, const Scene& scene);
void conflicts_sheet(Ui& ui, const Scene& scene);

/// A row with a box to tick and words that may take several lines.
void tick_row(Ui& ui, Column& column, const char* id, const char* text, bool on, Action tap);
/// Action: asks whether the student, or with nobody named the class, is to be deleted for good.
Action ask_to_erase(const model::ClassId& cls, const model::StudentId& student);
/// What the age of the last plan file means, in a sentence; how many days old it is, -1 if none.
std::string backup_text(const Scene& scene);
int backup_days(const Scene& scene);
/// Weeks since something happened in the class (a mark, a note, a lesson planned or run), where
/// there are so many that its term may be over; otherwise 0.
int quiet_weeks(const Scene& scene, const model::Class& cls);
/// Rows on the first screen about what is due: a copy, a term that is over, installing.
void reminders(Ui& ui, const Scene& scene, Column& column);

/// How far a plan is that takes long, with a way to give it up.
void draw_planning(Ui& ui, const Scene& scene);
/// The large files that are being made, read and put in place, if any.
void draw_file_progress(Ui& ui, const Scene& scene);
void center_marks_sheet(Ui& ui, const Scene& scene);
void next_kind_sheet(Ui& ui, const Scene& scene);
void keys_sheet(Ui& ui, const Scene& scene);

/// The known wrong answers of a skill, to name one with the next mark (View::slip).
void slip_rows(Ui& ui, const Scene& scene, Column& column, const model::SkillId& skill);
/// The wrong answers seen in the class, skill by skill.
void slip_picture(Ui& ui, const Scene& scene, Column& column);

// What several screens share -----------------------------------------------------------------
/// The steps of the path, in order, with the words for them.
struct StepWords {
    session::Step step;
    Screen screen;
    Icon icon;
    const char* title;
};
const std::vector<StepWords>& path();
/// Of the class's next step; null if it is none of the path.
const StepWords* next_words(const model::Class& cls);
/// Today's date where the teacher is.
base::Date today(const Now& now);
/// Local seconds after midnight.
int local_second(const Now& now, std::int64_t utc_ms);
/// "9:13": local time of day, to the minute.
std::string clock_at(const Now& now, std::int64_t utc_ms);
/// "7:04" left, rounded up to the second; "+0:31" over.
std::string minutes_clock(std::int64_t ms);
/// Action: the board over the whole screen; Escape or one tap goes back to `from`.
Action open_board(Screen from);
void leave_board(Act& act);
/// "12 min" as a teacher reads them.
std::string minutes_text(int minutes);
/// A scrolling column that fills `area` with the screen's margins and its heading on top.
Column begin_page(Ui& ui, const Rect& area, std::string_view name, std::string_view title,
                  std::string_view lead);
void end_page(Ui& ui, const Column& column);
/// Action: look at that screen. / Open that overlay.
Action go(Screen screen);
Action open_overlay(Overlay overlay);

}  // namespace tallyround::ui
