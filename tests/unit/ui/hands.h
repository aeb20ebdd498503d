#pragma once
#include <imgui.h>

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "ui/app.h"
#include "ui/canvas.h"

namespace tallyround::ui {

/// Hands for tests: an App without a window, touched by role and name on the same path as a finger.
class Hands {
  public:
    /// `percent`: the size of all text.
    explicit Hands(float width = 390, float height = 844, int percent = 100,
                   std::uint64_t entropy = 42) {
        ImGui::GetIO().BackendFlags |= ImGuiBackendFlags_RendererHasTextures;
        surface.width = width;
        surface.height = height;
        now.utc_ms = 1'796'000'000'000;
        regular_ = read("regular.ttf");
        bold_ = read("bold.ttf");
        app = std::make_unique<App>(Fonts{regular_, bold_}, nullptr, entropy);
        const std::string preferences = "{\"text\":\"" + std::to_string(percent) + "\"}";
        app->open("", "", 0, preferences, false, now);
        frame();
    }
    Hands(const Hands&) = delete;
    Hands& operator=(const Hands&) = delete;

    /// Frames until nothing is due at once; effects are gathered, appended records count as stored.
    void frame() {
        for (int i = 0; i < 20; ++i) {
            if (!one_frame()) return;
            now.steady_ms += 16;
        }
    }
    /// True when another is due at once.
    bool one_frame() {
        canvas.begin({surface.width, surface.height}, {1, 1});
        app->frame(surface, now, *canvas.list());
        drawn.push_back(now.steady_ms);
        const ImDrawData& data = canvas.end();
        vertices = data.TotalVtxCount;
        for (ImTextureData* t : *data.Textures) {
            if (t->Status != ImTextureStatus_Destroyed) t->SetStatus(ImTextureStatus_OK);
        }
        apply(app->take_mirror_diff());
        gather();
        return app->next_frame_in(now) == 0;
    }

    /// Lets time pass, on the wall clock and the steady one, with the frames that fall due.
    void wait(std::int64_t ms) {
        now.utc_ms += ms;
        now.steady_ms += double(ms);
        frame();
    }

    const Node* find(Role role, const std::string& label) const {
        for (const Node& n : nodes) {
            if (n.role == role && n.label == label) return &n;
        }
        return nullptr;
    }
    /// The first node of the role whose label starts so.
    const Node* starting(Role role, const std::string& label) const {
        for (const Node& n : nodes) {
            if (n.role == role && n.label.starts_with(label)) return &n;
        }
        return nullptr;
    }
    bool sees(Role role, const std::string& label) const { return find(role, label) != nullptr; }

    /// Brings the node into view and touches its middle.
    void tap(Role role, const std::string& label) {
        const Node* n = find(role, label);
        REQUIRE_MESSAGE(n != nullptr, "no such thing on screen: " << label);
        tap_node(n->id);
    }
    void tap_node(std::uint32_t id) {
        const auto [x, y] = middle(id);
        app->pointer_down(0, x, y, now);
        now.steady_ms += 40;
        app->pointer_up(0, x, y, now);
        frame();
    }
    /// Brings the node into view, touches its middle and stays there.
    void hold_node(std::uint32_t id) {
        const auto [x, y] = middle(id);
        app->pointer_down(0, x, y, now);
        wait(600);
        app->pointer_up(0, x, y, now);
        frame();
    }
    /// Middle of what is visible of a node, brought into view.
    std::pair<float, float> middle(std::uint32_t id) {
        app->focus(id);
        frame();
        const auto it =
            std::find_if(nodes.begin(), nodes.end(), [&](const Node& n) { return n.id == id; });
        REQUIRE(it != nodes.end());
        REQUIRE_MESSAGE(!it->rect.empty(), "out of sight: " << it->label);
        return {it->rect.x + it->rect.w / 2, it->rect.y + it->rect.h / 2};
    }
    void type(const std::string& label, const std::string& text) {
        const auto it = std::find_if(nodes.begin(), nodes.end(), [&](const Node& n) {
            return (n.role == Role::text_field || n.role == Role::text_area) && n.label == label;
        });
        REQUIRE_MESSAGE(it != nodes.end(), "no field " << label);
        const std::uint32_t id = it->id;
        middle(id);
        for (const Node& n : nodes) {
            if (n.id != id) continue;
            CHECK_MESSAGE(n.rect.h == doctest::Approx(n.full.h), "not wholly seen: " << label);
        }
        app->edit(id, text, now);
        frame();
    }

    Canvas canvas;
    Surface surface;
    Now now;
    std::unique_ptr<App> app;
    std::vector<Node> nodes;  ///< the mirror as the page would hold it
    Effects effects;          ///< all so far
    std::vector<std::string> journal;
    std::string announced;
    int vertices = 0;           ///< of the last frame
    std::vector<double> drawn;  ///< when each frame was, steady milliseconds

  private:
    static std::string read(const std::string& name) {
        const std::string path = std::string(TALLYROUND_FONTS) + "/" + name;
        std::ifstream in(path, std::ios::binary);
        REQUIRE_MESSAGE(in.good(), "no font at " << path << ": run web-shell/setup");
        return {std::istreambuf_iterator<char>(in), {}};
    }
    void apply(const MirrorDiff& d) {
        for (const std::uint32_t id : d.removed) {
            std::erase_if(nodes, [&](const Node& n) { return n.id == id; });
        }
        for (const Node& n : d.changed) {
            const auto it = std::find_if(nodes.begin(), nodes.end(),
                                         [&](const Node& old) { return old.id == n.id; });
            if (it == nodes.end()) {
                nodes.push_back(n);
            } else {
                *it = n;
            }
        }
        if (d.order.empty()) return;
        std::vector<Node> ordered;
        for (const std::uint32_t id : d.order) {
            const auto it =
                std::find_if(nodes.begin(), nodes.end(), [&](const Node& n) { return n.id == id; });
            REQUIRE(it != nodes.end());
            ordered.push_back(*it);
        }
        nodes = std::move(ordered);
    }
    void gather() {
        for (Effect& e : app->take_effects()) {
            if (const auto* record = std::get_if<AppendRecord>(&e)) {
                journal.push_back(record->record);
                app->stored(record->key);
            }
            if (const auto* said = std::get_if<Announce>(&e)) announced = said->text;
            effects.push_back(std::move(e));
        }
    }

    std::string regular_;
    std::string bold_;
};

}  // namespace tallyround::ui
