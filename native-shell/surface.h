// The window of the system and its drawing: GLFW, OpenGL and Dear ImGui's two backends.
//
// Knows CSS pixels and what hands and keys did; knows nothing of the app. One at a time,
// made while a Stage lives, because the backends hang on its Dear ImGui context.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "model/bytes.h"
#include "screens/stage.h"

namespace slipway::native {

struct SurfaceSize {
  float width = 390, height = 844;  // CSS pixels
  float pixel_ratio = 1;            // pixels of the screen in one
};

struct Spot {  // of the window's upper left corner, in the system's units
  int left = 0, top = 0;
};

struct Happened {  // since the last wait
  bool anything = false;
  bool moved = false;                    // the window, which needs no drawing
  bool key = false, pointer = false;     // the last of them, for the focus ring
  bool undo = false, open = false, escape = false;
  std::vector<std::string> dropped;      // paths
};

class Surface {
 public:
  // Answers nothing if there is no display to open a window on; `why` is the system's word for it. A window that
  // nobody would find at that spot, because the screen that was there is gone, is placed by the system.
  static std::unique_ptr<Surface> open(const SurfaceSize& size, const std::optional<Spot>& at, std::string& why);
  ~Surface();
  Surface(const Surface&) = delete;
  Surface& operator=(const Surface&) = delete;

  bool closing() const;
  void close();
  void stay();  // nobody closes it now
  SurfaceSize size() const;
  std::optional<Spot> spot() const;  // nothing: this system does not tell
  // Waits for a hand, a key or the time to pass; 0: until something happens.
  Happened wait(std::uint32_t most_ms);

  void begin_frame();  // before Stage::frame
  void draw(screens::ThemeName theme);
  void show();
  model::Bytes picture() const;  // of what was drawn and not shown yet, as PPM

 private:
  struct Inside;
  explicit Surface(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace slipway::native
