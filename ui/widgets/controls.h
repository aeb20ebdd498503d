#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "ui/widgets/icons.h"
#include "ui/widgets/ui.h"

namespace tallyround::ui {

enum class Weight {
    primary,  ///< the one thing to do next
    plain,    ///< everything else
    quiet,    ///< no surface until pressed
    danger,
};

struct Button {
    std::uint32_t id = 0;
    std::string label;   ///< what it is called, on screen and to a screen reader
    std::string spoken;  ///< if the screen shows less than a name needs ("Next" / "Next: Groups")
    Icon icon = Icon::none;
    Weight weight = Weight::plain;
    bool icon_only = false;
    bool icon_after = false;
    bool disabled = false;
    bool has_popup = false;
    float size = 17;
};

/// A push button that fills `r` (its target is at least 48 points high whatever it looks like).
void button(Ui& ui, const Rect& r, const Button& b, Action tap);

/// Does the label fit in a button of this width?
bool button_fits(Ui& ui, float width, const Button& b);
/// Two buttons side by side, or one under the other (the primary one first) where a label would
/// be cut.
void button_pair(Ui& ui, Column& column, float h, const Button& left, Action left_tap,
                 const Button& right, Action right_tap);

/// Something chosen or not: a pill. role=checkbox.
void toggle(Ui& ui, const Rect& r, std::uint32_t id, std::string_view label, bool on, Action tap);
/// How wide a pill with this label is.
float toggle_width(Ui& ui, std::string_view label);

/// One of a few, side by side. role=radio in a named group.
struct Choice {
    std::string label;
    bool on = false;
    Action tap;
};
void choices(Ui& ui, const Rect& r, std::string_view name, const std::vector<Choice>& all);

/// "Rounds   −  6  +": a number with two buttons. `change` gets the new value.
void stepper(Ui& ui, const Rect& r, std::string_view name, int value, int low, int high, int step,
             std::string_view unit, std::function<void(Act&, int)> change);

struct Field {
    std::string name;   ///< names the draft too; unique on the screen
    std::string label;  ///< drawn above, read out
    std::string hint;
    std::string value;
    std::string keyboard;  ///< "numeric", "name", or empty
    bool area = false;
    bool hide_label = false;
};
/// A real text field of the page: the canvas paints its frame, the mirror holds the text.
/// Without `edit` the text goes into View::drafts[name]; `done` runs on Enter or when it is left.
void text_field(Ui& ui, const Rect& r, const Field& field, TextAction done = {},
                TextAction edit = {});
/// A field to look for something in a long list, with a button that empties it. What is typed
/// is the draft of this name, and is returned as it is now.
std::string search_field(Ui& ui, Column& column, std::string_view name, std::string_view label,
                         const std::string& text);
/// What is said and offered where nothing was found.
void nothing_found(Ui& ui, Column& column, std::string_view name, const std::string& text);

/// Height of a one-line field with its label.
float field_height(Ui& ui, bool with_label = true);

/// A row that leads somewhere or does something: title, a second line, something at the right.
struct RowItem {
    std::uint32_t id = 0;
    std::string title;
    std::string detail;
    std::string spoken;  ///< if empty: title, detail
    Icon icon = Icon::none;
    Icon trailing = Icon::none;
    bool on = false;
    Role role = Role::button;  ///< button or checkbox
};
void row_item(Ui& ui, const Rect& r, const RowItem& item, Action tap, Action hold = {});
/// Height that a row of this width needs.
float row_height(Ui& ui, float width, const RowItem& item);

/// A small label with a surface, not touchable.
float badge(Ui& ui, float x, float y, std::string_view text, ImU32 surface, ImU32 ink);

/// A friendly block for a screen with nothing on it yet: what to do next, and the button for it.
float empty_state(Ui& ui, Column& column, Icon icon, std::string_view title, std::string_view text);

}  // namespace tallyround::ui
