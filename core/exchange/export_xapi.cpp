#include "exchange/export.h"
#include "exchange/export_names.h"
#include "exchange/mark_keys.h"
#include "record/write_json.h"

namespace tallyround::exchange {

using namespace model;  // NOLINT

namespace {

void text(std::string& out, std::string_view key, std::string_view value) {
    record::write::text(out, key);
    out += ':';
    record::write::text(out, value);
}

std::string urn(std::string_view what) {
    return "urn:tallyround:" + std::string(what);
}

std::string urn_uuid(const std::string& name) {
    return "urn:uuid:" + uuid_of(name);
}

/// A student's account is known in its class. Where an account is at home must be a locator, not a
/// name (xAPI-Data 2.4.2.4); one below .invalid leads to no server, ever (RFC 6761, 6.4).
std::string home_of(const Class& cls) {
    return "https://tallyround.invalid/class/" + uuid_of("class/" + cls.id.str());
}

/// "2026-12-01T09:15:30.250Z": ISO 8601 with the milliseconds (xAPI-Data 4.5).
std::string stamp_text(std::int64_t ms) {
    std::string out = utc_text(ms);
    const auto rest = int((ms % 1000 + 1000) % 1000);
    const std::string digits = std::to_string(1000 + rest).substr(1);
    return out.insert(out.size() - 1, "." + digits);
}

void actor(std::string& out, const Class& cls, const Student& student, const ExportNames& names,
           bool pseudonyms) {
    out += R"("actor":{"objectType":"Agent",)";
    if (!pseudonyms) {
        text(out, "name", names.student(student));
        out += ',';
    }
    std::string account = names.student_id(student);
    if (account.empty()) account = pseudonyms ? names.student(student) : student.id.str();
    for (char& c : account) {
        if (pseudonyms && c == ' ') c = '-';
        if (pseudonyms && c == 'S') c = 's';
    }
    out += R"("account":{)";
    text(out, "homePage", home_of(cls));
    out += ',';
    text(out, "name", account);
    out += "}},";
}

void object(std::string& out, const Class& cls, const Mark& mark, const ExportNames& names) {
    // A skill of the teacher's own is known in its class alone.
    const std::string id = mark.skill.empty() ? urn("skill:none")
                           : cls.own_skill(mark.skill)
                               ? urn_uuid(cls.id.str() + "/" + mark.skill.str())
                               : urn("skill:" + mark.skill.str());
    out += R"("object":{"objectType":"Activity",)";
    text(out, "id", id);
    out += R"(,"definition":{)";
    text(out, "type", urn("type:skill"));
    const std::string title = names.skill_title(mark.skill);
    if (!title.empty()) {
        out += R"(,"name":{)";
        text(out, "en", title);
        out += '}';
    }
    out += "}},";
}

void result(std::string& out, const Mark& mark) {
    out += R"("result":{)";
    if (mark.level != Level::shaky)
        out += mark.level == Level::secure ? R"("success":true,)" : R"("success":false,)";
    out += R"("extensions":{)";
    text(out, urn("level"), to_text(mark.level));
    out += ',';
    text(out, urn("help"), to_text(mark.help));
    out += "}},";
}

void context(std::string& out, const Class& cls, const Mark& mark, const ExportNames& names) {
    out += R"("context":{"platform":"Tallyround","contextActivities":{"grouping":[{)";
    text(out, "objectType", "Activity");
    out += ',';
    text(out, "id", urn_uuid("class/" + cls.id.str()));
    out += R"(,"definition":{)";
    text(out, "type", urn("type:class"));
    out += R"(,"name":{)";
    text(out, "en", names.class_name());
    out += R"(}}}]},"extensions":{)";
    text(out, urn("block"), names.block(mark.block));
    out += ',';
    text(out, urn("center"), names.center(mark.block, mark.center));
    if (mark.round > 0) {
        out += ',';
        record::write::text(out, urn("round"));
        out += ':';
        record::write::number(out, mark.round);
    }
    out += "}},";
}

}  // namespace

std::string marks_xapi(const State& state, const ExportOptions& options) {
    std::string out = "[";
    bool first = true;
    for (std::size_t c = 0; c < state.classes.size(); ++c) {
        const Class& cls = state.classes[c];
        const ExportNames names(cls, c, options);
        MarkKeys keys(cls);
        for (const Mark& mark : cls.marks) {
            const std::string key = keys.next(mark);
            const Student* student = cls.student(mark.student);
            if (student == nullptr) continue;
            out += first ? "\n{" : ",\n{";
            first = false;
            text(out, "id", key);
            out += ',';
            actor(out, cls, *student, names, options.pseudonyms);
            out += R"("verb":{)";
            text(out, "id", urn("verb:showed"));
            out += R"(,"display":{"en":"showed"}},)";
            object(out, cls, mark, names);
            result(out, mark);
            context(out, cls, mark, names);
            text(out, "timestamp", stamp_text(mark.at_ms));
            out += '}';
        }
    }
    return out + "\n]\n";
}

}  // namespace tallyround::exchange
