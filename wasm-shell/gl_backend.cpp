#include "gl_backend.h"

#include <GLES3/gl3.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <cmath>

#include "outside.h"

namespace slipway::web {

namespace {

constexpr const char* kShaderVersion = "#version 300 es";

}  // namespace

bool GlBackend::open() {
  ready_ = slipway_gl_open() != 0 && ImGui_ImplOpenGL3_Init(kShaderVersion);
  return ready_;
}

void GlBackend::forget() {
  if (!ready_) return;
  ImGui_ImplOpenGL3_Shutdown();
  ImGui_ImplOpenGL3_Init(kShaderVersion);
}

void GlBackend::draw(float width, float height, float pixel_ratio, screens::ThemeName theme) {
  if (!ready_) return;
  const int pixels_wide = static_cast<int>(std::lround(width * pixel_ratio));
  const int pixels_high = static_cast<int>(std::lround(height * pixel_ratio));
  if (pixels_wide != drawn_width_ || pixels_high != drawn_height_) slipway_gl_size(pixels_wide, pixels_high);
  drawn_width_ = pixels_wide;
  drawn_height_ = pixels_high;
  const screens::Colour& paper = screens::theme(theme)[screens::Token::paper];
  ImGui_ImplOpenGL3_NewFrame();
  glViewport(0, 0, pixels_wide, pixels_high);
  glClearColor(static_cast<float>(paper.red) / 255, static_cast<float>(paper.green) / 255, static_cast<float>(paper.blue) / 255, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

}  // namespace slipway::web
