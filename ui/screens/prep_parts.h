#pragma once
#include "ui/screens/scene.h"

namespace tallyround::ui {

// What the prep screen and the next block are made of.

/// One row for each center whose cards come in levels: which ones it gets, and a way to change it.
void level_rows(Ui& ui, const Scene& scene, Column& column);
/// One row for each skill of the teacher's own that a center reviews.
void own_card_rows(Ui& ui, const Scene& scene, Column& column);
/// "one and two dots"; for none the words are `otherwise`.
std::string levels_text(const std::vector<int>& tiers, std::string_view otherwise);

}  // namespace tallyround::ui
