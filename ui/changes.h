#pragma once
#include <imgui.h>

#include <cstdint>
#include <vector>

namespace tallyround::ui {

/// Part of the screen in whole pixels of the framebuffer, from its top left; `right` and `bottom`
/// are just outside.
struct PixelRect {
    int left = 0;
    int top = 0;
    int right = 0;
    int bottom = 0;

    bool empty() const { return right <= left || bottom <= top; }
    bool operator==(const PixelRect&) const = default;
};

/// Finds where a frame differs from the one before, so that only there need be drawn again: after a
/// tap that is a small part of the screen, and drawing is what a tap waits for where the graphics
/// are slow.
///
/// The screen is cut into tiles. Each tile has a hash over the triangles that touch it, in their
/// order, with their corners, colours, texture and clip rectangle; a tile with another hash than in
/// the last frame has to be drawn again.
class Changes {
  public:
    static constexpr int tile = 32;         ///< side in points
    static constexpr std::size_t most = 3;  ///< rectangles a frame

    /// What differs from the last frame asked about: rectangles that do not overlap, together
    /// holding every tile that does. None: nothing differs. The first frame, and one of another
    /// size, differs everywhere.
    std::vector<PixelRect> since_last(const ImDrawData& data);
    /// The picture is gone: all of the next frame differs.
    void forget() { tiles_.clear(); }

  private:
    struct Grid {
        int columns = 0;
        int rows = 0;
    };

    static std::vector<std::uint64_t> hashes(const ImDrawData& data, const Grid& grid);

    /// Tiles beside each other in a row that differ from `before`.
    std::vector<PixelRect> runs(const Grid& grid, const std::vector<std::uint64_t>& before,
                                ImVec2 scale) const;

    std::vector<std::uint64_t> tiles_;  ///< of the last frame, row by row
    ImVec2 size_{0, 0};                 ///< of the last frame in pixels
};

}  // namespace tallyround::ui
