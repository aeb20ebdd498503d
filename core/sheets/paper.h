#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sheets/measure.h"

namespace tallyround::sheets {

/// US letter (ANSI/ASME Y14.1: 8.5 × 11 in) or A4 (ISO 216: 210 × 297 mm).
enum class Paper { letter, a4 };

std::string_view paper_id(Paper paper);  ///< "letter", "a4"
std::optional<Paper> find_paper(std::string_view id);

/// White on every side, in mm: wider than what common printers cannot reach.
inline constexpr double margin = 12.7;

/// A length for a style: "12.5mm", to a hundredth.
std::string mm(double length);
/// "18pt".
std::string pt(double size);

/// `<tag class="…">inside</tag>`; `inside` is HTML.
std::string element(std::string_view tag, std::string_view cls, std::string_view inside);
/// A box at a place of its page or of the box around it, in mm. `inside` is HTML.
std::string box_at(double x, double y, double w, double h, std::string_view cls,
                   std::string_view inside);
/// The text on lines of `line_height` mm at this size, escaped.
std::string line_box(std::string_view tag, const Face& face, double line_height,
                     std::string_view text, std::string_view style = {});

/// Pages in the making. Every page is a box of fixed size with its own end, so the number of pages
/// is known and the same in every browser; whatever goes in has a height that was measured.
class Pages {
  public:
    /// `head`: left and right of a thin running head; without text there is none.
    Pages(Paper paper, bool landscape, std::string left = {}, std::string right = {});

    double width() const { return width_; }
    double height() const { return height_ - head_; }  ///< what a page holds below the head
    double left_over() const { return pages_.empty() ? 0 : height() - used_; }

    /// Starts a page.
    void page();
    /// HTML of this height, on the next page if this one has no room for it.
    void add(std::string_view html, double height);
    /// Lets `height` mm pass, or the page end.
    void gap(double height);
    /// A paragraph that goes on over as many pages as it takes.
    void paragraph(std::string_view text, const Face& face, double after = 2,
                   std::string_view mark = {});

    int count() const { return int(pages_.size()); }
    bool landscape() const { return landscape_; }
    /// All pages, as HTML.
    std::string body() const;

  private:
    bool landscape_;
    double width_;
    double height_;
    double head_;
    double used_ = 0;
    std::string left_;
    std::string right_;
    std::vector<std::string> pages_;
};

/// The styles that every sheet uses, for this paper.
std::string page_css(Paper paper, bool landscape);

}  // namespace tallyround::sheets
