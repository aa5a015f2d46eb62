// The rounds whiteboard: written small, done in bold, struck when changed.
#pragma once

#include <vector>

#include "screens/session_screen.h"
#include "screens/ui.h"

namespace slipway::screens {

inline constexpr float kBlankRowLeast = 30;  // less than this is no ruled row

struct BoardLook {
  float row = 52;          // rows are at least this high
  bool folded = false;     // only the row in hand, and as many beside it as `rows` says
  std::size_t rows = 1;    // of a folded board
  bool foot = true;        // the lines of the other blocks, or the one that opens the folded board
  float below = 0;         // free below the board, for the target of its last line
};

// The height it needs.
float board_height(Ui& ui, const Board& board, float width, const BoardLook& look);

// Fills the box; what the rows leave free is ruled in hair lines, like a board not yet written on.
// A pressed cell that may be mended, and a pressed line of the foot, come back.
void draw_board(Ui& ui, const Board& board, const Box& box, const BoardLook& look, std::vector<SessionIntent>& out);

}  // namespace slipway::screens
