#include "cards/drawings.h"
#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view illusion =
    "De Bock, Verschaffel and Janssens 1998, Educ. Studies in Math. 35:65";

constexpr SlipInfo slant{"slanted-side", "Uses the slanted side for the height", hart, from_memory};
constexpr SlipInfo perimeter{"perimeter-for-area", "Works out the distance around instead", hart,
                             from_memory};
constexpr SlipInfo added{"adds-lengths", "Adds the lengths instead of multiplying", "", practice};
constexpr SlipInfo one_base{"one-base-only", "Uses one of the two parallel sides only", "",
                            practice};
constexpr SlipInfo notch_added{"cut-out-added", "Adds the part that is cut out", "", practice};
constexpr SlipInfo notch_ignored{"cut-out-ignored", "Leaves the cut-out part in", "", practice};
constexpr SlipInfo volume{"volume-for-surface", "Multiplies the three edges",
                          "Battista and Clements 1996, JRME 27:258", from_memory};
constexpr SlipInfo three_faces{"three-faces", "Counts each pair of faces once",
                               "Battista and Clements 1996, JRME 27:258", from_memory};
constexpr SlipInfo four_faces{"side-faces-only", "Leaves out the top and the bottom", "", practice};
constexpr SlipInfo scale_divided{
    "scale-wrong-way", "Divides where the scale multiplies, or the other way", "", practice};
constexpr SlipInfo scale_added{"scale-added", "Adds the scale", hart, from_memory};
constexpr SlipInfo scale_once{"area-scaled-once", "Scales an area as if it were a length", illusion,
                              from_memory};
constexpr SlipInfo drawing_area{"scale-ignored", "Leaves the scale out", "", practice};
constexpr SlipInfo radius_for_diameter{"radius-for-diameter", "Uses the radius for the diameter",
                                       "", practice};
constexpr SlipInfo area_for_length{"area-for-circumference", "Uses the formula of the area", "",
                                   practice};
constexpr SlipInfo length_for_area{"circumference-for-area",
                                   "Doubles the radius instead of squaring it", "", practice};
constexpr SlipInfo quartered{"half-circle-area", "Takes half of the area", "", practice};

/// A length: whole, or with a half or a tenth on the hardest tier.
Exact length(Draw& draw, std::int64_t low, std::int64_t high) {
    if (!draw.stretch()) return Exact(draw.in(low, high));
    return Exact(draw.in(low * 2, high * 2), 2);
}

bool parallelogram(Draw& draw, Draft& draft) {
    const Exact base = length(draw, 4, draw.support() ? 12 : 25);
    const Exact height = length(draw, 3, draw.support() ? 10 : 18);
    const Exact side = height + Exact(draw.in(1, 3));
    draft.ask(say("A parallelogram has a base of ", decimal_text(base), " cm, a slanted side of ",
                  decimal_text(side), " cm and a height of ", decimal_text(height),
                  " cm. Find its area."),
              calc(base, "*", height));
    draft.show(decimal_text, " cm²");
    draft.picture(parallelogram_picture(base, height, say(decimal_text(base), " cm"),
                                        say(decimal_text(height), " cm"),
                                        say(decimal_text(side), " cm")));
    draft.answer(base * height);
    draft.step("Base × height: ", decimal_text(base), " × ", decimal_text(height), " = ",
               decimal_text(base * height));
    draft.slip(slant, base * side);
    draft.slip(perimeter, Exact(2) * (base + side));
    draft.slip(halves_too_often, base * height / Exact(2));
    return base != height;
}

