#include <algorithm>

#include "base/text.h"
#include "session/prep.h"
#include "sheets/supplies.h"
#include "ui/screens/prep_parts.h"

namespace tallyround::ui {

namespace {

bool is_left(const View& view, std::string_view kind) {
    return view.print_left.count(std::string(kind)) > 0;
}

std::string print_key(std::string_view kind) {
    return "print/" + std::string(kind);
}

bool is_ready(const model::Block& block, const std::string& key) {
    return std::find(block.ready.begin(), block.ready.end(), key) != block.ready.end();
}

/// What lies in the queue and can be printed in one go: sheets that lie the same way.
struct Job {
    std::vector<const sheets::SheetKind*> kinds;
    int pages = 0;
};

Job next_job(const Scene& scene) {
    for (const bool landscape : {false, true}) {
        Job job;
        for (const PrintDesk::Row& row : scene.desk->rows()) {
            if (row.kind->landscape != landscape || !is_left(scene.view, row.kind->id) ||
                !row.lacks.empty())
                continue;
            job.kinds.push_back(row.kind);
            job.pages += row.pages;
        }
        if (!job.kinds.empty()) return job;
    }
    return {};
}

Action print(const Scene& scene, const Job& job) {
    return [cls_id = scene.cls->id, block_id = scene.block->id, kinds = job.kinds](Act& act) {
        const model::Class* cls = act.state().find_class(cls_id);
        const model::Block* block = cls == nullptr ? nullptr : cls->block(block_id);
        if (block == nullptr) return;
        const auto out = print_out(*cls, *block, kinds, act.view.print);
        if (!out) return;
        act.fx.emplace_back(out->page);
        for (const sheets::SheetKind* kind : out->kinds) {
            act.view.print_left.erase(std::string(kind->id));
            act.send(session::SetReady{cls_id, block_id, print_key(kind->id), true}, Reply::aloud);
        }
    };
}

void choice_rows(Ui& ui, const Scene& scene, Column& column) {
    const sheets::SheetChoices& now = scene.view.print;
    const auto label = [&](const char* words) {
        column.y += ui.paragraph(words, {column.x, column.y, column.w, 0}, ui.soft());
        column.skip(2);
    };
    label("Paper");
    choices(ui, column.row(touch), "Paper",
            {{"Letter", now.paper == sheets::Paper::letter,
              [](Act& act) { act.view.print.paper = sheets::Paper::letter; }},
             {"A4", now.paper == sheets::Paper::a4,
              [](Act& act) { act.view.print.paper = sheets::Paper::a4; }}});
    label("Cards a page");
    std::vector<Choice> sizes;
    for (const int n : {2, 4, 8}) {
        sizes.push_back(
            {std::to_string(n), now.per_page == n, [n](Act& act) { act.view.print.per_page = n; }});
    }
    choices(ui, column.row(touch), "Cards a page", sizes);
    label("Number of dots on the cards: how hard the numbers are");
    using cards::Tier;
    const bool all = now.tiers.size() > 1;
    choices(ui, column.row(touch), "Levels of cards",
            {{"One, two and three", all,
              [](Act& act) {
                  act.view.print.tiers = {Tier::support, Tier::core, Tier::stretch};
              }},
             {"Two only", !all, [](Act& act) { act.view.print.tiers = {Tier::core}; }}});
    stepper(ui, column.row(std::max(touch, ui.scaled(50))), "Cards for each level", now.cards, 2,
            24, 2, "", [](Act& act, int n) { act.view.print.cards = n; });
}

void sheet_rows(Ui& ui, const Scene& scene, Column& column) {
    for (const PrintDesk::Row& row : scene.desk->rows()) {
        const std::string id(row.kind->id);
        const bool left = is_left(scene.view, id) && row.lacks.empty();
        RowItem item;
        item.id = Ui::id({"sheet", id});
        item.title = row.kind->title;
        item.detail = row.lacks.empty() ? base::count_of(std::size_t(row.pages), "page", "pages") +
                                              " · " + std::string(row.kind->purpose)
                                        : row.lacks;
        if (is_ready(*scene.block, print_key(id))) item.detail = "Printed · " + item.detail;
        item.icon = Icon::print;
        item.trailing = left ? Icon::check : Icon::none;
        item.on = left;
        item.role = Role::checkbox;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item, [id, left](Act& act) {
            if (left) {
                act.view.print_left.erase(id);
            } else {
                act.view.print_left.insert(id);
            }
        });
    }
}

void heading(Ui& ui, Column& column, std::string_view words) {
    column.skip(pad);
    column.y += ui.heading(2, words, {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    column.skip(4);
}

void supply_rows(Ui& ui, const Scene& scene, Column& column, const sheets::PrepBox& box) {
    const std::vector<sheets::Supply> all = sheets::supplies(box);
    for (const sheets::CenterBox& center : box.centers) {
        column.skip(6);
        column.y +=
            ui.heading(3, std::to_string(center.number) + "  " + center.title,
                       {column.x, column.y, column.w, 0}, ui.style(body_size, ui.theme.ink, true));
        column.skip(4);
        for (const sheets::Supply& supply : all) {
            if (supply.center != center.number) continue;
            RowItem item;
            item.id = Ui::id({"supply", supply.key});
            item.title = sheets::supply_words(supply);
            item.detail = sheets::supply_detail(supply, " · ");
            item.trailing = supply.ready ? Icon::check : Icon::none;
            item.on = supply.ready;
            item.role = Role::checkbox;
            row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                     [cls = scene.cls->id, block = scene.block->id, key = supply.key,
                      on = supply.ready](Act& act) {
                         act.send(session::SetReady{cls, block, key, !on}, Reply::aloud);
                     });
        }
        if (!center.reset.empty()) {
            column.y += ui.paragraph("Between rounds: " + sheets::joined(center.reset),
                                     {column.x, column.y, column.w, 0}, ui.soft());
        }
        const std::string_view caution = sheets::caution_for(center.kind);
        if (!caution.empty())
            column.y += ui.paragraph(caution, {column.x, column.y, column.w, 0}, ui.soft());
    }
    const int devices = sheets::devices_at_once(box);
    if (devices > box.devices) {
        column.skip(6);
        column.y += ui.paragraph(
            std::to_string(devices) + " devices are in use at once and the class has " +
                std::to_string(box.devices) + ": change the number, the chart or a center.",
            {column.x, column.y, column.w, 0}, ui.style(body_size, ui.theme.ink, true));
    }
}

}  // namespace

void prep_screen(Ui& ui, const Scene& scene, const Rect& area) {
    const bool none = scene.block == nullptr || session::open_centers(*scene.block).empty();
    Column column = begin_page(ui, area, "prep", "Print and prepare",
                               none ? "" : "What to print, put out and put right between rounds.");
    const float h = std::max(52.0F, ui.scaled(50));
    Button b;
    if (none) {
        empty_state(ui, column, Icon::print, "Nothing to prepare yet",
                    "Sheets and lists are made from the centers of the block.");
        b.id = Ui::id({"prep-centers"});
        b.label = "Go to the centers";
        b.weight = Weight::primary;
        button(ui, column.row(h), b, go(Screen::centers));
        end_page(ui, column);
        return;
    }
    const Job job = next_job(scene);
    b.id = Ui::id({"print-queue"});
    b.label = job.kinds.empty()
                  ? "Choose what to print"
                  : "Print " + base::count_of(std::size_t(job.pages), "page", "pages");
    b.icon = Icon::print;
    b.weight = Weight::primary;
    b.disabled = job.kinds.empty();
    button(ui, column.row(h), b, print(scene, job));
    heading(ui, column, "To print");
    sheet_rows(ui, scene, column);
    toggle(ui, column.row(touch), Ui::id({"print-names"}), "Names on the substitute's note",
           scene.view.print.names, [](Act& act) { act.view.print.names = !act.view.print.names; });
    heading(ui, column, "Paper and cards");
    choice_rows(ui, scene, column);
    level_rows(ui, scene, column);
    own_card_rows(ui, scene, column);
    heading(ui, column, "To put out");
    Button stock;
    stock.id = Ui::id({"to-stock"});
    stock.label = "What is in stock";
    stock.has_popup = true;
    button(ui, column.row(h), stock, open_overlay(Overlay::stock));
    supply_rows(ui, scene, column, scene.desk->box());
    column.skip(pad);
    column.y += ui.paragraph(sheets::practice_notice, {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(gap);
    Button on;
    on.id = Ui::id({"prep-walk"});
    on.label = "To the lesson";
    on.icon = Icon::forward;
    on.icon_after = true;
    button(ui, column.row(h), on, go(Screen::walk));
    end_page(ui, column);
}

void stock_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    Column column = begin_sheet(ui, "What is in stock", 1400, close_overlay);
    std::vector<std::string> seen;
    for (const sheets::Supply& s : sheets::supplies(scene.desk->box())) {
        if (std::find(seen.begin(), seen.end(), s.words) != seen.end()) continue;
        seen.push_back(s.words);
        stepper(ui, column.row(std::max(touch, ui.scaled(50)), 6), s.words, std::max(0, s.have), 0,
                999, 1, "", [cls = scene.cls->id, words = s.words](Act& act, int n) {
                    act.send(session::SetStock{cls, words, n}, Reply::aloud);
                });
    }
    done_button(ui, column);
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
