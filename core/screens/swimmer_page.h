// One swimmer's page of the Squad place: what comes next and why, sign-offs, what was said.
#pragma once

#include <vector>

#include "screens/squad_screen.h"
#include "screens/ui.h"

namespace slipway::screens {

// Draws at (x, y), returns the height used.
float draw_swimmer_page(Ui& ui, const SwimmerView& view, bool with_back, float x, float y, float width, std::vector<SquadIntent>& out,
                        std::vector<AskAnswer>& answers);

}  // namespace slipway::screens
