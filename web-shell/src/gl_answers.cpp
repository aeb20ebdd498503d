// ImGui's renderer asks the context for some twenty values before each frame, to put them back
// afterwards. Asking makes the page wait for the drawing process, which costs more than the frame
// itself. Nothing else draws here, so the answers are known: the renderer is compiled with
// glGetIntegerv renamed to this function (see CMakeLists.txt).
#include <GLES3/gl3.h>

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
