#pragma once
#include "ui/screens/scene.h"

namespace tallyround::ui {

/// The three marks in the order in which they are offered.
inline constexpr model::Level levels[] = {model::Level::secure, model::Level::shaky,
                                          model::Level::stuck};
/// Groups that are at a center in a round (1-based).
std::vector<int> groups_at(const model::Block& block, const model::CenterId& center, int round);
/// The mark that this student got last at this center in this round, if any.
const model::Mark* mark_here(const model::Class& cls, const model::Block& block,
                             const model::StudentId& student, const model::CenterId& center,
                             int round);
/// Minutes a student has been waiting with a flag up, or -1.
int waiting_minutes(const model::Class& cls, const model::StudentId& student, const Now& now);
/// "secure", "shaky", "stuck" as a teacher reads them.
std::string_view level_word(model::Level level);

/// After a phase began: opens the question about lost minutes if there are some to share.
void ask_about_lost_time(Act& act, const model::ClassId& cls, const model::BlockId& block);

/// Clock, phase and the lesson's buttons on top of the room. Takes its part from `area`.
void lesson_header(Ui& ui, const Scene& scene, Rect& area);
/// What a level's large button looks like.
void level_face(Ui& ui, const Rect& r, model::Level level, bool strong);
/// A large button in a level's colour with its shape and word; the caller gives it its target.
void level_button(Ui& ui, const Rect& r, std::uint32_t id, model::Level level,
                  const std::string& spoken);
/// Who is at a center in a round and not absent.
std::vector<model::StudentId> students_here(const model::Block& block,
                                            const model::CenterId& center, int round);
/// While a finger holds a center's name: three large marks above it (or below it, where there is no
/// room) for everyone there. `head` is where the name stands.
void group_marks(Ui& ui, const Scene& scene, const Rect& head, const model::Center& center,
                 int round);
/// What everyone at a center in a round would get.
session::MarkGroup marks_for(const Scene& scene, const model::Center& center, int round,
                             model::Level level);
/// The round that the room shows.
int shown_round(const model::Block& block);
/// What a key does while the keyboard is at `focused`: a student's mark or flag, or a mark for
/// everyone where a center's name is. Empty if nothing.
Action key_action(const Scene& scene, const Painted& painted, std::uint32_t focused, Key key);
/// Every center with its group and students, three marks and a flag each.
void room(Ui& ui, const Scene& scene, const Rect& area);

}  // namespace tallyround::ui
