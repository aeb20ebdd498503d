#include "cards/drawings.h"
#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr SlipInfo coefficients_multiplied{
    "coefficients-multiplied", "Multiplies the coefficients of like terms", "", practice};
constexpr SlipInfo exponents_joined{"like-terms-squared", "Adds the exponents of like terms", payne,
                                    from_memory};
constexpr SlipInfo subtracts_first{"subtracts-before-bracket",
                                   "Subtracts before multiplying the bracket", "", practice};
constexpr SlipInfo order_reversed{"order-reversed", "Writes the parts in the order of the words",
                                  "Clement 1982, J. Research in Math. Education 13:16",
                                  from_memory};
constexpr SlipInfo grouped_wrong{"bracket-added", "Applies the factor to the whole expression",
                                 booth, from_memory};
constexpr SlipInfo conjoined{"terms-joined", "Joins unlike terms into one", booth, from_memory};
constexpr SlipInfo sign_lost{"difference-as-sum", "Adds where the expression takes away", "",
                             practice};
constexpr SlipInfo second_only{"second-term-only", "Applies the factor to the last term only", matz,
                               from_memory};
constexpr SlipInfo added_factor{"factor-added-to-terms", "Adds the factor to each term", "",
                                practice};
constexpr SlipInfo sign_not_carried{"sign-not-carried",
                                    "Leaves the sign of the second term unchanged",
                                    "Vlassis 2004, Learning and Instruction 14:469", from_memory};
constexpr SlipInfo sign_detached{"sign-detached", "Loses the sign in front of a term", payne,
                                 from_memory};
constexpr SlipInfo first_factored{
    "first-term-factored", "Takes the factor out of the first term only", payne, from_memory};
constexpr SlipInfo factor_subtracted{"factor-off-each-term", "Subtracts the factor from each term",
                                     "", practice};

bool words_to_algebra(Draw& draw, Draft& draft) {
    const std::string_view n = draw.of<std::string_view>({"n", "x", "k", "m", "p", "t", "y"});
    const Exact a(draw.in(2, 9));
    const Exact b(draw.in(2, draw.support() ? 12 : 20));
    if (a == b) return false;
    const auto answer = [&](const std::string& text, const std::string& text_math,
                            const std::string& words) {
        draft.ask("Write an expression: " + words, text_math);
        draft.answer(text, text_math);
    };
    if (draw.support()) {
        const bool less = draw.coin();
        answer(
            linear_text(a, n, less ? -b : b), linear_math(a, n, less ? -b : b),
            less ? say(b, " less than ", a, " times ", n) : say(b, " more than ", a, " times ", n));
        draft.step(a, " times ", n, " is ", linear_text(a, n, 0), ".");
        draft.step("Then ", less ? "take away " : "add ", b, ": ",
                   linear_text(a, n, less ? -b : b));
        if (less)
            draft.slip(order_reversed, say(b, " − ", linear_text(a, n, 0)),
                       say(math(b), "-", linear_math(a, n, 0)));
        draft.slip(grouped_wrong, say(a, "(", linear_text(1, n, less ? -b : b), ")"),
                   say(math(a), "*(", linear_math(1, n, less ? -b : b), ")"));
        draft.slip(conjoined, linear_text(less ? a - b : a + b, n, 0),
                   linear_math(less ? a - b : a + b, n, 0));
        return a != b;
    }
    const bool sum = draw.coin();
    const Exact c = sum ? b : -b;
    const std::string inner = linear_text(1, n, c);
    if (!draw.stretch()) {
        answer(say(a, "(", inner, ")"), say(math(a), "*(", linear_math(1, n, c), ")"),
               sum ? say(a, " times the sum of ", n, " and ", b)
                   : say(a, " times the difference of ", n, " minus ", b));
        draft.step(sum ? "The sum comes first: " : "The difference comes first: ", inner);
        draft.step("All of it ", a, " times: ", a, "(", inner, ")");
    } else {
        answer(say("(", inner, ")/", a), say("(", linear_math(1, n, c), ")/", math(a)),
               sum ? say("the sum of ", n, " and ", b, ", divided by ", a)
                   : say(b, " less than ", n, ", then all divided by ", a));
        draft.step(sum ? "The sum comes first: " : "The difference comes first: ", inner);
        draft.step("All of it divided by ", a, ": (", inner, ")/", a);
    }
    const std::string sign = sum ? " + " : " − ";
    const std::string sign_math = sum ? "+" : "-";
    if (draw.stretch())
        draft.slip(second_only, say(n, sign, b, "/", a), say(n, sign_math, math(b), "/", math(a)));
    else
        draft.slip(partial_distribution, linear_text(a, n, c), linear_math(a, n, c));
    if (!sum)
        draft.slip(order_reversed,
                   draw.stretch() ? say("(", b, " − ", n, ")/", a) : say(a, "(", b, " − ", n, ")"),
                   draw.stretch() ? say("(", math(b), "-", n, ")/", math(a))
                                  : say(math(a), "*(", math(b), "-", n, ")"));
    if (draw.stretch())
        draft.slip(partial_distribution, say(n, "/", a, sign, b),
                   say(n, "/", math(a), sign_math, math(b)));
    else
        draft.slip(conjoined, linear_text(a * c, n, 0), linear_math(a * c, n, 0));
    return true;
}

