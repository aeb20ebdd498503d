#pragma once
#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

#include "cards/picture.h"

namespace tallyround::cards {

// Pictures that several generators draw. Sides are to scale where they can be; labels are what
// the prompt gives, so a picture never tells more than the words.

/// A triangle on its base, with its height dashed and its slanted side labelled.
Picture triangle_picture(const Exact& base, const Exact& height, const std::string& base_label,
                         const std::string& height_label, const std::string& side_label);
Picture parallelogram_picture(const Exact& base, const Exact& height, const std::string& base_label,
                              const std::string& height_label, const std::string& side_label);
/// `a` is the lower, longer one of the parallel sides.
Picture trapezoid_picture(const Exact& a, const Exact& b, const Exact& height,
                          const std::string& a_label, const std::string& b_label,
                          const std::string& height_label);
/// A rectangle w × h with a p × q piece missing at its upper right corner.
Picture notched_picture(const Exact& w, const Exact& h, const Exact& p, const Exact& q,
                        std::initializer_list<std::string> w_h_p_q);
/// A right triangle with legs along the axes; an empty label is what is looked for.
Picture right_triangle_picture(const Exact& across, const Exact& up,
                               const std::string& across_label, const std::string& up_label,
                               const std::string& long_label);
/// A box seen from the front, above and the right.
Picture box_picture(const Exact& length, const Exact& width, const Exact& height,
                    const std::string& length_label, const std::string& width_label,
                    const std::string& height_label);
/// A circle with its radius or its diameter drawn and labelled.
Picture circle_picture(bool diameter, const std::string& label);

/// A grid that holds the points: from 0 where none is negative, else with all four quadrants.
Picture grid_picture(std::vector<Spot> points,
                     CoordinateGrid::Joined joined = CoordinateGrid::Joined::no);
/// A line that holds the numbers, with 0 on it; `dots` says whether they are marked.
Picture line_picture(const std::vector<Exact>& numbers, bool dots);
/// One bar a fraction: {top, bottom}. No picture when a bar would need more than 16 parts or top
/// is more than bottom.
Picture bars_picture(std::initializer_list<std::pair<std::int64_t, std::int64_t>> fractions);

}  // namespace tallyround::cards
