#include "gl_answers.h"

#include <GLES3/gl3.h>

#include <algorithm>

namespace {

/// In OpenGL's way: from the bottom left.
struct Window {
    int x, y, width, height;
};
Window drawn{0, 0, 0, 0};

}  // namespace

namespace tallyround::shell {

void draw_only(const ui::PixelRect& part, int framebuffer_height) {
    drawn = {part.left, framebuffer_height - part.bottom, part.right - part.left,
             part.bottom - part.top};
}

}  // namespace tallyround::shell

// Every clip rectangle of the renderer comes through here on its way to the context (renamed like
// the one below), so a frame may be drawn again in part, down to the pixel.
extern "C" void tallyround_scissor(GLint x, GLint y, GLsizei width, GLsizei height) {
    const int left = std::max(x, drawn.x);
    const int bottom = std::max(y, drawn.y);
    const int right = std::min(x + width, drawn.x + drawn.width);
    const int top = std::min(y + height, drawn.y + drawn.height);
    glScissor(left, bottom, std::max(0, right - left), std::max(0, top - bottom));
}

// ImGui's renderer asks the context for some twenty values before each frame, to put them back
// afterwards. Asking makes the page wait for the drawing process, which costs more than the frame
// itself. Nothing else draws here, so the answers are known: the renderer is compiled with
// glGetIntegerv renamed to this function (see CMakeLists.txt).
extern "C" void tallyround_get_integerv(GLenum what, GLint* answer) {
    switch (what) {
        case GL_VIEWPORT:
        case GL_SCISSOR_BOX:
            for (int i = 0; i < 4; ++i)
                answer[i] = 0;
            return;
        case GL_ACTIVE_TEXTURE:
            *answer = GL_TEXTURE0;
            return;
        case GL_BLEND_SRC_RGB:
        case GL_BLEND_SRC_ALPHA:
            *answer = GL_ONE;
            return;
        case GL_BLEND_EQUATION_RGB:
        case GL_BLEND_EQUATION_ALPHA:
            *answer = GL_FUNC_ADD;
            return;
        case GL_BLEND_DST_RGB:
        case GL_BLEND_DST_ALPHA:
        case GL_CURRENT_PROGRAM:
        case GL_TEXTURE_BINDING_2D:
        case GL_SAMPLER_BINDING:
        case GL_ARRAY_BUFFER_BINDING:
        case GL_ELEMENT_ARRAY_BUFFER_BINDING:
        case GL_PIXEL_UNPACK_BUFFER_BINDING:
        case GL_VERTEX_ARRAY_BINDING:
            *answer = 0;
            return;
        default:
            glGetIntegerv(what, answer);
    }
}
