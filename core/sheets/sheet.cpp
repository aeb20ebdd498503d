#include "sheets/sheet.h"

#include <algorithm>
#include <array>

#include "sheets/html.h"
#include "sheets/parts.h"

namespace tallyround::sheets {

namespace {

/// What a plan must have before a sheet can be made.
enum class Needs : std::uint8_t { centers, groups, chart };

struct Entry {
    SheetKind kind;
    Needs needs;
    void (*make)(Pages&, const PrepBox&, const SheetChoices&);
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

base::Result<Sheet> make_sheet(std::string_view kind, const PrepBox& box,
                               const SheetChoices& choices) {
    const SheetKind* known = find_sheet_kind(kind);
    if (known == nullptr)
        return base::fail("kind", "There is no sheet \"" + std::string(kind) + "\".");
    const Entry& entry = entries[std::size_t(known - kinds.data())];
    const std::string lacks = lacking(box, entry.needs);
    if (!lacks.empty()) return base::fail("", lacks);
    std::string left;
    std::string right;
    if (entry.has_head) {
        left = known->title;
        if (!box.block_title.empty()) left += " · " + box.block_title;
        right = box.class_name;
    }
    Pages pages(choices.paper, known->landscape, left, right);
    entry.make(pages, box, choices);
    return Sheet{known, pages.count(), pages.body()};
}

std::string sheet_html(std::string_view title, std::span<const Sheet> sheets, Paper paper) {
    const bool landscape = !sheets.empty() && sheets.front().kind->landscape;
    std::string body;
    for (const Sheet& sheet : sheets)
        body += sheet.body;
    return html_page(title, page_css(paper, landscape), body);
}

}  // namespace tallyround::sheets
