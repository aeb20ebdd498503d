#include "sheets/measure.h"

#include <algorithm>
#include <array>

#include "base/text.h"

namespace tallyround::sheets {

namespace {

/// Helvetica's advance widths in 1/1000 em, from the blank to "~".
constexpr std::array<int, 95> plain_widths{
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333,  278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667,  611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278,  556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500,  500, 334, 260, 334, 584};

constexpr double widest_face = 1.2;
constexpr double bold_factor = 1.12;

double em_of(char32_t c) {
    if (c >= 0x20 && c < 0x7f) return plain_widths[c - 0x20] / 1000.0 * widest_face;
    const bool combining = (c >= 0x300 && c < 0x370) || (c >= 0x200b && c < 0x2010);
    if (combining) return 0;
    if (c < 0x590) return 0.86;                  // Latin, Greek, Cyrillic, Armenian
    if (c < 0x900) return 0.8;                   // Hebrew, Arabic and their neighbours
    if (c < 0x1100) return 1.0;                  // scripts of India and South-East Asia
    if (c >= 0x2000 && c < 0x2c00) return 0.95;  // punctuation, arrows, mathematics
    return c > 0xffff ? 1.5 : 1.1;               // East Asia; pictographs
}

double width_of(std::string_view utf8, std::size_t& at, const Face& face) {
    return em_of(base::next_code_point(utf8, at)) * face.pt * mm_of_pt *
           (face.bold ? bold_factor : 1);
}

/// Lines in the making: words come in, lines go out.
class Setter {
  public:
    Setter(double width, const Face& face) : width_(width), face_(face) {}

    void word(std::string_view text) {
        const double w = text_width(text, face_);
        const double blank = line_.empty() ? 0 : text_width(" ", face_);
        if (used_ + blank + w <= width_) {
            if (!line_.empty()) line_ += ' ';
            line_ += text;
            used_ += blank + w;
            return;
        }
        end_line();
        if (w <= width_) {
            line_ = text;
            used_ = w;
            return;
        }
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t from = at;
            const double letter = width_of(text, at, face_);
            if (used_ + letter > width_ && !line_.empty()) end_line();
            line_ += text.substr(from, at - from);
            used_ += letter;
        }
    }
    void end_line() {
        if (!line_.empty()) lines_.push_back(std::move(line_));
        line_.clear();
        used_ = 0;
    }
    std::vector<std::string> take() { return std::move(lines_); }

  private:
    double width_;
    Face face_;
    std::vector<std::string> lines_;
    std::string line_;
    double used_ = 0;
};

template <class Each>
void each_word(std::string_view utf8, Each each) {
    for (std::size_t at = 0; at < utf8.size();) {
        const std::size_t end = std::min(utf8.find_first_of(" \n\r\t", at), utf8.size());
        if (end > at) each(utf8.substr(at, end - at));
        at = end + 1;
    }
}

}  // namespace

double text_width(std::string_view utf8, const Face& face) {
    double width = 0;
    for (std::size_t at = 0; at < utf8.size();)
        width += width_of(utf8, at, face);
    return width;
}

std::vector<std::string> wrap(std::string_view utf8, double width, const Face& face) {
    Setter setter(width, face);
    each_word(utf8, [&](std::string_view word) { setter.word(word); });
    setter.end_line();
    return setter.take();
}

int lines_of(std::string_view utf8, double width, const Face& face) {
    return std::max(1, int(wrap(utf8, width, face).size()));
}

double fitting_size(std::string_view utf8, double width, int lines, double largest, double least,
                    bool bold) {
    for (double pt = largest; pt >= least; pt -= 1) {
        const Face face{pt, bold};
        double widest = 0;
        each_word(utf8,
                  [&](std::string_view w) { widest = std::max(widest, text_width(w, face)); });
        if (widest <= width && lines_of(utf8, width, face) <= lines) return pt;
    }
    return 0;
}

std::string shortened(std::string_view utf8, double width, int lines, const Face& face) {
    std::vector<std::string> all = wrap(utf8, width, face);
    std::string out;
    const bool whole = int(all.size()) <= lines;
    if (!whole) all.resize(std::size_t(lines));
    for (const std::string& line : all)
        out += (out.empty() ? "" : " ") + line;
    if (whole) return out;
    while (!out.empty() && lines_of(out + "…", width, face) > lines) {
        out.pop_back();
        while (!out.empty() && !base::is_utf8(out))
            out.pop_back();
    }
    return out + "…";
}

}  // namespace tallyround::sheets
