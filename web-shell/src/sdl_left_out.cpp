// SDL as built carries whatever a game may want: copying of pixels between any two formats, a
// renderer, sound, other video drivers. Here it only makes a window on the canvas with its WebGL
// context, so those parts are never run; yet functions that are (SDL_CreateWindow, SDL_Init) name
// them, and they would be a third of what SDL adds to the download. A linker takes a library's
// file only for a name nobody has given yet: these give the names, and say "no" if asked.
#define SDL_MAIN_HANDLED
#include <SDL2/SDL.h>

namespace {

int refuse() {
    return SDL_Unsupported();
}

/// SDL's internal VideoBootStrap (src/video/SDL_sysvideo.h of 2.32).
struct VideoDriver {
    const char* name;
    const char* description;
    void* (*create)();
    int (*show_message)(const SDL_MessageBoxData*, int*);
};

void* no_device() {
    return nullptr;
}

/// SDL's internal SDL_BlitFuncEntry (src/video/SDL_blit.h); a table of one empty row ends at once.
struct BlitRow {
    Uint32 source_format;
    Uint32 destination_format;
    int flags;
    int cpu;
    void (*blit)(void*);
};

}  // namespace

extern "C" {

// Sound: the bell is the page's own (js/device.mjs).
int SDL_AudioInit(const char*) {
    return refuse();
}
void SDL_AudioQuit() {}

// The renderer, which only a window without OpenGL asks for.
SDL_Renderer* SDL_CreateRenderer(SDL_Window*, int, Uint32) {
    return nullptr;
}
void SDL_DestroyRenderer(SDL_Renderer*) {}
void SDL_DestroyRendererWithoutFreeing(SDL_Renderer*) {}
SDL_Renderer* SDL_GetRenderer(SDL_Window*) {
    return nullptr;
}
int SDL_GetRendererInfo(SDL_Renderer*, SDL_RendererInfo*) {
    return refuse();
}
int SDL_GetNumRenderDrivers() {
    return 0;
}
int SDL_GetRenderDriverInfo(int, SDL_RendererInfo*) {
    return refuse();
}
SDL_Texture* SDL_CreateTexture(SDL_Renderer*, Uint32, int, int, int) {
    return nullptr;
}
void SDL_DestroyTexture(SDL_Texture*) {}
int SDL_UpdateTexture(SDL_Texture*, const SDL_Rect*, const void*, int) {
    return refuse();
}
int SDL_RenderCopy(SDL_Renderer*, SDL_Texture*, const SDL_Rect*, const SDL_Rect*) {
    return refuse();
}
void SDL_RenderPresent(SDL_Renderer*) {}
int SDL_RenderSetViewport(SDL_Renderer*, const SDL_Rect*) {
    return refuse();
}

// Copying pixels between surfaces.
int SDL_RLESurface(SDL_Surface*) {
    return refuse();
}
void SDL_UnRLESurface(SDL_Surface*, int) {}
void SDL_BlitCopy(void*) {}
void SDL_Blit_Slow(void*) {}
void* SDL_CalculateBlit0(SDL_Surface*) {
    return nullptr;
}
void* SDL_CalculateBlit1(SDL_Surface*) {
    return nullptr;
}
void* SDL_CalculateBlitN(SDL_Surface*) {
    return nullptr;
}
void* SDL_CalculateBlitA(SDL_Surface*) {
    return nullptr;
}
extern const BlitRow SDL_GeneratedBlitFuncTable[];
const BlitRow SDL_GeneratedBlitFuncTable[] = {{0, 0, 0, 0, nullptr}};
int SDL_SoftStretch(SDL_Surface*, const SDL_Rect*, SDL_Surface*, const SDL_Rect*) {
    return refuse();
}
int SDL_SoftStretchLinear(SDL_Surface*, const SDL_Rect*, SDL_Surface*, const SDL_Rect*) {
    return refuse();
}
int SDL_ConvertPixels_RGB_to_YUV(int, int, Uint32, const void*, int, Uint32, void*, int) {
    return refuse();
}
int SDL_ConvertPixels_YUV_to_RGB(int, int, Uint32, const void*, int, Uint32, void*, int) {
    return refuse();
}
int SDL_ConvertPixels_YUV_to_YUV(int, int, Uint32, const void*, int, Uint32, void*, int) {
    return refuse();
}

// Functions of OpenGL by name. All of WebGL's would be kept for it; the renderer calls its own few
// directly, and SDL has those of EGL that it needs without asking.
void* eglGetProcAddress(const char*) {
    return nullptr;
}

// Drivers for machines without a screen.
extern const VideoDriver DUMMY_bootstrap;
const VideoDriver DUMMY_bootstrap = {"none", "nothing", no_device, nullptr};
extern const VideoDriver OFFSCREEN_bootstrap;
const VideoDriver OFFSCREEN_bootstrap = {"none", "nothing", no_device, nullptr};

}  // extern "C"
