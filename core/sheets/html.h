#pragma once
#include <string>
#include <string_view>

namespace tallyround::sheets {

/// Text made safe inside HTML elements and quoted attributes.
std::string escape_html(std::string_view text);

/// A self-contained page (no script, nothing loaded): `css` and `body` are ours, `title` is
/// escaped.
std::string html_page(std::string_view title, std::string_view css, std::string_view body);

}  // namespace tallyround::sheets
