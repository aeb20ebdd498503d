#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "model/state.h"
#include "sheets/sheet.h"
#include "ui/effects.h"

namespace tallyround::ui {

/// Sheets of a block as one page for the printer.
struct Printout {
    PrintPage page;
    std::vector<const sheets::SheetKind*> kinds;  ///< those that could be made
};
/// Sheets that lie the same way. Error: none of them could be made, and why the last one could not.
base::Result<Printout> print_out(const model::Class& cls, const model::Block& block,
                                 const std::vector<const sheets::SheetKind*>& kinds,
                                 const sheets::SheetChoices& choices);

/// The sheets of the block on screen, made once and again when something they say has changed.
class PrintDesk {
  public:
    struct Row {
        const sheets::SheetKind* kind = nullptr;
        int pages = 0;
        std::string lacks;  ///< what the plan needs for it; empty when it can be printed
    };

    void update(const model::Class& cls, const model::Block& block,
                const sheets::SheetChoices& choices);
    const std::vector<Row>& rows() const { return rows_; }
    /// What the sheets say, as of the last update.
    const sheets::PrepBox& box() const { return box_; }

  private:
    sheets::PrepBox box_;
    std::optional<sheets::PrepBox> seen_;  ///< what the rows were made from
    std::optional<sheets::SheetChoices> made_for_;
    std::vector<Row> rows_;
};

}  // namespace tallyround::ui