bool triangle(Draw& draw, Draft& draft) {
    const Exact base = length(draw, 4, draw.support() ? 14 : 30);
    const Exact height = length(draw, 3, draw.support() ? 10 : 20);
    const Exact side = height + Exact(draw.in(1, 3));
    const Exact area = base * height / Exact(2);
    if (draw.support() && !area.whole()) return false;
    draft.ask(say("A triangle has a base of ", decimal_text(base), " cm, a slanted side of ",
                  decimal_text(side), " cm and a height of ", decimal_text(height),
                  " cm. Find its area."),
              calc(base, "*", height, "/2"));
    draft.show(decimal_text, " cm²");
    draft.picture(triangle_picture(base, height, say(decimal_text(base), " cm"),
                                   say(decimal_text(height), " cm"),
                                   say(decimal_text(side), " cm")));
    draft.answer(area);
    draft.step("Base × height: ", decimal_text(base), " × ", decimal_text(height), " = ",
               decimal_text(base * height));
    draft.step("Half of it: ", decimal_text(base * height), " ÷ 2 = ", decimal_text(area));
    draft.slip(half_forgotten, base * height);
    draft.slip(slant, base * side / Exact(2));
    draft.slip(added, base + height + side);
    return base != height;
}

bool trapezoid(Draw& draw, Draft& draft) {
    const Exact a = length(draw, 5, draw.support() ? 14 : 26);
    const Exact b = length(draw, 3, draw.support() ? 12 : 22);
    const Exact h = length(draw, 2, draw.support() ? 10 : 16);
    const Exact area = (a + b) * h / Exact(2);
    if (a <= b || (draw.support() && !area.whole())) return false;
    draft.ask(say("A trapezoid has parallel sides of ", decimal_text(a), " m and ", decimal_text(b),
                  " m. They are ", decimal_text(h), " m apart. Find its area."),
              calc("(", a, "+", b, ")*", h, "/2"));
    draft.show(decimal_text, " m²");
    draft.picture(trapezoid_picture(a, b, h, say(decimal_text(a), " m"), say(decimal_text(b), " m"),
                                    say(decimal_text(h), " m")));
    draft.answer(area);
    draft.step(decimal_text(a), " + ", decimal_text(b), " = ", decimal_text(a + b));
    draft.step(decimal_text(a + b), " × ", decimal_text(h), " ÷ 2 = ", decimal_text(area));
    draft.slip(half_forgotten, (a + b) * h);
    draft.slip(one_base, a * h);
    draft.slip(added, a + b + h);
    return true;
}

bool composite(Draw& draw, Draft& draft) {
    const Exact w = length(draw, 6, draw.support() ? 12 : 25);
    const Exact h = length(draw, 5, draw.support() ? 10 : 20);
    const Exact p = length(draw, 2, 8);
    const Exact q = length(draw, 2, 8);
    if (p >= w - Exact(1) || q >= h - Exact(1) || w == h || p == q) return false;
    draft.ask(say("A rectangle is ", decimal_text(w), " ft long and ", decimal_text(h),
                  " ft wide. A smaller rectangle, ", decimal_text(p), " ft by ", decimal_text(q),
                  " ft, is cut out of one corner. Find the area of the L-shape that is left."),
              calc(w, "*", h, "-", p, "*", q));
    draft.show(decimal_text, " ft²");
    draft.picture(notched_picture(w, h, p, q,
                                  {say(decimal_text(w), " ft"), say(decimal_text(h), " ft"),
                                   say(decimal_text(p), " ft"), say(decimal_text(q), " ft")}));
    draft.answer(w * h - p * q);
    draft.step("Whole rectangle: ", decimal_text(w), " × ", decimal_text(h), " = ",
               decimal_text(w * h));
    draft.step("Cut out: ", decimal_text(p), " × ", decimal_text(q), " = ", decimal_text(p * q));
    draft.step(decimal_text(w * h), " − ", decimal_text(p * q), " = ", decimal_text(w * h - p * q));
    draft.slip(notch_added, w * h + p * q);
    draft.slip(notch_ignored, w * h);
    draft.slip(perimeter, Exact(2) * (w + h));
    return true;
}

