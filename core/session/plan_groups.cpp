#include <algorithm>

#include "base/text.h"
#include "session/parts.h"
#include "session/planner.h"
#include "session/preview.h"
#include "session/seating.h"

namespace tallyround::session {

namespace {

/// Enough for 40 students to be near the best that is known; a tenth of a second in the browser.
constexpr std::int64_t group_work = 100'000;

/// The groups with the members of locked groups who are away in their seats.
Groups with_locked(const Block& block, Groups groups, const plan::GroupProblem& problem) {
    for (const int group : problem.locked)
        groups[std::size_t(group)] = block.groups[std::size_t(group)];
    return groups;
}

/// What the teacher should know beside the repeats.
std::string grouping_notes(const Class& cls, const Block& block, const Groups& groups,
                           const std::vector<std::string>& notes) {
    std::string said;
    for (const std::string& note : notes)
        said += " " + note;
    const std::string unseated = seatless(cls, groups);
    if (!unseated.empty()) said += " " + unseated;
    const std::size_t centers = open_centers(block).size();
    if (centers > 0 && centers < groups.size()) {
        said += " There are " + base::count_of(centers, "center", "centers") + " for " +
                std::to_string(groups.size()) + " groups: some groups will wait in each round.";
    }
    return said;
}

/// A search for groups of one block.
class GroupPlanning : public Planning {
  public:
    GroupPlanning(ClassId cls, BlockId block, Seating seating)
        : cls_(std::move(cls)),
          block_(std::move(block)),
          seating_(std::move(seating)),
          search_(seating_.problem, group_work) {}

    bool step(std::int64_t work) override { return search_.step(work); }
    double progress() const override { return search_.progress(); }
    std::vector<Obstacle> obstacles() const override { return obstacles_; }

    Answer finish(const Context& ctx) override {
        const auto spot = open_block(ctx, cls_, block_);
        if (!spot) return pass(spot);
        if (search_.conflict()) {
            Trouble trouble = trouble_of(*spot->cls, *spot->block, seating_, *search_.conflict());
            obstacles_ = std::move(trouble.rules);
            return base::fail("Groups", trouble.text);
        }
        if (!search_.best()) {
            obstacles_ = group_rules(*spot->cls, *spot->block);
            return base::fail("Groups",
                              "No grouping that keeps all rules was found. Take a rule away.");
        }
        return decision(*spot->cls, *spot->block);
    }

  protected:
    virtual Decision decision(const Class& cls, const Block& block) = 0;
    const Seating& seating() const { return seating_; }
    const plan::GroupSearch& search() const { return search_; }

  private:
    ClassId cls_;
    BlockId block_;
    Seating seating_;
    plan::GroupSearch search_;
    std::vector<Obstacle> obstacles_;
};

class MakingGroups : public GroupPlanning {
  public:
    MakingGroups(const MakeGroups& wish, Seating seating)
        : GroupPlanning(wish.cls, wish.block, std::move(seating)), size_(wish.size_max) {}

  protected:
    Decision decision(const Class& cls, const Block& block) override {
        const Groups groups =
            with_locked(block, seating().groups(search().best()->groups), seating().problem);
        Decision out;
        out.said = base::count_of(groups.size(), "group", "groups") + " of up to " +
                   std::to_string(size_) + " made.";
        const std::string repeats = repeats_text(search(), !seating().problem.past.empty());
        if (!repeats.empty()) out.said += " " + repeats;
        out.said += grouping_notes(cls, block, groups, seating().notes);
        set_groups(out, cls, block, groups);
        return out;
    }

  private:
    int size_;
};

/// Rules that name a group beyond those that were asked for.
class NoSuchGroup : public Planning {
  public:
    NoSuchGroup(std::string text, std::vector<Obstacle> rules)
        : text_(std::move(text)), rules_(std::move(rules)) {}
    bool step(std::int64_t) override { return true; }
    double progress() const override { return 1.0; }
    Answer finish(const Context&) override { return base::fail("Groups", text_); }
    std::vector<Obstacle> obstacles() const override { return rules_; }

  private:
    std::string text_;
    std::vector<Obstacle> rules_;
};

std::unique_ptr<Planning> beyond_groups(const Class& cls, const Block& block,
                                        const Seating& seating, int groups) {
    using Kind = plan::GroupRule::Kind;
    const plan::GroupProblem& p = seating.problem;
    std::vector<Obstacle> rules;
    for (std::size_t i = 0; i < p.seat.size(); ++i)
        if (p.seat[i] >= groups)
            rules.push_back(rule_words(cls, block, seating, {Kind::seat, int(i)}));
    for (const int group : p.locked)
        if (group >= groups)
            rules.push_back(rule_words(cls, block, seating, {Kind::locked, group}));
    if (rules.empty()) return nullptr;
    std::vector<std::string> words;
    for (const Obstacle& rule : rules)
        words.push_back(rule.text);
    return std::make_unique<NoSuchGroup>(
        base::list_of(words) + ", but there would be " +
            base::count_of(std::size_t(groups), "group", "groups") +
            ". Take more groups, or take the rule away.",
        std::move(rules));
}

/// Everybody who was in a group and is here stays if that can be, the others join.
class MendingGroups : public GroupPlanning {
  public:
    MendingGroups(const MendGroups& wish, Seating seating)
        : GroupPlanning(wish.cls, wish.block, std::move(seating)) {}

