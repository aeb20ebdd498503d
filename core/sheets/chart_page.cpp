#include "sheets/chart_page.h"

#include <string_view>

#include "sheets/html.h"

namespace tallyround::sheets {

namespace {

constexpr std::string_view css = R"(
@page { size: landscape; margin: 12mm; }
* { box-sizing: border-box; }
body { font: 14pt/1.3 system-ui, sans-serif; color: #000; background: #fff; margin: 0; }
h1 { font-size: 22pt; margin: 0 0 4mm; }
table { border-collapse: collapse; width: 100%; page-break-inside: auto; }
tr { page-break-inside: avoid; }
th, td { border: 1.5pt solid #000; padding: 2mm; text-align: center; vertical-align: middle; }
th small { display: block; font-weight: normal; font-size: 10pt; }
td.group { text-align: left; }
td.group b { font-size: 16pt; }
td.group span { display: block; font-size: 12pt; }
td.place { font-size: 24pt; font-weight: bold; }
ol { list-style: none; padding: 0; margin: 5mm 0 0; columns: 2; font-size: 13pt; }
li { break-inside: avoid; margin: 0 0 1.5mm; }
)";

std::string head_cell(std::string_view text) {
    const std::size_t newline = text.find('\n');
    std::string out = "<th>" + escape_html(text.substr(0, newline));
    if (newline != std::string_view::npos) {
        out += "<small>" + escape_html(text.substr(newline + 1)) + "</small>";
    }
    return out + "</th>";
}

}  // namespace

std::string chart_page(const ChartPage& chart) {
    std::string body = "<h1>" + escape_html(chart.title);
    if (!chart.class_name.empty()) body += " · " + escape_html(chart.class_name);
    body += "</h1><table><thead><tr><th>Group</th>";
    for (const std::string& r : chart.rounds)
        body += head_cell(r);
    body += "</tr></thead><tbody>";
    for (const ChartPage::Row& row : chart.rows) {
        body += "<tr><td class=\"group\"><b>" + escape_html(row.group) + "</b>";
        for (const std::string& s : row.students)
            body += "<span>" + escape_html(s) + "</span>";
        body += "</td>";
        for (const std::string& c : row.cells) {
            body += "<td class=\"place\">" + (c.empty() ? "–" : escape_html(c)) + "</td>";
        }
        body += "</tr>";
    }
    body += "</tbody></table><ol>";
    for (const std::string& c : chart.centers)
        body += "<li>" + escape_html(c) + "</li>";
    body += "</ol>";
    return html_page(chart.title, css, body);
}

}  // namespace tallyround::sheets
