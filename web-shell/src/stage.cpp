#include "stage.h"

#define SDL_MAIN_HANDLED
#include <GLES3/gl3.h>
#include <SDL2/SDL.h>
#include <backends/imgui_impl_opengl3.h>
#include <emscripten/html5.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "gl_answers.h"

namespace tallyround::shell {

namespace {

constexpr const char* glsl_version = "#version 300 es";

void ask_for_webgl2() {
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_ES);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 0);
    // The canvas is opaque; ImGui smooths its own edges.
    SDL_GL_SetAttribute(SDL_GL_ALPHA_SIZE, 0);
    SDL_GL_SetAttribute(SDL_GL_DEPTH_SIZE, 0);
    SDL_GL_SetAttribute(SDL_GL_STENCIL_SIZE, 0);
    SDL_GL_SetAttribute(SDL_GL_MULTISAMPLEBUFFERS, 0);
}

}  // namespace

Stage::Stage() {
    SDL_SetMainReady();
    SDL_SetHint(SDL_HINT_EMSCRIPTEN_KEYBOARD_ELEMENT, "#canvas");
    if (SDL_Init(SDL_INIT_VIDEO) != 0) return;
    ask_for_webgl2();
    window_ = SDL_CreateWindow("Tallyround", 0, 0, 320, 240,
                               SDL_WINDOW_OPENGL | SDL_WINDOW_ALLOW_HIGHDPI);
    if (window_ == nullptr) return;
    SDL_GLContext context = SDL_GL_CreateContext(window_);
    // SDL listens to the page's events by now. The page hands its own to the app, so these
    // would only queue up unread (and one of them keeps pages out of the back-forward cache).
    emscripten_html5_remove_all_event_listeners();
    if (context == nullptr) return;
    // Shaders are compiled now, while storage is being read, and not in the first frame.
    if (ImGui_ImplOpenGL3_Init(glsl_version) && ImGui_ImplOpenGL3_CreateDeviceObjects()) {
        context_ = context;
    }
}

void Stage::resize(const ui::Surface& surface) {
    if (window_ == nullptr) return;
    changes_.forget();
    SDL_SetWindowSize(window_, int(std::lround(surface.width)), int(std::lround(surface.height)));
}

ImDrawList& Stage::begin_frame(const ui::Surface& surface) {
    int width = 0;
    int height = 0;
    SDL_GL_GetDrawableSize(window_, &width, &height);
    ImGui_ImplOpenGL3_NewFrame();
    canvas_.begin({surface.width, surface.height},
                  {float(width) / surface.width, float(height) / surface.height});
    return *canvas_.list();
}

void Stage::end_frame() {
    ImDrawData& data = canvas_.end();
    const std::vector<ui::PixelRect> parts = changes_.since_last(data);
    for (const ui::PixelRect& part : parts)
        draw(data, part);
    if (!parts.empty()) SDL_GL_SwapWindow(window_);
}

/// The canvas keeps its picture from frame to frame (js/surface.mjs), so the rest may stay.
void Stage::draw(ImDrawData& data, const ui::PixelRect& part) {
    const int width = int(data.DisplaySize.x * data.FramebufferScale.x);
    const int height = int(data.DisplaySize.y * data.FramebufferScale.y);
    draw_only(part, height);
    glViewport(0, 0, width, height);
    glEnable(GL_SCISSOR_TEST);
    glScissor(part.left, height - part.bottom, part.right - part.left, part.bottom - part.top);
    const ImVec4 paper = ImGui::GetStyle().Colors[ImGuiCol_WindowBg];
    glClearColor(paper.x, paper.y, paper.z, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(&data);
}

void Stage::lose() {
    changes_.forget();
    if (draws()) ImGui_ImplOpenGL3_DestroyDeviceObjects();
}

bool Stage::restore() {
    return draws() && SDL_GL_MakeCurrent(window_, context_) == 0 &&
           ImGui_ImplOpenGL3_CreateDeviceObjects();
}

}  // namespace tallyround::shell
