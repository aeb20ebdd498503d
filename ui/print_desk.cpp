#include "ui/print_desk.h"

#include "session/prep.h"

namespace tallyround::ui {

base::Result<Printout> print_out(const model::Class& cls, const model::Block& block,
                                 const std::vector<const sheets::SheetKind*>& kinds,
                                 const sheets::SheetChoices& choices) {
    sheets::Printer printer(session::prep_box(cls, block), choices, session::pictures_of(cls));
    std::vector<sheets::Sheet> made;
    Printout out;
    std::string lacks;
    for (const sheets::SheetKind* kind : kinds) {
        const auto& sheet = printer.sheet(kind->id);
        if (!sheet) {
            lacks = sheet.error().text();
            continue;
        }
        made.push_back(*sheet);
        out.kinds.push_back(kind);
    }
    if (made.empty()) return base::fail("", lacks);
    const std::string title = made.size() == 1 ? std::string(made.front().kind->title)
                                               : "Sheets for " + printer.box().block_title;
    out.page = {title, sheets::sheet_html(title, made, choices.paper)};
    return out;
}

void PrintDesk::update(const model::Class& cls, const model::Block& block,
                       const sheets::SheetChoices& choices) {
    box_ = session::prep_box(cls, block);
    // What is ready and in stock changes a list's words, hardly ever its pages.
    sheets::PrepBox box = box_;
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
