#pragma once
#include <imgui.h>

#include <memory>

namespace tallyround::ui {

/// Dear ImGui's fonts and one draw list, which are all the app uses of it. A whole ImGui frame
/// (`ImGui::NewFrame`) would also run windows, navigation, settings and their clean-up, a sixth of
/// the wasm for nothing; so the little that a frame of text and shapes needs of it is done here.
/// `ImGui::GetIO` and `ImGui::GetStyle` are those of the one made or begun last (tests have two
/// devices side by side).
class Canvas {
  public:
    Canvas();
    ~Canvas();
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;

    /// Opens a frame of so many points with so many pixels a point each way. The renderer (or a
    /// test) has said before that it has textures: ImGuiBackendFlags_RendererHasTextures.
    void begin(ImVec2 points, ImVec2 pixels);
    /// Where to draw between `begin` and `end`.
    ImDrawList* list();
    /// Closes the frame: what to render, with the textures that changed.
    ImDrawData& end();

  private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace tallyround::ui
