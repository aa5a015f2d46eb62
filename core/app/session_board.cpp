#include "app/session_board.h"

#include <algorithm>

#include "app/book.h"
#include "app/decision_words.h"
#include "app/desk.h"
#include "app/sides.h"
#include "ops/op.h"
#include "report/reasons.h"
#include "report/words.h"

namespace slipway::app {

namespace {

using report::number;
using report::say;

constexpr std::size_t kOfferedLoads = 5;  // the ladder of five offered values [design 01c]

bool lighter(const model::Quantity& a, const model::Quantity& b) { return model::grams(a) < model::grams(b); }

const model::Quantity* pointer(const std::optional<model::Quantity>& load) { return load ? &*load : nullptr; }

std::string band_words(const std::string& band) { return band.empty() ? "" : say("dose.band", {band}); }

// "22 kilograms", "thin band", or nothing for the body alone.
std::string spoken_weight(const model::Quantity* load, const std::string& band) {
  if (load != nullptr) return report::spoken_load(*load);
  return band_words(band);
}

std::string spoken_count(const model::Rung& rung, const std::string& reps) {
  return rung.is_hold() ? say("spoken.seconds", {reps}) : reps;
}

std::string reps_words(std::uint64_t reps, std::uint64_t up_to) {
  return up_to > reps ? say("dose.range", {number(reps), number(up_to)}) : number(reps);
}

// "10 at 22 kilograms", "12", "30 seconds".
std::string spoken_dose(const model::Rung& rung, const std::string& reps, const model::Quantity* load, const std::string& band) {
  const std::string weight = spoken_weight(load, band);
  const std::string count = spoken_count(rung, reps);
  return weight.empty() ? count : say("session.cell_dose", {count, weight});
}

screens::CellState state_of(const BoardState& state, const model::SetDone& set) {
  if (const auto kept = state.kept_state(set.id); kept != screens::CellState::kept) return kept;
  if (set.left_out) return screens::CellState::left_out;
  return set.as_written() && !set.corrected && !set.form_broke ? screens::CellState::kept : screens::CellState::changed;
}

screens::BoardCell done_cell(const BoardState& state, const PlanRow& row, const model::SetDone& set) {
  screens::BoardCell cell;
  cell.round = static_cast<std::uint32_t>(set.round);
  cell.state = state_of(state, set);
  cell.may_change = true;
  const std::uint64_t reps = set.reps.value_or(0);
  const WrittenSet written = written_set(state.athlete, row, set.round);
  cell.figure = set.left_out ? "" : number(reps);
  const std::string did = spoken_dose(*row.rung, number(reps), set.load.first(), set.band);
  const std::string was = spoken_dose(*row.rung, number(set.written_reps.value_or(written.reps)), pointer(set.written_load), written.band);
  const std::string round = number(set.round);
  switch (cell.state) {
    case screens::CellState::not_kept: cell.spoken = say("session.cell_not_kept", {row.code, row.rung->name, round, did}); break;
    case screens::CellState::keeping: cell.spoken = say("session.cell_keeping", {row.code, row.rung->name, round, did}); break;
    case screens::CellState::left_out: cell.spoken = say("session.cell_left_out", {row.code, row.rung->name, round}); break;
    case screens::CellState::changed:
      if (set.written_reps && *set.written_reps != reps) cell.written = number(*set.written_reps);
      cell.spoken = say("session.cell_changed", {row.code, row.rung->name, round, did, was});
      break;
    default: cell.spoken = say("session.cell_kept", {row.code, row.rung->name, round, did}); break;
  }
  return cell;
}

// Left and right as one: the set counts as its lower side.
screens::BoardCell sides_cell(const BoardState& state, const PlanRow& row, const RoundDone& done) {
  const auto reps = [](const model::SetDone& set) { return set.left_out ? std::uint64_t{0} : set.reps.value_or(0); };
  const bool right_is_lower = reps(*done.right) < reps(*done.left);
  screens::BoardCell cell = done_cell(state, row, right_is_lower ? *done.right : *done.left);
  const auto left = state_of(state, *done.left), right = state_of(state, *done.right);
  const bool even = reps(*done.left) == reps(*done.right);
  if (left == right && even) return cell;
  const auto figure = [&](const model::SetDone& set) { return set.left_out ? say("session.cell_dash") : number(reps(set)); };
  const auto spoken = [&](const model::SetDone& set) {
    return set.left_out ? say("session.row_left_out") : spoken_dose(*row.rung, number(reps(set)), set.load.first(), set.band);
  };
  const auto either = [&](screens::CellState one) { return left == one || right == one; };
  cell.state = screens::CellState::changed;
  for (const auto waits : {screens::CellState::keeping, screens::CellState::not_kept})
    if (either(waits)) cell.state = waits;
  cell.figure = even ? figure(*done.left) : say("session.cell_sides", {figure(*done.left), figure(*done.right)});
  if (!even) cell.written.clear();
  const std::string did = say("session.sides_dose", {spoken(*done.left), spoken(*done.right)});
  const WrittenSet written = written_set(state.athlete, row, done.left->round);
  const std::string was = spoken_dose(*row.rung, reps_words(written.reps, written.up_to), pointer(written.load), written.band);
  const std::string round = number(done.left->round);
  switch (cell.state) {
    case screens::CellState::keeping: cell.spoken = say("session.cell_keeping", {row.code, row.rung->name, round, did}); break;
    case screens::CellState::not_kept: cell.spoken = say("session.cell_not_kept", {row.code, row.rung->name, round, did}); break;
    default: cell.spoken = say("session.cell_changed", {row.code, row.rung->name, round, did, was}); break;
  }
  return cell;
}

screens::BoardCell open_cell(const BoardState& state, const PlanRow& row, std::uint64_t round, bool next) {
  screens::BoardCell cell;
  cell.round = static_cast<std::uint32_t>(round);
  if (round > row.sets() && !next) {  // this row has fewer rounds than the block
    cell.state = screens::CellState::not_done;
    cell.spoken = say("session.cell_none", {row.code, row.rung->name, number(round)});
    return cell;
  }
  const WrittenSet written = written_now(state.athlete, state.plan, row, round);
  const std::string dose = with_side(spoken_dose(*row.rung, reps_words(written.reps, written.up_to), pointer(written.load), written.band), side_words(state.plan, row, round));
  cell.figure = reps_words(written.reps, written.up_to);
  if (row.crossed_out) {
    cell.state = screens::CellState::crossed_out;
    cell.may_change = true;  // says why
    cell.spoken = say("session.cell_crossed", {row.code, row.rung->name, number(round)});
    return cell;
  }
  cell.state = next ? screens::CellState::next : screens::CellState::not_done;
  cell.may_change = next;
  cell.spoken = say(next ? "session.cell_next" : "session.cell_not_done", {row.code, row.rung->name, number(round), dose});
  return cell;
}

// Under the name on the board: the load, the band, or what keeps the row from being done.
std::string row_weight(const BoardState& state, const PlanRow& row) {
  if (row.crossed_out) return say(row.because().action == rules::Action::leave_out ? "session.row_left_out" : "session.row_stopped");
  const WrittenSet first = written_set(state.athlete, row, 1);
  if (first.load) return model::to_text(*first.load);
  return band_words(first.band);
}

std::string row_spoken(const BoardState& state, const PlanRow& row) {
  const WrittenSet first = written_set(state.athlete, row, 1);
  const std::string weight = spoken_weight(pointer(first.load), first.band);
  return weight.empty() ? say("session.row_spoken_body", {row.code, row.rung->name}) : say("session.row_spoken", {row.code, row.rung->name, weight});
}

bool line_contradicts(const model::Athlete& athlete, const model::RecordId& id) {
  for (const model::Prescription& line : athlete.prescriptions)
    if (line.id == id)
      return line.exercise.contradiction() || line.sets.contradiction() || line.reps.contradiction() || line.reps_high.contradiction() ||
             line.load.contradiction() || line.rir.contradiction() || line.rest_ms.contradiction();
  return false;
}

std::optional<Cell> cell_in_hand(const BoardState& state) {
  if (auto next = next_cell(state.plan)) return next;
  return extra_cell(state);
}

std::string block_words(const BoardState& state, std::uint64_t block) {
  std::string names;
  std::string letter;
  for (const PlanRow& row : state.plan.rows) {
    if (row.block != block) continue;
    letter = row.code.substr(0, 1);
    names += (names.empty() ? "" : ", ") + row.rung->short_name;
  }
  bool trains = false, done = true;
  for (const PlanRow& row : state.plan.rows) {
    if (row.block != block || !row.trains()) continue;
    trains = true;
    for (std::uint64_t round = 1; round <= row.sets(); ++round) done = done && round_of(state.plan, row.rung->id, round).whole();
  }
  const std::uint64_t rounds = rounds_of(state.plan, block);
  const bool over = state.plan.finished || block < shown_block(state);
  return say(!trains ? "session.block_stopped" : done ? "session.block_done" : over ? "session.block_left" : "session.block_open",
             {letter, names, rounds == 1 ? say("session.round_one") : say("session.round_many", {number(rounds)})});
}

bool is_main(const PlanRow& row) {  // of which the last set's reserve is asked [6.7]
  return row.rung->pattern != model::Pattern::trunk && row.rung->pattern != model::Pattern::shoulder_care;
}

bool asks_reserve(const PlanRow& row, std::uint64_t round) {
  return is_main(row) && row.decision.dose.ask_rir && row.decision.dose.rir > 0 && round >= row.sets() && !row.rung->is_hold();
}

// One unit stands in the label; of two each load says its own.
bool are_mixed(const std::vector<model::Quantity>& loads) {
  return std::any_of(loads.begin(), loads.end(), [&](const model::Quantity& load) { return load.unit != loads.front().unit; });
}

std::string load_label(const model::Athlete& athlete, const SetDraft& draft) {
  const auto loads = offered_loads(athlete, draft.around);
  if (are_mixed(loads)) return say("change.load_mixed");
  return say("change.load", {!loads.empty() && loads.front().unit == model::Unit::lb ? "lb" : "kg"});
}

std::vector<screens::LoadChoice> load_choices(const model::Athlete& athlete, const SetDraft& draft) {
  std::vector<screens::LoadChoice> choices;
  const auto loads = offered_loads(athlete, draft.around);
  for (const model::Quantity& load : loads)
    choices.push_back({are_mixed(loads) ? model::to_text(load) : model::number_text(load), report::spoken_load(load),
                       draft.load && model::grams(load) == model::grams(*draft.load)});
  return choices;
}

std::vector<screens::LoadChoice> reserve_choices(const SetDraft& draft) {
  std::vector<screens::LoadChoice> choices;
  for (std::uint64_t rir = 0; rir <= kMaxRir; ++rir) {
    const std::string label = rir == kMaxRir ? number(rir) + "+" : number(rir);
    choices.push_back({label, say("change.reserve_spoken", {label}), draft.rir && *draft.rir == rir});
  }
  return choices;
}

const PlanRow* row_of(const BoardState& state, const std::string& exercise) {
  for (const PlanRow& row : state.plan.rows)
    if (row.rung->id == exercise) return &row;
  return nullptr;
}

std::string why_words(const BoardState& state, const PlanRow& row) {
  for (const model::Prescription& line : state.athlete.prescriptions)
    if (line.id == row.line && line.load.contradiction())
      return say("session.why_contradiction", {model::to_text(line.load.all[0].value), model::to_text(line.load.all[1].value)});
  return say("session.why", {report::sentence(row.because(), speaking_of(state.athlete))});
}

}  // namespace

std::string dose_words(const model::Rung& rung, std::uint64_t reps, std::uint64_t up_to, const model::Quantity* load, const std::string& band) {
  const std::string count = rung.is_hold() ? say("dose.seconds", {reps_words(reps, up_to)}) : reps_words(reps, up_to);
  if (load != nullptr) return say("dose.load", {count, model::to_text(*load)});
  return band.empty() ? count : say("dose.load", {count, band_words(band)});
}

std::uint64_t shown_block(const BoardState& state) {
  if (state.block != 0)
    for (const PlanRow& row : state.plan.rows)
      if (row.block == state.block) return state.block;
  if (const auto next = cell_in_hand(state)) return state.plan.rows[next->row].block;
  return state.plan.rows.empty() ? 0 : state.plan.rows.front().block;
}

std::vector<std::size_t> shown_rows(const BoardState& state) {
  std::vector<std::size_t> rows;
  const std::uint64_t block = shown_block(state);
  for (std::size_t i = 0; i < state.plan.rows.size(); ++i)
    if (state.plan.rows[i].block == block) rows.push_back(i);
  return rows;
}

std::vector<std::uint64_t> other_blocks(const BoardState& state) {
  std::vector<std::uint64_t> blocks;
  const std::uint64_t shown = shown_block(state);
  for (const PlanRow& row : state.plan.rows)
    if (row.block != shown && (blocks.empty() || blocks.back() != row.block)) blocks.push_back(row.block);
  return blocks;
}

std::optional<Cell> extra_cell(const BoardState& state) {
  for (std::size_t i = state.plan.rows.size(); i > 0; --i) {
    const PlanRow& row = state.plan.rows[i - 1];
    if (!row.trains() || (state.block != 0 && row.block != state.block)) continue;
    std::uint64_t round = 1;
    while (round <= kMaxRounds && round_of(state.plan, row.rung->id, round).whole()) ++round;
    if (round <= kMaxRounds) return Cell{i - 1, round, round_of(state.plan, row.rung->id, round).missing()};
  }
  return std::nullopt;
}

screens::Board board(const BoardState& state) {
  screens::Board board;
  const auto rows = shown_rows(state);
  if (rows.empty()) return board;
  const auto next = state.plan.finished ? std::nullopt : next_cell(state.plan);
  const std::uint64_t block = shown_block(state);
  const std::uint64_t rounds = rounds_of(state.plan, block);
  board.spoken = say("session.board_spoken",
                     {say(state.plan.programme_day == 2 ? "session.title_b" : "session.title"),
                      rows.size() == 1 ? say("session.movement_one") : say("session.movement_many", {number(rows.size())}),
                      rounds == 1 ? say("session.round_one") : say("session.round_many", {number(rounds)})});
  for (std::uint64_t round = 1; round <= rounds; ++round) board.round_names.push_back(say("session.round", {number(round)}));
  for (std::size_t place = 0; place < rows.size(); ++place) {
    const PlanRow& row = state.plan.rows[rows[place]];
    screens::BoardRow shown{.code = row.code,
                            .name = row.rung->short_name,
                            .dose = row_weight(state, row),
                            .spoken = row_spoken(state, row),
                            .contradiction = line_contradicts(state.athlete, row.line),
                            .cells = {}};
    for (std::uint64_t round = 1; round <= rounds; ++round) {
      const RoundDone done = round_of(state.plan, row.rung->id, round);
      const bool here = next && next->row == rows[place] && next->round == round;
      if (done.by_side()) shown.cells.push_back(sides_cell(state, row, done));
      else shown.cells.push_back(done.entered() != nullptr && !here ? done_cell(state, row, *done.entered()) : open_cell(state, row, round, here));
    }
    if (next && next->row == rows[place]) board.in_hand = static_cast<std::uint32_t>(place);
    board.rows.push_back(std::move(shown));
  }
  for (const std::uint64_t other : other_blocks(state)) board.foot.push_back({.words = block_words(state, other), .up = other < block});
  board.open = state.board_open;
  board.folded_words = say("session.board_show");
  board.fold_words = say("session.board_fold");
  return board;
}

std::optional<std::uint64_t> reserve_of_key(const BoardState& state, const Cell& cell, std::uint32_t choice) {
  const PlanRow& row = state.plan.rows[cell.row];
  if (!asks_reserve(row, cell.round)) return std::nullopt;
  return choice == 0 ? row.decision.dose.rir : row.decision.dose.rir - 1;
}

screens::NextSet next_set(const BoardState& state, const Cell& cell) {
  const PlanRow& row = state.plan.rows[cell.row];
  const WrittenSet written = written_now(state.athlete, state.plan, row, cell.round);
  const std::string side = side_words(state.plan, row, cell.round);
  const std::uint64_t rir = row.decision.dose.rir;
  screens::NextSet next;
  next.extra = cell.round > row.sets();
  next.place = next.extra ? say("session.extra_place", {row.code, number(cell.round - 1), number(row.sets()), number(cell.round)})
                          : say("session.next_place", {row.code, number(cell.round), number(row.sets())});
  if (!side.empty() && (written.load || !written.band.empty())) next.place = say("session.place_side", {next.place, side});
  next.movement = capital(row.rung->name);
  if (row.decision.dose.ask_rir && !row.rung->is_hold())
    next.reserve = rir >= kMaxRir ? say("session.reserve_most") : say("session.reserve", {number(rir)});
  next.reps = reps_words(written.reps, written.up_to);
  if (row.rung->is_hold()) next.reps = say("dose.seconds", {next.reps});
  next.load = written.load ? model::to_text(*written.load) : band_words(written.band);
  if (next.load.empty()) next.load = side;
  const std::string tempo = tempo_words(row.decision.dose);
  next.cue = tempo.empty() ? row.rung->cue : say("session.tempo_cue", {capital(tempo), row.rung->cue});
  next.why = why_words(state, row);
  next.why_short = say("session.why_short");
  next.log_words = say(next.extra ? "session.log_extra" : "session.log");
  next.log_dose = with_side(dose_words(*row.rung, written.reps, written.up_to, pointer(written.load), written.band), side);
  const std::string weight = spoken_weight(pointer(written.load), written.band);
  const std::string reps = spoken_count(*row.rung, reps_words(written.reps, written.up_to));
  const std::string dose = with_side(weight.empty() ? say(row.rung->is_hold() ? "session.group_hold" : "session.group_dose_body", {reps})
                                                    : say("session.group_dose", {reps, weight}),
                                     side);
  next.spoken_group = say("session.group_spoken", {row.code, row.rung->name, number(cell.round), number(std::max(row.sets(), cell.round)), dose,
                                                   next.reserve.empty() ? "" : capital(next.reserve) + "."});
  next.log_spoken = with_side(weight.empty() ? say("session.log_spoken_body", {next.log_words, reps}) : say("session.log_spoken", {next.log_words, reps, weight}), side);
  if (asks_reserve(row, cell.round) && !next.extra) {
    const std::string more = say("session.left_or_more", {number(rir)});
    const std::string less = rir == 1 ? say("session.left_none") : say("session.left_fewer", {number(rir - 1)});
    next.keys.push_back({next.log_words, more, say("session.key_spoken", {next.log_spoken, more})});
    next.keys.push_back({next.log_words, less, say("session.key_spoken", {next.log_spoken, less})});
  }
  if (!row.swapped_from.empty()) {
    next.badge = say("session.badge_swapped");
    next.badge_state = screens::CellState::swapped;
  } else if (row.waits_for_sign_off) {
    next.badge = say("session.badge_waits");
    next.badge_state = screens::CellState::waits_sign_off;
  } else if (row.held) {
    next.badge = say("session.badge_held");
    next.badge_state = screens::CellState::held;
  }
  const auto rows = shown_rows(state);
  next.row = static_cast<std::uint32_t>(std::find(rows.begin(), rows.end(), cell.row) - rows.begin());
  next.round = static_cast<std::uint32_t>(cell.round);
  return next;
}

std::vector<model::Quantity> offered_loads(const model::Athlete& athlete, const std::optional<model::Quantity>& around) {
  std::vector<model::Quantity> loads = athlete.kits.empty() ? std::vector<model::Quantity>{} : athlete.kits.front().loads;
  if (around) {
    const bool known = std::any_of(loads.begin(), loads.end(),
                                   [&](const model::Quantity& load) { return model::grams(load) == model::grams(*around); });
    if (!known) loads.push_back(*around);  // a load from elsewhere stays choosable
  }
  std::sort(loads.begin(), loads.end(), lighter);
  if (loads.size() <= kOfferedLoads) return loads;
  std::size_t at = 0;
  while (around && at + 1 < loads.size() && model::grams(loads[at]) < model::grams(*around)) ++at;
  const std::size_t half = kOfferedLoads / 2;
  const std::size_t first = std::min(at > half ? at - half : 0, loads.size() - kOfferedLoads);
  return {loads.begin() + static_cast<std::ptrdiff_t>(first), loads.begin() + static_cast<std::ptrdiff_t>(first + kOfferedLoads)};
}

void choose_load(const model::Athlete& athlete, SetDraft& draft, std::size_t choice) {
  const auto offered = offered_loads(athlete, draft.around);
  if (choice >= offered.size()) return;
  draft.load = offered[choice];
  if (choice == 0 || choice + 1 == offered.size()) draft.around = draft.load;
}

bool offers_loads(const BoardState& state, const SetDraft& draft) {
  if (draft.load) return true;
  for (const PlanRow& row : state.plan.rows)
    if (row.rung->id == draft.exercise)
      return (draft.mends ? written_set(state.athlete, row, draft.round) : written_now(state.athlete, state.plan, row, draft.round)).load.has_value();
  return false;
}

screens::ChangePanel change_panel(const BoardState& state, const SetDraft& draft) {
  screens::ChangePanel panel;
  const PlanRow* row = row_of(state, draft.exercise);  // nothing: a set that no line wrote, changed from the Logbook
  const model::Rung* rung = row != nullptr ? row->rung : model::find_rung(draft.exercise);
  if (rung == nullptr) return panel;
  const WrittenSet written = row == nullptr ? WrittenSet{} : draft.mends ? written_set(state.athlete, *row, draft.round) : written_now(state.athlete, state.plan, *row, draft.round);
  const bool asks_reserve = !rung->is_hold() && (row == nullptr || row->decision.dose.ask_rir);
  panel.title = say("change.title", {row != nullptr ? row->code : capital(rung->name), number(draft.round)});
  if (row != nullptr) {
    const std::string dose = dose_words(*rung, written.reps, written.up_to, pointer(written.load), written.band);
    panel.written = asks_reserve ? say("change.written", {dose, number(row->decision.dose.rir)}) : say("change.written_only", {dose});
  }
  panel.reps_label = panel.reps_spoken = say(rung->is_hold() ? "change.seconds" : "change.reps");
  panel.fewer_words = say(rung->is_hold() ? "change.fewer_seconds" : "change.fewer");
  panel.more_words = say(rung->is_hold() ? "change.more_seconds" : "change.more");
  panel.reps = draft.reps;
  panel.reps_high = static_cast<std::int64_t>(rung->is_hold() ? kMaxHoldSeconds : kMaxReps);
  panel.reps_refused = draft.reps_refused.empty() ? "" : say("change.reps_refused", {number(static_cast<std::uint64_t>(panel.reps_high))});
  if (offers_loads(state, draft)) {
    panel.loads = load_choices(state.athlete, draft);
    panel.load_label = load_label(state.athlete, draft);
  } else if (!written.band.empty() && !state.athlete.kits.empty()) {
    panel.load_label = say("change.band");
    for (const std::string& band : state.athlete.kits.front().bands)
      panel.loads.push_back({band, band_words(band), band == (draft.band.empty() ? written.band : draft.band)});
  }
  if (asks_reserve) {
    panel.reserve_label = say("change.reserve");
    panel.reserves = reserve_choices(draft);
  }
  if (rung->one_sided && !mends_warm_up(state.athlete, draft)) {
    panel.side_label = say("change.side");
    for (const auto& side : offered_sides(state.plan, draft)) {
      const std::string words = say(!side ? "change.side_both" : *side == model::Side::left ? "change.side_left" : "change.side_right");
      panel.sides.push_back({words, words, side == draft.side});
    }
  }
  panel.form_words = say("change.form");
  panel.form_broke = draft.form_broke;
  panel.keep_words = say("change.keep", {dose_words(*rung, static_cast<std::uint64_t>(draft.reps), 0, pointer(draft.load), draft.band)});
  if (!panel.reserves.empty())
    panel.keep_detail = draft.rir ? say("change.keep_detail", {*draft.rir == kMaxRir ? number(*draft.rir) + "+" : number(*draft.rir)})
                                  : say("change.keep_detail_none");
  panel.leave_words = say(draft.mends ? "change.leave_kept" : "change.leave");
  panel.left_out_words = say("change.left_out");
  panel.take_back_words = draft.mends ? say("change.take_back") : "";
  return panel;
}

}  // namespace slipway::app
