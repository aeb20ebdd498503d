#pragma once
#include <cstddef>
#include <cstdint>
#include <list>
#include <string>
#include <unordered_map>

#include "ui/app.h"

namespace tallyround::shell {

/// Strings drawn by the page's canvas in the device's own fonts, kept as textures. The ones not
/// used for longest go first, but never one that the frame in hand has used.
class CanvasPainter : public ui::TextPainter {
  public:
    static constexpr std::size_t kept = 300;

    Picture paint(const std::string& utf8, float size, float scale, bool bold) override;

    /// Call before each frame.
    void next_frame() { ++frame_; }
    /// The drawing context is gone, and every texture with it.
    void forget();

  private:
    struct Entry {
        std::string key;
        Picture picture;
        std::uint64_t frame = 0;
    };
    void make_room();

    std::list<Entry> entries_;  ///< last used first
    std::unordered_map<std::string, std::list<Entry>::iterator> found_;
    std::uint64_t frame_ = 0;
};

}  // namespace tallyround::shell
