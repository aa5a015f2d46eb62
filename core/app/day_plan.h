// Today's session of one athlete: which rows stand on the board, with which dose and why.
//
// Before the first set the rules are asked afresh. Once the session is open its doses are
// those on record, as they were shown; only pain, red flags and illness still act at once
// (handbook 6.7): then the rest of a row is crossed out and a substitute stands under it.
// Pure but for what the record says; the words come from report.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/book.h"
#include "app/situation.h"
#include "model/athlete.h"
#include "model/ladder.h"
#include "rules/decide.h"

namespace slipway::app {

struct PlanRow {
  model::RecordId line;            // the plan line it comes from
  std::string code;                // "A1"
  std::uint64_t block = 1, place = 1;
  const model::Rung* rung = nullptr;   // what is done today; never nullptr
  rules::ExerciseDecision decision;    // dose, reason, modifiers; of an open session as on record
  bool recorded = false;           // this decision is in the record
  bool crossed_out = false;        // what is not done yet is not done any more
  std::optional<rules::ExerciseDecision> crossed_out_by = {};  // what was decided since it was shown
  bool waits_for_sign_off = false, held = false;
  std::string swapped_from;        // exercise it stands for

  std::uint64_t sets() const { return decision.dose.sets(); }
  const rules::ExerciseDecision& because() const { return crossed_out_by ? *crossed_out_by : decision; }  // what tells why
  bool trains() const { return decision.action == rules::Action::train && !crossed_out; }
};

struct DayPlan {
  model::Day today;
  std::uint64_t programme_day = 1;     // 1 A, 2 B
  const model::Session* session = nullptr;  // of today, if it was begun
  bool finished = false;
  rules::SessionSituation situation;
  rules::SessionDecision decision;     // as asked now
  std::vector<PlanRow> rows;           // by block and place
  std::vector<std::string> dropped;    // plan lines that name no exercise we know

  bool may_train() const { return decision.whether == rules::Whether::normal; }
};

struct DayAsked {
  model::Day today;
  std::int64_t now_ms = 0;
  std::optional<model::RecordId> kit;
  rules::TrainNow train_now = rules::TrainNow::no;
  std::optional<std::uint64_t> programme_day;  // nothing: the one that is next
  bool adult_expected = false;                 // a day to come: planned as with an adult in the room
};
DayPlan plan_day(const model::Athlete& athlete, const DayAsked& asked);

// The session after this one: the day that is free, and what would be written then if
// nothing changes. Nothing if there is no plan.
std::optional<DayPlan> plan_after(const model::Athlete& athlete, const DayAsked& asked);

// The programme day that follows the last session that was begun, alternating; 1 before any.
std::uint64_t next_programme_day(const model::Athlete& athlete, model::Day today);
std::uint64_t programme_days(const model::Athlete& athlete);  // 1 or 2 …: the highest a line names

// The set of a row and round that was entered, if any; warm-up sets are not asked for.
const model::SetDone* set_of(const DayPlan& plan, const PlanRow& row, std::uint64_t round);  // of one entered side by side: the first

struct Cell {
  std::size_t row = 0;
  std::uint64_t round = 1;
  std::optional<model::Side> side = {};  // of a half done round: the one still to do
};
// The set that is next: by block, then round, then place in the round. Nothing: all done.
std::optional<Cell> next_cell(const DayPlan& plan);
std::uint64_t next_round(const DayPlan& plan, std::string_view exercise);  // first round that is not done, from 1
inline std::uint64_t next_round(const DayPlan& plan, const PlanRow& row) { return next_round(plan, row.rung->id); }
// Rounds shown of a block: the most that is written or done in it.
std::uint64_t rounds_of(const DayPlan& plan, std::uint64_t block);

// What is written for a round of a row.
struct WrittenSet {
  std::uint64_t reps = 0, up_to = 0;
  std::optional<model::Quantity> load;
  std::string band;
};
WrittenSet written_set(const model::Athlete& athlete, const PlanRow& row, std::uint64_t round);

// Begins today's session, if none is, and keeps the doses shown with it (handbook 6.7).
model::Result<model::RecordId> begin_day(Book& book, const model::ScopeId& scope, model::Day today, const std::optional<model::RecordId>& kit,
                                         rules::TrainNow train_now, Author author);

// The decision as the record keeps it, with the session it was shown for.
model::Decision decision_of(const model::Athlete& athlete, const model::RecordId& session, const rules::SessionDecision& gates, const PlanRow& row);

// The same load as a kit of the athlete writes it ("45 lb"), in pounds where all of it is in pounds, else in kilograms.
model::Quantity load_as_here(const model::Athlete& athlete, std::int64_t load_g);
// The same of the step between two loads, each of which was rounded to a gram.
model::Quantity step_as_here(const model::Athlete& athlete, std::int64_t step_g);

// Reasons and doses as texts of the record, and back.
std::string argument_text(const rules::Argument& argument);
std::optional<rules::Argument> read_argument(std::string_view text);

}  // namespace slipway::app
