#pragma once
#include <imgui.h>

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace tallyround::ui {

enum class Look { light, dark, contrast };

/// Every colour that the app draws with. Text colours reach 4.5:1 on the surfaces they are used on
/// (`text_pairs`); state is never told by colour alone.
struct Theme {
    ImU32 paper = 0;        ///< behind everything
    ImU32 card = 0;         ///< raised surface
    ImU32 sunk = 0;         ///< wells: fields, tracks, table stripes
    ImU32 line = 0;         ///< hairlines and outlines of controls
    ImU32 ink = 0;          ///< text
    ImU32 ink_soft = 0;     ///< second-rank text
    ImU32 accent = 0;       ///< the one accent: primary buttons, the step you are on
    ImU32 on_accent = 0;    ///< text on it
    ImU32 accent_soft = 0;  ///< selected surfaces
    ImU32 secure = 0;       ///< fills of the three levels (Okabe & Ito 2008 palette)
    ImU32 shaky = 0;
    ImU32 stuck = 0;
    ImU32 on_level = 0;  ///< text and shapes on those fills
    ImU32 alert = 0;     ///< time is up, not saved
    ImU32 on_alert = 0;
    ImU32 shade = 0;  ///< over what lies behind a sheet
    ImU32 focus = 0;
    bool outlines = false;  ///< high contrast: every surface gets a strong outline
};

Theme make_theme(Look look);

/// A foreground on a background that text is really drawn with.
struct TextPair {
    std::string_view what;
    ImU32 text;
    ImU32 surface;
};
std::vector<TextPair> text_pairs(const Theme& theme);

/// WCAG 2.2 relative luminance of an opaque colour, 0..1, and contrast ratio, 1..21.
double luminance(ImU32 color);
double contrast(ImU32 a, ImU32 b);

/// "#rrggbb" for the page's text fields.
std::string css(ImU32 color);
/// The same colour at another opacity, 0..1.
ImU32 fade(ImU32 color, float opacity);

// Type scale in points at 100 %; multiplied by the text scale.
inline constexpr float small_size = 14;
inline constexpr float body_size = 17;
inline constexpr float lead_size = 20;
inline constexpr float title_size = 26;
inline constexpr float clock_size = 44;

// The 8-point grid.
inline constexpr float gap = 8;
inline constexpr float pad = 16;
inline constexpr float touch = 48;  ///< the least side of a target
inline constexpr float corner = 10;

}  // namespace tallyround::ui
