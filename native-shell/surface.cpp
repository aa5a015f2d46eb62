#include "surface.h"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>
#include <cfloat>
#include <cmath>
#include <utility>

#include "screens/theme.h"

namespace slipway::native {

namespace {

constexpr const char* kTitle = "Slipway";  // nothing personal in a title [sync-and-storage 12.1]
constexpr const char* kShaderVersion = "#version 130";
constexpr int kLeastWidth = 320, kLeastHeight = 480;  // the smallest page the screens are drawn for

std::string last_complaint() {
  const char* words = nullptr;
  ::glfwGetError(&words);
  return words == nullptr ? "" : words;
}

// Enough of the window's head lies on a screen to be taken hold of.
bool in_sight(const Spot& at, int width) {
  constexpr int kHold = 64;
  int count = 0;
  GLFWmonitor** screens = ::glfwGetMonitors(&count);
  for (int i = 0; i < count; ++i) {
    int left = 0, top = 0, wide = 0, high = 0;
    ::glfwGetMonitorWorkarea(screens[i], &left, &top, &wide, &high);
    const int seen = std::min(at.left + width, left + wide) - std::max(at.left, left);
    if (seen >= kHold && at.top >= top && at.top <= top + high - kHold) return true;
  }
  return false;
}

}  // namespace

struct Surface::Inside {
  GLFWwindow* window = nullptr;
  Happened happened;
  mutable int pixels_wide = 1, pixels_high = 1;

  static Inside& of(GLFWwindow* window) { return *static_cast<Inside*>(::glfwGetWindowUserPointer(window)); }
  void listen();
};

void Surface::Inside::listen() {
  ::glfwSetWindowUserPointer(window, this);
  ::glfwSetKeyCallback(window, [](GLFWwindow* w, int key, int scancode, int action, int mods) {
    Happened& now = of(w).happened;
    now.anything = now.key = true;
    now.pointer = false;
    if (action == GLFW_PRESS && (mods & GLFW_MOD_CONTROL) != 0 && !ImGui::GetIO().WantTextInput) {
      now.undo = now.undo || key == GLFW_KEY_Z;
      now.open = now.open || key == GLFW_KEY_O;
    }
    now.escape = now.escape || (action == GLFW_PRESS && key == GLFW_KEY_ESCAPE);
    ImGui_ImplGlfw_KeyCallback(w, key, scancode, action, mods);
  });
  ::glfwSetCharCallback(window, [](GLFWwindow* w, unsigned int letter) {
    of(w).happened.anything = true;
    ImGui_ImplGlfw_CharCallback(w, letter);
  });
  ::glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int button, int action, int mods) {
    Happened& now = of(w).happened;
    now.anything = now.pointer = true;
    now.key = false;
    ImGui_ImplGlfw_MouseButtonCallback(w, button, action, mods);
  });
  ::glfwSetScrollCallback(window, [](GLFWwindow* w, double x, double y) {
    of(w).happened.anything = true;
    ImGui_ImplGlfw_ScrollCallback(w, x, y);
  });
  ::glfwSetCursorPosCallback(window, [](GLFWwindow* w, double x, double y) {
    of(w).happened.anything = true;
    // The system counts window units, Dear ImGui is told CSS pixels.
    int units = 1;
    float scale = 1;
    ::glfwGetWindowSize(w, &units, nullptr);
    ::glfwGetWindowContentScale(w, &scale, nullptr);
    const float factor = static_cast<float>(of(w).pixels_wide) / static_cast<float>(std::max(1, units)) / scale;
    ImGui::GetIO().AddMousePosEvent(static_cast<float>(x) * factor, static_cast<float>(y) * factor);
  });
  ::glfwSetCursorEnterCallback(window, [](GLFWwindow* w, int entered) {
    of(w).happened.anything = true;
    if (entered == 0) ImGui::GetIO().AddMousePosEvent(-FLT_MAX, -FLT_MAX);
  });
  ::glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int focused) {
    of(w).happened.anything = true;
    ImGui_ImplGlfw_WindowFocusCallback(w, focused);
  });
  ::glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { of(w).happened.anything = true; });
  ::glfwSetWindowPosCallback(window, [](GLFWwindow* w, int, int) { of(w).happened.moved = true; });
  ::glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { of(w).happened.anything = true; });
  ::glfwSetDropCallback(window, [](GLFWwindow* w, int count, const char** paths) {
    Happened& now = of(w).happened;
    now.anything = true;
    now.dropped.insert(now.dropped.end(), paths, paths + count);
  });
}

