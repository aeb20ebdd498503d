#include "ui/canvas.h"

#include <imgui_internal.h>

namespace tallyround::ui {

struct Canvas::Inside {
    /// Found by the renderer through ImGui::GetIO. It is never initialised as ImGui would: that
    /// brings in the windows.
    ImGuiContext context{nullptr};
    ImDrawList list{&context.DrawListSharedData};
    ImDrawData data;

    ImFontAtlas& atlas() { return *context.IO.Fonts; }
};

Canvas::Canvas() {
    inside_ = std::make_unique<Inside>();
    ImGuiContext& context = inside_->context;
    ImGui::SetCurrentContext(&context);
    context.DrawListSharedData.Context = &context;
    context.DrawListSharedData.FontAtlas = context.IO.Fonts;
    context.IO.Fonts->RefCount = 1;
    ImFontAtlasAddDrawListSharedData(context.IO.Fonts, &context.DrawListSharedData);
}

Canvas::~Canvas() {
    ImFontAtlas* atlas = inside_->context.IO.Fonts;
    ImFontAtlasRemoveDrawListSharedData(atlas, &inside_->context.DrawListSharedData);
    inside_->list._ClearFreeMemory();
    IM_DELETE(atlas);
    // Another one's is current again when it begins.
    if (ImGui::GetCurrentContext() == &inside_->context) ImGui::SetCurrentContext(nullptr);
}

void Canvas::begin(ImVec2 points, ImVec2 pixels) {
    ImGuiContext& context = inside_->context;
    ImGui::SetCurrentContext(&context);
    context.IO.DisplaySize = points;
    context.IO.DisplayFramebufferScale = pixels;
    ++context.FrameCount;
    ImFontAtlasUpdateNewFrame(&inside_->atlas(), context.FrameCount, true);

    ImDrawListSharedData& shared = context.DrawListSharedData;
    shared.ClipRectFullscreen = ImVec4(0, 0, points.x, points.y);
    shared.CurveTessellationTol = context.Style.CurveTessellationTol;
    shared.SetCircleTessellationMaxError(context.Style.CircleTessellationMaxError);
    shared.InitialFlags = ImDrawListFlags_AntiAliasedLines | ImDrawListFlags_AntiAliasedFill |
                          ImDrawListFlags_AntiAliasedLinesUseTex;
    if ((context.IO.BackendFlags & ImGuiBackendFlags_RendererHasVtxOffset) != 0) {
        shared.InitialFlags |= ImDrawListFlags_AllowVtxOffset;
    }

    inside_->list._ResetForNewFrame();
    inside_->list.PushTexture(inside_->atlas().TexRef);
    inside_->list.PushClipRectFullScreen();
}

ImDrawList* Canvas::list() {
    return &inside_->list;
}

ImDrawData& Canvas::end() {
    ImGuiContext& context = inside_->context;
    inside_->list.PopClipRect();
    inside_->list.PopTexture();

    ImVector<ImTextureData*>& textures = context.PlatformIO.Textures;
    textures.resize(0);
    for (ImTextureData* texture : inside_->atlas().TexList) {
        texture->RefCount = 1;
        textures.push_back(texture);
    }
    ImDrawData& data = inside_->data;
    data.Clear();
    data.Valid = true;
    data.DisplaySize = context.IO.DisplaySize;
    data.FramebufferScale = context.IO.DisplayFramebufferScale;
    data.Textures = &textures;
    data.AddDrawList(&inside_->list);
    for (ImDrawList* list : data.CmdLists)
        list->_PopUnusedDrawCmd();
    return data;
}

}  // namespace tallyround::ui
