#include "session/session.h"

#include <algorithm>

#include "session/bringing.h"
#include "session/parts.h"
#include "session/planner.h"

namespace tallyround::session {

ReplicaId make_replica(std::uint64_t entropy) {
    static constexpr char digits[] = "0123456789abcdefghjkmnpqrstvwxyz";
    base::Random random(entropy);
    const std::uint64_t bits = random.bits();
    std::string name;
    for (int i = 0; i < 8; ++i)
        name += digits[(bits >> (5 * i)) & 31U];
    return ReplicaId(name);
}

Session::Session(ReplicaId replica, std::uint64_t entropy) : log_(replica), entropy_(entropy) {}

void Session::load(std::vector<record::Event> events) {
    log_.load(std::move(events));
    history_.read(log_);
    label();
}

void Session::load(record::Log log) {
    log_ = std::move(log);
    history_.read(log_);
    label();
}

base::Result<Happened> Session::send(const Command& command, std::int64_t now_ms) {
    const Context ctx{log_, now_ms, entropy_, &history_};
    auto decision = std::visit([&](const auto& wish) { return on(ctx, wish); }, command);
    if (!decision) return pass(decision);
    return commit(*std::move(decision), now_ms);
}

Happened Session::commit(Decision decision, std::int64_t now_ms) {
    Happened happened{{}, std::move(decision.said), std::move(decision.made)};
    const std::uint64_t rewrites = log_.rewrites();
    if (!decision.others.empty()) {
        happened.events = merge(decision.others);
        history_.add_foreign({decision.others.front().ref()});
    } else if (!decision.events.empty()) {
        // A millisecond of its own tells this decision's events from all others (see History).
        const auto before = log_.events();
        const std::int64_t ms =
            before.empty() ? now_ms : std::max(now_ms, before.back().stamp.ms + 1);
        for (record::Body& body : decision.events)
            happened.events.push_back(log_.append(std::move(body), ms));
        if (log_.rewrites() == rewrites) {
            history_.add(happened.events);
        } else {
            history_.read(log_);
        }
    }
    label();
    return happened;
}

base::Result<Decision> Session::would(const Command& command, std::int64_t now_ms) const {
    base::Random entropy = entropy_;
    const Context ctx{log_, now_ms, entropy, &history_};
    return std::visit([&](const auto& wish) { return on(ctx, wish); }, command);
}

base::Result<Job> Session::begin(const Command& command, std::int64_t now_ms,
                                 const Standings* standings) {
    auto planning = begin_any({log_, now_ms, entropy_, &history_, standings}, command);
    if (!planning) return pass(planning);
    return Job(*std::move(planning), log_.events().size());
}

base::Result<Decision> Session::conclude(Job& job, std::int64_t now_ms) {
    return job.planning_->finish({log_, now_ms, entropy_, &history_});
}

Job::Job(std::unique_ptr<Planning> planning, std::size_t events)
    : planning_(std::move(planning)), events_(events) {}
Job::~Job() = default;
Job::Job(Job&&) noexcept = default;
Job& Job::operator=(Job&&) noexcept = default;

bool Job::step(std::int64_t work) {
    return planning_->step(work);
}

double Job::progress() const {
    return planning_->progress();
}

std::vector<Obstacle> Job::obstacles() const {
    return planning_->obstacles();
}

std::vector<record::Event> Session::merge(const std::vector<record::Event>& events, bool whole) {
    Bringing bringing(log_, {events, {}}, whole, SIZE_MAX);
    std::vector<record::Event> fresh;
    conclude(bringing, &fresh);
    return fresh;
}

std::size_t Session::conclude(Bringing& bringing, std::vector<record::Event>* told) {
    while (!bringing.step(SIZE_MAX)) {
    }
    if (bringing.count_ == 0) return 0;
    for (const record::Event& e : log_.events().subspan(bringing.size_))
        bringing.sides_.ours.add(e.ref());
    const std::uint64_t rewrites = log_.rewrites();
    const std::size_t came = bringing.merging_->finish(log_);
    std::vector<record::Event>& fresh = bringing.told_;
    if (fresh.empty()) bringing.count_ = came;
    if (!fresh.empty() && !log_.erased().empty()) {
        // Some of it may be about somebody who is gone for good.
        record::purge(fresh, log_.erased());
        const EventNames there(log_.events());
        std::erase_if(fresh, [&](const record::Event& e) { return !there.contains(e.ref()); });
        bringing.count_ = fresh.size();
    }
    if (told != nullptr) *told = std::move(fresh);
    if (bringing.own_ || log_.rewrites() != rewrites) {
        history_.read(log_);
    } else {
        history_.drop_dead(log_);
    }
    if (bringing.whole_) recall(bringing.may_conflict_ ? std::move(bringing.sides_) : Sides{});
    label();
    return bringing.count_;
}

void Session::recall(Sides sides) {
    sides_ = std::move(sides);
    conflicts_ = find_conflicts(log_, sides_);
}

void Session::label() {
    const History::Entry* undo = history_.undoable(log_);
    undo_label_ = undo == nullptr ? "" : label_of(log_, *undo);
    const History::Entry* redo = history_.redo_entry();
    redo_label_ = redo == nullptr ? "" : label_of(log_, *redo);
}

}  // namespace tallyround::session
