#include "text_painter.h"

#include <GLES3/gl3.h>

#include <cmath>

#include "host.h"

namespace tallyround::shell {

namespace {

std::string key_of(const std::string& utf8, float size, float scale, bool bold) {
    // Tenths of a device pixel tell sizes apart well enough.
    return std::to_string(std::lround(size * scale * 10)) + (bold ? 'b' : 'r') + utf8;
}

GLuint make_texture() {
    GLuint texture = 0;
    glGenTextures(1, &texture);
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    return texture;
}

}  // namespace

ui::TextPainter::Picture CanvasPainter::paint(const std::string& utf8, float size, float scale,
                                              bool bold) {
    std::string key = key_of(utf8, size, scale, bold);
    if (const auto it = found_.find(key); it != found_.end()) {
        it->second->frame = frame_;
        entries_.splice(entries_.begin(), entries_, it->second);
        return it->second->picture;
    }
    make_room();
    const GLuint texture = make_texture();
    int width = 0;
    int height = 0;
    Picture picture;
    if (host::paint(utf8, size, scale, bold, width, height)) {
        picture.texture = texture;
        picture.width = float(width) / scale;
        picture.height = float(height) / scale;
    } else {
        glDeleteTextures(1, &texture);
    }
    entries_.push_front({std::move(key), picture, frame_});
    found_.emplace(entries_.front().key, entries_.begin());
    return picture;
}

void CanvasPainter::make_room() {
    while (entries_.size() >= kept && entries_.back().frame != frame_) {
        const auto texture = GLuint(entries_.back().picture.texture);
        if (texture != 0) glDeleteTextures(1, &texture);
        found_.erase(entries_.back().key);
        entries_.pop_back();
    }
}

void CanvasPainter::forget() {
    found_.clear();
    entries_.clear();
}

}  // namespace tallyround::shell