bool evaluate(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of<std::string_view>({"x", "n", "k", "t", "m"});
    const Exact a(draw.in(2, 9));
    const Exact v(draw.in(2, draw.by_tier<std::int64_t>(9, 9, 8)));
    const Exact b(draw.in(1, 20));
    if (a == v) return false;
    if (draw.support()) {
        draft.ask(say("Find the value of ", linear_text(a, x, b), " for ", x, " = ", v, "."),
                  calc(a, "*", v, "+", b));
        draft.answer(a * v + b);
        draft.step(a, " × ", v, " + ", b, " = ", a * v + b);
        draft.slip(digits_joined, a * Exact(10) + v + b);
        draft.slip(coefficient_added, a + v + b);
        draft.slip(grouped_wrong, a * (v + b));
        return true;
    }
    if (!draw.stretch()) {
        const std::string_view y = "y";
        const Exact w(draw.in(2, 9));
        if (a * v <= b * w || b > Exact(9) || v == w || b < Exact(2)) return false;
        draft.ask(say("Find the value of ", a, x, " − ", b, y, " for ", x, " = ", v, " and ", y,
                      " = ", w, "."),
                  calc(a, "*", v, "-", b, "*", w));
        draft.answer(a * v - b * w);
        draft.step(a, " × ", v, " = ", a * v, " and ", b, " × ", w, " = ", b * w);
        draft.step(a * v, " − ", b * w, " = ", a * v - b * w);
        draft.slip(digits_joined, a * Exact(10) + v - b * Exact(10) - w);
        draft.slip(coefficient_added, a + v - b - w);
        draft.slip(sign_lost, a * v + b * w);
        return true;
    }
    draft.ask(say("Find the value of ", a, x, "² − ", b, " for ", x, " = ", v, "."),
              calc(a, "*", v, "^2-", b));
    draft.answer(a * v * v - b);
    draft.step("Power first: ", v, "² = ", v * v);
    draft.step(a, " × ", v * v, " − ", b, " = ", a * v * v - b);
    draft.slip(square_all, a * a * v * v - b);
    draft.slip(square_as_double, a * v * Exact(2) - b);
    draft.slip(sign_lost, a * v * v + b);
    return true;
}

