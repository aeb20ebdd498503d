#include "cards/drawings.h"
#include "cards/families.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view leinhardt =
    "Leinhardt, Zaslavsky and Stein 1990, Rev. of Educ. Research 60:1";

constexpr SlipInfo axis_for_line{"axis-for-line", "Reflects in the axis instead of the line", "",
                                 practice};
constexpr SlipInfo below_zero{"negative-distance", "Gives a distance below zero", "", practice};
constexpr SlipInfo swapped{"coordinates-swapped", "Swaps the two coordinates", leinhardt,
                           from_memory};
constexpr SlipInfo moves_swapped{"moves-swapped", "Uses the sideways move for up and down",
                                 leinhardt, from_memory};
constexpr SlipInfo moves_only{"moves-only", "Writes the moves, not the place", "", practice};
constexpr SlipInfo wrong_direction{"wrong-direction", "Moves the other way along one axis", "",
                                   practice};
constexpr SlipInfo signs_ignored{
    "signs-ignored", "Subtracts the sizes although the points are on two sides", hart, from_memory};
constexpr SlipInfo points_counted{"points-counted", "Counts the points instead of the steps",
                                  "Clements, length studies", from_memory};
constexpr SlipInfo other_axis{"other-axis", "Reflects in the other axis",
                              "Küchemann 1981, reflections and rotations", from_memory};
constexpr SlipInfo both_axes{"both-axes", "Changes both signs",
                             "Küchemann 1981, reflections and rotations", from_memory};
constexpr SlipInfo turned_back{"turned-other-way", "Turns the other way round",
                               "Küchemann 1981, reflections and rotations", from_memory};
constexpr SlipInfo half_turn{"half-turn", "Makes a half turn", "", practice};
constexpr SlipInfo quarter_turn{"quarter-turn", "Makes a quarter turn", "", practice};
constexpr SlipInfo factor_added{"scale-factor-added", "Adds the factor to the coordinates", hart,
                                from_memory};
constexpr SlipInfo one_coordinate{"one-coordinate-only", "Changes one coordinate only", "",
                                  practice};
constexpr SlipInfo divided{"shrinks-for-grows",
                           "Divides where it should multiply, or the other way", "", practice};

std::string point_math(const Exact& x, const Exact& y) {
    return say("(", math(x), ",", math(y), ")");
}

void answer_point(Draft& draft, const Exact& x, const Exact& y) {
    draft.answer(point_text(x, y), point_math(x, y));
}

void wrong_point(Draft& draft, const SlipInfo& slip, const Exact& x, const Exact& y) {
    draft.slip(slip, point_text(x, y), point_math(x, y));
}

std::string in_brackets(const Exact& n) {
    return n < Exact(0) ? say("(", n, ")") : say(n);
}

std::string move_text(const Exact& by, const char* positive, const char* negative) {
    return say(abs(by), abs(by) == Exact(1) ? " unit " : " units ",
               by < Exact(0) ? negative : positive);
}

/// Start point, move and landing for coordinate-move (all coordinates >= 0) and translate-point.
bool move_point(Draw& draw, Draft& draft, std::int64_t low, std::int64_t high, bool back) {
    const Exact x(draw.in(low, high)), y(draw.in(low, high));
    const Exact dx(draw.either_sign(1, 9, back));
    const Exact dy(draw.either_sign(1, 9, back));
    const Exact to_x = x + dx;
    const Exact to_y = y + dy;
    if (low >= 0 && (to_x < Exact(0) || to_y < Exact(0) || x + dy < Exact(0) || y + dx < Exact(0)))
        return false;
    if (to_x == to_y || dx == dy || x == y) return false;
    draft.ask(say("Start at ", point_text(x, y), ". Move ", move_text(dx, "right", "left"), " and ",
                  move_text(dy, "up", "down"), ". Where do you land?"),
              calc("(", x, "+", dx, ",", y, "+", dy, ")"));
    draft.picture(grid_picture({{x, y, "A"}}));
    answer_point(draft, to_x, to_y);
    draft.step("First coordinate: ", x, dx < Exact(0) ? " − " : " + ", abs(dx), " = ", to_x);
    draft.step("Second coordinate: ", y, dy < Exact(0) ? " − " : " + ", abs(dy), " = ", to_y);
    wrong_point(draft, swapped, to_y, to_x);
    wrong_point(draft, moves_swapped, x + dy, y + dx);
    if (low >= 0)
        wrong_point(draft, moves_only, abs(dx), abs(dy));
    else
        wrong_point(draft, wrong_direction, x - dx, to_y);
    return true;
}

bool coordinate_move(Draw& draw, Draft& draft) {
    return move_point(draw, draft, 0, draw.support() ? 9 : 15,
                      draw.stretch() || (!draw.support() && draw.coin()));
}

