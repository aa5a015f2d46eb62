#include "app/session_board.h"

#include <algorithm>

#include "app/book.h"
#include "ops/op.h"
#include "report/words.h"

namespace slipway::app {

namespace {

using report::number;
using report::say;

constexpr std::size_t kOfferedLoads = 5;  // the ladder of five offered values [design 01c]

template <class T, class Less>
const T* safest(const model::Versions<T>& versions, Less safer) {
  const T* best = versions.first();
  for (const auto& version : versions.all)
    if (safer(version.value, *best)) best = &version.value;
  return best;
}

bool lighter(const model::Quantity& a, const model::Quantity& b) { return model::grams(a) < model::grams(b); }

const model::Quantity* first_load(const model::SetDone& set) { return set.load.first(); }

std::string spoken_dose(std::uint64_t reps, const model::Quantity* load) {
  return load == nullptr ? number(reps) : say("session.cell_dose", {number(reps), report::spoken_load(*load)});
}

const model::Quantity* pointer(const std::optional<model::Quantity>& load) { return load ? &*load : nullptr; }

screens::CellState state_of(const BoardState& state, const model::SetDone& set) {
  if (state.waits(set.id)) return screens::CellState::not_kept;
  if (set.left_out) return screens::CellState::left_out;
  return set.as_written() && !set.corrected ? screens::CellState::kept : screens::CellState::changed;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

screens::BoardCell done_cell(const BoardState& state, const WrittenDose& dose, const model::SetDone& set) {
  screens::BoardCell cell;
  cell.round = static_cast<std::uint32_t>(set.round);
  cell.state = state_of(state, set);
  cell.may_change = true;
  const std::uint64_t reps = set.reps.value_or(0);
  cell.figure = set.left_out ? "" : number(reps);
  const std::string did = spoken_dose(reps, first_load(set));
  const std::string written = spoken_dose(set.written_reps.value_or(dose.reps), pointer(set.written_load));
  const std::string round = number(set.round);
  switch (cell.state) {
    case screens::CellState::not_kept: cell.spoken = say("session.cell_not_kept", {dose.rung->name, round, did}); break;
    case screens::CellState::left_out: cell.spoken = say("session.cell_left_out", {dose.rung->name, round}); break;
    case screens::CellState::changed:
      if (set.written_reps && *set.written_reps != reps) cell.written = number(*set.written_reps);
      cell.spoken = say("session.cell_changed", {dose.rung->name, round, did, written}); break;
    default: cell.spoken = say("session.cell_kept", {dose.rung->name, round, did}); break;
  }
  return cell;
}

screens::BoardCell open_cell(const WrittenDose& dose, std::uint64_t round, bool next) {
  screens::BoardCell cell;
  cell.round = static_cast<std::uint32_t>(round);
  cell.state = next ? screens::CellState::next : screens::CellState::not_done;
  cell.may_change = next;
  cell.figure = number(dose.reps);
  cell.spoken = say(next ? "session.cell_next" : "session.cell_not_done",
                    {dose.rung->name, number(round), spoken_dose(dose.reps, pointer(dose.load))});
  return cell;
}

std::string why(const WrittenDose& dose) {
  const auto& loads = dose.plan->load;
  if (loads.contradiction())
    return say("session.why_contradiction", {model::to_text(loads.all[0].value), model::to_text(loads.all[1].value)});
  if (loads.empty()) return {};
  const model::Writer& by = loads.all.front().by;
  // The load that came with the plan's making was chosen by the rule for a first load [handbook 5.8], not by a person.
  if (by.op == dose.plan->id && by.author == static_cast<std::uint64_t>(Author::swimmer)) return say("session.why_first");
  return say("session.why_written", {report::author_word(by.author), model::weekday_date(model::day_of(by.claimed))});
}

std::vector<screens::LoadChoice> load_choices(const model::Athlete& athlete, const SetDraft& draft) {
  std::vector<screens::LoadChoice> choices;
  for (const model::Quantity& load : offered_loads(athlete, draft.around))
    choices.push_back({model::number_text(load), report::spoken_load(load),
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

}  // namespace

WrittenDose written_dose(const model::Athlete& athlete) {
  WrittenDose dose;
  if (athlete.prescriptions.empty()) return dose;
  const model::Prescription& plan = athlete.prescriptions.front();
  dose.plan = &plan;
  dose.rung = model::find_rung(plan.exercise.value_or(""));
  const auto fewer = [](std::uint64_t a, std::uint64_t b) { return a < b; };
  const auto more = [](std::uint64_t a, std::uint64_t b) { return a > b; };
  if (const auto* sets = safest(plan.sets, fewer)) dose.sets = *sets;
  if (const auto* reps = safest(plan.reps, fewer)) dose.reps = *reps;
  if (const auto* rir = safest(plan.rir, more)) dose.rir = *rir;
  if (dose.rung != nullptr && dose.rung->loaded)
    if (const auto* load = safest(plan.load, lighter)) dose.load = *load;
  dose.contradiction = plan.exercise.contradiction() || plan.sets.contradiction() || plan.reps.contradiction() ||
                       plan.load.contradiction() || plan.rir.contradiction() || plan.rest_ms.contradiction();
  return dose;
}

const model::SetDone* set_of_round(const model::Athlete& athlete, model::Day today, std::uint64_t round) {
  for (const model::Session& session : athlete.sessions) {
    if (session.training_day.empty() || !(*session.training_day.first() == today)) continue;
    for (const model::SetDone& set : session.sets)
      if (set.round == round) return &set;
  }
  return nullptr;
}

std::uint64_t next_round(const BoardState& state) {
  std::uint64_t round = 1;
  while (round <= kMaxRounds && set_of_round(state.athlete, state.today, round) != nullptr) ++round;
  return round;
}

std::uint64_t rounds_shown(const BoardState& state) {
  std::uint64_t rounds = written_dose(state.athlete).sets;
  for (std::uint64_t round = rounds + 1; round <= kMaxRounds; ++round)
    if (set_of_round(state.athlete, state.today, round) != nullptr) rounds = round;
  return rounds;
}

screens::Board board(const BoardState& state) {
  const WrittenDose dose = written_dose(state.athlete);
  screens::Board board;
  if (dose.rung == nullptr) return board;
  const std::uint64_t rounds = rounds_shown(state);
  const std::uint64_t next = next_round(state);
  board.spoken = say("session.board_spoken", {number(rounds)});
  screens::BoardRow row{.code = "A1",
                        .name = dose.rung->short_name,
                        .dose = dose.load ? model::to_text(*dose.load) : "",
                        .spoken = dose.load ? say("session.row_spoken", {dose.rung->name, report::spoken_load(*dose.load)})
                                            : say("session.row_spoken_body", {dose.rung->name}),
                        .contradiction = dose.contradiction,
                        .cells = {}};
  for (std::uint64_t round = 1; round <= rounds; ++round) {
    board.round_names.push_back(say("session.round", {number(round)}));
    const model::SetDone* set = set_of_round(state.athlete, state.today, round);
    row.cells.push_back(set != nullptr ? done_cell(state, dose, *set) : open_cell(dose, round, round == next));
  }
  board.rows.push_back(std::move(row));
  return board;
}

screens::NextSet next_set(const BoardState& state) {
  const WrittenDose dose = written_dose(state.athlete);
  const std::uint64_t round = next_round(state);
  screens::NextSet next;
  next.extra = round > dose.sets;
  next.place = next.extra ? say("session.extra_place", {number(round - 1), number(dose.sets), number(round)})
                          : say("session.next_place", {number(round), number(dose.sets)});
  next.movement = capital(dose.rung->name);
  next.reserve = dose.rir >= kMaxRir ? say("session.reserve_most") : say("session.reserve", {number(dose.rir)});
  next.reps = number(dose.reps);
  next.load = dose.load ? model::to_text(*dose.load) : "";
  next.cue = dose.rung->cue;
  next.why = why(dose);
  next.log_words = say(next.extra ? "session.log_extra" : "session.log");
  next.log_dose = report::dose(dose.reps, pointer(dose.load));
  const std::string spoken_reps_load = dose.load ? say("session.group_dose", {number(dose.reps), report::spoken_load(*dose.load)})
                                                 : say("session.group_dose_body", {number(dose.reps)});
  next.spoken_group =
      say("session.group_spoken", {dose.rung->name, number(round), number(std::max(dose.sets, round)), spoken_reps_load, number(dose.rir)});
  next.log_spoken = dose.load ? say("session.log_spoken", {next.log_words, number(dose.reps), report::spoken_load(*dose.load)})
                              : say("session.log_spoken_body", {next.log_words, number(dose.reps)});
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

screens::ChangePanel change_panel(const BoardState& state, const SetDraft& draft) {
  const WrittenDose dose = written_dose(state.athlete);
  screens::ChangePanel panel;
  panel.title = say("change.title", {number(draft.round)});
  panel.written = say("change.written", {report::dose(dose.reps, pointer(dose.load)), number(dose.rir)});
  panel.reps_label = panel.reps_spoken = say("change.reps");
  panel.fewer_words = say("change.fewer");
  panel.more_words = say("change.more");
  panel.reps = draft.reps;
  panel.reps_high = static_cast<std::int64_t>(kMaxReps);
  panel.reps_refused = draft.reps_refused.empty() ? "" : say("change.reps_refused", {number(kMaxReps)});
  if (dose.load || draft.load) {
    panel.load_label = say("change.load", {"kg"});
    panel.loads = load_choices(state.athlete, draft);
  }
  panel.reserve_label = say("change.reserve");
  panel.reserves = reserve_choices(draft);
  panel.keep_words = say("change.keep", {report::dose(static_cast<std::uint64_t>(draft.reps), pointer(draft.load))});
  panel.keep_detail = draft.rir ? say("change.keep_detail", {*draft.rir == kMaxRir ? number(*draft.rir) + "+" : number(*draft.rir)})
                                : say("change.keep_detail_none");
  panel.leave_words = say(draft.mends ? "change.leave_kept" : "change.leave");
  panel.left_out_words = say("change.left_out");
  panel.take_back_words = draft.mends ? say("change.take_back") : "";
  return panel;
}

model::Bytes SetDraft::write() const {
  model::Bytes out;
  ops::put_varint(out, ops::zigzag(day.since_1970));
  ops::put_varint(out, round);
  ops::put_varint(out, ops::zigzag(reps));
  ops::put_varint(out, rir ? *rir + 1 : 0);
  ops::put_varint(out, load ? 1 : 0);
  if (load) {
    ops::put_varint(out, ops::zigzag(load->value));
    ops::put_varint(out, load->decimals);
    ops::put_varint(out, static_cast<std::uint64_t>(load->unit));
  }
  if (mends) ops::put_ref(out, *mends, model::IncarnationId{});
  return out;
}

std::optional<SetDraft> SetDraft::read(model::ByteView bytes) {
  std::size_t at = 0;
  std::uint64_t day = 0, round = 0, reps = 0, rir = 0, has_load = 0;
  if (!ops::get_varint(bytes, at, day) || !ops::get_varint(bytes, at, round) || !ops::get_varint(bytes, at, reps) || !ops::get_varint(bytes, at, rir) ||
      !ops::get_varint(bytes, at, has_load))
    return std::nullopt;
  SetDraft draft;
  draft.day.since_1970 = static_cast<std::int32_t>(ops::unzigzag(day));
  draft.round = round;
  draft.reps = ops::unzigzag(reps);
  if (rir > 0) draft.rir = rir - 1;
  if (round < 1 || round > kMaxRounds || draft.reps < 0 || draft.reps > static_cast<std::int64_t>(kMaxReps) || rir > kMaxRir + 1)
    return std::nullopt;
  if (has_load != 0) {
    std::uint64_t value = 0, decimals = 0, unit = 0;
    if (!ops::get_varint(bytes, at, value) || !ops::get_varint(bytes, at, decimals) || !ops::get_varint(bytes, at, unit)) return std::nullopt;
    if (decimals > 3 || unit < 1 || unit > 2) return std::nullopt;
    draft.load = model::Quantity{ops::unzigzag(value), static_cast<std::uint8_t>(decimals), static_cast<model::Unit>(unit)};
    draft.around = draft.load;
  }
  if (at < bytes.size()) {
    model::OpKey mends;
    if (!ops::get_ref(bytes, at, model::IncarnationId{}, mends) || at != bytes.size()) return std::nullopt;
    draft.mends = mends;
  }
  return draft;
}

}  // namespace slipway::app
