#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr SlipInfo divides_by_sum{"divides-by-edge-sum", "Divides by the sum of the known edges",
                                  "", practice};
constexpr SlipInfo edges_off{"edges-subtracted", "Subtracts the known edges", "", practice};
constexpr SlipInfo one_edge_divided{"divides-by-one-edge", "Divides by one of the known edges only",
                                    "", practice};
constexpr SlipInfo third{"third-for-half", "Divides by three as for a pyramid", "", practice};
constexpr SlipInfo bottom_only{"base-area-only", "Stops at the area of the base", "", practice};
constexpr SlipInfo sum_edges{"edges-added", "Adds the edges",
                             "Battista and Clements 1996, JRME 27:258", from_memory};
constexpr SlipInfo face_only{"one-face-only", "Multiplies two edges only", "", practice};
constexpr SlipInfo surface_count{"faces-counted", "Counts the squares on the faces",
                                 "Battista and Clements 1996, JRME 27:258", from_memory};
constexpr SlipInfo one_box{"one-box-only", "Leaves one box out", "", practice};
constexpr SlipInfo boxes_multiplied{
    "edges-joined", "Adds the lengths of the boxes first, then multiplies", "", practice};
constexpr SlipInfo fractions_dropped{
    "fraction-edges-dropped", "Uses the whole parts of the edges only", ashlock, from_memory};
constexpr SlipInfo lateral{"side-surface", "Works out the side surface instead", "", practice};
constexpr SlipInfo not_third{"third-forgotten", "Forgets the third", "", practice};
constexpr SlipInfo square_for_cube{"square-for-cube", "Squares the radius where it should cube it",
                                   "", practice};

/// A length: whole, or with a half or a tenth on the hardest tier.
Exact length(Draw& draw, std::int64_t low, std::int64_t high) {
    if (!draw.stretch()) return Exact(draw.in(low, high));
    return Exact(draw.in(low * 2, high * 2), 2);
}

std::string box_text(const Exact& a, const Exact& b, const Exact& c, std::string_view unit) {
    return say(mixed_text(a), " ", unit, " long, ", mixed_text(b), " ", unit, " wide and ",
               mixed_text(c), " ", unit, " high");
}

bool prism(Draw& draw, Draft& draft) {
    const Exact b = length(draw, 3, draw.support() ? 10 : 18);
    const Exact h = length(draw, 2, draw.support() ? 8 : 14);
    const Exact l = length(draw, 4, draw.support() ? 12 : 25);
    const Exact v = b * h * l / Exact(2);
    if (draw.support() && !v.whole()) return false;
    draft.ask(
        say("A triangular prism is ", decimal_text(l), " cm long. Its triangle has a base of ",
            decimal_text(b), " cm and a height of ", decimal_text(h), " cm. Find its volume."),
        calc(b, "*", h, "/2*", l));
    draft.show(decimal_text, " cm³");
    draft.answer(v);
    draft.step("Triangle: ", decimal_text(b), " × ", decimal_text(h),
               " ÷ 2 = ", decimal_text(b * h / Exact(2)));
    draft.step(decimal_text(b * h / Exact(2)), " × ", decimal_text(l), " = ", decimal_text(v));
    draft.slip(half_forgotten, b * h * l);
    draft.slip(bottom_only, b * h / Exact(2));
    const Exact by_three = b * h * l / Exact(3);
    if (by_three.ends()) draft.slip(third, by_three);
    return true;
}

