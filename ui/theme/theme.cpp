#include "ui/theme/theme.h"

#include <algorithm>
#include <cmath>

namespace tallyround::ui {

namespace {

constexpr ImU32 rgb(unsigned hex) {
    return IM_COL32((hex >> 16U) & 255U, (hex >> 8U) & 255U, hex & 255U, 255U);
}

double channel(ImU32 color, unsigned shift) {
    const double c = double((color >> shift) & 255U) / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

Theme light() {
    Theme t;
    t.paper = rgb(0xF6F2E8);
    t.card = rgb(0xFFFDF8);
    t.sunk = rgb(0xECE6D8);
    t.line = rgb(0x8F8672);
    t.ink = rgb(0x22282B);
    t.ink_soft = rgb(0x545B5C);
    t.accent = rgb(0x155E63);
    t.on_accent = rgb(0xFFFFFF);
    t.accent_soft = rgb(0xD3E6E3);
    t.alert = rgb(0x9A3412);
    t.on_alert = rgb(0xFFFFFF);
    t.shade = IM_COL32(25, 30, 32, 130);
    t.focus = rgb(0x0B3C8C);
    return t;
}

Theme dark() {
    Theme t;
    t.paper = rgb(0x171C1E);
    t.card = rgb(0x222A2C);
    t.sunk = rgb(0x101415);
    t.line = rgb(0x7C8888);
    t.ink = rgb(0xF1EDE2);
    t.ink_soft = rgb(0xB9BDB6);
    t.accent = rgb(0x7CC7BD);
    t.on_accent = rgb(0x0E2524);
    t.accent_soft = rgb(0x2C4645);
    t.alert = rgb(0xF0A27C);
    t.on_alert = rgb(0x2A1006);
    t.shade = IM_COL32(0, 0, 0, 160);
    t.focus = rgb(0xF0E442);
    return t;
}

Theme high_contrast() {
    Theme t;
    t.paper = rgb(0xFFFFFF);
    t.card = rgb(0xFFFFFF);
    t.sunk = rgb(0xFFFFFF);
    t.line = rgb(0x000000);
    t.ink = rgb(0x000000);
    t.ink_soft = rgb(0x1C1C1C);
    t.accent = rgb(0x00323A);
    t.on_accent = rgb(0xFFFFFF);
    t.accent_soft = rgb(0xE3F1F0);
    t.alert = rgb(0x7A1D00);
    t.on_alert = rgb(0xFFFFFF);
    t.shade = IM_COL32(0, 0, 0, 190);
    t.focus = rgb(0x0000C0);
    t.outlines = true;
    return t;
}

}  // namespace

Theme make_theme(Look look) {
    Theme t = look == Look::light ? light() : look == Look::dark ? dark() : high_contrast();
    // Sky blue, orange and reddish purple of Okabe & Ito (2008), "Color Universal Design": told
    // apart with the common color vision deficiencies. They carry dark shapes and text.
    t.secure = rgb(0x56B4E9);
    t.shaky = rgb(0xE69F00);
    t.stuck = rgb(0xCC79A7);
    t.on_level = rgb(0x14181A);
    return t;
}

std::vector<TextPair> text_pairs(const Theme& t) {
    return {{"text on paper", t.ink, t.paper},
            {"text on a card", t.ink, t.card},
            {"text in a well", t.ink, t.sunk},
            {"second-rank text on paper", t.ink_soft, t.paper},
            {"second-rank text on a card", t.ink_soft, t.card},
            {"second-rank text in a well", t.ink_soft, t.sunk},
            {"text on the accent", t.on_accent, t.accent},
            {"accent as text on paper", t.accent, t.paper},
            {"accent as text on a card", t.accent, t.card},
            {"text on a selected surface", t.ink, t.accent_soft},
            {"accent text on a selected surface", t.accent, t.accent_soft},
            {"second-rank text on a selected surface", t.ink_soft, t.accent_soft},
            {"text on secure", t.on_level, t.secure},
            {"text on shaky", t.on_level, t.shaky},
            {"text on stuck", t.on_level, t.stuck},
            {"alert as text on paper", t.alert, t.paper},
            {"alert as text on a card", t.alert, t.card},
            {"text on an alert", t.on_alert, t.alert}};
}

double luminance(ImU32 color) {
    return 0.2126 * channel(color, IM_COL32_R_SHIFT) + 0.7152 * channel(color, IM_COL32_G_SHIFT) +
           0.0722 * channel(color, IM_COL32_B_SHIFT);
}

double contrast(ImU32 a, ImU32 b) {
    const auto [low, high] = std::minmax({luminance(a), luminance(b)});
    return (high + 0.05) / (low + 0.05);
}

std::string css(ImU32 color) {
    static constexpr char hex[] = "0123456789abcdef";
    std::string out = "#";
    for (const unsigned shift : {IM_COL32_R_SHIFT, IM_COL32_G_SHIFT, IM_COL32_B_SHIFT}) {
        const unsigned byte = (color >> shift) & 255U;
        out += hex[byte >> 4U];
        out += hex[byte & 15U];
    }
    return out;
}

ImU32 fade(ImU32 color, float opacity) {
    const auto alpha = unsigned(std::lround(std::clamp(opacity, 0.0F, 1.0F) * 255.0F));
    return (color & ~IM_COL32_A_MASK) | (alpha << IM_COL32_A_SHIFT);
}

}  // namespace tallyround::ui
