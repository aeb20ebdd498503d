#pragma once
#include <string>
#include <utility>
#include <vector>

#include "ui/screens/scene.h"

namespace tallyround::ui {

// What the pages about the evidence share. Every number on them leads to its marks.

/// Pages reached from the review; "Back" leads along View::trail.
bool is_insight_page(Screen screen);
Action open_page(Screen page);
Action open_student_page(const model::StudentId& student);
Action open_skill_page(const model::SkillId& skill);
void go_back(Act& act);
/// The marks behind one student's standing on one skill.
Action open_marks(const model::StudentId& student, const model::SkillId& skill);

/// The shape of a word, told apart without colour: a full, half or barred kite as for marks, a dot
/// for too early, nothing for not seen yet. At most 30 points, centred.
void word_shape(Ui& ui, session::Word word, const Rect& r);
/// A mark's shape on its plate, centred in `r`.
void mark_shape(Ui& ui, model::Level level, const Rect& r);
/// Columns of the shape and its word, as many side by side as fit.
void word_key(Ui& ui, Column& column);

void section(Ui& ui, Column& column, std::string_view text);
void text_row(Ui& ui, Column& column, std::string_view text, const Style& style);
/// Buttons in as many equal columns (at most `most`) as leave every label whole; their icons go
/// before a second column does.
void button_grid(Ui& ui, Column& column, std::vector<std::pair<Button, Action>> buttons,
                 int most = 3);
/// A title with a word's shape in front, as high as the text; a tap leads on.
void word_row(Ui& ui, Column& column, session::Word word, const RowItem& item, Action tap);

/// Words with the shape of `word` in front, over as many lines as they take.
void word_line(Ui& ui, Column& column, session::Word word, std::string_view text,
               const Style& style);

/// "83 in 100".
std::string in_100(double chance);
/// "Chance of having it: 83 in 100, between 61 and 95, from 5 marks, the last on Tue 1 Dec."
std::string chance_text(const Scene& scene, const session::Standing& standing);
/// The day of a moment where the teacher is.
base::Date day_of(const Scene& scene, std::int64_t at_ms);
/// One row a mark, newest first, at most `limit`, each with a button that takes it back. With
/// `titles` the skill is named.
void mark_rows(Ui& ui, const Scene& scene, Column& column,
               const std::vector<session::PathPoint>& path, bool titles, std::size_t limit);

/// Whose notes these are and what they are not for.
void evidence_caution(Ui& ui, Column& column);

/// Skill × student at a glance.
void class_picture(Ui& ui, const Scene& scene, Column& column);
/// The chance of having one skill after each mark of the student on screen, with its interval.
void path_chart(Ui& ui, const Scene& scene, Column& column,
                const std::vector<session::PathPoint>& path, const std::string& title);
/// One center's verdict with its gain drawn and, where it did not help, one tap to swap it.
/// `by_block`: the block is named above, the skill here; otherwise the other way round.
void verdict_card(Ui& ui, const Scene& scene, Column& column, const model::Block& block,
                  const session::CenterVerdict& verdict, bool by_block);

/// The day the class is to be ready by: View::ready_by, or two weeks from today.
base::Date ready_day(const Scene& scene);
/// Buttons that move that day.
void date_row(Ui& ui, const Scene& scene, Column& column);

}  // namespace tallyround::ui
