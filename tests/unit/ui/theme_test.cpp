#include <doctest/doctest.h>

#include "ui/theme/theme.h"

using namespace tallyround::ui;

TEST_CASE("contrast as WCAG 2.2 computes it") {
    // Published check values: #767676 on white passes 4.5:1, #777777 does not.
    const ImU32 white = IM_COL32(255, 255, 255, 255);
    CHECK(contrast(IM_COL32(0, 0, 0, 255), white) == doctest::Approx(21.0));
    CHECK(contrast(IM_COL32(0x76, 0x76, 0x76, 255), white) ==
          doctest::Approx(4.5422).epsilon(1e-4));
    CHECK(contrast(IM_COL32(0x77, 0x77, 0x77, 255), white) ==
          doctest::Approx(4.4781).epsilon(1e-4));
    CHECK(contrast(IM_COL32(255, 0, 0, 255), white) == doctest::Approx(3.9985).epsilon(1e-4));
}

TEST_CASE("every text of every look reaches 4.5:1") {
    for (const Look look : {Look::light, Look::dark, Look::contrast}) {
        const Theme theme = make_theme(look);
        for (const TextPair& pair : text_pairs(theme)) {
            CAPTURE(int(look));
            CHECK_MESSAGE(contrast(pair.text, pair.surface) >= 4.5, pair.what);
        }
    }
}

TEST_CASE("lines that bound controls reach 3:1 on their surfaces (WCAG 2.2, 1.4.11)") {
    for (const Look look : {Look::light, Look::dark, Look::contrast}) {
        const Theme t = make_theme(look);
        CHECK(contrast(t.line, t.card) >= 3.0);
        CHECK(contrast(t.focus, t.paper) >= 3.0);
        CHECK(contrast(t.accent, t.paper) >= 3.0);
    }
}
