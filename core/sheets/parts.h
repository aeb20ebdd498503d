#pragma once
#include <string>

#include "sheets/sheet.h"

namespace tallyround::sheets {

// One function a sheet; each fills the pages it is handed.
void task_cards(Pages& pages, Printer& printer);
void answer_keys(Pages& pages, Printer& printer);
void center_instructions(Pages& pages, Printer& printer);
void table_signs(Pages& pages, Printer& printer);
void group_cards(Pages& pages, Printer& printer);
void chart_poster(Pages& pages, Printer& printer);
void chart_handouts(Pages& pages, Printer& printer);
void procedures_poster(Pages& pages, Printer& printer);
void prep_checklist(Pages& pages, Printer& printer);
void box_labels(Pages& pages, Printer& printer);
void substitute_note(Pages& pages, Printer& printer);
void makeup_list(Pages& pages, Printer& printer);

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
/// Height in mm of a line of that text as `math_html` sets it.
double math_line(std::string_view text, double points);

}  // namespace tallyround::sheets
