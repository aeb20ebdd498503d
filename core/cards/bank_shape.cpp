#include "cards/bank_parts.h"

namespace tallyround::cards {

namespace {

using enum Strand;

constexpr SkillRow rows[] = {
    {"coordinate-move", 5, "Move along a coordinate grid", geometry, "5.G.A.1", ""},
    {"area-parallelogram", 6, "Area of a parallelogram", geometry, "6.G.A.1", ""},
    {"area-triangle", 6, "Area of a triangle", geometry, "6.G.A.1", "area-parallelogram"},
    {"area-trapezoid", 6, "Area of a trapezoid", geometry, "6.G.A.1", "area-triangle"},
    {"area-composite", 6, "Area of an L-shape", geometry, "6.G.A.1", ""},
    {"grid-distance", 6, "Distance along a grid line across zero", geometry, "6.NS.C.8",
     "absolute-value coordinate-move"},
    {"surface-box", 6, "Surface area of a box", geometry, "6.G.A.4", ""},
    {"scale-drawing", 7, "Real length and area from a scale drawing", geometry, "7.G.A.1",
     "ratio-equivalent"},
    {"circumference", 7, "Circumference of a circle", geometry, "7.G.B.4", ""},
    {"circle-area", 7, "Area of a circle", geometry, "7.G.B.4", "circumference powers-value"},
    {"angle-pairs", 7, "Angles that make a right or a straight angle", geometry, "7.G.B.5",
     "two-step-equation"},
    {"volume-prism", 7, "Volume of a triangular prism", geometry, "7.G.B.6",
     "area-triangle volume-box"},
    {"triangle-angles", 8, "Missing angle of a triangle", geometry, "8.G.A.5", "angle-pairs"},
    {"translate-point", 8, "Slide a point on the grid", geometry, "8.G.A.3", "integer-subtract"},
    {"reflect-point", 8, "Reflect a point in an axis", geometry, "8.G.A.3", "translate-point"},
    {"rotate-point", 8, "Turn a point about the origin", geometry, "8.G.A.3", "reflect-point"},
    {"dilate-point", 8, "Enlarge from the origin", geometry, "8.G.A.3", "translate-point"},
    {"hypotenuse", 8, "Longest side of a right triangle", geometry, "8.G.B.7", "square-cube-roots"},
    {"triangle-leg", 8, "Shorter side of a right triangle", geometry, "8.G.B.7", "hypotenuse"},
    {"point-distance", 8, "Distance between two points on the grid", geometry, "8.G.B.8",
     "hypotenuse grid-distance"},
    {"cylinder-volume", 8, "Volume of a cylinder", geometry, "8.G.C.9", "circle-area"},
    {"cone-sphere-volume", 8, "Volume of a cone or a sphere", geometry, "8.G.C.9",
     "cylinder-volume"},
    {"metric-convert", 5, "Change between metric units", measurement, "5.MD.A.1", "powers-of-ten"},
    {"customary-convert", 5, "Change between customary units", measurement, "5.MD.A.1", ""},
    {"line-plot", 5, "Total from a line plot of fractions", measurement, "5.MD.B.2",
     "frac-add-unlike frac-of-number"},
    {"volume-box", 5, "Volume of a box", measurement, "5.MD.C.5b", ""},
    {"volume-two-boxes", 5, "Volume of a solid made of two boxes", measurement, "5.MD.C.5c",
     "volume-box"},
    {"volume-fraction-box", 6, "Volume of a box with fraction edges", measurement, "6.G.A.2",
     "volume-box mixed-multiply"},
    {"convert-by-ratio", 6, "Change units with a conversion rate", measurement, "6.RP.A.3d",
     "unit-rate metric-convert"},
};

}  // namespace

std::span<const SkillRow> shape_skills() {
    return rows;
}

}  // namespace tallyround::cards
