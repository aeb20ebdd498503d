#pragma once
#include "ui/changes.h"

namespace tallyround::shell {

/// From now on ImGui's renderer draws within this part of the framebuffer only.
void draw_only(const ui::PixelRect& part, int framebuffer_height);

}  // namespace tallyround::shell