bool surface_box(Draw& draw, Draft& draft) {
    const Exact a = length(draw, 2, draw.support() ? 8 : 15);
    const Exact b = length(draw, 2, draw.support() ? 7 : 12);
    const Exact c = length(draw, 2, draw.support() ? 6 : 10);
    const Exact half = a * b + a * c + b * c;
    if (a == b || b == c || a == c) return false;
    draft.ask(say("A box is ", decimal_text(a), " cm long, ", decimal_text(b), " cm wide and ",
                  decimal_text(c), " cm high. Find its surface area."),
              calc("2*(", a, "*", b, "+", a, "*", c, "+", b, "*", c, ")"));
    draft.show(decimal_text, " cm²");
    draft.picture(box_picture(a, b, c, say(decimal_text(a), " cm"), say(decimal_text(b), " cm"),
                              say(decimal_text(c), " cm")));
    draft.answer(Exact(2) * half);
    draft.step("Three different faces: ", decimal_text(a * b), ", ", decimal_text(a * c), " and ",
               decimal_text(b * c));
    draft.step("Each twice: 2 × (", decimal_text(a * b), " + ", decimal_text(a * c), " + ",
               decimal_text(b * c), ") = ", decimal_text(Exact(2) * half));
    draft.slip(volume, a * b * c);
    draft.slip(three_faces, half);
    draft.slip(four_faces, Exact(2) * (a * c + b * c));
    return true;
}

bool scale_drawing(Draw& draw, Draft& draft) {
    const Exact scale(draw.in(2, draw.support() ? 10 : 25));
    const Exact a(draw.in(2, draw.support() ? 12 : 19), draw.support() ? 1 : 2);
    if (!draw.stretch()) {
        const bool to_real = draw.support() || draw.coin();
        if (!draw.support() && a.whole()) return false;
        const Exact real = a * scale;
        draft.ask(to_real
                      ? say("On a plan 1 cm stands for ", scale, " m. A wall is ", decimal_text(a),
                            " cm long on the plan. How long is it really?")
                      : say("On a plan 1 cm stands for ", scale, " m. A wall is really ",
                            decimal_text(real), " m long. How many centimeters is it on the plan?"),
                  to_real ? calc(a, "*", scale) : calc(real, "/", scale));
        draft.show(decimal_text, to_real ? " m" : " cm");
        draft.answer(to_real ? real : a);
        draft.step(to_real ? say(decimal_text(a), " × ", scale, " = ", decimal_text(real))
                           : say(decimal_text(real), " ÷ ", scale, " = ", decimal_text(a)));
        const Exact given = to_real ? a : real;
        const Exact wrong = to_real ? a / scale : real * scale;
        if (wrong.ends()) draft.slip(scale_divided, wrong);
        draft.slip(scale_added, given + scale);
        draft.slip(drawing_area, given);
        return true;
    }
    const Exact b(draw.in(3, 15), 2);
    if (a == b) return false;
    draft.ask(say("On a plan 1 cm stands for ", scale, " m. A room is ", decimal_text(a), " cm by ",
                  decimal_text(b), " cm on the plan. Find its real area."),
              calc("(", a, "*", scale, ")*(", b, "*", scale, ")"));
    draft.show(decimal_text, " m²");
    draft.answer(a * scale * b * scale);
    draft.step("Real lengths: ", decimal_text(a), " × ", scale, " = ", decimal_text(a * scale),
               " and ", decimal_text(b), " × ", scale, " = ", decimal_text(b * scale));
    draft.step(decimal_text(a * scale), " × ", decimal_text(b * scale), " = ",
               decimal_text(a * scale * b * scale));
    draft.slip(scale_once, a * b * scale);
    draft.slip(drawing_area, a * b);
    draft.slip(perimeter, Exact(2) * (a + b) * scale);
    return true;
}

