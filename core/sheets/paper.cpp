#include "sheets/paper.h"

#include <algorithm>
#include <cmath>

#include "sheets/html.h"

namespace tallyround::sheets {

namespace {

/// A little less than the paper leaves, so that rounding in a browser never makes a page of it.
constexpr double slack = 0.5;
constexpr double head_height = 9;
constexpr double line_factor = 1.32;

struct Size {
    double w;
    double h;
};

Size inner_size(Paper paper, bool landscape) {
    const Size all = paper == Paper::letter ? Size{215.9, 279.4} : Size{210, 297};
    const Size lying = landscape ? Size{all.h, all.w} : all;
    return {lying.w - 2 * margin - slack, lying.h - 2 * margin - slack};
}

std::string hundredths(double value) {
    const auto n = static_cast<long long>(std::llround(value * 100));
    const auto rest = static_cast<int>(std::llabs(n) % 100);
    std::string out = (n < 0 ? "-" : "") + std::to_string(std::llabs(n) / 100);
    if (rest > 0) out += "." + std::string(rest < 10 ? "0" : "") + std::to_string(rest);
    return out;
}

}  // namespace

std::string_view paper_id(Paper paper) {
    return paper == Paper::letter ? "letter" : "a4";
}

std::optional<Paper> find_paper(std::string_view id) {
    for (const Paper paper : {Paper::letter, Paper::a4})
        if (paper_id(paper) == id) return paper;
    return std::nullopt;
}

std::string mm(double length) {
    return hundredths(length) + "mm";
}

std::string pt(double size) {
    return hundredths(size) + "pt";
}

std::string element(std::string_view tag, std::string_view cls, std::string_view inside) {
    std::string out = "<" + std::string(tag);
    if (!cls.empty()) out += " class=\"" + std::string(cls) + "\"";
    return out + ">" + std::string(inside) + "</" + std::string(tag) + ">";
}

std::string box_at(double x, double y, double w, double h, std::string_view cls,
                   std::string_view inside) {
    std::string out = "<div class=\"at";
    if (!cls.empty()) out += " " + std::string(cls);
    out += "\" style=\"left:" + mm(x) + ";top:" + mm(y) + ";width:" + mm(w) + ";height:" + mm(h);
    return out + "\">" + std::string(inside) + "</div>";
}

std::string line_box(std::string_view tag, const Face& face, double line_height,
                     std::string_view text, std::string_view style) {
    std::string out = "<" + std::string(tag) + " style=\"font-size:" + pt(face.pt) +
                      ";line-height:" + mm(line_height);
    if (face.bold) out += ";font-weight:700";
    if (!style.empty()) out += ";" + std::string(style);
    return out + "\">" + escape_html(text) + "</" + std::string(tag) + ">";
}

Pages::Pages(Paper paper, bool landscape, std::string left, std::string right)
    : landscape_(landscape),
      width_(inner_size(paper, landscape).w),
      height_(inner_size(paper, landscape).h),
      head_(left.empty() && right.empty() ? 0 : head_height),
      left_(std::move(left)),
      right_(std::move(right)) {}

void Pages::page() {
    pages_.emplace_back();
    used_ = 0;
}

void Pages::add(std::string_view html, double height) {
    if (pages_.empty() || (used_ > 0 && used_ + height > this->height())) page();
    pages_.back() += html;
    used_ += height;
}

void Pages::gap(double height) {
    if (pages_.empty() || used_ == 0) return;
    if (used_ + height > this->height()) {
        page();
        return;
    }
    pages_.back() += "<div style=\"height:" + mm(height) + "\"></div>";
    used_ += height;
}

void Pages::paragraph(std::string_view text, const Face& face, double after,
                      std::string_view mark) {
    const double line = face.pt * mm_of_pt * line_factor;
    const double indent = mark.empty() ? 0 : std::max(8.0, text_width(mark, face) + 2);
    const std::vector<std::string> all = wrap(text, width_ - indent, face);
    for (std::size_t from = 0; from < all.size();) {
        if (pages_.empty() || left_over() < line) page();
        const auto room = std::max<std::size_t>(1, std::size_t(left_over() / line));
        const std::size_t to = std::min(all.size(), from + room);
        std::string part;
        for (std::size_t i = from; i < to; ++i)
            part += (part.empty() ? "" : " ") + all[i];
        std::string html;
        if (indent > 0 && from == 0)
            html += line_box("b", face, line, mark, "position:absolute;left:0");
        html += line_box("p", face, line, part, indent > 0 ? "padding-left:" + mm(indent) : "");
        add("<div class=\"in\">" + html + "</div>", double(to - from) * line);
        from = to;
    }
    gap(after);
}

std::string Pages::body() const {
    std::string out;
    int number = 0;
    for (const std::string& page : pages_) {
        ++number;
        out += "<section class=\"page\">";
        if (head_ > 0) {
            const Face small{9, false};
            std::string right = shortened(right_, width_ * 0.33, 1, small);
            if (count() > 1) {
                right += (right.empty() ? "" : " · ") + std::to_string(number) + " of " +
                         std::to_string(count());
            }
            const std::string left = shortened(left_, width_ * 0.55, 1, small);
            out += "<header><span>" + escape_html(left) + "</span><span>" + escape_html(right) +
                   "</span></header>";
        }
        out += page + "</section>";
    }
    return out;
}

std::string page_css(Paper paper, bool landscape) {
    const Size inner = inner_size(paper, landscape);
    std::string css = "@page{size:" + std::string(paper == Paper::a4 ? "A4" : "letter") +
                      (landscape ? " landscape" : " portrait") + ";margin:" + mm(margin) + "}";
    css += ".page{width:" + mm(inner.w) + ";height:" + mm(inner.h) + "}";
    css += R"(
*{box-sizing:border-box;margin:0;padding:0}
body{font:12pt/1.32 "Helvetica Neue",Arial,"Liberation Sans",Roboto,sans-serif;color:#111;
background:#fff;-webkit-print-color-adjust:exact;print-color-adjust:exact}
.page{position:relative;overflow-wrap:anywhere;break-after:page;break-inside:avoid}
.page:last-child{break-after:auto}
.page header{height:9mm;font-size:9pt;line-height:5mm;display:flex;justify-content:space-between;
white-space:nowrap;color:#333}
.at{position:absolute}
.in{position:relative}
.ring{display:inline-flex;align-items:center;justify-content:center;border-radius:50%;
border:.9mm solid #111;font-weight:700;background:#fff}
.mid{display:flex;flex-direction:column;align-items:center;justify-content:center;
text-align:center}
.side{display:flex;justify-content:space-between;align-items:center}
.cut{border:.25mm dashed #777}
.tick{display:inline-block;border:.45mm solid #111;border-radius:.8mm;background:#fff}
.band{border-top:.9mm solid #111}
.thin{border-top:.25mm solid #999}
.fold{border-top:.3mm dotted #555}
.row{border-bottom:.25mm solid #999}
.shade{background:#f1f1f1}
.tall{display:flex;flex-direction:column;justify-content:center}
.ink{background:#111}
.cell{border:.5mm solid #111;margin:-.25mm}
.free{background:#ddd}
.turned{transform:rotate(180deg)}
.fr{display:inline-flex;flex-direction:column;vertical-align:middle;text-align:center;
line-height:1.02em;margin:0 .08em}
.fr span:first-child{border-bottom:.09em solid #111;padding:0 .12em}
@media screen{body{background:#e9e6de}.page{box-sizing:content-box;padding:12.7mm;
margin:8mm auto;background:#fff;box-shadow:0 .4mm 2mm #0004}}
)";
    return css;
}

}  // namespace tallyround::sheets
