// Every screen's mirror as it was looked at last, kept in snapshots/: roles, names and states.
// TALLYROUND_SNAPSHOTS=write build/native/tests/unit_ui -tc="*snapshot*" stores them anew.
#include <cstdlib>
#include <filesystem>
#include <set>
#include <sstream>

#include "tour.h"
#include "ui/view.h"

using namespace tallyround::ui;

namespace {

const char* role_name(Role role) {
    static constexpr const char* names[] = {
        "main",   "navigation", "banner",        "region",     "dialog", "list",     "list item",
        "table",  "row",        "column header", "row header", "cell",   "heading",  "text",
        "status", "timer",      "image",         "button",     "link",   "checkbox", "radio",
        "step",   "field",      "text area",     "group"};
    return names[std::size_t(role)];
}

int depth_of(const std::vector<Node>& nodes, const Node& node) {
    int depth = 0;
    for (std::uint32_t at = node.parent; at != 0; ++depth) {
        const auto it =
            std::find_if(nodes.begin(), nodes.end(), [&](const Node& n) { return n.id == at; });
        if (it == nodes.end()) break;
        at = it->parent;
    }
    return depth;
}

std::string text_of(const std::vector<Node>& nodes) {
    std::ostringstream out;
    for (const Node& n : nodes) {
        out << std::string(2 * std::size_t(depth_of(nodes, n)), ' ') << role_name(n.role);
        if (n.role == Role::heading) out << ' ' << int(n.level);
        if (!n.label.empty()) out << ": " << n.label;
        if (!n.value.empty()) out << " = " << n.value;
        if (n.checked) out << " [on]";
        if (n.disabled) out << " [disabled]";
        if (n.has_popup) out << " [opens a sheet]";
        out << '\n';
    }
    return out.str();
}

std::string stored(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

TEST_CASE("snapshot: the mirror of every screen and every sheet is as it was stored") {
    const char* wish = std::getenv("TALLYROUND_SNAPSHOTS");
    const bool write = wish != nullptr && std::string(wish) == "write";
    const std::filesystem::path folder = TALLYROUND_SNAPSHOTS;
    std::set<std::string> seen;
    std::set<Screen> screens;
    std::set<Overlay> overlays;
    Hands h;
    Tour(h, [&](const std::string& name) {
        const std::filesystem::path file = folder / (name + ".txt");
        CHECK_MESSAGE(seen.insert(file.filename().string()).second, "twice on the tour: " << name);
        screens.insert(h.app->view().screen);
        overlays.insert(h.app->view().overlay);
        const std::string now = text_of(h.nodes);
        if (write) {
            std::filesystem::create_directories(folder);
            std::ofstream(file, std::ios::binary) << now;
        }
        CHECK_MESSAGE(now == stored(file), name);
    }).walk();
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (write && !seen.contains(name)) std::filesystem::remove(entry.path());
        CHECK_MESSAGE(seen.contains(name), "not on the tour any more: " << name);
    }
    // Where only storage, another device or a planner can lead; tested where each is provoked.
    const std::set<Screen> not_by_hand{Screen::locked};
    const std::set<Overlay> not_by_tap{Overlay::obstacles, Overlay::sealed_file, Overlay::conflicts,
                                       Overlay::school_class};
    for (int s = 0; s <= int(Screen::locked); ++s) {
        if (not_by_hand.contains(Screen(s))) continue;
        CHECK_MESSAGE(screens.contains(Screen(s)), "no screen " << s << " on the tour");
    }
    for (int o = 0; o <= int(Overlay::conflicts); ++o) {
        if (not_by_tap.contains(Overlay(o))) continue;
        CHECK_MESSAGE(overlays.contains(Overlay(o)), "no sheet " << o << " on the tour");
    }
}
