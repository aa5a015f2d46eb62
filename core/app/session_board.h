// From today's plan and log to the Session place: what is written, what was done, which
// set is next, what stands around it. Pure; the words come from report.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/day_plan.h"
#include "model/athlete.h"
#include "screens/session_screen.h"

namespace slipway::app {

// The half-entered set: a local value, never an op.
struct SetDraft {
  model::Day day;                        // a draft of another day is dropped
  std::string exercise;
  std::uint64_t round = 1;
  std::optional<model::RecordId> mends;  // a kept set; nothing: the next one
  std::int64_t reps = 0;
  std::optional<model::Quantity> load;
  std::string band;
  std::optional<std::uint64_t> rir;
  std::optional<model::Side> side;
  bool form_broke = false;
  std::optional<model::Quantity> around;  // what the offered loads stand around; not saved
  std::string reps_refused;               // what was typed, if it cannot be

  model::Bytes write() const;
  static std::optional<SetDraft> read(model::ByteView bytes);
};

struct BoardState {
  const model::Athlete& athlete;
  const DayPlan& plan;
  std::function<screens::CellState(const model::OpKey&)> kept_state;  // kept, keeping or not_kept
  std::uint64_t block = 0;                         // the block looked at; 0: that of the next set
  bool board_open = false;                         // at large text
};

std::uint64_t shown_block(const BoardState& state);
// Rows of the shown block, as the board numbers them: indexes into DayPlan::rows.
std::vector<std::size_t> shown_rows(const BoardState& state);
std::vector<std::uint64_t> other_blocks(const BoardState& state);  // in the order of Board::foot

// Where an entry goes when all that is written is done: one round more of the last row in hand.
std::optional<Cell> extra_cell(const BoardState& state);

screens::Board board(const BoardState& state);
screens::NextSet next_set(const BoardState& state, const Cell& cell);
screens::ChangePanel change_panel(const BoardState& state, const SetDraft& draft);
// The reserve that the tap of a main key says; nothing: it says none.
std::optional<std::uint64_t> reserve_of_key(const BoardState& state, const Cell& cell, std::uint32_t choice);

// The kit's loads offered around one: five at most, rising.
std::vector<model::Quantity> offered_loads(const model::Athlete& athlete, const std::optional<model::Quantity>& around);
// Choosing one of them leaves the others where they stand, under the finger; an outer one
// comes to the middle, so that there is more to choose beyond it.
bool offers_loads(const BoardState& state, const SetDraft& draft);  // else bands, if anything
void choose_load(const model::Athlete& athlete, SetDraft& draft, std::size_t choice);

std::string dose_words(const model::Rung& rung, std::uint64_t reps, std::uint64_t up_to, const model::Quantity* load, const std::string& band);

}  // namespace slipway::app
