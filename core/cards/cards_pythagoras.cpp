#include "cards/drawings.h"
#include "cards/families.h"

namespace tallyround::cards {

namespace {

constexpr SlipInfo legs_added{"legs-added", "Adds the two lengths", "", practice};
constexpr SlipInfo root_forgotten{"root-forgotten", "Stops before taking the root", "", practice};
constexpr SlipInfo squares_wrong{"squares-wrong-way",
                                 "Subtracts the squares where it should add, or the other way", "",
                                 practice};
constexpr SlipInfo coordinates_subtracted{"lengths-subtracted", "Subtracts the two lengths", "",
                                          practice};

struct Triple {
    std::int64_t a, b, c;
};

Triple triple(Draw& draw, std::int64_t high) {
    while (true) {
        const Triple t = draw.of<Triple>({{3, 4, 5},
                                          {5, 12, 13},
                                          {8, 15, 17},
                                          {7, 24, 25},
                                          {20, 21, 29},
                                          {9, 40, 41},
                                          {12, 35, 37}});
        const std::int64_t k = draw.in(1, 15);
        if (t.c * k > high) continue;
        return draw.coin() ? Triple{t.a * k, t.b * k, t.c * k} : Triple{t.b * k, t.a * k, t.c * k};
    }
}

std::string root_text(const Exact& square) {
    return "√" + decimal_text(square);
}

/// A length whose square is known: a whole or decimal number when it has one, else a root.
void answer_root(Draft& draft, const Exact& square, const Exact& root) {
    if (root * root == square)
        draft.answer(decimal_text(root) + " cm", math(root));
    else
        draft.answer(root_text(square) + " cm", "sqrt(" + math(square) + ")");
}

void wrong_length(Draft& draft, const SlipInfo& slip, const Exact& x) {
    draft.slip(slip, decimal_text(x) + " cm", math(x));
}

bool hypotenuse(Draw& draw, Draft& draft) {
    const Triple t = triple(draw, draw.support() ? 60 : 120);
    const bool root = draw.stretch();
    const Exact scale(1, draw.support() || root ? 1 : 10);
    const Exact a = root ? Exact(draw.in(2, 15)) : Exact(t.a) * scale;
    const Exact b = root ? Exact(draw.in(2, 15)) : Exact(t.b) * scale;
    const Exact square = a * a + b * b;
    const Exact c = Exact(t.c) * scale;
    for (std::int64_t n = 1; root && n < 25; ++n)
        if (square == Exact(n * n)) return false;
    if (a == b) return false;
    draft.ask(say("The legs of a right triangle are ", decimal_text(a), " cm and ", decimal_text(b),
                  " cm. How long is the longest side?", root ? " Write it as a root." : ""),
              calc("sqrt(", a, "^2+", b, "^2)"));
    draft.picture(right_triangle_picture(a, b, say(decimal_text(a), " cm"),
                                         say(decimal_text(b), " cm"), "?"));
    answer_root(draft, square, c);
    draft.step("Squares: ", decimal_text(a * a), " + ", decimal_text(b * b), " = ",
               decimal_text(square));
    draft.step(root ? say("The side is the root of it: ", root_text(square))
                    : say("Check: ", decimal_text(c), " × ", decimal_text(c), " = ",
                          decimal_text(square)));
    wrong_length(draft, legs_added, a + b);
    wrong_length(draft, root_forgotten, square);
    const Exact difference = abs(a * a - b * b);
    draft.slip(squares_wrong, root_text(difference) + " cm", "sqrt(" + math(difference) + ")");
    return true;
}

bool leg(Draw& draw, Draft& draft) {
    const Triple t = triple(draw, draw.support() ? 60 : 120);
    const bool root = draw.stretch();
    const Exact scale(1, draw.support() || root ? 1 : 10);
    const Exact a = root ? Exact(draw.in(2, 14)) : Exact(t.a) * scale;
    const Exact c = root ? a + Exact(draw.in(1, 9)) : Exact(t.c) * scale;
    const Exact square = c * c - a * a;
    const Exact b = Exact(t.b) * scale;
    for (std::int64_t n = 1; root && n < 30; ++n)
        if (square == Exact(n * n)) return false;
    draft.ask(
        say("The longest side of a right triangle is ", decimal_text(c), " cm and one leg is ",
            decimal_text(a), " cm. How long is the other leg?", root ? " Write it as a root." : ""),
        calc("sqrt(", c, "^2-", a, "^2)"));
    draft.picture(right_triangle_picture(a, root ? a : b, say(decimal_text(a), " cm"), "?",
                                         say(decimal_text(c), " cm")));
    answer_root(draft, square, b);
    draft.step("Squares: ", decimal_text(c * c), " − ", decimal_text(a * a), " = ",
               decimal_text(square));
    draft.step(root ? say("The leg is the root of it: ", root_text(square))
                    : say("Check: ", decimal_text(b), " × ", decimal_text(b), " = ",
                          decimal_text(square)));
    wrong_length(draft, coordinates_subtracted, c - a);
    wrong_length(draft, root_forgotten, square);
    draft.slip(squares_wrong, root_text(c * c + a * a) + " cm",
               "sqrt(" + math(c * c + a * a) + ")");
    return true;
}

bool point_distance(Draw& draw, Draft& draft) {
    const Triple t = triple(draw, draw.support() ? 15 : 30);
    const bool root = draw.stretch();
    const Exact dx(root ? draw.in(1, 9) : t.a), dy(root ? draw.in(1, 9) : t.b);
    const Exact x(draw.in(draw.support() ? 0 : -9, 6)), y(draw.in(draw.support() ? 0 : -9, 6));
    const Exact to_x = x + dx;
    const Exact to_y = draw.support() || draw.coin() ? y + dy : y - dy;
    const Exact square = dx * dx + dy * dy;
    for (std::int64_t n = 1; root && n < 14; ++n)
        if (square == Exact(n * n)) return false;
    if (dx == dy) return false;
    draft.ask(say("Find the distance between ", point_text(x, y), " and ", point_text(to_x, to_y),
                  ".", root ? " Write it as a root." : ""),
              calc("sqrt((", to_x, "-", x, ")^2+(", to_y, "-", y, ")^2)"));
    draft.picture(grid_picture({{x, y, ""}, {to_x, to_y, ""}}, CoordinateGrid::Joined::line));
    if (root)
        draft.answer(root_text(square), "sqrt(" + math(square) + ")");
    else
        draft.answer(Exact(t.c));
    draft.step("Sideways: ", dx, "; up or down: ", dy);
    draft.step(dx * dx, " + ", dy * dy, " = ", square);
    draft.step(root ? say("Distance: ", root_text(square)) : say(t.c, " × ", t.c, " = ", square));
    draft.slip(legs_added, dx + dy);
    draft.slip(root_forgotten, square);
    const Exact difference = abs(dx * dx - dy * dy);
    draft.slip(squares_wrong, root_text(difference), "sqrt(" + math(difference) + ")");
    return true;
}

}  // namespace

std::vector<Generator> pythagoras_cards() {
    return {
        {"hypotenuse",
         {"Whole sides up to 60", "Sides with tenths", "The answer stays a root"},
         {&legs_added, &root_forgotten, &squares_wrong},
         hypotenuse},
        {"triangle-leg",
         {"Whole sides up to 60", "Sides with tenths", "The answer stays a root"},
         {&coordinates_subtracted, &root_forgotten, &squares_wrong},
         leg},
        {"point-distance",
         {"First quadrant, whole answers", "All quadrants, whole answers",
          "The answer stays a root"},
         {&legs_added, &root_forgotten, &squares_wrong},
         point_distance},
    };
}

}  // namespace tallyround::cards
