// From an athlete's plan and today's session to the Session place: what is written,
// what was done, which set is next. Pure; the words come from report.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "model/athlete.h"
#include "model/ladder.h"
#include "screens/session_screen.h"

namespace slipway::app {

// What counts of a prescription right now. While a field is written twice the safer value
// counts: fewer sets, fewer reps, the lighter load, more in reserve (sync-and-storage 1.2, 6).
struct WrittenDose {
  const model::Rung* rung = nullptr;  // nullptr: no plan here
  std::uint64_t sets = 0, reps = 0, rir = 0;
  std::optional<model::Quantity> load;
  const model::Prescription* plan = nullptr;
  bool contradiction = false;
};
WrittenDose written_dose(const model::Athlete& athlete);

// The half-entered set: a local value, never an op.
struct SetDraft {
  model::Day day;                        // a draft of another day is dropped
  std::uint64_t round = 1;
  std::optional<model::RecordId> mends;  // a kept set; nothing: the next one
  std::int64_t reps = 0;
  std::optional<model::Quantity> load;
  std::optional<model::Quantity> around;  // what the offered loads stand around; not saved
  std::optional<std::uint64_t> rir;
  std::string reps_refused;              // what was typed, if it cannot be

  model::Bytes write() const;
  static std::optional<SetDraft> read(model::ByteView bytes);
};

struct BoardState {
  const model::Athlete& athlete;
  model::Day today;
  std::function<bool(const model::OpKey&)> waits;  // not kept yet
};

// Today's set of a round, if it was entered.
const model::SetDone* set_of_round(const model::Athlete& athlete, model::Day today, std::uint64_t round);
std::uint64_t next_round(const BoardState& state);      // first round without a set
std::uint64_t rounds_shown(const BoardState& state);    // written sets, or more if more were done

screens::Board board(const BoardState& state);
screens::NextSet next_set(const BoardState& state);
screens::ChangePanel change_panel(const BoardState& state, const SetDraft& draft);
// The kit's loads offered around one: five at most, rising.
std::vector<model::Quantity> offered_loads(const model::Athlete& athlete, const std::optional<model::Quantity>& around);
// Choosing one of them leaves the others where they stand, under the finger; an outer one
// comes to the middle, so that there is more to choose beyond it.
void choose_load(const model::Athlete& athlete, SetDraft& draft, std::size_t choice);

}  // namespace slipway::app
