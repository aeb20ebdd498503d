#include <algorithm>

#include "base/text.h"
#include "ui/screens/scene.h"

namespace tallyround::ui {

namespace {

constexpr std::int64_t day_ms = 86'400'000;
/// A copy as old as this is asked to be renewed, if anything was written since.
constexpr int old_copy_days = 7;  // common practice, no source: a weekly copy
/// So long without anything happening, a class's term may be over.
constexpr int quiet_days = 42;

/// When something was last written in the record; 0 for an empty one.
std::int64_t last_change_ms(const Scene& scene) {
    const auto events = scene.session.log().events();
    return events.empty() ? 0 : events.back().stamp.ms;
}

/// When something last happened in the class; 0 if never.
std::int64_t last_lesson_ms(const model::Class& cls) {
    std::int64_t ms = 0;
    if (!cls.marks.empty()) ms = cls.marks.back().at_ms;
    if (!cls.notes.empty()) ms = std::max(ms, cls.notes.back().at_ms);
    for (const model::Block& b : cls.blocks) {
        ms = std::max(ms, b.lesson.started_ms);
        for (const model::Period& p : b.periods)
            ms = std::max(ms, base::days_from_civil(p.date) * day_ms);
    }
    return ms;
}

void row(Ui& ui, Column& column, RowItem item, Action tap) {
    item.trailing = Icon::forward;
    row_item(ui, column.row(row_height(ui, column.w, item), 6), item, std::move(tap));
}

void copy_row(Ui& ui, const Scene& scene, Column& column) {
    const std::int64_t change = last_change_ms(scene);
    const int days = backup_days(scene);
    const bool nothing_new = days >= 0 && change <= scene.last_export_ms;
    if (change == 0 || nothing_new || scene.saved == Saved::read_only) return;
    const auto events = scene.session.log().events();
    const auto age = (scene.now.utc_ms - events.front().stamp.ms) / day_ms;
    if (days < 0 ? age < old_copy_days : days < old_copy_days) return;
    RowItem item;
    item.id = Ui::id({"remind-copy"});
    item.title = "Save a copy";
    item.detail = backup_text(scene);
    item.icon = Icon::file;
    row(ui, column, std::move(item), [](Act& act) { act.save_plan(); });
}

void term_row(Ui& ui, const Scene& scene, Column& column) {
    std::string name;
    int weeks = 0;
    std::size_t count = 0;
    for (const model::Class& c : scene.state.classes) {
        const int quiet = c.archived ? 0 : quiet_weeks(scene, c);
        if (quiet == 0) continue;
        name = c.name;
        weeks = count == 0 ? quiet : std::min(weeks, quiet);
        ++count;
    }
    if (count == 0) return;
    RowItem item;
    item.id = Ui::id({"remind-term"});
    item.title =
        "Is the term over for " + (count == 1 ? name : std::to_string(count) + " classes") + "?";
    item.detail = "Nothing has happened there for " +
                  base::count_of(std::size_t(weeks), "week", "weeks") +
                  (count == 1 ? "" : " or more") + ". Delete what you no longer need.";
    item.icon = Icon::clock;
    row(ui, column, std::move(item), go(Screen::privacy));
}

void install_row(Ui& ui, const Scene& scene, Column& column) {
    if (scene.installable == App::Installable::by_button) {
        RowItem item;
        item.id = Ui::id({"install"});
        item.title = "Put Tallyround on this device";
        item.detail = "It then opens without a network, and the browser keeps its data longer.";
        item.icon = Icon::plus;
        row(ui, column, std::move(item), [](Act& act) { act.fx.emplace_back(Install{}); });
    } else if (scene.installable == App::Installable::by_hand) {
        column.y += ui.paragraph(
            "Put Tallyround on this device: Share, then Add to Home Screen. Otherwise the browser "
            "clears its data after some weeks without use.",
            {column.x, column.y, column.w, 0}, ui.soft());
        column.skip(gap);
    }
}

}  // namespace

int quiet_weeks(const Scene& scene, const model::Class& cls) {
    const std::int64_t last = last_lesson_ms(cls);
    const std::int64_t days = (scene.now.utc_ms - last) / day_ms;
    return last == 0 || days < quiet_days ? 0 : int(days / 7);
}

int backup_days(const Scene& scene) {
    if (scene.last_export_ms == 0) return -1;
    return int(std::max<std::int64_t>(0, (scene.now.utc_ms - scene.last_export_ms) / day_ms));
}

std::string backup_text(const Scene& scene) {
    const int days = backup_days(scene);
    if (days < 0) {
        return "No plan file has been saved yet. A file is your copy if the browser clears its "
               "storage.";
    }
    if (days == 0) return "The last plan file was saved today.";
    const std::string ago =
        "The last plan file was saved " + base::count_of(std::size_t(days), "day", "days") + " ago";
    return last_change_ms(scene) > scene.last_export_ms
               ? ago + "; what was written since is on this device alone."
               : ago + ", and nothing was written since.";
}

void reminders(Ui& ui, const Scene& scene, Column& column) {
    copy_row(ui, scene, column);
    term_row(ui, scene, column);
    install_row(ui, scene, column);
}

}  // namespace tallyround::ui
