#include <algorithm>
#include <cmath>
#include <map>

#include "base/text.h"
#include "model/kinds.h"
#include "ui/screens/insight.h"
#include "ui/screens/walk.h"

namespace tallyround::ui {

namespace {

using session::CenterVerdict;

constexpr double widest_gain = 0.4;      ///< ends of the picture of a gain
constexpr std::size_t blocks_shown = 6;  ///< newest ones with verdicts

struct VerdictWords {
    std::string_view verdict;
    const char* words;
    Icon icon;
};
constexpr VerdictWords all_words[] = {{"keep", "Keep it", Icon::check},
                                      {"watch", "Watch it", Icon::walk},
                                      {"swap", "Swap it", Icon::swap},
                                      {"too early", "Too early to say", Icon::more}};

const VerdictWords& words_of(const CenterVerdict& verdict) {
    for (const VerdictWords& w : all_words) {
        if (w.verdict == verdict.verdict) return w;
    }
    return all_words[3];
}

std::string signed_points(double gain) {
    const long points = std::lround(100 * gain);
    return (points > 0 ? "+" : points < 0 ? "−" : "") + std::to_string(std::labs(points));
}

/// The gain as a kite on a line from fewer to more, its interval as a bar with ends.
void gain_bar(Ui& ui, const Rect& r, const CenterVerdict& v) {
    const float middle = r.y + r.h / 2;
    const auto x_of = [&](double gain) {
        const double share = std::clamp((gain + widest_gain) / (2 * widest_gain), 0.0, 1.0);
        return r.x + r.w * float(share);
    };
    ImDrawList& list = ui.list();
    list.AddLine({r.x, middle}, {r.right(), middle}, fade(ui.theme.line, 0.6F), 1);
    list.AddLine({x_of(0), r.y + 2}, {x_of(0), r.bottom() - 2}, ui.theme.line, 2);
    const float low = x_of(v.low);
    const float high = x_of(v.high);
    ui.fill({low, middle - 5, std::max(3.0F, high - low), 10}, ui.theme.accent_soft, 3);
    ui.outline({low, middle - 5, std::max(3.0F, high - low), 10}, ui.theme.accent, 3, 1.5F);
    const float at = x_of(v.gain);
    list.AddQuadFilled({at, middle - 9}, {at + 7, middle}, {at, middle + 9}, {at - 7, middle},
                       ui.theme.accent);
}

void gain_part(Ui& ui, Column& column, const CenterVerdict& v) {
    if (v.students == 0) return;
    gain_bar(ui, column.row(28, 0), v);
    const Rect row = column.row(ui.scaled(20), 4);
    const Style small = ui.style(12, ui.theme.ink_soft);
    const auto put = [&](const char* text, Align align) {
        ui.type().line(row, text, ui.style(12, ui.theme.ink_soft, false, align));
    };
    if (3.4F * ui.type().width("fewer have it", small) < row.w) {
        put("fewer have it", Align::left);
        put("no change", Align::center);
        put("more have it", Align::right);
    } else {
        put("fewer", Align::left);
        put("more", Align::right);
    }
    std::string text = "Change of " + signed_points(v.gain) + " in 100, likely between " +
                       signed_points(v.low) + " and " + signed_points(v.high) + ".";
    if (v.stuck_minutes >= 0.5) {
        text +=
            " Stuck for about " + minutes_text(int(std::lround(v.stuck_minutes))) + " a student.";
    }
    text_row(ui, column, text, ui.soft());
}

/// A later block has a verdict on this kind for this skill.
bool judged_later(const Scene& scene, const model::Block& block, const model::Center& judged) {
    for (const JudgedBlock& j : scene.insight->verdicts()) {
        if (j.block == block.id) return false;
        const model::Block* later = scene.cls->block(j.block);
        if (later == nullptr) continue;
        for (const model::Center& c : later->centers) {
            if (c.kind == judged.kind && c.skill == judged.skill) return true;
        }
    }
    return false;
}

/// The open center of the current block that a verdict speaks about: the judged one itself or one
/// of its kind that is planned again for the skill.
const model::Center* to_swap(const Scene& scene, const model::Block& block,
                             const model::Center& judged) {
    if (judged_later(scene, block, judged)) return nullptr;
    for (const model::Center* c : session::open_centers(*scene.block)) {
        const bool same = block.id == scene.block->id
                              ? c->id == judged.id
                              : c->kind == judged.kind && c->skill == judged.skill;
        if (same) return c;
    }
    return nullptr;
}

void swap_part(Ui& ui, const Scene& scene, Column& column, const model::Block& block,
               const model::Center& judged, const CenterVerdict& v, bool hint) {
    if (v.verdict != "swap" && v.verdict != "watch") return;
    if (judged.closed) {
        text_row(ui, column, "It has been taken out.", ui.soft());
        return;
    }
    const model::Center* center = to_swap(scene, block, judged);
    if (center == nullptr && !hint) return;
    const auto& ideas = center == nullptr ? scene.insight->swaps(block.id, judged.id)
                                          : scene.insight->swaps(scene.block->id, center->id);
    if (ideas.empty()) return;
    const session::SwapIdea& idea = ideas.front();
    const model::CenterKind* kind = model::find_center_kind(idea.kind);
    const std::string title(kind == nullptr ? idea.kind : kind->title);
    if (center == nullptr) {
        text_row(ui, column, "For another time: " + title + ". " + idea.why, ui.body());
        return;
    }
    const bool again = center->id != judged.id;
    text_row(
        ui, column,
        (again ? "It is planned again in " + scene.block->title + ". Instead: " : "Instead: ") +
            title + ". " + idea.why,
        ui.body());
    column.skip(4);
    Button b;
    b.id = Ui::id({"swap-in", judged.id.view()});
    b.label = "Swap in " + title;
    b.spoken = b.label + " for " + session::center_title(*center);
    b.icon = Icon::swap;
    b.weight = v.verdict == "swap" ? Weight::primary : Weight::plain;
    button_grid(
        ui, column,
        {{b,
          [cls = scene.cls->id, in = scene.block->id, id = center->id, kind = idea.kind](Act& act) {
              act.send(session::SwapCenter{cls, in, id, kind});
          }}},
        2);
}

}  // namespace

void verdict_card(Ui& ui, const Scene& scene, Column& column, const model::Block& block,
                  const CenterVerdict& verdict, bool by_block) {
    const model::Center* center = model::find_center(block, verdict.center);
    if (center == nullptr || scene.block == nullptr) return;
    const VerdictWords& words = words_of(verdict);
    RowItem item;
    item.id = Ui::id({"verdict", block.id.view(), center->id.view()});
    item.title = session::center_title(*center) + ": " + words.words;
    item.detail = (by_block ? session::skill_title(*scene.cls, center->skill) : block.title) +
                  ". " + verdict.why;
    item.icon = words.icon;
    item.trailing = Icon::forward;
    row_item(ui, column.row(row_height(ui, column.w, item), 6), item, [id = center->id](Act& act) {
        act.view.center = id;
        act.view.overlay = Overlay::center_marks;
    });
    Column inner{column.x + gap, column.y, column.w - 2 * gap};
    gain_part(ui, inner, verdict);
    swap_part(ui, scene, inner, block, *center, verdict, by_block);
    column.y = inner.y + pad;
}

void verdicts_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column = begin_page(ui, area, "verdicts", "Did each center help?",
                               "Chances of having the skill before a visit against those after "
                               "it, from marks alone. Tap a center for its marks.");
    const auto& judged = scene.insight->verdicts();
    const std::size_t shown = std::min(judged.size(), blocks_shown);
    for (std::size_t b = 0; b < shown; ++b) {
        const JudgedBlock& j = judged[b];
        const model::Block* block = scene.cls->block(j.block);
        if (block == nullptr) continue;
        section(ui, column, block->title);
        for (const CenterVerdict& v : j.verdicts)
            verdict_card(ui, scene, column, *block, v, true);
    }
    if (shown < judged.size()) {
        text_row(ui, column, "Earlier blocks are on the skills' pages.", ui.soft());
    }
    if (judged.empty()) {
        empty_state(ui, column, Icon::chart, "No center has marks yet",
                    "Mark what you see at the centers; five students with two marks on a skill "
                    "are enough for a first word.");
    }
    evidence_caution(ui, column);
    end_page(ui, column);
}

