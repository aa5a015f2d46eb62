// The rounds whiteboard: written small, done in bold, struck when changed.
#pragma once

#include <optional>

#include "screens/session_screen.h"
#include "screens/ui.h"

namespace slipway::screens {

inline constexpr float kBlankRowLeast = 30;  // less than this is no ruled row

// The height it needs with rows at least `row` high.
float board_height(Ui& ui, const Board& board, float width, float row);

// Fills the box; what the rows leave free is ruled in hair lines, like a board not yet written on.
// A pressed cell that may be mended comes back.
std::optional<OpenChange> draw_board(Ui& ui, const Board& board, const Box& box, float row);

}  // namespace slipway::screens