bool cylinder(Draw& draw, Draft& draft) {
    const Exact r = draw.stretch() ? Exact(draw.in(3, 19), 2) : Exact(draw.in(3, 12));
    const Exact h(draw.in(3, draw.support() ? 12 : 25));
    const bool diameter = !draw.support();
    if (r == h || (draw.stretch() && r.whole())) return false;
    draft.ask(say("A cylinder has a ", diameter ? "diameter" : "radius", " of ",
                  decimal_text(diameter ? r * Exact(2) : r), " cm and a height of ", h,
                  " cm. Find its volume in terms of π."),
              calc("pi*", r, "^2*", h));
    draft.show_times_pi(" cm³");
    draft.answer(r * r * h);
    draft.step("Base: ", decimal_text(r), " × ", decimal_text(r), " = ", decimal_text(r * r),
               ", times π");
    draft.step(decimal_text(r * r), " × ", h, " = ", decimal_text(r * r * h), ", times π");
    draft.slip(lateral, Exact(2) * r * h);
    draft.slip(diameter_for_radius, Exact(4) * r * r * h);
    draft.slip(bottom_only, r * r);
    return true;
}

bool cone_sphere(Draw& draw, Draft& draft) {
    const bool sphere = !draw.support() && draw.coin();
    const Exact r(draw.in(2, draw.support() ? 12 : 15));
    if (sphere) {
        const Exact v = Exact(4, 3) * r * r * r;
        const bool diameter = draw.stretch();
        if (!draw.stretch() && !v.whole()) return false;
        draft.ask(say("A ball has a ", diameter ? "diameter" : "radius", " of ",
                      diameter ? r * Exact(2) : r, " cm. Find its volume in terms of π."),
                  calc("4/3*pi*", r, "^3"));
        draft.show_times_pi(" cm³");
        draft.answer(v);
        draft.step(r, " × ", r, " × ", r, " = ", r * r * r);
        draft.step(r * r * r, " × 4 ÷ 3 = ", v, ", times π");
        draft.slip(square_for_cube, Exact(4, 3) * r * r);
        draft.slip(not_third, Exact(4) * r * r * r);
        draft.slip(diameter_for_radius, v * Exact(8));
        return true;
    }
    const Exact h(draw.in(3, draw.support() ? 15 : 20));
    const Exact v = r * r * h / Exact(3);
    const bool diameter = draw.stretch();
    if (r == h || v.whole() == draw.stretch()) return false;
    draft.ask(
        say("A cone has a ", diameter ? "diameter" : "radius", " of ", diameter ? r * Exact(2) : r,
            " cm and a height of ", h, " cm. Find its volume in terms of π."),
        calc("1/3*pi*", r, "^2*", h));
    draft.show_times_pi(" cm³");
    draft.answer(v);
    draft.step("Cylinder around it: ", r, " × ", r, " × ", h, " = ", r * r * h, ", times π");
    draft.step("A third of it: ", r * r * h, " ÷ 3 = ", v, ", times π");
    draft.slip(not_third, r * r * h);
    draft.slip(halves_too_often, r * r * h / Exact(2));
    draft.slip(diameter_for_radius, v * Exact(4));
    return true;
}

bool box_volume(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(8, 15, 30);
    const Exact a(draw.in(2, high)), b(draw.in(2, high)), c(draw.in(2, high));
    if (a == b || b == c || a == c) return false;
    const Exact v = a * b * c;
    if (draw.stretch()) {
        draft.ask(say("A box holds ", v, " cubic inches. It is ", a, " in long and ", b,
                      " in wide. How high is it?"),
                  calc(v, "/(", a, "*", b, ")"));
        draft.show(mixed_text, " in");
        draft.answer(c);
        draft.step("Base: ", a, " × ", b, " = ", a * b);
        draft.step(v, " ÷ ", a * b, " = ", c);
        draft.slip(one_edge_divided, v / a);
        draft.slip(edges_off, v - a - b);
        draft.slip(divides_by_sum, v / (a + b));
        return true;
    }
    draft.ask(say("A box is ", box_text(a, b, c, "in"), ". Find its volume."),
              calc(a, "*", b, "*", c));
    draft.show(mixed_text, " in³");
    draft.answer(v);
    draft.step("Base: ", a, " × ", b, " = ", a * b);
    draft.step(a * b, " × ", c, " = ", v);
    draft.slip(sum_edges, a + b + c);
    draft.slip(face_only, a * b);
    draft.slip(surface_count, Exact(2) * (a * b + a * c + b * c));
    return true;
}

