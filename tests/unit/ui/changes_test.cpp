#include "ui/changes.h"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <random>
#include <string>

#include "ui/canvas.h"

namespace tallyround::ui {

namespace {

struct Block {
    int x, y, width, height;
    ImU32 color;
};

/// A frame of blocks over each other, drawn by ImGui and, for comparison, by painting pixels.
class Easel {
  public:
    Easel(int width, int height, float scale) : width_(width), height_(height), scale_(scale) {
        ImGui::GetIO().BackendFlags |= ImGuiBackendFlags_RendererHasTextures;
        // The white spot that fills are made of lies in the fonts' texture.
        std::ifstream file(TALLYROUND_FONTS "/regular.ttf", std::ios::binary);
        font_.assign(std::istreambuf_iterator<char>(file), {});
        ImFontConfig config;
        config.FontDataOwnedByAtlas = false;
        ImGui::GetIO().Fonts->AddFontFromMemoryTTF(font_.data(), int(font_.size()), 17, &config);
    }

    std::vector<PixelRect> frame(const std::vector<Block>& blocks) {
        canvas_.begin({float(width_), float(height_)}, {scale_, scale_});
        for (const Block& b : blocks) {
            canvas_.list()->AddRectFilled({float(b.x), float(b.y)},
                                          {float(b.x + b.width), float(b.y + b.height)}, b.color);
        }
        return changes.since_last(canvas_.end());
    }

    std::vector<ImU32> paint(const std::vector<Block>& blocks) const {
        const int across = int(float(width_) * scale_);
        const int down = int(float(height_) * scale_);
        std::vector<ImU32> pixels(std::size_t(across) * down, 0);
        for (int y = 0; y < down; ++y) {
            for (int x = 0; x < across; ++x) {
                const float px = (float(x) + 0.5F) / scale_;
                const float py = (float(y) + 0.5F) / scale_;
                for (const Block& b : blocks) {
                    if (px >= float(b.x) && px < float(b.x + b.width) && py >= float(b.y) &&
                        py < float(b.y + b.height))
                        pixels[std::size_t(y) * across + x] = b.color;
                }
            }
        }
        return pixels;
    }

    int across() const { return int(float(width_) * scale_); }

    Changes changes;

  private:
    std::string font_;
    Canvas canvas_;
    int width_;
    int height_;
    float scale_;
};

bool inside(int x, int y, const PixelRect& r) {
    return x >= r.left && x < r.right && y >= r.top && y < r.bottom;
}

const std::vector<Block> room = {
    {0, 0, 640, 480, 0xff111111}, {40, 40, 100, 60, 0xff222222}, {500, 400, 80, 40, 0xff333333}};

}  // namespace

TEST_CASE("the same frame again need not be drawn") {
    Easel easel(640, 480, 1);
    CHECK(easel.frame(room) == std::vector<PixelRect>{{0, 0, 640, 480}});
    CHECK(easel.frame(room).empty());
    easel.changes.forget();
    CHECK(easel.frame(room) == std::vector<PixelRect>{{0, 0, 640, 480}});
}

TEST_CASE("a change of one block is its tiles alone, and two far apart are two parts") {
    Easel easel(640, 480, 2);
    easel.frame(room);
    auto other = room;
    other[1].color = 0xff999999;
    // 40..140 across and 40..100 down touch the tiles from 32 to 160 and to 128; twice in pixels.
    CHECK(easel.frame(other) == std::vector<PixelRect>{{64, 64, 320, 256}});
    other[1].color = 0xff888888;
    other[2].color = 0xff777777;
    const auto parts = easel.frame(other);
    REQUIRE(parts.size() == 2);
    CHECK(parts[0] == PixelRect{64, 64, 320, 256});
    CHECK(parts[1].left > parts[0].right);
}

TEST_CASE("what lies over the other counts, not only what is there") {
    Easel easel(640, 480, 1);
    auto blocks = room;
    blocks.push_back({60, 60, 100, 60, 0xff444444});
    easel.frame(blocks);
    std::swap(blocks[1], blocks[3]);
    CHECK_FALSE(easel.frame(blocks).empty());
}

TEST_CASE("every pixel that changes lies in a part, and parts do not overlap") {
    std::mt19937 draw(20261126);
    const auto below = [&](int end) { return int(draw() % unsigned(end)); };
    for (const float scale : {1.0F, 1.5F, 2.0F}) {
        Easel easel(400, 300, scale);
        std::vector<Block> blocks = {{0, 0, 400, 300, 0xff000001}};
        easel.frame(blocks);
        std::size_t partial = 0;
        for (int turn = 0; turn < 60; ++turn) {
            const std::vector<ImU32> before = easel.paint(blocks);
            for (int i = below(3); i >= 0; --i) {
                const Block b{below(400), below(300), 1 + below(90), 1 + below(60),
                              ImU32(draw()) | 0xff000000U};
                if (blocks.size() > 6) blocks.erase(blocks.begin() + 1 + below(6));
                blocks.push_back(b);
            }
            const std::vector<PixelRect> parts = easel.frame(blocks);
            const std::vector<ImU32> after = easel.paint(blocks);
            REQUIRE(parts.size() <= Changes::most);
            partial += parts.size() > 1 || (!parts.empty() && parts[0].right < easel.across());
            for (std::size_t i = 0; i < before.size(); ++i) {
                if (before[i] == after[i]) continue;
                const int x = int(i) % easel.across();
                const int y = int(i) / easel.across();
                int in = 0;
                for (const PixelRect& r : parts)
                    in += inside(x, y, r) ? 1 : 0;
                REQUIRE(in == 1);
            }
        }
        CHECK(partial > 30);
    }
}

}  // namespace tallyround::ui
