#include "sheets/html.h"

namespace tallyround::sheets {

std::string escape_html(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (const char c : text) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            case '\'':
                out += "&#39;";
                break;
            default:
                out += c;
        }
    }
    return out;
}

std::string html_page(std::string_view title, std::string_view css, std::string_view body) {
    std::string out = "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">";
    out += "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; ";
    out += "style-src 'unsafe-inline'; img-src data:\">";
    out +=
        "<title>" + escape_html(title) + "</title><style>" + std::string(css) + "</style></head>";
    out += "<body>" + std::string(body) + "</body></html>\n";
    return out;
}

}  // namespace tallyround::sheets
