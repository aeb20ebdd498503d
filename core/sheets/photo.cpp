#include "sheets/photo.h"

#include <algorithm>

#include "sheets/html.h"
#include "sheets/paper.h"

namespace tallyround::sheets {

namespace {

/// Print at least so many pixels an inch: a small picture is not blown up to a blur.
constexpr double pixels_per_mm = 96 / 25.4;

/// How a file begins, in base64 (the first bytes of each format fill whole digits).
std::string_view mime_of(std::string_view data) {
    if (data.starts_with("iVBORw0KGg")) return "image/png";
    if (data.starts_with("/9j/")) return "image/jpeg";
    if (data.starts_with("UklGR")) return "image/webp";
    return {};
}

bool is_base64(std::string_view data) {
    return std::all_of(data.begin(), data.end(), [](char c) {
        return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') ||
               c == '+' || c == '/' || c == '=';
    });
}

}  // namespace

double photo_height(const cards::Photo& photo, double w, double h) {
    const double ratio = double(std::max(1, photo.height)) / std::max(1, photo.width);
    return std::min({h, w * ratio, std::max(1, photo.height) / pixels_per_mm});
}

std::string photo_html(const cards::Photo& photo, std::string_view data, double w, double h) {
    const std::string_view mime = mime_of(data);
    const std::string words = escape_html(photo.shows);
    if (mime.empty() || !is_base64(data)) return element("span", "", words);
    const double high = photo_height(photo, w, h);
    const double wide = high * std::max(1, photo.width) / std::max(1, photo.height);
    return "<img alt=\"" + words + "\" style=\"display:block;width:" + mm(std::min(w, wide)) +
           ";height:" + mm(high) + "\" src=\"data:" + std::string(mime) + ";base64," +
           std::string(data) + "\">";
}

}  // namespace tallyround::sheets
