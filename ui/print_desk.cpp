#include "ui/print_desk.h"

#include "session/prep.h"

namespace tallyround::ui {

void PrintDesk::update(const model::Class& cls, const model::Block& block,
                       const sheets::SheetChoices& choices) {
    sheets::PrepBox box = session::prep_box(cls, block);
    // What is ready and in stock changes a list's words, hardly ever its pages.
    box.ticked.clear();
    box.stock.clear();
    if (seen_ == box && made_for_ == choices) return;
    seen_ = box;
    made_for_ = choices;
    rows_.clear();
    sheets::Printer printer(std::move(box), choices);
    for (const sheets::SheetKind& kind : sheets::sheet_kinds()) {
        const auto& sheet = printer.sheet(kind.id);
        rows_.push_back({&kind, sheet ? sheet->pages : 0, sheet ? "" : sheet.error().message});
    }
}

}  // namespace tallyround::ui
