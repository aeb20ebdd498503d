#include <algorithm>

#include "cards/drawings.h"
#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view mokros = "Mokros and Russell 1995, JRME 26:20";
constexpr std::string_view zawojewski =
    "Zawojewski and Shaughnessy 2000, Math. Teaching in the Middle School 5:436";

constexpr SlipInfo median_for_mean{"median-for-mean", "Gives the middle value", mokros,
                                   from_memory};
constexpr SlipInfo sum_only{"sum-not-divided", "Stops at the sum", "", practice};
constexpr SlipInfo zero_left_out{"one-value-too-few", "Divides by one value too few", mokros,
                                 from_memory};
constexpr SlipInfo midrange{"middle-of-ends", "Takes the middle between least and greatest", mokros,
                            from_memory};
constexpr SlipInfo unsorted{"not-sorted", "Takes the middle of the list as it stands", zawojewski,
                            from_memory};
constexpr SlipInfo mean_for_median{"mean-for-median", "Gives the mean", zawojewski, from_memory};
constexpr SlipInfo upper_middle{"upper-middle-only", "Takes the upper of the two middle values",
                                zawojewski, from_memory};
constexpr SlipInfo range_for_iqr{"range-for-quartiles", "Gives the range", "", practice};
constexpr SlipInfo quartile_only{"upper-quartile-only", "Gives the upper quartile", "", practice};
constexpr SlipInfo positions{"positions-subtracted",
                             "Works with places in the list, not with values", "", practice};
constexpr SlipInfo greatest_only{"greatest-only", "Gives the greatest value for the range", "",
                                 practice};
constexpr SlipInfo ends_unsorted{
    "ends-as-listed", "Subtracts the first from the last value as listed", zawojewski, from_memory};
constexpr SlipInfo iqr_for_range{"count-for-range", "Gives the number of values", "", practice};
constexpr SlipInfo signed_deviation{"signed-deviations", "Adds the deviations with their signs", "",
                                    practice};
constexpr SlipInfo mean_given{"mean-given", "Gives the mean itself", "", practice};
constexpr SlipInfo deviation_sum{"deviations-not-divided", "Adds the distances but does not divide",
                                 "", practice};
constexpr SlipInfo sample_inverted{"sample-upside-down", "Turns the sample's fraction upside down",
                                   "", practice};
constexpr SlipInfo added_difference{"sample-difference-added", "Adds the difference in size", hart,
                                    from_memory};
constexpr SlipInfo sample_count{"sample-count-kept", "Gives the count of the sample", "", practice};
constexpr SlipInfo means_not_divided{"spread-ignored", "Gives the difference of the means", "",
                                     practice};
constexpr SlipInfo spread_inverted{"spread-upside-down", "Divides the spread by the difference", "",
                                   practice};
constexpr SlipInfo spread_times{"spread-multiplied", "Multiplies by the spread", "", practice};
constexpr SlipInfo of_all{"share-of-all", "Compares with all instead of the row",
                          "Batanero et al. 1996, JRME 27:151", from_memory};
constexpr SlipInfo column_for_row{"column-for-row", "Compares with the column instead of the row",
                                  "Batanero et al. 1996, JRME 27:151", from_memory};
constexpr SlipInfo cell_ratio{"cell-against-cell", "Compares the two cells of the row",
                              "Batanero et al. 1996, JRME 27:151", from_memory};
constexpr SlipInfo start_dropped{"start-left-out", "Leaves the starting value out", "", practice};
constexpr SlipInfo input_added{"slope-added", "Adds slope and input instead of multiplying", "",
                               practice};

struct Sample {
    std::string_view one;
    std::string_view other;
};

using Values = std::vector<Exact>;

std::string list_text(const Values& values, std::string_view between, Show show) {
    std::string out;
    for (const Exact& x : values)
        out += (out.empty() ? std::string() : std::string(between)) + show(x);
    return out;
}

std::string sum_math(const Values& values) {
    return list_text(values, "+", math_in);
}

