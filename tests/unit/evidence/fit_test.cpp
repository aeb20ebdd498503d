#include "evidence/fit.h"

#include <doctest/doctest.h>

#include <functional>

#include "base/random.h"

using namespace tallyround::evidence;

namespace {

Sequences marks(int pairs, int each, const std::function<Level()>& level) {
    Sequences out;
    for (int i = 0; i < pairs; ++i) {
        for (int j = 0; j < each; ++j)
            out.marks.push_back({static_cast<double>(j), level()});
        out.close();
    }
    return out;
}

}  // namespace

TEST_CASE("marks without a pattern never turn the meaning of the two states over") {
    tallyround::base::Random random(5);
    const std::function<Level()> kinds[] = {
        [] { return Level::secure; }, [] { return Level::stuck; }, [] { return Level::shaky; },
        [&] { return static_cast<Level>(random.below(3)); }};
    for (const auto& level : kinds) {
        const Fitted fit = fit_model(marks(100, 20, level), Model{});
        CHECK(fit.enough);
        CHECK(check(fit.model).has_value());
        const Bounds b;
        CHECK(fit.model.known.secure >= b.known_secure_least);
        CHECK(fit.model.unknown.secure <= b.unknown_secure_most);
        CHECK(fit.model.known.stuck <= b.known_stuck_most);
        CHECK(fit.model.learn <= b.learn_most);
        CHECK(fit.model.forget_per_day <= b.forget_most);
    }
}

TEST_CASE("too few marks leave the model as it was") {
    const auto secure = [] { return Level::secure; };
    for (const Sequences& few : {marks(20, 14, secure), marks(300, 1, secure), Sequences{}}) {
        const Fitted fit = fit_model(few, Model{});
        CHECK_FALSE(fit.enough);
        CHECK(fit.model.known.secure == Model{}.known.secure);
        CHECK(fit.rounds == 0);
    }
}
