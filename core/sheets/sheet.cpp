#include "sheets/sheet.h"

#include <algorithm>
#include <array>

#include "sheets/center_set.h"
#include "sheets/html.h"
#include "sheets/parts.h"

namespace tallyround::sheets {

namespace {

/// What a plan must have before a sheet can be made.
enum class Needs : std::uint8_t { centers, groups, chart };

struct Entry {
    SheetKind kind;
    Needs needs;
    void (*make)(Pages&, Printer&);
    bool has_head;
};

constexpr std::array<Entry, 12> entries{{
    {{"cards", "Task cards", "Problems to cut out, for each center in its own form"},
     Needs::centers,
     task_cards,
     false},
    {{"keys", "Answer keys", "Answers, steps, and what a wrong answer tells"},
     Needs::centers,
     answer_keys,
     true},
    {{"instructions", "Center instructions", "What to do at each center, step by step"},
     Needs::centers,
     center_instructions,
     true},
    {{"signs", "Table signs", "To fold over and stand up at each center"},
     Needs::centers,
     table_signs,
     false},
    {{"groups", "Group name cards", "Who sits together, one card a group"},
     Needs::groups,
     group_cards,
     false},
    {{"chart", "Rotation chart poster", "Who is where in each round, for the wall", true},
     Needs::chart,
     chart_poster,
     false},
    {{"handouts", "Rotation hand-outs", "Each group's own way through the rounds"},
     Needs::chart,
     chart_handouts,
     false},
    {{"procedures", "Procedures poster", "How we move and work, for the wall"},
     Needs::centers,
     procedures_poster,
     false},
    {{"checklist", "Prep checklist", "What to print, copy, count and put out"},
     Needs::centers,
     prep_checklist,
     true},
    {{"boxes", "Box labels", "One for each center's box, with what belongs in it"},
     Needs::centers,
     box_labels,
     false},
    {{"substitute", "Note for a substitute", "The lesson on one page"},
     Needs::chart,
     substitute_note,
     false},
    {{"makeup", "Make-up list", "What absent students have missed"},
     Needs::centers,
     makeup_list,
     true},
}};

constexpr std::array<SheetKind, entries.size()> kinds = [] {
    std::array<SheetKind, entries.size()> all{};
    for (std::size_t i = 0; i < entries.size(); ++i)
        all[i] = entries[i].kind;
    return all;
}();

std::string lacking(const PrepBox& box, Needs needs) {
    if (box.centers.empty()) return "There are no centers yet: add some first.";
    if (needs == Needs::centers) return "";
    if (box.groups.empty()) return "There are no groups yet: make them first.";
    if (needs == Needs::chart && !box.has_chart)
        return "There is no rotation chart yet: make it first.";
    return "";
}

}  // namespace

std::span<const SheetKind> sheet_kinds() {
    return kinds;
}

const SheetKind* find_sheet_kind(std::string_view id) {
    const auto it = std::find_if(kinds.begin(), kinds.end(),
                                 [&](const SheetKind& kind) { return kind.id == id; });
    return it == kinds.end() ? nullptr : &*it;
}

namespace {

base::Result<Sheet> made(std::string_view kind, Printer& printer) {
    const SheetKind* known = find_sheet_kind(kind);
    if (known == nullptr)
        return base::fail("kind", "There is no sheet \"" + std::string(kind) + "\".");
    const Entry& entry = entries[std::size_t(known - kinds.data())];
    const std::string lacks = lacking(printer.box(), entry.needs);
    if (!lacks.empty()) return base::fail("", lacks);
    std::string left;
    std::string right;
    if (entry.has_head) {
        left = known->title;
        if (!printer.box().block_title.empty()) left += " · " + printer.box().block_title;
        right = printer.box().class_name;
    }
    Pages pages(printer.choices().paper, known->landscape, left, right);
    entry.make(pages, printer);
    return Sheet{known, pages.count(), pages.body()};
}

}  // namespace

Printer::Printer(PrepBox box, SheetChoices choices, PictureSource pictures)
    : box_(std::move(box)), choices_(std::move(choices)), pictures_(std::move(pictures)) {}
Printer::~Printer() = default;
Printer::Printer(Printer&&) noexcept = default;
Printer& Printer::operator=(Printer&&) noexcept = default;

const base::Result<Sheet>& Printer::sheet(std::string_view kind) {
    const auto there = sheets_.find(kind);
    if (there != sheets_.end()) return there->second;
    return sheets_.emplace(std::string(kind), made(kind, *this)).first->second;
}

const CenterSet& Printer::set(const CenterBox& center) {
    std::unique_ptr<CenterSet>& set = sets_[center.number];
    if (!set) set = std::make_unique<CenterSet>(center_set(center, choices_));
    return *set;
}

std::string sheet_html(std::string_view title, std::span<const Sheet> sheets, Paper paper) {
    const bool landscape = !sheets.empty() && sheets.front().kind->landscape;
    std::string body;
    for (const Sheet& sheet : sheets)
        body += sheet.body;
    return html_page(title, page_css(paper, landscape), body);
}

}  // namespace tallyround::sheets