Values sorted(Values values) {
    std::sort(values.begin(), values.end(), [](const Exact& a, const Exact& b) { return a < b; });
    return values;
}

Exact sum_of(const Values& values) {
    Exact sum;
    for (const Exact& x : values)
        sum += x;
    return sum;
}

Exact middle(const Values& in_order) {
    const std::size_t n = in_order.size();
    return n % 2 == 1 ? in_order[n / 2] : (in_order[n / 2 - 1] + in_order[n / 2]) / Exact(2);
}

Values data(Draw& draw, int count, std::int64_t low, std::int64_t high, std::int64_t scale) {
    Values values;
    for (int i = 0; i < count; ++i)
        values.emplace_back(draw.in(low, high), scale);
    return values;
}

/// What the numbers of a list count or measure.
std::string topic(Draw& draw) {
    if (draw.stretch())
        return draw.of<std::string>(
            {"Millimeters of rain", "Kilometers cycled", "Liters of water used"});
    return draw.of<std::string>(
        {"Points scored", "Pages read", "Minutes of practice", "Bottles collected"});
}

bool mean(Draw& draw, Draft& draft) {
    const int count = static_cast<int>(draw.by_tier(4, draw.in(5, 6) == 5 ? 5 : 6, 6));
    const Values values = data(draw, count, draw.stretch() ? 21 : 2,
                               draw.by_tier<std::int64_t>(20, 50, 199), draw.stretch() ? 10 : 1);
    const Values order = sorted(values);
    const Exact sum = sum_of(values);
    const Exact result = sum / Exact(count);
    if (order.front() == order.back() ||
        (draw.support() ? !result.whole() : !result.ends() || !(result * Exact(100)).whole()))
        return false;
    draft.ask(say(topic(draw), " on ", count, " days: ", list_text(values, ", ", decimal_text),
                  ". Find the mean."),
              say("(", sum_math(values), ")/", math(Exact(count))));
    if (!draw.stretch()) draft.picture(DotPlot{values});
    draft.show(decimal_text);
    draft.answer(result);
    draft.step("Sum: ", list_text(values, " + ", decimal_text), " = ", decimal_text(sum));
    draft.step(decimal_text(sum), " ÷ ", count, " = ", decimal_text(result));
    draft.slip(median_for_mean, middle(order));
    draft.slip(sum_only, sum);
    draft.slip(midrange, (order.front() + order.back()) / Exact(2));
    const Exact few = sum / Exact(count - 1);
    if (few.ends() && (few * Exact(100)).whole()) draft.slip(zero_left_out, few);
    return true;
}

bool median(Draw& draw, Draft& draft) {
    const int count = static_cast<int>(draw.by_tier(draw.coin() ? 5 : 7, 6, 8));
    const Values values = data(draw, count, draw.stretch() ? 11 : 2,
                               draw.by_tier<std::int64_t>(30, 60, 199), draw.stretch() ? 10 : 1);
    const Values order = sorted(values);
    const Exact result = middle(order);
    const auto n = static_cast<std::size_t>(count);
    if (count % 2 == 0 && order[n / 2] == order[n / 2 - 1]) return false;
    const std::string prompt_math =
        count % 2 == 1 ? math(result)
                       : say("(", math_in(order[n / 2 - 1]), "+", math_in(order[n / 2]), ")/2");
    draft.ask(say(topic(draw), " on ", count, " days: ", list_text(values, ", ", decimal_text),
                  ". Find the median."),
              prompt_math);
    draft.show(decimal_text);
    draft.answer(result);
    draft.step("In order: ", list_text(order, ", ", decimal_text));
    if (count % 2 == 0)
        draft.step("Between the middle two: (", decimal_text(order[n / 2 - 1]), " + ",
                   decimal_text(order[n / 2]), ") ÷ 2 = ", decimal_text(result));
    draft.slip(unsorted, middle(values));
    const Exact average = sum_of(values) / Exact(count);
    if (average.ends() && (average * Exact(100)).whole()) draft.slip(mean_for_median, average);
    draft.slip(midrange, (order.front() + order.back()) / Exact(2));
    if (count % 2 == 0) draft.slip(upper_middle, order[n / 2]);
    return true;
}

