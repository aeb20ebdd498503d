#include "ui/changes.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numeric>

namespace tallyround::ui {

namespace {

/// Finaliser of SplitMix64 (Steele, Lea and Flood 2014): every bit of `x` moves every bit.
std::uint64_t mix(std::uint64_t x) {
    x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9U;
    x = (x ^ (x >> 27U)) * 0x94d049bb133111ebU;
    return x ^ (x >> 31U);
}

std::uint64_t join(std::uint64_t hash, std::uint64_t value) {
    return mix(hash + 0x9e3779b97f4a7c15U + value);
}

std::uint64_t bits(const ImVec2& v) {
    return std::uint64_t(std::bit_cast<std::uint32_t>(v.x)) << 32U |
           std::bit_cast<std::uint32_t>(v.y);
}

std::uint64_t hash_of(const ImDrawVert& v) {
    return join(join(bits(v.pos), bits(v.uv)), v.col);
}

/// Texture and clip rectangle. A texture of ImGui's has another number whenever its letters moved.
std::uint64_t hash_of(const ImDrawCmd& command) {
    const ImTextureRef& texture = command.TexRef;
    const std::uint64_t name = texture._TexData != nullptr
                                   ? std::uint64_t(texture._TexData->UniqueID) << 32U
                                   : std::uint64_t(texture._TexID);
    const ImVec4& clip = command.ClipRect;
    return join(join(name, bits({clip.x, clip.y})), bits({clip.z, clip.w}));
}

struct Span {
    int first = 0;
    int last = -1;
};

/// The tiles of one direction that reach from `low` to `high`.
Span tiles_between(float low, float high, int count) {
    const float side = float(Changes::tile);
    return {std::max(0, int(std::floor(low / side))),
            std::min(count - 1, int(std::floor(high / side)))};
}

/// From so many scattered pieces on, finding good rectangles costs more than it saves.
constexpr std::size_t too_many = 100;

long area(const PixelRect& r) {
    return r.empty() ? 0 : long(r.right - r.left) * (r.bottom - r.top);
}

PixelRect around(const PixelRect& a, const PixelRect& b) {
    return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right),
            std::max(a.bottom, b.bottom)};
}

bool overlap(const PixelRect& a, const PixelRect& b) {
    return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/// Puts the two together that waste least, until there are few and none overlap.
void gather(std::vector<PixelRect>& rects) {
    if (rects.size() > too_many) {
        rects = {std::accumulate(rects.begin(), rects.end(), rects.front(), around)};
    }
    for (;;) {
        long least = std::numeric_limits<long>::max();
        std::size_t one = 0;
        std::size_t other = 0;
        bool crossing = false;
        for (std::size_t i = 0; i < rects.size(); ++i) {
            for (std::size_t k = i + 1; k < rects.size(); ++k) {
                const long waste =
                    area(around(rects[i], rects[k])) - area(rects[i]) - area(rects[k]);
                if (waste >= least) continue;
                least = waste;
                one = i;
                other = k;
            }
            for (std::size_t k = i + 1; k < rects.size(); ++k)
                crossing = crossing || overlap(rects[i], rects[k]);
        }
        if (rects.size() < 2 || (rects.size() <= Changes::most && least > 0 && !crossing)) return;
        rects[one] = around(rects[one], rects[other]);
        rects.erase(rects.begin() + std::ptrdiff_t(other));
    }
}

}  // namespace

std::vector<std::uint64_t> Changes::hashes(const ImDrawData& data, const Grid& grid) {
    std::vector<std::uint64_t> found(std::size_t(grid.columns) * grid.rows, 0);
    std::vector<std::uint64_t> corners;
    for (const ImDrawList* list : data.CmdLists) {
        corners.clear();
        for (const ImDrawVert& v : list->VtxBuffer)
            corners.push_back(hash_of(v));
        for (const ImDrawCmd& command : list->CmdBuffer) {
            const std::uint64_t shared = hash_of(command);
            const ImVec4& clip = command.ClipRect;
            const ImDrawIdx* index = list->IdxBuffer.Data + command.IdxOffset;
            for (const ImDrawIdx* end = index + command.ElemCount; index < end; index += 3) {
                ImVec2 low{clip.z, clip.w};
                ImVec2 high{clip.x, clip.y};
                std::uint64_t hash = shared;
                for (int i = 0; i < 3; ++i) {
                    const unsigned at = command.VtxOffset + index[i];
                    const ImVec2& p = list->VtxBuffer.Data[at].pos;
                    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
                    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
                    hash = join(hash, corners[at]);
                }
                const Span across =
                    tiles_between(std::max(low.x, clip.x), std::min(high.x, clip.z), grid.columns);
                const Span down =
                    tiles_between(std::max(low.y, clip.y), std::min(high.y, clip.w), grid.rows);
                for (int row = down.first; row <= down.last; ++row) {
                    for (int column = across.first; column <= across.last; ++column) {
                        std::uint64_t& t = found[std::size_t(row) * grid.columns + column];
                        t = join(t, hash);
                    }
                }
            }
        }
    }
    return found;
}

std::vector<PixelRect> Changes::runs(const Grid& grid, const std::vector<std::uint64_t>& before,
                                     ImVec2 scale) const {
    std::vector<PixelRect> found;
    const auto differs = [&](int row, int column) {
        const std::size_t at = std::size_t(row) * grid.columns + column;
        return tiles_[at] != before[at];
    };
    for (int row = 0; row < grid.rows; ++row) {
        for (int column = 0; column < grid.columns; ++column) {
            if (!differs(row, column)) continue;
            const int first = column;
            while (column < grid.columns && differs(row, column))
                ++column;
            const float side = float(tile);
            found.push_back({int(std::floor(float(first) * side * scale.x)),
                             int(std::floor(float(row) * side * scale.y)),
                             int(std::ceil(float(column) * side * scale.x)),
                             int(std::ceil(float(row + 1) * side * scale.y))});
        }
    }
    return found;
}

std::vector<PixelRect> Changes::since_last(const ImDrawData& data) {
    const ImVec2 scale = data.FramebufferScale;
    const ImVec2 size{data.DisplaySize.x * scale.x, data.DisplaySize.y * scale.y};
    const Grid grid{int(std::ceil(data.DisplaySize.x / tile)),
                    int(std::ceil(data.DisplaySize.y / tile))};
    std::vector<std::uint64_t> now = hashes(data, grid);
    std::swap(tiles_, now);
    const PixelRect whole{0, 0, int(std::ceil(size.x)), int(std::ceil(size.y))};
    const bool same_size = size.x == size_.x && size.y == size_.y && now.size() == tiles_.size();
    size_ = size;
    if (!same_size) return {whole};

    std::vector<PixelRect> rects = runs(grid, now, scale);
    gather(rects);
    for (PixelRect& r : rects) {
        r.right = std::min(r.right, whole.right);
        r.bottom = std::min(r.bottom, whole.bottom);
    }
    const long drawn = std::accumulate(rects.begin(), rects.end(), 0L,
                                       [](long sum, const PixelRect& r) { return sum + area(r); });
    if (drawn > area(whole) / 2) return {whole};
    return rects;
}

}  // namespace tallyround::ui
