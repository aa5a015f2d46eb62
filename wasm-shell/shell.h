// The program inside the worker: the app, the stage it is drawn on, and what the page
// has told since the last frame. Knows no words and no rules; keeps host's promises.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/app.h"
#include "gl_backend.h"
#include "screens/stage.h"
#include "web_host.h"

namespace slipway::web {

struct Surface {  // CSS pixels, but for the ratio
  float width = 390, height = 844, pixel_ratio = 1;
  float inset_top = 0, inset_right = 0, inset_bottom = 0, inset_left = 0;
  float text_scale = 1;
};

struct Look {
  screens::ThemeName theme = screens::ThemeName::daylight;
  bool reduced_motion = false;
};

enum class PointerMove : std::int32_t { moved = 0, down = 1, up = 2, cancelled = 3 };
enum class ShellKey : std::int32_t { left, right, up, down, home, end, page_up, page_down, escape, enter, digit_0 };

class Shell {
 public:
  explicit Shell(bool draws);  // false: nothing is put on the canvas, everything else works
  bool draws() const { return draws_; }

  void open(std::unique_ptr<host::Files> files, const store::OpenTokens& tokens, const app::OpenFacts& facts);
  void look_around();  // the made-up squad, in files that forget
  // Every entry of the store in these files, as a bundle from nobody is taken in. True: kept.
  void close();
  app::App& app() { return app_; }

  void surface(const Surface& surface);
  void look(const Look& look);
  void hidden(bool hidden) { hidden_ = hidden; }
  void context_restored();

  // A press that a pointer made is dropped if Dear ImGui has answered it while it was held:
  // a stepper key held down repeats, and its release is no further step.
  void act(const model::Action& action, bool by_pointer);
  void focus(model::NodeId id, bool by_key);
  void pointer(PointerMove move, float x, float y);
  void key(ShellKey key, bool control);
  void scroll(model::NodeId area, float y);

  void frame();                          // handles what was told, draws, shows the tree if it changed
  bool wants_frame() { return told_ || app_.wants_draw(); }
  std::uint32_t moves_in_ms() const { return moves_in_ms_; }  // 0: still water
  std::uint32_t frames() const { return frames_; }

 private:
  model::Tree settle();
  void handle(std::vector<screens::Intent> intents);
  void show(model::Tree tree);

  WebClock clock_;
  WebRandom random_;
  WebExchange exchange_;
  std::unique_ptr<host::Files> files_;  // outlives the app's book
  app::App app_;
  screens::Stage stage_;
  GlBackend gl_;
  bool draws_;

  screens::FrameInput input_;
  bool told_ = true;                    // something came since the last frame
  bool hidden_ = false;
  bool reduced_motion_ = false;
  screens::ThemeName system_theme_ = screens::ThemeName::daylight;
  float system_text_scale_ = 1;
  bool pointer_down_ = false, answered_by_hand_ = false;
  std::uint64_t last_frame_ms_ = 0;
  std::uint32_t moves_in_ms_ = 0, frames_ = 0;
  std::optional<model::Tree> shown_;    // what the mirror has
};

}  // namespace slipway::web
