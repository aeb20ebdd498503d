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

void Type::line(const Rect& box, std::string_view text, const Style& style) {
    if (text.empty() || box.w <= 0) return;
    float used = width(text, style);
    std::string cut;
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
        const std::vector<Run> all = runs(text.substr(0, newline), style);
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
