#pragma once
#include <cstdint>
#include <map>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "cards/generate.h"
#include "sheets/paper.h"
#include "sheets/prep_box.h"

namespace tallyround::sheets {

/// A kind of sheet: what it is called and how it is made.
struct SheetKind {
    std::string_view id;       ///< [a-z-], for files and the command line
    std::string_view title;    ///< as a teacher would say it
    std::string_view purpose;  ///< one line
    bool landscape = false;
};

/// Every kind, in the order in which a teacher would print them.
std::span<const SheetKind> sheet_kinds();
const SheetKind* find_sheet_kind(std::string_view id);

struct SheetChoices {
    Paper paper = Paper::letter;
    int per_page = 4;  ///< cards: 2, 4 or 8; long problems get larger cards
    std::vector<cards::Tier> tiers = {cards::Tier::support, cards::Tier::core,
                                      cards::Tier::stretch};
    int cards = 4;  ///< for each tier of a center, 1..100
    std::uint64_t seed = 1;
    bool names = false;  ///< the note for a substitute names the students
    friend bool operator==(const SheetChoices&, const SheetChoices&) = default;
};

/// A sheet ready for paper.
struct Sheet {
    const SheetKind* kind = nullptr;
    int pages = 0;
    std::string body;
};

struct CenterSet;

/// Makes the sheets of one block; what several of them need is made once.
class Printer {
  public:
    /// Without `pictures` sheets are laid out the same and show the words in their place.
    Printer(PrepBox box, SheetChoices choices, PictureSource pictures = {});
    ~Printer();
    Printer(Printer&&) noexcept;
    Printer& operator=(Printer&&) noexcept;

    const PrepBox& box() const { return box_; }
    const SheetChoices& choices() const { return choices_; }
    /// Errors: a kind that does not exist, or what the plan lacks for it ("There is no chart yet").
    const base::Result<Sheet>& sheet(std::string_view kind);
    /// What is cut out for a center of the box.
    const CenterSet& set(const CenterBox& center);

    std::string picture(std::string_view id) const { return pictures_ ? pictures_(id) : ""; }

  private:
    PrepBox box_;
    SheetChoices choices_;
    PictureSource pictures_;
    std::map<std::string, base::Result<Sheet>, std::less<>> sheets_;
    std::map<int, std::unique_ptr<CenterSet>> sets_;
};

/// A self-contained page (no script, nothing loaded) of sheets that lie the same way.
std::string sheet_html(std::string_view title, std::span<const Sheet> sheets, Paper paper);

/// Cautions where they belong; empty when the kind needs none.
std::string_view caution_for(std::string_view center_kind);
inline constexpr std::string_view practice_notice =
    "Cards are practice. They are not an assessment instrument.";

}  // namespace tallyround::sheets
