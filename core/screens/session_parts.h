// The hand region of the Session place: the next set, or what was done instead.
#pragma once

#include <vector>

#include "screens/session_screen.h"
#include "screens/ui.h"

namespace slipway::screens {

// Each draws at (x, y) and returns the height used.
float draw_next_set(Ui& ui, const SessionView& view, bool tight, float x, float y, float width, std::vector<SessionIntent>& out);
float draw_change(Ui& ui, const SessionView& view, bool tight, float x, float y, float width, std::vector<SessionIntent>& out);
float draw_session_keys(Ui& ui, const SessionView& view, float x, float y, float width, std::vector<SessionIntent>& out);

}  // namespace slipway::screens
