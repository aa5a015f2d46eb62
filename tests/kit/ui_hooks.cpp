// Dear ImGui's test hooks, implemented by us: every item it is given leaves its id here.
#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <vector>

#include "kit/screen_kit.h"

namespace {

std::vector<ImGuiID>& seen() {
  static std::vector<ImGuiID> items;
  return items;
}

// Dear ImGui's own: the windows themselves, and a fallback window that is never shown.
bool is_window(ImGuiContext& context, ImGuiID id) {
  if (context.CurrentWindow != nullptr && context.CurrentWindow->IsFallbackWindow) return true;
  return std::any_of(context.Windows.begin(), context.Windows.end(), [id](const ImGuiWindow* window) { return window->ID == id || window->MoveId == id; });
}

}  // namespace

void ImGuiTestEngineHook_ItemAdd(ImGuiContext* context, ImGuiID id, const ImRect&, const ImGuiLastItemData*) {
  if (!is_window(*context, id)) seen().push_back(id);
}
void ImGuiTestEngineHook_ItemInfo(ImGuiContext*, ImGuiID, const char*, ImGuiItemStatusFlags) {}
void ImGuiTestEngineHook_Log(ImGuiContext*, const char*, ...) {}
const char* ImGuiTestEngine_FindItemDebugLabel(ImGuiContext*, ImGuiID) { return nullptr; }

namespace slipway::kit {

void start_hooks() { ImGui::GetCurrentContext()->TestEngineHookItems = true; }
void forget_hooked_items() { seen().clear(); }
std::vector<std::uint32_t> hooked_items() { return {seen().begin(), seen().end()}; }

}  // namespace slipway::kit
