// One frame, from a view to pixels and the semantic tree, for every shell and test.
//
// The Stage owns the Dear ImGui context, fonts and style; a shell adds only its
// drawing backend and raw input. Without a backend it is a null frame: doctests press
// by name. No ImGui type appears here. One Stage at a time per thread.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "model/tree.h"
#include "screens/theme.h"

namespace slipway::screens {

class Ui;

struct FrameInput {
  float width = 390, height = 844;      // CSS pixels
  float pixel_ratio = 1;                // device pixels in one
  float inset_top = 0, inset_right = 0, inset_bottom = 0, inset_left = 0;
  float text_scale = 1;                 // 1, 1.25, 1.5, 2
  float seconds_since_last = 1.0F / 60;
  ThemeName theme = ThemeName::daylight;
  bool show_focus = false;              // last input was a key or a switch
  bool backend_draws = false;           // a shell's renderer takes the draw data and textures
  std::vector<model::Action> actions;   // by name: mirror, keyboard, tests
  std::vector<std::pair<model::NodeId, float>> scrolled;  // native scroll positions of areas
};

class Stage {
 public:
  Stage();
  ~Stage();
  Stage(const Stage&) = delete;
  Stage& operator=(const Stage&) = delete;

  // Runs `draw` in one frame (again while queued input trickles in, at most 8 times, the
  // last is what is shown). Each action is delivered exactly once, in the first pass.
  // Afterwards the draw data of ImGui's current context is ready for the backend.
  model::Tree frame(const FrameInput& input, const std::function<void(Ui&)>& draw);

  // Something still moves (a pressed key rising, a caret): draw again after this many
  // milliseconds; 0 = still water, nothing to draw until something happens.
  std::uint32_t wants_frame_in_ms() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace slipway::screens
