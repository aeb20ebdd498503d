#include "sheets/sheet.h"

#include <charconv>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands/plan_input.h"
#include "session/prep.h"

namespace tallyround::cli {

namespace {

constexpr std::string_view synopsis =
    "sheets FILE --kind KIND --paper letter|a4 -o DIR [--cards N] [--per-page 2|4|8] "
    "[--tiers support,core,stretch] [--seed N] [--names]";

struct Request {
    std::string file;
    std::string kind;
    std::string folder;
    bool has_paper = false;
    sheets::SheetChoices choices;
};

bool read_number(std::string_view text, std::int64_t low, std::int64_t high, std::int64_t& out) {
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), out);
    return error == std::errc() && end == text.data() + text.size() && out >= low && out <= high;
}

bool read_tiers(std::string_view text, std::vector<cards::Tier>& out) {
    out.clear();
    while (true) {
        const std::size_t end = text.find(',');
        const auto tier = cards::find_tier(text.substr(0, end));
        if (!tier) return false;
        out.push_back(*tier);
        if (end == std::string_view::npos) return out.size() <= 3;
        text.remove_prefix(end + 1);
    }
}

/// Takes one option with its value; false when it is not to be used so.
bool take(Request& request, std::string_view option, const std::string& value) {
    std::int64_t n = 0;
    if (option == "--kind") {
        request.kind = value;
        return value == "all" || sheets::find_sheet_kind(value) != nullptr;
    }
    if (option == "--paper") {
        const auto paper = sheets::find_paper(value);
        request.has_paper = paper.has_value();
        request.choices.paper = paper.value_or(sheets::Paper::letter);
        return paper.has_value();
    }
    if (option == "-o") {
        request.folder = value;
        return !value.empty();
    }
    if (option == "--cards" && read_number(value, 1, 100, n)) {
        request.choices.cards = int(n);
        return true;
    }
    if (option == "--per-page" && read_number(value, 2, 8, n)) {
        request.choices.per_page = int(n);
        return n == 2 || n == 4 || n == 8;
    }
    if (option == "--seed" && read_number(value, 0, INT64_MAX, n)) {
        request.choices.seed = std::uint64_t(n);
        return true;
    }
    return option == "--tiers" && read_tiers(value, request.choices.tiers);
}

std::optional<Request> read_request(const std::vector<std::string>& args, std::string& fault) {
    Request request;
    for (std::size_t i = 0; i < args.size(); ++i) {
        if (args[i] == "--names") {
            request.choices.names = true;
        } else if (!args[i].starts_with("-")) {
            if (!request.file.empty()) return std::nullopt;
            request.file = args[i];
        } else if (i + 1 == args.size() || !take(request, args[i], args[i + 1])) {
            fault = args[i] + (i + 1 < args.size() ? " " + args[i + 1] : "");
            return std::nullopt;
        } else {
            ++i;
        }
    }
    const bool whole = !request.file.empty() && !request.kind.empty() && !request.folder.empty() &&
                       request.has_paper;
    return whole ? std::optional(request) : std::nullopt;
}

Outcome usage(const std::string& fault) {
    Outcome outcome = wrong_usage(synopsis);
    std::vector<std::string_view> ids;
    for (const sheets::SheetKind& kind : sheets::sheet_kinds())
        ids.push_back(kind.id);
    outcome.err += "KIND is all or one of " + base::list_of(ids) + ".\n";
    if (!fault.empty()) outcome.err += "Not understood: " + fault + "\n";
    return outcome;
}

/// The newest class with a block: what a teacher would print now.
const model::Class* class_to_print(const model::State& state) {
    const model::Class* found = nullptr;
    for (const model::Class& cls : state.classes)
        if (!cls.archived && cls.current_block() != nullptr) found = &cls;
    return found;
}

}  // namespace

Outcome run_sheets(const Invocation& call) {
    std::string fault;
    const auto request = read_request(call.args, fault);
    if (!request) return usage(fault);
    Outcome failure;
    auto plan = plan_from(call, request->file, failure);
    if (!plan) return failure;
    const model::State state = state_of(*plan);
    const model::Class* cls = class_to_print(state);
    if (cls == nullptr)
        return cannot({{"files", json::Json::array()}},
                      "Nothing can be printed: no class of the plan has a block yet.");
    sheets::Printer printer(session::prep_box(*cls, *cls->current_block()), request->choices,
                            session::pictures_of(*cls));
    json::Json left_out = json::Json::array();
    std::vector<sheets::Sheet> made;
    for (const sheets::SheetKind& kind : sheets::sheet_kinds()) {
        if (request->kind != "all" && request->kind != kind.id) continue;
        const base::Result<sheets::Sheet>& sheet = printer.sheet(kind.id);
        if (sheet) {
            made.push_back(*sheet);
        } else {
            left_out.push_back({{"kind", kind.id}, {"why", sheet.error().message}});
        }
    }
    if (made.empty()) {
        const std::string why = left_out.front()["why"].get<std::string>();
        return cannot({{"files", json::Json::array()}, {"left_out", std::move(left_out)}}, why);
    }
    const auto folder = call.make_folder(request->folder);
    if (!folder)
        return cannot({{"files", json::Json::array()}, {"folder", request->folder}},
                      request->folder + ": " + folder.error().text());
    json::Json files = json::Json::array();
    int pages = 0;
    for (const sheets::Sheet& sheet : made) {
        const std::string name = std::string(sheet.kind->id) + ".html";
        const std::string html =
            sheets::sheet_html(sheet.kind->title, {&sheet, 1}, request->choices.paper);
        const auto written = call.write_file(request->folder + "/" + name, html);
        if (!written)
            return cannot({{"files", json::Json::array()}, {"folder", request->folder}},
                          request->folder + "/" + name + ": " + written.error().text());
        pages += sheet.pages;
        files.push_back({{"kind", sheet.kind->id},
                         {"file", name},
                         {"pages", sheet.pages},
                         {"landscape", sheet.kind->landscape}});
    }
    return done({{"paper", sheets::paper_id(request->choices.paper)},
                 {"class", cls->name},
                 {"files", std::move(files)},
                 {"pages", pages},
                 {"left_out", std::move(left_out)}});
}

}  // namespace tallyround::cli
