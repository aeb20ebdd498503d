#pragma once
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "json/texts.h"
#include "record/packer.h"
#include "record/recover.h"
#include "session/derived.h"
#include "session/session.h"
#include "ui/act.h"
#include "ui/app.h"
#include "ui/chart_desk.h"
#include "ui/file_desk.h"
#include "ui/group_desk.h"
#include "ui/input.h"
#include "ui/opening.h"
#include "ui/plan_desk.h"
#include "ui/screens/scene.h"
#include "ui/widgets/ui.h"

namespace tallyround::ui {

/// What App hides. Split by subject: app.cpp (frames and input), app_storage.cpp (record, files).
struct App::Inside {
    Inside(const Fonts& fonts, TextPainter* painter, std::uint64_t entropy);

    // The record and its safety.
    std::uint64_t entropy;
    session::Session session;
    session::Standings standings;
    std::map<std::uint64_t, std::string> pending;  ///< by key: not yet durable; "" = as a snapshot
    std::uint64_t last_key = 0;
    std::uint64_t snapshot_key = 0;
    /// A snapshot on its way.
    struct Packing {
        std::uint64_t through;
        bool only;            ///< as in WriteSnapshot
        std::uint64_t moves;  ///< of the log when it began
        record::Packer packer;
    };
    std::optional<Packing> packing;
    std::unique_ptr<Opening> opening;
    bool snapshot_due = false;  ///< damage was found: a snapshot of what is left, at once
    std::size_t damaged = 0;    ///< found this time and not yet given to the person
    std::size_t set_aside = 0;  ///< all that storage keeps of what was damaged
    bool read_only = false;
    bool opened = false;
    std::string storage_trouble;  ///< no storage at all
    std::string write_trouble;    ///< the last write failed
    std::uint64_t retry_key = 0;  ///< first key to write again, 0 if none
    double retry_at = 0;          ///< steady milliseconds; 0 until the next frame sets it
    bool update_waiting = false;
    bool asked_to_persist = false;
    std::int64_t last_export_ms = 0;
    bool passcode_set = false;
    bool rewrite_due = false;  ///< storage still holds what was deleted for good
    bool rewriting = false;
    std::uint64_t rewrites_seen = 0;  ///< of the log
    App::Installable installable = App::Installable::no;
    std::optional<model::State> hidden;  ///< the classes with initials, while names are hidden
    std::size_t hidden_events = 0;       ///< in the record that `hidden` was made from
    std::uint64_t hidden_moves = 0;      ///< of it

    // What is on screen.
    View view;
    Type type;
    Fingers fingers;
    Painted painted;
    std::vector<Node> nodes;
    std::vector<Node> sent_nodes;
    std::vector<Ui::TextHandlers> text_handlers;
    std::vector<Ui::Extent> extents;
    Ui::Memory memory;
    json::Texts preferences;
    std::uint32_t focused = 0;
    float pinch_from = 0;  ///< text scale when two fingers began to change it, 0: they are not
    bool dirty = true;
    bool awake = false;
    /// The last thing that rang: the end of a phase, or the warning before it.
    struct Rung {
        model::Phase phase = model::Phase::ready;
        int round = 0;
        bool over = false;
        friend bool operator==(const Rung&, const Rung&) = default;
    };
    Rung rung;
    /// How far the time of day was ahead of the steady clock, ms; nothing before the first frame.
    std::optional<double> clock_ahead;
    Effects effects;
    PrintDesk desk;
    ChartDesk chart_desk;
    PlanDesk plans;
    GroupDesk group_desk;
    FileDesk files;
    bool mend_due = false;  ///< who is here has changed since the groups were looked at
    InsightMemo insight;

    const model::Class* cls() const;
    /// The class as it is shown: with names or with initials.
    const model::Class* shown_cls() const;
    /// The text with initials in place of the class's names, while those are hidden.
    std::string shown(std::string text) const;
    void hide_names();
    void note_rewrites();
    void maybe_rewrite();
    Scene scene(const Now& now) const;
    Saved saved() const;

    /// Scrolls so that `view.stays` is where it was in the frame before.
    void keep_in_place(const std::vector<Ui::Extent>& drawn);
    void run(const Action& action, const Now& now);
    void append(const std::vector<record::Event>& events);
    static constexpr std::size_t most_as_records = 1000;
    /// The same of so many that they go into storage as one snapshot.
    void append_many(std::size_t count);
    /// Everything as one snapshot; `only` as in WriteSnapshot.
    void write_snapshot(std::uint64_t through, bool only);
    void go_on_packing();
    void begin_loading(const Now& now);
    void finish_opening(const Now& now);
    void ring(const Now& now);
    void pinch(const Now& now);
    void arrow(Key key);
    void mark_by_key(Key key, const Now& now);
    void mind_clock(const Now& now);
    void plan_on(const Now& now);
    void save_on(const Now& now);
    void hand_over(SaveFile plan, const Now& now);
    void drop_files();
    void note_said(const session::Decision& decision);
    void note_who_is_here(const session::Command& command);
    void read_preferences(json::Texts kept);
    json::Texts preferences_now() const;
    /// Writes them if they have changed; `anew`: also if not, since storage may have lost them.
    void remember_preferences(bool anew = false);
    void maybe_snapshot();
    void note_stored(std::string_view records);
    void put_unreadable_aside(const record::Recovered& found);
    void retry(const Now& now);
    void pick(const std::string& purpose, const std::string& name, std::string_view bytes,
              const Now& now);
    void forget_sealed();
    void recall_conflicts();
    /// Of a plan that was read beside the record, places that were `seen` in it.
    void bring_plan(const Now& now, const std::string& name, base::Result<exchange::PlanFile> plan,
                    std::vector<bool> seen = {});
    void bring_on(const Now& now);
    void brought(const Now& now);
};

/// The Act that the app hands to actions.
class AppAct : public Act {
  public:
    AppAct(App::Inside& in, const Now& at);
    bool send(const session::Command& command, Reply reply) override;
    base::Result<session::Decision> would(const session::Command& command) const override {
        auto decision = in_.session.would(command, now.utc_ms);
        if (decision) decision->said = in_.shown(std::move(decision->said));
        return decision;
    }
    void plan(const session::Command& command, PlanEnd end) override;
    void cancel_plan() override;
    bool accept_plan(PlanEnd which) override;
    /// What has happened: kept, and shown as `reply` says.
    void answer(session::Happened happened, Reply reply);
    const std::vector<std::string>& made() const override { return made_; }
    const model::State& state() const override;
    std::string shown(std::string text) const override { return in_.shown(std::move(text)); }
    void change_passcode(const std::string& was, const std::string& now_code) override;
    void save_plan() override;
    void cancel_file() override;
    void cancel_reading() override;
    void cancel_bringing() override;
    void show_plan() override;
    void save_stored() override;

  private:
    App::Inside& in_;
    std::vector<std::string> made_;
};

}  // namespace tallyround::ui
