#pragma once
#include <string>

#include "sheets/sheet.h"

namespace tallyround::sheets {

// One function a sheet; each fills the pages it is handed.
void task_cards(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void answer_keys(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void center_instructions(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void table_signs(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void group_cards(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void chart_poster(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void chart_handouts(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void procedures_poster(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void prep_checklist(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void box_labels(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void substitute_note(Pages& pages, const PrepBox& box, const SheetChoices& choices);
void makeup_list(Pages& pages, const PrepBox& box, const SheetChoices& choices);

// What they share -------------------------------------------------------------------------------
/// A center's number in its ring of `size` mm.
std::string ring(int number, double size);
/// A square to tick, `size` mm wide.
std::string tick(double size = 5);
/// One, two or three of three dots: the tier of a card, without a word about anybody.
std::string tier_dots(cards::Tier tier, double size = 3.2);
/// Large words over the page's whole width, with a rule under them.
void title_block(Pages& pages, std::string_view text, double largest = 34);

/// Text with fractions set upright, escaped.
std::string math_html(std::string_view text);
/// True when `math_html` sets a fraction in it, which needs lines twice as high.
bool has_fraction(std::string_view text);

/// Cautions where they belong; empty when the kind needs none.
std::string_view caution_for(std::string_view center_kind);
inline constexpr std::string_view practice_notice =
    "Cards are practice. They are not an assessment instrument.";

}  // namespace tallyround::sheets
