#pragma once
#include <functional>
#include <string>

#include "hands.h"

namespace tallyround::ui {

/// Walks through tests/tour/demo.txt and calls `look` with each name that is looked at there.
class Tour {
  public:
    using Look = std::function<void(const std::string&)>;
    Tour(Hands& hands, Look look) : h_(hands), look_(std::move(look)) {}

    void walk() {
        std::ifstream in(TALLYROUND_TOUR);
        REQUIRE_MESSAGE(in.good(), "no tour at " << TALLYROUND_TOUR);
        std::string line;
        while (std::getline(in, line)) {
            if (line.empty() || line[0] == '#') continue;
            INFO("tour: " << line);
            const std::string first = word(line);
            if (first != "narrow" && first != "wide") {
                step(first, line);
            } else if ((first == "wide") == wide()) {
                const std::string verb = word(line);
                step(verb, line);
            }
        }
    }

  private:
    bool wide() const { return h_.surface.width >= 900; }

    static std::string word(std::string& line) {
        const std::size_t end = std::min(line.find(' '), line.size());
        const std::string out = line.substr(0, end);
        line = line.substr(std::min(end + 1, line.size()));
        return out;
    }

    static bool fits(std::string pattern, const std::string& label) {
        const bool any_start = pattern.starts_with('*');
        const bool any_end = pattern.size() > 1 && pattern.ends_with('*');
        pattern = pattern.substr(any_start, pattern.size() - any_start - any_end);
        if (any_start && any_end) return label.find(pattern) != std::string::npos;
        if (any_start) return label.ends_with(pattern);
        return any_end ? label.starts_with(pattern) : label == pattern;
    }

    static bool is_role(const std::string& name, Role role) {
        if (name == "button") return role == Role::button || role == Role::tab;
        if (name == "checkbox") return role == Role::checkbox;
        return name == "radio" && role == Role::radio;
    }

    /// What can be reached: not what lies behind a sheet.
    bool reachable(const Node& node) const {
        const auto by_id = [&](std::uint32_t id) {
            return std::find_if(h_.nodes.begin(), h_.nodes.end(),
                                [&](const Node& n) { return n.id == id; });
        };
        const auto dialog = std::find_if(h_.nodes.begin(), h_.nodes.end(),
                                         [](const Node& n) { return n.role == Role::dialog; });
        if (dialog == h_.nodes.end()) return true;
        auto at = by_id(node.id);
        while (at != h_.nodes.end() && at->id != dialog->id)
            at = by_id(at->parent);
        return at != h_.nodes.end();
    }

    std::uint32_t find(std::string what) {
        const std::string role = word(what);
        std::string all;
        for (const Node& n : h_.nodes) {
            if (!is_role(role, n.role) || !reachable(n)) continue;
            if (fits(what, n.label)) return n.id;
            all += "\n  " + n.label;
        }
        FAIL("no " << role << " " << what << " among:" << all);
        return 0;
    }

    void step(const std::string& verb, const std::string& rest) {
        if (verb == "look") {
            look_(rest);
        } else if (verb == "tap") {
            h_.tap_node(find(rest));
        } else if (verb == "hold") {
            h_.hold_node(find(rest));
        } else if (verb == "escape") {
            h_.app->key(Key::escape, h_.now);
            h_.frame();
        } else if (verb == "step") {
            if (!wide()) h_.tap_node(find("button *ll steps"));
            h_.tap_node(find("button " + rest + ". *"));
        } else if (verb == "type") {
            const std::size_t at = rest.find(" = ");
            REQUIRE(at != std::string::npos);
            h_.type(rest.substr(0, at), rest.substr(at + 3));
        } else {
            FAIL("the tour says " << verb);
        }
    }

    Hands& h_;
    Look look_;
};

/// The sizes at which every screen is tested: phone, tablet upright, tablet lying.
inline constexpr std::pair<float, float> tour_sizes[] = {{390, 844}, {768, 1024}, {1024, 768}};

}  // namespace tallyround::ui