bool translate(Draw& draw, Draft& draft) {
    if (!draw.stretch())
        return move_point(draw, draft, draw.support() ? -5 : -12, draw.support() ? 5 : 12, true);
    // The move is known from one point and used on another.
    const Exact ax(draw.in(-9, 9)), ay(draw.in(-9, 9)), dx(draw.nonzero(-9, 9)),
        dy(draw.nonzero(-9, 9));
    const Exact bx(draw.in(-9, 9)), by(draw.in(-9, 9));
    if (dx == dy || (ax == bx && ay == by) || bx + dx == by + dy) return false;
    draft.ask(say("A slide takes ", point_text(ax, ay), " to ", point_text(ax + dx, ay + dy),
                  ". Where does it take ", point_text(bx, by), "?"),
              calc("(", bx, "+", ax + dx, "-", ax, ",", by, "+", ay + dy, "-", ay, ")"));
    answer_point(draft, bx + dx, by + dy);
    draft.step("Move: ", ax + dx, " − ", in_brackets(ax), " = ", dx, " and ", ay + dy, " − ",
               in_brackets(ay), " = ", dy);
    draft.step(bx, " + ", in_brackets(dx), " = ", bx + dx, " and ", by, " + ", in_brackets(dy),
               " = ", by + dy);
    wrong_point(draft, swapped, by + dy, bx + dx);
    wrong_point(draft, moves_swapped, bx + dy, by + dx);
    wrong_point(draft, wrong_direction, bx - dx, by - dy);
    return true;
}

bool grid_distance(Draw& draw, Draft& draft) {
    const std::int64_t scale = draw.stretch() ? 2 : 1;
    const std::int64_t high = draw.by_tier<std::int64_t>(8, 20, 30);
    const Exact a(-draw.in(1, high), scale), b(draw.in(1, high), scale);
    const Exact fixed(draw.in(-9, 9));
    if (-a == b || (draw.stretch() && (a.whole() || b.whole()))) return false;
    const bool level = draw.coin();
    const std::string p = level ? say("(", decimal_text(a), ", ", fixed, ")")
                                : say("(", fixed, ", ", decimal_text(a), ")");
    const std::string q = level ? say("(", decimal_text(b), ", ", fixed, ")")
                                : say("(", fixed, ", ", decimal_text(b), ")");
    draft.ask(say("How far apart are ", p, " and ", q, "?"), calc("abs(", b, "-", a, ")"));
    draft.show(decimal_text);
    draft.picture(grid_picture({{level ? a : fixed, level ? fixed : a, "A"},
                                {level ? b : fixed, level ? fixed : b, "B"}}));
    draft.answer(b - a);
    draft.step("From ", decimal_text(a), " to 0: ", decimal_text(-a), "; from 0 to ",
               decimal_text(b), ": ", decimal_text(b));
    draft.step(decimal_text(-a), " + ", decimal_text(b), " = ", decimal_text(b - a));
    draft.slip(signs_ignored, abs(b + a));
    draft.slip(points_counted, b - a + Exact(1));
    draft.slip(below_zero, a - b);
    return true;
}

bool reflect(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(9, 12, 12);
    const Exact x(draw.support() ? draw.in(1, high) : draw.nonzero(-high, high));
    const Exact y(draw.support() ? draw.in(1, high) : draw.nonzero(-high, high));
    if (abs(x) == abs(y)) return false;
    const bool in_x = draw.coin();
    if (draw.stretch()) {
        const Exact line(draw.nonzero(-6, 6));
        const Exact to_x = in_x ? x : Exact(2) * line - x;
        const Exact to_y = in_x ? Exact(2) * line - y : y;
        if (to_x == x && to_y == y) return false;
        draft.ask(
            say("Reflect ", point_text(x, y), " in the line ", in_x ? "y = " : "x = ", line,
                ". Where does it land?"),
            in_x ? calc("(", x, ",2*", line, "-", y, ")") : calc("(2*", line, "-", x, ",", y, ")"));
        answer_point(draft, to_x, to_y);
        draft.step("Distance to the line: ", line, " − ", in_brackets(in_x ? y : x), " = ",
                   line - (in_x ? y : x));
        draft.step("As far on the other side: ", point_text(to_x, to_y));
        wrong_point(draft, other_axis, in_x ? Exact(2) * line - x : x,
                    in_x ? y : Exact(2) * line - y);
        wrong_point(draft, axis_for_line, in_x ? x : -x, in_x ? -y : y);
        wrong_point(draft, both_axes, -x, -y);
        return true;
    }
    draft.ask(say("Reflect ", point_text(x, y), " in the ", in_x ? "x-axis" : "y-axis",
                  ". Where does it land?"),
              in_x ? calc("(", x, ",-", y, ")") : calc("(-", x, ",", y, ")"));
    draft.picture(grid_picture({{x, y, "A"}}));
    answer_point(draft, in_x ? x : -x, in_x ? -y : y);
    draft.step(in_x ? "The first coordinate stays, the second changes its sign: "
                    : "The second coordinate stays, the first changes its sign: ",
               point_text(in_x ? x : -x, in_x ? -y : y));
    wrong_point(draft, other_axis, in_x ? -x : x, in_x ? y : -y);
    wrong_point(draft, both_axes, -x, -y);
    wrong_point(draft, swapped, y, x);
    return true;
}

