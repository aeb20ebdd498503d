#include "exchange/framework.h"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "base/text.h"
#include "json/read.h"

namespace tallyround::exchange {

namespace {

using json::Field;

constexpr std::size_t max_items = 20'000;
constexpr std::size_t max_associations = 200'000;
constexpr std::size_t max_statement = 100'000;

struct Item {
    std::string identifier;
    FrameworkSkill skill;
};

int grade_of(const Field& item) {
    const auto levels = item.find("educationLevel");
    if (!levels || !levels->is_array()) return 6;
    for (const Field& level : levels->items(100)) {
        if (!level.is_string()) continue;
        int grade = 0;
        const std::string text = level.text();
        for (const char c : text)
            if (c >= '0' && c <= '9' && grade < 100) grade = grade * 10 + (c - '0');
        if (grade >= 1 && grade <= 12) return grade;
    }
    return 6;
}

std::string statement_of(const Field& item) {
    for (const char* name : {"abbreviatedStatement", "fullStatement"}) {
        const auto text = item.find(name);
        if (!text) continue;
        std::string line = base::tidy_line(text->text(max_statement));
        if (!line.empty()) return line;
    }
    item.refuse("Expected a \"fullStatement\" that says what the item is.");
}

std::vector<Item> read_items(const Field& root) {
    std::vector<Item> items;
    std::map<std::string, std::string> seen;
    for (const Field& field : root.at("CFItems").items(max_items)) {
        Item item;
        const Field identifier = field.at("identifier");
        item.identifier = identifier.text(200);
        if (item.identifier.empty()) identifier.refuse("Expected an identifier; it is empty.");
        const auto [there, fresh] = seen.emplace(item.identifier, field.pointer());
        if (!fresh) identifier.refuse("This identifier stands at " + there->second + " too.");
        item.skill.title = statement_of(field);
        item.skill.code = base::tidy_line(field.text_or("humanCodingScheme", ""));
        item.skill.grade = grade_of(field);
        items.push_back(std::move(item));
    }
    return items;
}

/// The identifier that a node names: an object with one, or an address that ends with it.
std::string node_of(const Field& association, std::string_view name) {
    const Field node = association.at(name);
    if (node.is_object()) return node.at("identifier").text(200);
    const std::string address = node.text(2'000);
    return address.substr(address.rfind('/') + 1);
}

struct Link {
    std::string origin;
    std::string destination;
    bool child = false;
};

std::vector<Link> read_links(const Field& root) {
    std::vector<Link> links;
    const auto list = root.find("CFAssociations");
    if (!list) return links;
    for (const Field& field : list->items(max_associations)) {
        const std::string type = field.at("associationType").text(200);
        if (type != "isChildOf" && type != "precedes") continue;
        links.push_back({node_of(field, "originNodeURI"), node_of(field, "destinationNodeURI"),
                         type == "isChildOf"});
    }
    return links;
}

Framework framework_of(const Field& root) {
    if (!root.is_object() || !root.find("CFItems") || !root.find("CFDocument"))
        root.refuse(
            "This is JSON but not a CASE package: it has no \"CFDocument\" and \"CFItems\".");
    Framework out;
    out.title = base::tidy_line(root.at("CFDocument").text_or("title", ""));
    const std::vector<Item> items = read_items(root);
    const std::vector<Link> links = read_links(root);
    std::set<std::string> headings;
    for (const Link& link : links)
        if (link.child) headings.insert(link.destination);
    std::map<std::string, std::size_t> places;
    for (const Item& item : items) {
        if (headings.count(item.identifier) > 0) continue;
        places.emplace(item.identifier, out.skills.size());
        out.skills.push_back(item.skill);
        out.skills.back().id = "f" + std::to_string(out.skills.size());
    }
    std::size_t elsewhere = 0;
    for (const Link& link : links) {
        if (link.child || link.origin == link.destination) continue;
        const auto first = places.find(link.origin);
        const auto then = places.find(link.destination);
        if (first == places.end() || then == places.end()) {
            ++elsewhere;
            continue;
        }
        const std::string& id = out.skills[first->second].id;
        std::vector<std::string>& before = out.skills[then->second].before;
        if (std::find(before.begin(), before.end(), id) == before.end()) before.push_back(id);
    }
    if (elsewhere > 0) {
        out.warnings.push_back(base::count_of(elsewhere, "order link", "order links") +
                               " left out: one end is a heading or of another package.");
    }
    return out;
}

}  // namespace

base::Result<Framework> read_framework(std::string_view bytes) {
    // A document of JSON takes many times its size in memory: enough for 20,000 items, no more.
    const auto document = json::parse(bytes, {max_framework_bytes, 64});
    if (!document) return tl::make_unexpected(document.error());
    return json::read(*document, framework_of);
}

}  // namespace tallyround::exchange
