#include "session/planner.h"

#include "session/parts.h"

namespace tallyround::session {

namespace {

/// A command that takes no time: decided when it is asked what it comes to.
class AtOnce : public Planning {
  public:
    explicit AtOnce(Command command) : command_(std::move(command)) {}

    bool step(std::int64_t) override { return true; }
    double progress() const override { return 1.0; }
    base::Result<Decision> finish(const Context& ctx) override {
        return std::visit([&](const auto& wish) { return on(ctx, wish); }, command_);
    }

  private:
    Command command_;
};

}  // namespace

Begun begin_any(const Context& ctx, const Command& command) {
    return std::visit(
        [&](const auto& wish) -> Begun {
            if constexpr (requires { begin_planning(ctx, wish); }) {
                return begin_planning(ctx, wish);
            } else {
                return std::make_unique<AtOnce>(command);
            }
        },
        command);
}

base::Result<Decision> plan_at_once(const Context& ctx, const Begun& begun) {
    if (!begun) return pass(begun);
    while (!(*begun)->step(1'000'000)) {
    }
    return (*begun)->finish(ctx);
}

}  // namespace tallyround::session
