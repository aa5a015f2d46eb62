// R13 and R15-R18, and the kinds of 6.4a: where a line goes when its top is reached.
#include <algorithm>

#include "rules/case.h"
#include "rules/decide.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/settings.h"

namespace slipway::rules {

using model::ExerciseKind;
using model::Pattern;

Tempo standard_tempo(Pattern pattern) {
  const bool pull = pattern == Pattern::vertical_pull || pattern == Pattern::horizontal_pull;
  return pull ? Tempo{2, 0, 1, 1} : Tempo{2, 0, 1, 0};
}

Tempo tempo_of(const StandingDose& dose) {
  const model::Rung* rung = model::find_rung(dose.exercise);
  if (!dose.tempo.usual() || !rung) return dose.tempo;
  if (rung->id == "SQ5" || rung->id == "PU5") return {kSlowLoweringS, kPauseS, 1, 0};  // counts as used by both
  return standard_tempo(rung->pattern);
}

namespace {

bool pull(const model::Rung& rung) { return rung.pattern == Pattern::vertical_pull || rung.pattern == Pattern::horizontal_pull; }

std::uint32_t pause_of(const model::Rung& rung, const Tempo& tempo) { return pull(rung) ? tempo.top : tempo.bottom; }
bool slow_used(const StandingDose& dose) { return tempo_of(dose).down >= kSlowLoweringS; }
bool pause_used(const Case& c) { return pause_of(c.rung, tempo_of(c.standing)) >= kPauseS; }

std::uint32_t sets_most(const Case& c) {
  std::uint32_t most = kSetsMostOther;
  if (c.rung.pattern == Pattern::squat) most = kSetsMostSquat;
  if (pull(c.rung)) most = kSetsMostPull;
  if (c.rung.pattern == Pattern::push) most = kSetsMostPush;
  return std::min(most, age_row(c.situation.athlete).sets_most);
}

Move base(const Case& c, std::string row) {
  Move move;
  move.row = std::move(row);
  move.standing = c.standing;
  move.start = c.start;
  return move;
}

Move changed(Move move, std::string what, Move::Reps reps) {
  move.changes = true;
  move.what = std::move(what);
  move.reps = reps;
  return move;
}

Move more_reps(const Case& c, std::string row, std::uint32_t most) {
  Move move = base(c, std::move(row));
  move.standing.hi = std::min(most, c.standing.hi + kHiStep);
  return changed(move, "reps", Move::Reps::add);
}

Move slower(const Case& c, std::string row, std::uint32_t down) {
  Move move = base(c, std::move(row));
  move.standing.tempo = tempo_of(c.standing);
  move.standing.tempo.down = down;
  move.standing.lo = c.start.lo;
  move.standing.hi = c.start.hi;
  return changed(move, "slow", Move::Reps::lo);
}

Move paused(const Case& c, std::string row) {
  Move move = base(c, std::move(row));
  move.standing.tempo = tempo_of(c.standing);
  (pull(c.rung) ? move.standing.tempo.top : move.standing.tempo.bottom) = kPauseS;
  move.standing.lo = c.start.lo;
  move.standing.hi = c.start.hi;
  return changed(move, pull(c.rung) ? "pause_top" : "pause", Move::Reps::lo);
}

// Next load: reps back to lo, range, sets and tempo as at the start.
Move heavier(const Case& c, std::string row, std::int64_t load_g) {
  Move move = base(c, std::move(row));
  move.start.load_g = load_g;
  move.standing = move.start;
  move.judged_load_g = load_g;
  return changed(move, "load", Move::Reps::lo);
}

Move onto(const Case& c, std::string row, const StandingDose& dose, std::string what) {
  Move move = base(c, std::move(row));
  move.standing = move.start = dose;
  return changed(move, std::move(what), Move::Reps::lo);
}

// The same load or less on a harder rung, both hands together and a hand.
std::optional<std::int64_t> load_for_harder(const Case& c, const model::Rung& harder) {
  const LoadLimit limit = load_limit(harder, c.situation, false);
  if (!limit.allowed) return {};
  std::int64_t most = c.standing.load_g.value_or(0);
  most = std::min(most, limit_mass(c.rung, most) / limit_mass(harder, 1));
  if (limit.most_g) most = std::min(most, *limit.most_g);
  if (most <= 0) return {};
  if (!available_loads(harder, c.situation.kit)) return most;
  return largest_at_most(harder, most, c.situation.kit);
}

// Next harder rung that needs no heavier load; SQ5 counts as used.
std::optional<StandingDose> harder_without_load(const Case& c, bool same_kind) {
  const model::Rung* harder = model::find_rung(c.rung.next);
  for (int walked = 0; harder && walked < 20; ++walked, harder = model::find_rung(harder->next)) {
    if (harder->id == "SQ5" || harder->id == "VP5" || !possible_here(*harder, c.situation.kit)) continue;
    if (same_kind && harder->kind != c.rung.kind) continue;
    StandingDose start = c.start;
    start.load_g.reset();
    if (!harder->loaded) {
      if (auto dose = on_rung(c.record, {harder->id, {}}, start, {})) return dose;
      continue;
    }
    const auto load = load_for_harder(c, *harder);
    if (!load) continue;
    StandingDose dose = start;
    dose.exercise = harder->id;
    dose.tempo = {};
    dose.load_g = load;
    keep_in_age_range(dose, c.situation);
    return dose;
  }
  return {};
}

Move harder_or_hold(const Case& c, std::string row) {
  if (const auto dose = harder_without_load(c, false)) return onto(c, std::move(row), *dose, "rung");
  return base(c, std::move(row));
}

// R16: a big step is earned by reps, else made small.
Move big_step(const Case& c) {
  const std::int64_t next = *c.step.load_g;
  const auto from = searched_mass(c.rung, *c.standing.load_g, c.situation), to = searched_mass(c.rung, next, c.situation);
  const std::uint32_t earn = from && to ? reps_to_earn(*from, *to, c.start.lo) : 0;
  Move move;
  const bool sets_added = c.standing.sets > c.start.sets;
  const std::int64_t risen = limit_mass(c.rung, next) - limit_mass(c.rung, *c.standing.load_g);
  if (earn > 0 && c.lowest().value_or(0) >= earn) move = heavier(c, "R16", next);
  else if (slow_used(c.standing) && pause_used(c)) {
    const bool taken = risen <= kBigStepAlwaysG || (!c.youth && to && *to * 100 <= *from * kBigStepAdultHundredths);
    move = taken ? heavier(c, "R16", next) : harder_or_hold(c, "R16");
  } else if (slow_used(c.standing)) move = paused(c, "R16");
  else if (!sets_added && c.standing.hi < c.start.hi + kMicroHiTimes * kHiStep) move = more_reps(c, "R16", c.standing.hi + kHiStep);
  else if (!sets_added && c.standing.sets + 1 <= sets_most(c)) {
    move = base(c, "R16");
    ++move.standing.sets;
    move = changed(move, "set", Move::Reps::hold);
  } else move = slower(c, "R16", kSlowLoweringS);
  move.judged_load_g = next;  // R13 looks at it also before it is earned
  return move;
}

// R17: the heaviest load here.
Move ceiling(const Case& c) {
  const std::uint32_t most = c.rung.pattern == Pattern::squat ? kHiMostSquat : kHiMost;
  if (slow_used(c.standing) && pause_used(c)) return harder_or_hold(c, "R17");
  if (slow_used(c.standing)) return paused(c, "R17");
  if (c.standing.hi < most) return more_reps(c, "R17", most);
  return slower(c, "R17", kSlowLoweringS);
}

// Without a body mass the step cannot be judged: the smallest plate, or one step of the stack [1.3].
Move by_plate(const Case& c) {
  if (!c.step.load_g) return ceiling(c);
  return heavier(c, "R18", *c.step.load_g);
}

Move loaded_move(const Case& c) {
  switch (c.step.step) {
    case Step::usable: return heavier(c, "R15", *c.step.load_g);
    case Step::big: return big_step(c);
    case Step::not_applicable: return by_plate(c);
    case Step::none: break;
  }
  return ceiling(c);
}

Move next_of_line(const Case& c) {
  std::string next = c.rung.id == "PU3k" || c.rung.id == "PU3b" ? "PU4" : c.rung.next;
  const model::Rung* harder = model::find_rung(next);
  if (harder && possible_here(*harder, c.situation.kit)) {
    Place place{next, harder->kind == ExerciseKind::band_helps ? thickest_band(c.situation.kit) : std::string{}};
    StandingDose start = c.start;
    start.load_g.reset();
    if (const auto dose = on_rung(c.record, place, start, {})) return onto(c, "R18", *dose, "rung");
  }
  if (c.rung.is_hold() || c.standing.hi >= kHiMost) return base(c, "R18");  // end of the line: stay
  return more_reps(c, "R18", kHiMost);
}

bool wants_ten(const Case& c) { return (c.rung.id == "VP6" || c.rung.id == "PU4") && c.standing.hi < kLoadedAfterReps; }

// After one fall-back from the thinner band only the first set is done on it.
bool fell_back_from(const Case& c, const std::string& thinner) {
  bool reduced = false;
  for (const Entry& entry : c.past.entries) {
    if (!entry.same_exercise || entry.passing) continue;
    if (entry.effective.band == c.standing.band) reduced = reduced || has_row(*entry.done, "R11");
    else return reduced && entry.effective.band == thinner;
  }
  return false;
}

Move less_help(const Case& c) {
  const std::string thinner = thinner_band(c.standing.band, c.situation.kit);
  if (c.rung.id == "PU3b" && thinner.empty()) return next_of_line(c);
  Move move = base(c, "R18");
  if (thinner.empty()) {  // thinnest: the test of 6.5
    move.offers_test = true;
    move.what = "test";
    return move;
  }
  if (c.standing.first_set_band.empty() && fell_back_from(c, thinner)) {
    move.standing.first_set_band = thinner;
    return changed(move, "band", Move::Reps::hold);
  }
  move.standing.first_set_band.clear();
  move.standing.band = thinner;
  move.start = move.standing;
  return changed(move, "band", Move::Reps::lo);
}

Move more_band(const Case& c) {
  const std::string thicker = thicker_band(c.standing.band, c.situation.kit);
  if (!thicker.empty()) {
    StandingDose dose = c.start;
    dose.band = thicker;
    return onto(c, "R18", dose, "band");
  }
  if (slow_used(c.standing) && pause_used(c)) return base(c, "R18");
  if (pause_used(c)) return slower(c, "R18", kSlowLoweringS);
  if (c.standing.hi < kHiMost) return more_reps(c, "R18", kHiMost);
  return paused(c, "R18");
}

// A range or number of sets that R11 lowered comes back first, same load and rung.
bool was_lowered(const Case& c) {
  return c.standing.exercise == c.start.exercise &&
         (c.standing.lo < c.start.lo || c.standing.hi < c.start.hi || c.standing.sets < c.start.sets);
}

Move as_at_the_start(const Case& c, std::string row) {
  Move move = base(c, std::move(row));
  move.standing.lo = c.start.lo;
  move.standing.hi = c.start.hi;
  move.standing.sets = c.start.sets;
  return changed(move, "range", Move::Reps::lo);
}

Move by_kind(const Case& c) {
  switch (c.rung.kind) {
    case ExerciseKind::loaded: return c.standing.load_g ? loaded_move(c) : base(c, "R18");
    case ExerciseKind::body_weight:
      if (wants_ten(c)) return more_reps(c, "R18", kLoadedAfterReps);
      return next_of_line(c);
    case ExerciseKind::band_helps: return less_help(c);
    case ExerciseKind::band_resists: return more_band(c);
    case ExerciseKind::hold: return next_of_line(c);
    case ExerciseKind::jump: break;  // never by rule
  }
  return base(c, "R18");
}

std::uint32_t hold_most(const Case& c) { return c.rung.id == "VP1" || c.masters ? kHoldMostShortS : kHoldMostS; }

}  // namespace

Move next_move(const Case& c) {
  Move move = by_kind(c);
  if (was_lowered(c)) return as_at_the_start(c, move.row);
  return move;
}

bool breaks_limit(const Case& c, const Move& move) {
  if (!c.youth) return false;
  if (move.judged_load_g && !load_allowed(c.rung, *move.judged_load_g, c.situation)) return true;
  if (!move.changes || move.standing.exercise == c.standing.exercise) return false;
  const model::Rung* rung = model::find_rung(move.standing.exercise);
  if (!rung || !exercise_allowed(*rung, c.situation, false)) return true;
  return move.standing.load_g && !load_allowed(*rung, *move.standing.load_g, c.situation);
}

Move within_limit(const Case& c) {
  const bool slower_already = tempo_of(c.standing).down > tempo_of(c.start).down;
  if (c.rung.is_hold()) {
    if (c.standing.hi >= hold_most(c)) return base(c, "R13");
    Move move = base(c, "R13");
    move.standing.hi = std::min(hold_most(c), c.standing.hi + kHoldStepS);
    return changed(move, "reps", Move::Reps::add);
  }
  if (!slower_already && c.standing.hi < kHiMost) return more_reps(c, "R13", kHiMost);
  if (!slower_already) return slower(c, "R13", tempo_of(c.standing).down + 1);
  if (const auto dose = harder_without_load(c, true)) return onto(c, "R13", *dose, "rung");
  return base(c, "R13");
}

}  // namespace slipway::rules