bool interquartile(Draw& draw, Draft& draft) {
    const bool range = draw.support();
    const int count = static_cast<int>(draw.by_tier(6, draw.coin() ? 7 : 10, 8));
    Values values = data(draw, count, 2, draw.by_tier<std::int64_t>(40, 50, 90), 1);
    const Values order = sorted(values);
    const auto n = static_cast<std::ptrdiff_t>(count);
    const Exact low = middle(Values(order.begin(), order.begin() + n / 2));
    const Exact high = middle(Values(order.begin() + (n + 1) / 2, order.end()));
    const std::string start =
        say(topic(draw), " on ", count, " days: ", list_text(values, ", ", decimal_text), ".");
    if (range) {
        if (values.back() == order.back() && values.front() == order.front()) return false;
        draft.ask(start + " Find the range.", calc(order.back(), "-", order.front()));
        draft.answer(order.back() - order.front());
        draft.step("Greatest minus least: ", order.back(), " − ", order.front(), " = ",
                   order.back() - order.front());
        draft.slip(ends_unsorted, abs(values.back() - values.front()));
        draft.slip(greatest_only, order.back());
        draft.slip(iqr_for_range, count);
        return true;
    }
    if (high == low) return false;
    draft.ask(
        start +
            " Find the interquartile range (quartiles: medians of the lower and the upper half" +
            (count % 2 == 1 ? ", without the median" : "") + ").",
        calc(high, "-", low));
    draft.show(decimal_text);
    draft.answer(high - low);
    draft.step("In order: ", list_text(order, ", ", decimal_text));
    draft.step("Lower quartile ", decimal_text(low), ", upper quartile ", decimal_text(high));
    draft.step(decimal_text(high), " − ", decimal_text(low), " = ", decimal_text(high - low));
    draft.slip(range_for_iqr, order.back() - order.front());
    draft.slip(quartile_only, high);
    draft.slip(unsorted, abs(middle(Values(values.begin() + (n + 1) / 2, values.end())) -
                             middle(Values(values.begin(), values.begin() + n / 2))));
    draft.slip(positions, Exact((n + 1) / 2));
    return true;
}

bool mean_deviation(Draw& draw, Draft& draft) {
    const int count = static_cast<int>(draw.by_tier(4, 5, 8));
    const Values values = data(draw, count, 2, draw.by_tier<std::int64_t>(16, 30, 40), 1);
    const Exact average = sum_of(values) / Exact(count);
    if (!average.whole()) return false;
    Values distances;
    Exact signed_sum;
    for (const Exact& x : values) {
        distances.push_back(abs(x - average));
        signed_sum += x - average;
    }
    const Exact total = sum_of(distances);
    const Exact result = total / Exact(count);
    const Values order = sorted(values);
    if (draw.support() ? !result.whole() || result == Exact(0) : result == Exact(0)) return false;
    std::string terms;
    for (const Exact& x : values)
        terms += (terms.empty() ? "" : "+") + calc("abs(", x, "-", average, ")");
    draft.ask(say(topic(draw), " on ", count, " days: ", list_text(values, ", ", decimal_text),
                  ". Find the mean absolute deviation."),
              say("(", terms, ")/", math(Exact(count))));
    draft.show(decimal_text);
    draft.answer(result);
    draft.step("Mean: ", sum_of(values), " ÷ ", count, " = ", average);
    draft.step("Distances from the mean: ", list_text(distances, ", ", decimal_text));
    draft.step("(", list_text(distances, " + ", decimal_text), ") ÷ ", count, " = ",
               decimal_text(result));
    draft.slip(signed_deviation, signed_sum);
    draft.slip(mean_given, average);
    draft.slip(deviation_sum, total);
    return true;
}