bool circumference(Draw& draw, Draft& draft) {
    const Exact r =
        draw.support() ? Exact(draw.in(2, 30)) : Exact(draw.in(3, 99), draw.stretch() ? 4 : 2);
    const bool diameter = draw.support() ? draw.coin() : true;
    if (r == Exact(2) || r == Exact(1) || (!draw.support() && r.whole())) return false;
    const Exact given = diameter ? r * Exact(2) : r;
    const std::string thing =
        draw.of<std::string>({"wheel", "round table", "circular pond", "disc", "drum"});
    if (draw.stretch())
        draft.ask(say("A half circle has a diameter of ", decimal_text(given),
                      " cm. Find the length of its arc in terms of π."),
                  calc("pi*", r));
    else
        draft.ask(say("A ", thing, " has a ", diameter ? "diameter" : "radius", " of ",
                      decimal_text(given), " cm. Find its circumference in terms of π."),
                  calc("2*pi*", r));
    draft.show_times_pi(" cm");
    const Exact right = draw.stretch() ? r : Exact(2) * r;
    if (!draw.stretch()) draft.picture(circle_picture(diameter, say(decimal_text(given), " cm")));
    draft.answer(right);
    draft.step(diameter ? say("Circumference: π × diameter = ", decimal_text(given), "π")
                        : say("Circumference: 2 × π × radius = ", decimal_text(Exact(2) * r), "π"));
    if (draw.stretch()) draft.step("Half of it: ", decimal_text(r), "π");
    draft.slip(radius_for_diameter, draw.stretch() ? r / Exact(2) : r);
    draft.slip(diameter_for_radius, right * Exact(2));
    draft.slip(area_for_length, draw.stretch() ? r * r / Exact(2) : r * r);
    return true;
}

bool circle_area(Draw& draw, Draft& draft) {
    const Exact r =
        draw.support() ? Exact(draw.in(3, 40)) : Exact(draw.in(5, 80), draw.stretch() ? 2 : 1);
    const bool diameter = !draw.support();
    if (r == Exact(4) || (draw.stretch() && r.whole())) return false;
    const std::string thing =
        draw.of<std::string>({"rug", "round table", "circular pond", "disc", "clock face"});
    draft.ask(say("A ", thing, " has a ", diameter ? "diameter" : "radius", " of ",
                  decimal_text(diameter ? r * Exact(2) : r), " cm. Find its area in terms of π."),
              calc("pi*", r, "^2"));
    draft.show_times_pi(" cm²");
    draft.answer(r * r);
    if (diameter) draft.step("Radius: ", decimal_text(r * Exact(2)), " ÷ 2 = ", decimal_text(r));
    draft.step("Radius squared: ", decimal_text(r), " × ", decimal_text(r), " = ",
               decimal_text(r * r));
    draft.slip(length_for_area, Exact(2) * r);
    draft.slip(diameter_for_radius, Exact(4) * r * r);
    draft.slip(quartered, r * r / Exact(2));
    return true;
}

}  // namespace

std::vector<Generator> area_cards() {
    constexpr std::array<std::string_view, 3> lengths{
        "Whole lengths up to 14", "Whole lengths up to 30", "Lengths with halves"};
    return {
        {"area-parallelogram", lengths, {&slant, &perimeter, &halves_too_often}, parallelogram},
        {"area-triangle", lengths, {&half_forgotten, &slant, &added}, triangle},
        {"area-trapezoid", lengths, {&half_forgotten, &one_base, &added}, trapezoid},
        {"area-composite", lengths, {&notch_added, &notch_ignored, &perimeter}, composite},
        {"surface-box", lengths, {&volume, &three_faces, &four_faces}, surface_box},
        {"scale-drawing",
         {"Whole lengths to real size", "Lengths with a half, either way", "Real area of a room"},
         {&scale_divided, &scale_added, &drawing_area, &scale_once, &perimeter},
         scale_drawing},
        {"circumference",
         {"Radius or diameter, whole numbers", "Odd diameter", "Arc of a half circle"},
         {&radius_for_diameter, &diameter_for_radius, &area_for_length},
         circumference},
        {"circle-area",
         {"Radius given", "Diameter given", "Odd diameter given"},
         {&length_for_area, &diameter_for_radius, &quartered},
         circle_area},
    };
}

}  // namespace tallyround::cards