bool distribute(Draw& draw, Draft& draft) {
    const Exact a(draw.in(2, draw.by_tier<std::int64_t>(9, 9, 12)));
    const Exact b = draw.support() ? Exact(1) : Exact(draw.in(2, 9));
    const Exact c(draw.either_sign(2, 12, !draw.support()));
    const std::string_view x = draw.of<std::string_view>({"x", "n", "y", "k"});
    if (draw.stretch() && (!(b * a).whole() || a < Exact(4))) return false;
    const Exact f = draw.stretch() ? Exact(1, 2) * a : a;  // a fraction in front when a is odd
    if (draw.stretch() && f.whole()) return false;
    draft.ask(say("Multiply out: ", draw.stretch() ? say("(", f, ")") : say(f), "(",
                  linear_text(b, x, c), ")"),
              calc(f, "*(", linear_math(b, x, c), ")"));
    draft.picture(AreaModel{{linear_text(b, x, 0), say(c)}, {say(f)}});
    draft.answer(linear_text(f * b, x, f * c), linear_math(f * b, x, f * c));
    draft.step(f, " times ", linear_text(b, x, 0), " is ", linear_text(f * b, x, 0), ".");
    draft.step(f, " times ", c, " is ", f * c, ".");
    draft.slip(partial_distribution, linear_text(f * b, x, c), linear_math(f * b, x, c));
    draft.slip(second_only, linear_text(b, x, f * c), linear_math(b, x, f * c));
    draft.slip(added_factor, linear_text(f + b, x, f + c), linear_math(f + b, x, f + c));
    return true;
}

bool like_terms(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of<std::string_view>({"x", "n", "y", "a"});
    const std::int64_t high = draw.by_tier<std::int64_t>(9, 12, 15);
    const Exact a(draw.in(2, high));
    const Exact c(draw.in(2, high) * (draw.support() ? 1 : -1));
    const Exact b(draw.in(2, high) * (draw.stretch() ? -1 : 1));
    const Exact d(draw.either_sign(2, high));
    if (a + c == Exact(0) || b + d == Exact(0) || abs(a + c) == Exact(1)) return false;
    const auto term = [](const Exact& n, const std::string& tail) {
        return say(n < Exact(0) ? " − " : " + ", abs(n), tail);
    };
    const std::string letter(x);
    draft.ask(say("Simplify: ", a, x, term(b, ""), term(c, letter), term(d, "")),
              say(math(a), "*", x, "+", math_in(b), "+", math_in(c), "*", x, "+", math_in(d)));
    draft.answer(linear_text(a + c, x, b + d), linear_math(a + c, x, b + d));
    draft.step("Terms with ", x, ": ", a, x, term(c, letter), " is ", linear_text(a + c, x, 0),
               ".");
    draft.step("Numbers: ", b, term(d, ""), " = ", b + d);
    draft.slip(conjoined, linear_text(a + b + c + d, x, 0), linear_math(a + b + c + d, x, 0));
    if (draw.support())
        draft.slip(coefficients_multiplied, linear_text(a * c, x, b + d),
                   linear_math(a * c, x, b + d));
    else
        draft.slip(sign_detached, linear_text(a + abs(c), x, b + d),
                   linear_math(a + abs(c), x, b + d));
    draft.slip(exponents_joined, linear_text(a + c, letter + "²", b + d),
               linear_math(a + c, letter + "^2", b + d));
    return true;
}

bool factor_out(Draw& draw, Draft& draft) {
    const std::int64_t g = draw.in(2, draw.by_tier<std::int64_t>(6, 12, 15));
    const std::int64_t m = draw.in(draw.support() ? 1 : 2, 9);
    const std::int64_t n = draw.nonzero(draw.support() ? 1 : -11, 11);
    const std::string_view x = draw.of<std::string_view>({"x", "n", "y", "k"});
    if (gcd(m, n) != 1 || m == 1 || n == 1 || n == -1) return false;
    const Exact G(g), M(m), N(n);
    if (draw.stretch() && (g < 6 || g % 2 != 0)) return false;
    draft.ask("Take out the greatest common factor: " + linear_text(G * M, x, G * N),
              linear_math(G * M, x, G * N));
    const auto form = [&](const Exact& f, const Exact& p, const Exact& q) {
        return say(f, "(", linear_text(p, x, q), ")");
    };
    const auto form_math = [&](const Exact& f, const Exact& p, const Exact& q) {
        return say(math(f), "*(", linear_math(p, x, q), ")");
    };
    draft.answer(form(G, M, N), form_math(G, M, N));
    draft.step(G * M, " = ", G, " × ", M);
    draft.step(G * N, " = ", G, " × ", N < Exact(0) ? say("(", N, ")") : say(N));
    draft.step(linear_text(G * M, x, G * N), " is ", form(G, M, N), ".");
    draft.slip(first_factored, form(G, M, G * N), form_math(G, M, G * N));
    draft.slip(factor_subtracted, form(G, G * M - G, G * N - G),
               form_math(G, G * M - G, G * N - G));
    draft.slip(term_dropped, say(G, "(", M, x, ")"), say(math(G), "*(", math(M), "*", x, ")"));
    return G * N != G;
}

