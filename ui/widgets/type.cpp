#include "ui/widgets/type.h"

#include <algorithm>

#include "base/text.h"

namespace tallyround::ui {

namespace {

/// With `merge`, the font's letters stand in where the font added before has none.
ImFont* add_font(std::string_view bytes, bool merge = false) {
    ImFontConfig config;
    config.MergeMode = merge;
    config.FontDataOwnedByAtlas = false;
    config.OversampleH = 1;
    // ImGui takes a non-const pointer but only reads while it does not own the data.
    auto* data = const_cast<char*>(bytes.data());
    return ImGui::GetIO().Fonts->AddFontFromMemoryTTF(data, int(bytes.size()), 17.0F, &config);
}

float offset(Align align, float room, float used) {
    if (align == Align::center) return std::max(0.0F, (room - used) / 2);
    return align == Align::right ? std::max(0.0F, room - used) : 0.0F;
}

}  // namespace

Type::Type(const Fonts& fonts, TextPainter* painter) : painter_(painter) {
    regular_ = add_font(fonts.regular);
    bold_ = regular_;
    if (!fonts.bold.empty()) {
        bold_ = add_font(fonts.bold);
        add_font(fonts.regular, true);
    }
}

void Type::begin(ImDrawList* list, float scale) {
    list_ = list;
    scale_ = scale;
    cut_.clear();
    regular_->CurrentRasterizerDensity = scale;
    bold_->CurrentRasterizerDensity = scale;
}

bool Type::covered(std::string_view text, const Style& style) const {
    for (std::size_t at = 0; at < text.size();) {
        const char32_t c = base::next_code_point(text, at);
        if (c >= 0x80 && (c > 0xFFFF || !font(style)->IsGlyphInFont(ImWchar(c)))) return false;
    }
    return true;
}

float Type::run_width(std::string_view text, const Style& style, bool foreign) {
    if (foreign && painter_ != nullptr) {
        const auto picture = painter_->paint(std::string(text), full(style), scale_, style.bold);
        if (picture.texture != 0) return picture.width;
    }
    return font(style)
        ->CalcTextSizeA(full(style), 1e9F, 0, text.data(), text.data() + text.size())
        .x;
}

void Type::draw_run(float x, float y, std::string_view text, const Style& style, bool foreign) {
    if (foreign && painter_ != nullptr) {
        const auto p = painter_->paint(std::string(text), full(style), scale_, style.bold);
        if (p.texture != 0) {
            const float top = y + (full(style) - p.height) / 2;
            list_->AddImage(ImTextureRef(ImTextureID(p.texture)), {x, top},
                            {x + p.width, top + p.height}, {0, 0}, {p.u1, p.v1}, style.color);
            return;
        }
    }
    list_->AddText(font(style), full(style), {x, y}, style.color, text.data(),
                   text.data() + text.size());
}

std::vector<Type::Run> Type::runs(std::string_view text, const Style& style) {
    std::vector<Run> out;
    std::size_t at = 0;
    bool space = false;
    while (at < text.size()) {
        if (text[at] == ' ') {
            space = true;
            ++at;
            continue;
        }
        std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string_view word = text.substr(at, end - at);
        const bool foreign = !covered(word, style);
        if (foreign && space && !out.empty() && out.back().foreign) {
            // Neighbouring foreign words are one run: their order is the script's affair.
            Run& last = out.back();
            last.text = {last.text.data(), std::size_t(text.data() + end - last.text.data())};
        } else {
            out.push_back({word, 0, foreign, space && !out.empty()});
        }
        space = false;
        at = end;
    }
    for (Run& r : out)
        r.width = run_width(r.text, style, r.foreign);
    return out;
}

float Type::width(std::string_view text, const Style& style) {
    const float space = run_width(" ", style, false);
    float total = 0;
    for (const Run& r : runs(text, style))
        total += r.width + (r.space_before ? space : 0);
    return total;
}

std::string Type::shorten(std::string_view text, const Style& style, float room) {
    std::size_t low = 0;
    std::size_t high = base::length(text);
    while (low < high) {
        const std::size_t middle = (low + high + 1) / 2;
        const std::string cut = base::trim(base::first_code_points(text, middle)) + "…";
        if (width(cut, style) <= room) {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    return base::trim(base::first_code_points(text, low)) + "…";
}

std::size_t Type::fits(std::string_view text, const Style& style, bool foreign, float room) {
    std::vector<std::size_t> ends;
    for (std::size_t at = 0; at < text.size();) {
        base::next_code_point(text, at);
        ends.push_back(at);
    }
    // The last end that fits; a picture is painted for each try, so there are few.
    const auto over = std::partition_point(ends.begin() + 1, ends.end(), [&](std::size_t end) {
        return run_width(text.substr(0, end), style, foreign) <= room;
    });
    const std::size_t end = *(over - 1);
    const std::size_t space = end < text.size() ? text.rfind(' ', end) : std::string_view::npos;
    return space == std::string_view::npos || space == 0 ? end : space;
}

void Type::split_wide(std::vector<Run>& runs, const Style& style, float room) {
    for (std::size_t i = 0; i < runs.size(); ++i) {
        if (runs[i].width <= room + 0.5F) continue;
        const Run whole = runs[i];
        const std::size_t end = fits(whole.text, style, whole.foreign, room);
        std::string_view rest = whole.text.substr(end);
        const bool space = !rest.empty() && rest.front() == ' ';
        if (space) rest.remove_prefix(1);
        if (rest.empty()) continue;
        runs[i].text = whole.text.substr(0, end);
        runs[i].width = run_width(runs[i].text, style, whole.foreign);
        runs.insert(runs.begin() + std::ptrdiff_t(i) + 1,
                    {rest, run_width(rest, style, whole.foreign), whole.foreign, space});
    }
}

bool Type::stands_in(const Rect& box, std::string_view text, const Style& style) {
    float widest = 0;
    for (const Run& r : runs(text, style))
        widest = std::max(widest, r.width);
    if (widest > box.w + 0.5F) return false;
    return width(text, style) <= box.w + 0.5F ||
           paragraph({0, 0, box.w, 0}, text, style, false) <= box.h + 0.5F;
}

Style Type::fitting(const Rect& box, std::string_view text, Style style, float least) {
    while (style.size > least && !stands_in(box, text, style))
        style.size = std::max(least, style.size * 0.94F);
    return style;
}

void Type::line(const Rect& box, std::string_view text, const Style& wish) {
    if (text.empty() || box.w <= 0) return;
    Style style = wish;
    std::string cut;
    float used = width(text, style);
    if (used > box.w + 0.5F) {
        style = fitting(box, text, wish);
        used = width(text, style);
        if (used > box.w + 0.5F && stands_in(box, text, style)) {
            const float h = paragraph({0, 0, box.w, 0}, text, style, false);
            paragraph({box.x, box.y + (box.h - h) / 2, box.w, 0}, text, style);
            return;
        }
    }
    if (used > box.w + 0.5F || box.h < style.size) cut_.emplace_back(text);
    if (used > box.w + 0.5F) {
        cut = shorten(text, style, box.w);
        text = cut;
        used = width(text, style);
    }
    const float space = run_width(" ", style, false);
    float x = box.x + offset(style.align, box.w, used);
    const float y = box.y + (box.h - full(style)) / 2;
    for (const Run& r : runs(text, style)) {
        if (r.space_before) x += space;
        draw_run(x, y, r.text, style, r.foreign);
        x += r.width;
    }
}

float Type::paragraph(const Rect& box, std::string_view text, const Style& style, bool draw) {
    const float space = run_width(" ", style, false);
    const float step = line_height(style);
    float y = box.y;
    while (true) {
        const std::size_t newline = std::min(text.find('\n'), text.size());
        std::vector<Run> all = runs(text.substr(0, newline), style);
        split_wide(all, style, box.w);
        std::size_t first = 0;
        do {
            std::size_t last = first;
            float used = 0;
            while (last < all.size()) {
                const float more = all[last].width + (last > first ? space : 0);
                if (last > first && used + more > box.w) break;
                used += more;
                ++last;
            }
            if (draw) {
                float x = box.x + offset(style.align, box.w, used);
                for (std::size_t i = first; i < last; ++i) {
                    draw_run(x, y + (step - full(style)) / 2, all[i].text, style, all[i].foreign);
                    x += all[i].width + space;
                }
            }
            y += step;
            first = last;
        } while (first < all.size());
        if (newline >= text.size()) break;
        text.remove_prefix(newline + 1);
    }
    return y - box.y;
}

}  // namespace tallyround::ui