bool sample_predict(Draw& draw, Draft& draft) {
    const std::int64_t sample =
        draw.in(2, draw.support() ? 5 : 12) * draw.by_tier<std::int64_t>(10, 5, 4);
    const std::int64_t factor = draw.in(3, draw.by_tier<std::int64_t>(12, 25, 60));
    const std::int64_t hits = draw.in(2, sample - 1);
    const std::int64_t all = draw.stretch() ? sample * factor / 2 : sample * factor;
    const Exact result = Exact(hits) * Exact(all) / Exact(sample);
    if (!result.whole() || all <= sample || hits * 2 == sample) return false;
    const Sample topic_words = draw.of<Sample>({{"fish in a lake", "are marked"},
                                                {"lamps from a factory", "are faulty"},
                                                {"voters", "favor a new park"},
                                                {"seeds", "sprout"},
                                                {"students", "walk to school"}});
    draft.ask(say("In a random sample of ", sample, " ", topic_words.one, ", ", hits, " ",
                  topic_words.other, ". About how many of all ", all, " is that?"),
              calc(hits, "/", sample, "*", all));
    draft.answer(result);
    draft.step("Share in the sample: ", say(hits, "/", sample));
    draft.step(say(hits, "/", sample), " × ", all, " = ", result);
    draft.slip(sample_inverted, Exact(sample) * Exact(all) / Exact(hits));
    draft.slip(added_difference, hits + all - sample);
    draft.slip(sample_count, hits);
    return true;
}

bool compare_means(Draw& draw, Draft& draft) {
    const Exact spread(draw.in(2, draw.support() ? 9 : 39), draw.support()   ? 1
                                                            : draw.stretch() ? 5
                                                                             : 2);
    const Exact times =
        draw.support() ? Exact(draw.in(2, 5)) : Exact(draw.in(3, 15), draw.stretch() ? 4 : 2);
    const Exact low(draw.in(10, 70));
    const Exact high = low + spread * times;
    if (!draw.support() && (spread.whole() || times.whole())) return false;
    if (spread == times) return false;
    const std::string group =
        draw.of<std::string>({"Two clubs read books. The mean pages per week are ",
                              "Two fields grow corn. The mean heights in inches are ",
                              "Two buses are late. The mean delays in minutes are ",
                              "Two libraries count visits. The mean visits per hour are "});
    draft.ask(say(group, decimal_text(low), " and ", decimal_text(high),
                  "; both have a mean absolute deviation of ", decimal_text(spread),
                  ". How many times the deviation is the difference of the means?"),
              calc("(", high, "-", low, ")/", spread));
    draft.show(decimal_text);
    draft.answer(times);
    draft.step("Difference: ", decimal_text(high), " − ", decimal_text(low), " = ",
               decimal_text(high - low));
    draft.step(decimal_text(high - low), " ÷ ", decimal_text(spread), " = ", decimal_text(times));
    draft.slip(means_not_divided, high - low);
    draft.slip(spread_times, (high - low) * spread);
    const Exact upside = Exact(1) / times;
    if (upside.ends()) draft.slip(spread_inverted, upside);
    return true;
}

bool two_way(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(20, 40, 60);
    const std::int64_t a = draw.in(3, high), b = draw.in(3, high), c = draw.in(3, high),
                       d = draw.in(3, high);
    const std::int64_t row = a + b;
    const Exact share(a, row);
    if (a == b || b == c || share.bottom() > draw.by_tier(10, 20, 40) ||
        (draw.support() && gcd(a, row) == 1))
        return false;
    const std::string_view group = draw.of<std::string_view>(
        {"play an instrument", "ride a bus to school", "belong to a club"});
    const std::string first =
        draw.stretch() ? say("Of ", row, " seventh graders, ", b, " do not ", group, ".")
                       : say("Of the seventh graders, ", a, " ", group, " and ", b, " do not.");
    draft.ask(say(first, " Of the eighth graders, ", c,
                  draw.stretch() ? say(" ", group) : std::string(" do"), " and ", d,
                  " do not. What share of the seventh graders ", group, "? Write a fraction."),
              draw.stretch() ? calc("(", row, "-", b, ")/", row) : calc(a, "/(", a, "+", b, ")"));
    draft.show(fraction_text);
    draft.answer(share);
    if (draw.stretch())
        draft.step("Seventh graders who do: ", row, " − ", b, " = ", a);
    else
        draft.step("Seventh graders: ", a, " + ", b, " = ", row);
    draft.step("Share: ", say(a, "/", row),
               gcd(a, row) > 1 ? " = " + fraction_text(share) : std::string());
    draft.slip(of_all, Exact(a, a + b + c + d));
    draft.slip(column_for_row, Exact(a, a + c));
    draft.slip(cell_ratio, Exact(a, b));
    return true;
}