bool distribute_negative(Draw& draw, Draft& draft) {
    const Exact a(draw.in(2, draw.support() ? 9 : 20));
    const Exact b(draw.in(2, 9));
    const Exact c = draw.support() ? Exact(1) : Exact(draw.in(2, 6));
    const Exact d(-draw.either_sign(2, 12, !draw.support()));
    const std::string_view x = draw.of<std::string_view>({"x", "n", "y", "k"});
    const Exact e = draw.stretch() ? Exact(draw.in(2, 15)) : Exact(0);
    if (draw.stretch() && e == b * c) return false;
    const std::string lead = draw.stretch() ? linear_text(e, x, a) : say(a);
    const std::string lead_math = draw.stretch() ? linear_math(e, x, a) : math(a);
    draft.ask(say("Multiply out and simplify: ", lead, " − ", b, "(", linear_text(c, x, d), ")"),
              say(lead_math, "-", math(b), "*(", linear_math(c, x, d), ")"));
    const auto all = [&](const Exact& p, const Exact& q) { return linear_text(p, x, q); };
    const Exact p = e - b * c;
    const Exact q = a - b * d;
    draft.answer(all(p, q), linear_math(p, x, q));
    draft.step("−", b, " times ", linear_text(c, x, 0), " is ", linear_text(-b * c, x, 0), " and −",
               b, " times ", d, " is ", -b * d, ".");
    draft.step("Together: ", all(p, q));
    draft.slip(sign_not_carried, all(p, a + b * d), linear_math(p, x, a + b * d));
    draft.slip(partial_distribution, all(p, a + d), linear_math(p, x, a + d));
    const Exact front = a - b;
    if (draw.stretch())
        draft.slip(sign_detached, all(e + b * c, q), linear_math(e + b * c, x, q));
    else
        draft.slip(subtracts_first, all(front * c, front * d),
                   linear_math(front * c, x, front * d));
    return draw.stretch() || front != Exact(0);
}

}  // namespace

std::vector<Generator> expression_cards() {
    return {
        {"words-to-algebra",
         {"A multiple, then more or less", "A multiple of a sum or difference",
          "A sum or difference divided"},
         {&order_reversed, &grouped_wrong, &conjoined, &partial_distribution, &second_only},
         words_to_algebra},
        {"evaluate-expression",
         {"One letter, a product and a sum", "Two letters, a difference of products",
          "A square and a difference"},
         {&digits_joined, &coefficient_added, &grouped_wrong, &sign_lost, &square_all,
          &square_as_double},
         evaluate},
        {"distribute",
         {"A whole number times letter plus number", "Coefficients and minus signs inside",
          "A fraction in front of the bracket"},
         {&partial_distribution, &second_only, &added_factor},
         distribute},
        {"like-terms",
         {"Like terms added", "Like terms taken away", "Like terms and numbers taken away"},
         {&exponents_joined, &coefficients_multiplied, &conjoined, &sign_detached},
         like_terms},
        {"factor-out",
         {"Factor up to 6, a sum", "Factor up to 12, sums and differences",
          "Even factors from 6 to 14"},
         {&first_factored, &factor_subtracted, &term_dropped},
         factor_out},
        {"distribute-negative",
         {"A number minus a multiple of a difference", "Coefficients inside the bracket",
          "Letters inside and in front of the bracket"},
         {&subtracts_first, &sign_detached, &sign_not_carried, &partial_distribution},
         distribute_negative},
    };
}

}  // namespace tallyround::cards