bool two_boxes(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(8, 12, 20);
    const Exact a(draw.in(3, high)), b(draw.in(2, high)), c(draw.in(2, high));
    const Exact d(draw.in(2, high)), e = draw.support() ? b : Exact(draw.in(2, high));
    const Exact f = draw.stretch() ? Exact(draw.in(2, high)) : c;
    const Exact v = a * b * c + d * e * f;
    if (a == d || (draw.stretch() && (b == e || c == f))) return false;
    draft.ask(say("A solid is made of two boxes. One is ", box_text(a, b, c, "cm"),
                  ". The other is ", box_text(d, e, f, "cm"), ". Find the volume of the solid."),
              calc(a, "*", b, "*", c, "+", d, "*", e, "*", f));
    draft.show(mixed_text, " cm³");
    draft.answer(v);
    draft.step(a, " × ", b, " × ", c, " = ", a * b * c);
    draft.step(d, " × ", e, " × ", f, " = ", d * e * f);
    draft.step(a * b * c, " + ", d * e * f, " = ", v);
    draft.slip(one_box, a * b * c);
    draft.slip(boxes_multiplied, (a + d) * (b + e) * (c + f));
    draft.slip(sum_edges, a + b + c + d + e + f);
    return true;
}

bool fraction_box(Draw& draw, Draft& draft) {
    const auto edge = [&](std::int64_t bottom) {
        return Exact(draw.in(bottom + 1, bottom * 5), bottom);
    };
    const Exact a = edge(draw.support() ? 1 : draw.of<std::int64_t>({2, 3}));
    const Exact b = edge(2);
    const Exact c = edge(draw.support()   ? 2
                         : draw.stretch() ? draw.of<std::int64_t>({3, 4, 5})
                                          : 4);
    const Exact v = a * b * c;
    if (b.whole() || c.whole() || (!draw.support() && a.whole()) || b == c) return false;
    draft.ask(say("A box is ", box_text(a, b, c, "ft"), ". Find its volume."),
              calc(a, "*", b, "*", c));
    draft.show(mixed_text, " ft³");
    draft.answer(v);
    draft.step("As fractions: ", a, ", ", b, " and ", c);
    draft.step(a, " × ", b, " × ", c, " = ", mixed_text(v));
    draft.slip(fractions_dropped, Exact(floor_of(a) * floor_of(b) * floor_of(c)));
    draft.slip(sum_edges, a + b + c);
    draft.slip(face_only, a * b);
    return true;
}

}  // namespace

std::vector<Generator> volume_cards() {
    constexpr std::array<std::string_view, 3> lengths{
        "Whole lengths up to 12", "Whole lengths up to 25", "Lengths with halves"};
    return {
        {"volume-prism", lengths, {&half_forgotten, &bottom_only, &third}, prism},
        {"cylinder-volume",
         {"Radius given", "Diameter given", "Odd diameter given"},
         {&lateral, &diameter_for_radius, &bottom_only},
         cylinder},
        {"cone-sphere-volume",
         {"Cones, radius given, whole multiples of π", "Cones and balls, whole multiples of π",
          "Diameter given"},
         {&not_third, &halves_too_often, &square_for_cube, &diameter_for_radius},
         cone_sphere},
        {"volume-box",
         {"Edges up to 8", "Edges up to 15", "A missing edge"},
         {&one_edge_divided, &edges_off, &divides_by_sum, &sum_edges, &face_only, &surface_count},
         box_volume},
        {"volume-two-boxes",
         {"Boxes of one width and height", "Boxes of one height", "Boxes with all edges different"},
         {&one_box, &boxes_multiplied, &sum_edges},
         two_boxes},
        {"volume-fraction-box",
         {"Two edges with halves", "Halves, thirds and quarters", "Halves, thirds and fifths"},
         {&fractions_dropped, &sum_edges, &face_only},
         fraction_box},
    };
}

}  // namespace tallyround::cards
