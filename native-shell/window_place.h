// How large the window was left, and where it stood: a convenience of this computer, kept beside
// the open tokens. What cannot be read or written is let go.
#pragma once

#include <optional>
#include <string_view>

#include "surface.h"

namespace slipway::native {

struct WindowPlace {
  SurfaceSize size;
  std::optional<Spot> at;  // nothing: the system chooses
};

bool read_size(std::string_view text, SurfaceSize& size);  // "390x844"

WindowPlace remembered_place();
void remember_place(const WindowPlace& place);

}  // namespace slipway::native