bool trend_line(Draw& draw, Draft& draft) {
    const Exact m(draw.in(draw.support() ? 2 : 3, draw.support() ? 9 : 39),
                  draw.support() ? 1 : 10);
    const Exact b(draw.in(4, 60));
    const Exact x(draw.in(3, 30));
    const bool falls = draw.stretch();
    const Exact y = falls ? b - m * x : b + m * x;
    if (y <= Exact(0) || m == Exact(1) || (!draw.support() && m.whole())) return false;
    const std::string_view topic_words =
        falls ? draw.of<std::string_view>(
                    {"the charge in percent of a battery after x minutes",
                     "the depth in centimeters of a pond after x days without rain"})
              : draw.of<std::string_view>({"the height in centimeters of a plant after x days",
                                           "the water in liters in a tank after x minutes"});
    draft.ask(say("A trend line for ", topic_words, " is y = ",
                  falls ? say(b, " − ", decimal_text(m), "x") : say(decimal_text(m), "x + ", b),
                  ". What does it predict for x = ", x, "?"),
              falls ? calc(b, "-", m, "*", x) : calc(m, "*", x, "+", b));
    draft.show(decimal_text);
    draft.answer(y);
    draft.step(decimal_text(m), " × ", x, " = ", decimal_text(m * x));
    draft.step(b, falls ? " − " : " + ", decimal_text(m * x), " = ", decimal_text(y));
    draft.slip(start_dropped, m * x);
    draft.slip(input_added, falls ? abs(b - m + x) : m + x + b);
    draft.slip(rule_order, falls ? (b - m) * x : m * (x + b));
    return true;
}

}  // namespace

std::vector<Generator> data_cards() {
    return {
        {"mean",
         {"Four numbers, whole mean", "Five or six whole numbers", "Six decimals"},
         {&median_for_mean, &sum_only, &midrange, &zero_left_out},
         mean},
        {"median",
         {"An odd number of values", "Six values", "Eight decimals"},
         {&unsorted, &mean_for_median, &midrange, &upper_middle},
         median},
        {"interquartile",
         {"Range of six values", "Quartiles of seven or ten values",
          "Quartiles of eight values, between two values"},
         {&ends_unsorted, &greatest_only, &iqr_for_range, &range_for_iqr, &quartile_only, &unsorted,
          &positions},
         interquartile},
        {"mean-deviation",
         {"Four values, whole result", "Five values", "Eight values"},
         {&signed_deviation, &mean_given, &deviation_sum},
         mean_deviation},
        {"sample-predict",
         {"Samples of tens, whole factor", "Other samples, whole factor",
          "Also a number and a half times the sample"},
         {&sample_inverted, &added_difference, &sample_count},
         sample_predict},
        {"compare-means",
         {"Whole numbers", "Spread and result with halves", "Fifths and quarters"},
         {&means_not_divided, &spread_times, &spread_inverted},
         compare_means},
        {"two-way-table",
         {"Cells up to 20, the share reduces", "Cells up to 40",
          "Cells up to 60, one cell is missing"},
         {&of_all, &column_for_row, &cell_ratio},
         two_way},
        {"trend-line",
         {"Rising line, whole slope", "Rising line, decimal slope", "Falling line, decimal slope"},
         {&start_dropped, &input_added, &rule_order},
         trend_line},
    };
}

}  // namespace tallyround::cards
