// Dear ImGui's draw data on the worker's canvas, through WebGL2.
//
// The canvas belongs to the worker. A lost context comes back empty: forget() lets go of
// what was made in it, and the next draw() makes everything anew, textures too.
#pragma once

#include "screens/theme.h"

namespace slipway::web {

class GlBackend {
 public:
  bool open();    // after the Stage was made; false: no WebGL2, nothing can be drawn
  void forget();
  void draw(float width, float height, float pixel_ratio, screens::ThemeName theme);

 private:
  bool ready_ = false;
  int drawn_width_ = 0, drawn_height_ = 0;
};

}  // namespace slipway::web