void center_marks_sheet(Ui& ui, const Scene& scene) {
    if (scene.cls == nullptr) return;
    const model::Center* center = nullptr;
    for (const model::Block& block : scene.cls->blocks) {
        if (const model::Center* c = model::find_center(block, scene.view.center)) center = c;
    }
    if (center == nullptr) return;
    Column column = begin_sheet(ui, session::center_title(*center), 900, close_overlay);
    text_row(ui, column, session::skill_title(*scene.cls, center->skill),
             ui.style(body_size, ui.theme.ink, true));
    text_row(ui, column, "Marks made here, in the order they came. Tap a name for its page.",
             ui.soft());
    column.skip(gap);
    std::map<model::StudentId, std::vector<model::Level>> marks;
    for (const model::Mark& m : scene.cls->marks) {
        if (m.center == center->id) marks[m.student].push_back(m.level);
    }
    if (marks.empty()) text_row(ui, column, "None yet.", ui.body());
    for (const model::Student* s : session::present_students(*scene.cls)) {
        const auto it = marks.find(s->id);
        if (it == marks.end()) continue;
        std::vector<std::string> words;
        for (const model::Level level : it->second)
            words.emplace_back(level_word(level));
        const float shape = ui.scaled(32);
        RowItem item;
        item.id = Ui::id({"center-student", s->id.view()});
        item.title = s->name;
        item.detail = base::list_of(words, ", ");
        item.trailing = Icon::forward;
        Rect row = column.row(row_height(ui, column.w - 3 * shape, item), 6);
        Rect shapes = cut_right(row, 3 * shape);
        row_item(ui, row, item, open_student_page(s->id));
        const std::size_t n = it->second.size();
        for (std::size_t i = n - std::min<std::size_t>(n, 3); i < n; ++i)
            mark_shape(ui, it->second[i], cut_left(shapes, shape));
    }
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
