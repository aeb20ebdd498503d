#include "base/text.h"
#include "record/codec.h"
#include "record/write_json.h"

namespace tallyround::record {

namespace write {

void text(std::string& out, std::string_view value) {
    static constexpr char hex[] = "0123456789abcdef";
    out += '"';
    for (std::size_t at = 0; at < value.size();) {
        const char c = value[at];
        const auto u = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
            ++at;
        } else if (u < 0x20) {
            out += "\\u00";
            out += hex[u >> 4U];
            out += hex[u & 15U];
            ++at;
        } else if (u < 0x80) {
            out += c;
            ++at;
        } else {
            base::append_utf8(out, base::next_code_point(value, at));
        }
    }
    out += '"';
}

}  // namespace write

namespace {

/// The inside of a JSON object's text, with a comma before it when there is any.
void splice(std::string& out, std::string_view object) {
    if (object.size() <= 2) return;
    out += ',';
    out += object.substr(1, object.size() - 2);
}

}  // namespace

void append_line(std::string& out, const Event& event) {
    out += R"({"at":[)";
    write::number(out, event.stamp.ms);
    out += ',';
    write::number(out, event.stamp.counter);
    out += R"(],"by":)";
    write::value(out, event.stamp.replica);
    out += R"(,"n":)";
    write::number(out, static_cast<std::int64_t>(event.stamp.sequence));
    out += R"(,"kind":)";
    std::visit(
        [&]<class B>(const B& body) {
            if constexpr (std::is_same_v<B, Foreign>) {
                write::text(out, body.kind);
                splice(out, body.json);
            } else {
                write::text(out, Described<B>::kind);
                write::members(out, body);
            }
        },
        event.body);
    splice(out, event.extra);
    out += '}';
}

std::string to_line(const Event& event) {
    std::string out;
    append_line(out, event);
    return out;
}

}  // namespace tallyround::record