  protected:
    Decision decision(const Class& cls, const Block& block) override {
        const Groups groups = mended(block);
        Decision out;
        if (groups == block.groups) return out;
        const auto changes = changes_of(cls, block, groups);
        std::size_t moved = 0;
        for (const SeatChange& c : changes)
            moved += c.from >= 0 && c.to >= 0 ? 1 : 0;
        if (changes.empty()) return out;
        out.said = moved == 0
                       ? "Nobody has to move."
                       : base::count_of(moved, "student moves", "students move") +
                             (search().proved_fewest_moved() ? "; fewer are not possible." : ".");
        for (const std::string& note : seating().notes)
            out.said += " " + note;
        set_groups(out, cls, block, groups);
        return out;
    }

  private:
    /// The found groups in the order in which the students sat; who is away keeps the seat while
    /// there is room.
    Groups mended(const Block& block) const {
        const Groups found = seating().groups(search().best()->groups);
        Groups out(found.size());
        const auto in = [](const std::vector<StudentId>& group, const StudentId& id) {
            return std::find(group.begin(), group.end(), id) != group.end();
        };
        for (std::size_t g = 0; g < found.size(); ++g) {
            std::vector<StudentId> away;
            if (g < block.groups.size()) {
                for (const StudentId& id : block.groups[g]) {
                    if (in(found[g], id)) out[g].push_back(id);
                    if (!seating().number.contains(id)) away.push_back(id);
                }
            }
            for (const StudentId& id : found[g])
                if (!in(out[g], id)) out[g].push_back(id);
            for (const StudentId& id : away)
                if (out[g].size() < std::size_t(most_in_group)) out[g].push_back(id);
        }
        return out;
    }
};

}  // namespace

void set_groups(Decision& decision, const Class& cls, const Block& block, const Groups& groups) {
    decision.events.push_back(record::GroupsSet{cls.id, block.id, groups});
    if (groups.size() == block.chart.size()) return;
    Block wanted = block;
    wanted.groups = groups;
    keep_chart_true(decision, cls.id, wanted);
    Chart chart = block_after(cls, wanted, decision).chart;
    if (chart.empty() || chart.size() == groups.size()) return;
    // No chart was found: what has been taught stays, and new groups have no centers yet.
    chart.resize(groups.size(), std::vector<CenterId>(chart.front().size()));
    decision.events.push_back(record::ChartSet{cls.id, block.id, std::move(chart)});
}

std::vector<SeatChange> changes_of(const Class& cls, const Block& block, const Groups& groups) {
    std::vector<SeatChange> out;
    Block wanted = block;
    wanted.groups = groups;
    for (const Student* s : present_students(cls)) {
        const int from = group_of(block, s->id);
        const int to = group_of(wanted, s->id);
        if (from != to) out.push_back({s->id, from, to});
    }
    return out;
}

Begun begin_planning(const Context& ctx, const MakeGroups& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Class& cls = *spot->cls;
    const Block& block = *spot->block;
    const auto size = checked_number("Group size", wish.size_max, 2, most_in_group, "students");
    if (!size) return pass(size);
    if (block.lesson.running()) {
        return base::fail("Groups",
                          "A lesson is running. Move single students, or end the lesson "
                          "first.");
    }
    Seating seating(cls, block, Whom::present);
    if (seating.ids.empty()) {
        return base::fail("Groups", "There are no students yet. Add the students first.");
    }
    plan::GroupProblem& problem = seating.problem;
    problem.size_max = *size;
    if (wish.groups != 0) {
        const auto groups = checked_number("Number of groups", wish.groups, 1,
                                           std::max(1, problem.students / 2), "groups");
        if (!groups) return pass(groups);
        auto trouble = beyond_groups(cls, block, seating, *groups);
        if (trouble) return trouble;
    }
    problem.groups = wish.groups != 0 ? wish.groups : fewest_groups(seating, *size);
    Standings own;
    if (ctx.standings == nullptr) own.update(cls, ctx.now_ms);
    add_evidence(seating, block, ctx.standings == nullptr ? own : *ctx.standings, wish.policy);
    problem.seed = wish.seed;
    return std::make_unique<MakingGroups>(wish, std::move(seating));
}

Begun begin_planning(const Context& ctx, const MendGroups& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Block& block = *spot->block;
    if (block.groups.empty()) {
        return base::fail("Groups", "There are no groups yet. Make groups first.");
    }
    Seating seating(*spot->cls, block, Whom::present);
    if (seating.ids.empty()) return base::fail("Groups", "Nobody of the class is here today.");
    plan::GroupProblem& problem = seating.problem;
    const int count = int(block.groups.size());
    problem.size_max = most_in_group;
    problem.groups = std::max(count, fewest_groups(seating, most_in_group));
    if (block.lesson.running() && problem.groups > count) {
        return base::fail("Groups",
                          "There is no room left in the groups. End the lesson and make "
                          "more groups, or let students share.");
    }
    problem.was = seating.numbers(block.groups);
    problem.was.resize(std::size_t(problem.groups));
    return std::make_unique<MendingGroups>(wish, std::move(seating));
}

Answer on(const Context& ctx, const MakeGroups& wish) {
    return plan_at_once(ctx, begin_planning(ctx, wish));
}

Answer on(const Context& ctx, const MendGroups& wish) {
    return plan_at_once(ctx, begin_planning(ctx, wish));
}

}  // namespace tallyround::session