std::unique_ptr<Surface> Surface::open(const SurfaceSize& size, const std::optional<Spot>& at, std::string& why) {
  if (::glfwInit() == 0) {
    why = last_complaint();
    return nullptr;
  }
  ::glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  ::glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 0);
  ::glfwWindowHint(GLFW_SCALE_TO_MONITOR, GLFW_TRUE);
  ::glfwWindowHint(GLFW_VISIBLE, GLFW_FALSE);  // till it stands where it belongs
  auto inside = std::make_unique<Inside>();
  inside->window = ::glfwCreateWindow(static_cast<int>(size.width), static_cast<int>(size.height), kTitle, nullptr, nullptr);
  if (inside->window == nullptr) {
    why = last_complaint();
    ::glfwTerminate();
    return nullptr;
  }
  ::glfwSetWindowSizeLimits(inside->window, kLeastWidth, kLeastHeight, GLFW_DONT_CARE, GLFW_DONT_CARE);
  if (at && in_sight(*at, static_cast<int>(size.width))) ::glfwSetWindowPos(inside->window, at->left, at->top);
  ::glfwShowWindow(inside->window);
  ::glfwMakeContextCurrent(inside->window);
  ::glfwSwapInterval(1);
  inside->listen();
  constexpr bool kListens = false;  // the callbacks above pass on what they hear
  ImGui_ImplGlfw_InitForOpenGL(inside->window, kListens);
  ImGui_ImplOpenGL3_Init(kShaderVersion);
  return std::unique_ptr<Surface>(new Surface(std::move(inside)));
}

Surface::Surface(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}

Surface::~Surface() {
  ImGui_ImplOpenGL3_Shutdown();
  ImGui_ImplGlfw_Shutdown();
  ::glfwDestroyWindow(inside_->window);
  ::glfwTerminate();
}

bool Surface::closing() const { return ::glfwWindowShouldClose(inside_->window) != 0; }
void Surface::stay() { ::glfwSetWindowShouldClose(inside_->window, GLFW_FALSE); }
void Surface::close() { ::glfwSetWindowShouldClose(inside_->window, GLFW_TRUE); }

SurfaceSize Surface::size() const {
  ::glfwGetFramebufferSize(inside_->window, &inside_->pixels_wide, &inside_->pixels_high);
  SurfaceSize size;
  ::glfwGetWindowContentScale(inside_->window, &size.pixel_ratio, nullptr);
  size.width = static_cast<float>(std::max(1, inside_->pixels_wide)) / size.pixel_ratio;
  size.height = static_cast<float>(std::max(1, inside_->pixels_high)) / size.pixel_ratio;
  return size;
}

std::optional<Spot> Surface::spot() const {
  Spot at;
  ::glfwGetError(nullptr);
  ::glfwGetWindowPos(inside_->window, &at.left, &at.top);
  if (::glfwGetError(nullptr) != GLFW_NO_ERROR) return std::nullopt;
  return at;
}

Happened Surface::wait(std::uint32_t most_ms) {
  if (most_ms == 0) ::glfwWaitEvents();
  else ::glfwWaitEventsTimeout(static_cast<double>(most_ms) / 1000);
  return std::exchange(inside_->happened, Happened{});
}

void Surface::begin_frame() { ImGui_ImplOpenGL3_NewFrame(); }

void Surface::draw(screens::ThemeName theme) {
  const screens::Colour& paper = screens::theme(theme)[screens::Token::paper];
  ::glViewport(0, 0, inside_->pixels_wide, inside_->pixels_high);
  ::glClearColor(static_cast<float>(paper.red) / 255, static_cast<float>(paper.green) / 255, static_cast<float>(paper.blue) / 255, 1);
  ::glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

void Surface::show() { ::glfwSwapBuffers(inside_->window); }

model::Bytes Surface::picture() const {
  const auto wide = static_cast<std::size_t>(inside_->pixels_wide);
  const auto high = static_cast<std::size_t>(inside_->pixels_high);
  constexpr std::size_t kColours = 3;
  model::Bytes rows(wide * high * kColours);
  ::glPixelStorei(GL_PACK_ALIGNMENT, 1);
  ::glReadPixels(0, 0, inside_->pixels_wide, inside_->pixels_high, GL_RGB, GL_UNSIGNED_BYTE, rows.data());
  const std::string head = "P6\n" + std::to_string(wide) + " " + std::to_string(high) + "\n255\n";
  model::Bytes out(head.begin(), head.end());
  for (std::size_t row = high; row > 0; --row)  // OpenGL counts rows from the foot
    model::append(out, model::ByteView(rows).subspan((row - 1) * wide * kColours, wide * kColours));
  return out;
}

}  // namespace slipway::native