bool rotate(Draw& draw, Draft& draft) {
    const Exact x(draw.support() ? draw.in(1, 12) : draw.nonzero(-12, 12));
    const Exact y(draw.support() ? draw.in(1, 12) : draw.nonzero(-12, 12));
    if (abs(x) == abs(y)) return false;
    const int quarter =
        static_cast<int>(draw.support()   ? 1
                         : draw.stretch() ? draw.of({5, 7, 3})
                                          : draw.of({1, 2, 3}));  // counterclockwise
    const bool clockwise = draw.stretch() || (!draw.support() && quarter == 3);
    const int turns = quarter % 4;
    const Exact to_x = turns == 1 ? -y : turns == 2 ? -x : y;
    const Exact to_y = turns == 1 ? x : turns == 2 ? -y : -x;
    const int degrees = clockwise
                            ? (draw.stretch() ? (turns == 3 ? (quarter == 7 ? 450 : 90) : 270) : 90)
                            : quarter * 90;
    draft.ask(
        say("Turn ", point_text(x, y), " ", degrees, "° ",
            clockwise ? "clockwise" : "counterclockwise", " about the origin. Where does it land?"),
        turns == 1   ? calc("(-", y, ",", x, ")")
        : turns == 2 ? calc("(-", x, ",-", y, ")")
                     : calc("(", y, ",-", x, ")"));
    draft.picture(grid_picture({{x, y, "A"}}));
    answer_point(draft, to_x, to_y);
    if (degrees > 360) draft.step(degrees, "° is a full turn and ", degrees - 360, "°.");
    draft.step(turns == 2 ? "A half turn changes both signs: "
                          : "A quarter turn swaps the coordinates and changes one sign: ",
               point_text(to_x, to_y));
    wrong_point(draft, swapped, y, x);
    if (turns == 2) {
        wrong_point(draft, quarter_turn, -y, x);
        wrong_point(draft, one_coordinate, -x, y);
    } else {
        wrong_point(draft, turned_back, -to_x, -to_y);
        wrong_point(draft, half_turn, -x, -y);
    }
    return true;
}

bool dilate(Draw& draw, Draft& draft) {
    const std::int64_t low = draw.support() ? 1 : -9;
    const Exact x(draw.nonzero(low, 9)), y(draw.nonzero(low, 9));
    const Exact k = draw.stretch()
                        ? Exact{draw.of<std::int64_t>({1, 3, 5}), draw.of<std::int64_t>({2, 4})}
                        : Exact(draw.in(2, draw.support() ? 5 : 9));
    if (x == y || (draw.stretch() && !((x * k * Exact(4)).whole()))) return false;
    draft.ask(say("Enlarge ", point_text(x, y), " from the origin by the factor ", k,
                  ". Where does it land?"),
              calc("(", k, "*", x, ",", k, "*", y, ")"));
    answer_point(draft, k * x, k * y);
    draft.step(k, " × ", in_brackets(x), " = ", k * x, " and ", k, " × ", in_brackets(y), " = ",
               k * y);
    wrong_point(draft, factor_added, x + k, y + k);
    wrong_point(draft, one_coordinate, k * x, y);
    wrong_point(draft, divided, x / k, y / k);
    return true;
}

}  // namespace

std::vector<Generator> grid_cards() {
    return {
        {"coordinate-move",
         {"Moves right and up", "Moves in all directions",
          "Moves in all directions, coordinates up to 15"},
         {&swapped, &moves_swapped, &moves_only},
         coordinate_move},
        {"grid-distance",
         {"Coordinates up to 8", "Coordinates up to 20", "Coordinates with halves"},
         {&below_zero, &signs_ignored, &points_counted},
         grid_distance},
        {"translate-point",
         {"Coordinates from −5 to 5", "Coordinates from −12 to 12",
          "The move is read from another point"},
         {&swapped, &moves_swapped, &wrong_direction},
         translate},
        {"reflect-point",
         {"First quadrant, in an axis", "All quadrants, in an axis", "In a line beside an axis"},
         {&axis_for_line, &other_axis, &both_axes, &swapped},
         reflect},
        {"rotate-point",
         {"First quadrant, a quarter turn counterclockwise",
          "All quadrants, quarter and half turns", "Turns of 90°, 270° and more than a full turn"},
         {&swapped, &turned_back, &half_turn, &quarter_turn, &one_coordinate},
         rotate},
        {"dilate-point",
         {"First quadrant, whole factor", "All quadrants, whole factor",
          "All quadrants, fraction factor"},
         {&factor_added, &one_coordinate, &divided},
         dilate},
    };
}

}  // namespace tallyround::cards
