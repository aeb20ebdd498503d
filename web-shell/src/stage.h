#pragma once
#include "ui/app.h"
#include "ui/canvas.h"
#include "ui/changes.h"

struct SDL_Window;

namespace tallyround::shell {

/// The window on the page's canvas with its WebGL 2 context (both SDL's) and ImGui's renderer.
/// Pointers and keys do not come through SDL: the page hands them over with their own times.
class Stage {
  public:
    /// Tries for something to draw on.
    Stage();
    bool draws() const { return context_ != nullptr; }

    void resize(const ui::Surface& surface);
    /// Opens a frame; draw on the list that it gives.
    ImDrawList& begin_frame(const ui::Surface& surface);
    void end_frame();

    /// The browser took the context: nothing that lived in it exists any more.
    void lose();
    /// It gave it back empty. True if everything could be made again.
    bool restore();

  private:
    void draw(ImDrawData& data, const ui::PixelRect& part);

    ui::Canvas canvas_;
    ui::Changes changes_;
    SDL_Window* window_ = nullptr;
    void* context_ = nullptr;
};

}  // namespace tallyround::shell
