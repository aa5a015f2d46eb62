// The dose rows of handbook 6.3, in the order of the page: the first that holds decides.
#include <algorithm>
#include <array>

#include "rules/case.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/reasons.h"
#include "rules/rows_down.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

using namespace down;  // the rows that stop, swap, return and cut

// ---- ups ---------------------------------------------------------------------------------------------

bool form_first(const Case& c) { return c.form_closed && !c.past.counted.empty() && (c.hits_met() || c.milestone); }
void ask_for_form(const Case& c, Out& out) {
  say(out, {word("exercise", c.rung.id), number("hits", c.past.hits)}, newest(c, std::max(1U, c.past.hits)));
  const bool alone = !c.situation.athlete.has_coach && !gate_is_on(c.situation.athlete);
  out.asks.push_back(alone ? Ask::looked_alike : Ask::sign_off);
  hold(c, out);
  if (!alone) tell_coach(out, "W07", {word("exercise", c.rung.id)});
}

std::vector<std::uint32_t> reps_of(const Case& c, const Move& move) {
  if (move.clean_reps > 0) return same_reps(move.standing.sets, std::max(move.standing.lo, move.clean_reps));
  switch (move.reps) {
    case Move::Reps::hold: return hold_reps(c, move.standing);
    case Move::Reps::add: return added_reps(c, move.standing);
    case Move::Reps::lo: break;
  }
  return same_reps(move.standing.sets, move.standing.lo);
}

std::int64_t percent_more(std::int64_t from, std::int64_t to) { return from > 0 ? ((to - from) * 100 + from / 2) / from : 0; }

std::vector<Argument> arguments_of(const Case& c, const Move& move) {
  std::vector<Argument> args{word("what", move.what), number("reserve", target(c))};
  if (!move.milestone.empty()) args.insert(args.begin(), word("milestone", move.milestone));
  if (move.standing.exercise != c.standing.exercise) args.push_back(word("exercise", move.standing.exercise));
  if (move.standing.band != c.standing.band) args.push_back(word("band", move.standing.band));
  if (c.standing.load_g && move.standing.load_g && move.what == "load") args.push_back(number("step_g", *move.standing.load_g - *c.standing.load_g));
  if (c.step.step == Step::big && c.step.load_g) {
    const auto from = searched_mass(c.rung, *c.standing.load_g, c.situation), to = searched_mass(c.rung, *c.step.load_g, c.situation);
    if (from && to) args.push_back(number("percent", percent_more(*from, *to)));
  }
  if (move.standing.hi != c.standing.hi) args.push_back(number("reps", move.standing.hi));
  return args;
}

void go_up(const Case& c, const Move& move, bool counts_as_increase, Out& out) {
  say(out, arguments_of(c, move), newest(c, std::max(1U, c.past.hits)));
  if (move.offers_test) out.asks.push_back(Ask::test_set);
  if (!move.changes) {  // nothing to go to
    hold(c, out);
    return;
  }
  out.increase = counts_as_increase;
  out.standing = move.standing;
  out.start = move.start;
  out.dose = plain_dose(c, move.standing, reps_of(c, move), reserve_target(move.standing, c.situation));
}

const Move& due_move(const Case& c) { return c.milestone ? *c.milestone : *c.move; }

bool limit_reached(const Case& c) { return c.hits_met() && breaks_limit(c, due_move(c)); }
void better_not_heavier(const Case& c, Out& out) {
  const Move move = within_limit(c);
  go_up(c, move, move.changes && move.what != "reps", out);
}

bool milestone_met(const Case& c) { return c.milestone && !breaks_limit(c, *c.milestone); }
void over_milestone(const Case& c, Out& out) { go_up(c, *c.milestone, true, out); }

bool moves_by(const Case& c, const char* row) { return c.hits_met() && c.move->row == row; }
bool step_usable(const Case& c) { return moves_by(c, "R15"); }
bool step_big(const Case& c) { return moves_by(c, "R16"); }
bool step_none(const Case& c) { return moves_by(c, "R17"); }

// A band's first set on the thinner one reached lo twice [6.4a].
bool first_set_holds(const Case& c) {
  if (c.standing.first_set_band.empty() || c.past.counted.size() < 2) return false;
  for (std::size_t i = 0; i < 2; ++i)
    if (c.past.counted[i]->outcome.reps.empty() || c.past.counted[i]->outcome.reps.front() < c.standing.lo) return false;
  return true;
}
bool one_care_move_waits(const Case& c) {  // SC: none with shoulder pain >= 1
  return c.rung.pattern == model::Pattern::shoulder_care && c.body.pain >= kPainHold;
}
bool step_other(const Case& c) { return (moves_by(c, "R18") || first_set_holds(c)) && !one_care_move_waits(c); }

void move_up(const Case& c, Out& out) { go_up(c, *c.move, true, out); }

bool nearly_up(const Case& c) { return c.past.hits >= 1; }
void confirm(const Case& c, Out& out) {
  say(out, {number("hits", c.past.hits)}, newest(c, c.past.hits));
  hold(c, out);
}

bool near_top(const Case& c) { return c.last() && c.last()->outcome.near_top; }
void show_reserve(const Case& c, Out& out) {
  hold(c, out);
  const bool missing = !c.last()->outcome.reserve_halves;
  if (missing && !out.dose.targets.empty()) {
    out.dose.targets.back() = {c.standing.hi, c.standing.hi + kRepsOverForReserve};
    if (out.dose.ask_rir) out.asks.push_back(Ask::reserve_of_last);
  }
  say(out, {number("reps", c.standing.hi), number("up_to", c.standing.hi + (missing ? kRepsOverForReserve : 0)), number("reserve", target(c))},
      newest(c, 1));
}

// ---- a new standing dose, a new exercise ---------------------------------------------------------------

bool new_standing(const Case& c) { return c.past.ever_done && c.past.counted.empty(); }

// A range below 8 without a load is written with 3 s lowering [6.4b].
void slow_if_short(const Case& c, StandingDose& dose) {
  const model::Rung* rung = model::find_rung(dose.exercise);
  if (!rung || rung->loaded || rung->is_hold() || dose.hi >= kSlowBelowReps || rung->hi <= dose.hi) return;
  if (tempo_of(dose).down >= kSlowLoweringS || rung->kind == model::ExerciseKind::jump) return;
  dose.tempo = tempo_of(c.standing);
  dose.tempo.down = kSlowLoweringS;
}

const Entry* newest_done(const Case& c) {
  for (const Entry& entry : c.past.entries)
    if (entry.same_exercise && !entry.passing) return &entry;
  return nullptr;
}

void phase(const Case& c, Out& out) {
  StandingDose dose = c.standing;
  bool known = false;
  if (!c.line.by_coach) {
    dose = phase_load(c, &known);
    slow_if_short(c, dose);
  }
  std::vector<Argument> args{number("lo", dose.lo), number("hi", dose.hi)};
  if (dose.load_g) args.push_back(number("load_g", *dose.load_g));
  std::vector<Evidence> evidence;
  if (const Entry* old = newest_done(c)) {
    if (old->effective.load_g) args.push_back(number("old_load_g", *old->effective.load_g));
    if (!old->outcome.reps.empty()) args.push_back(number("old_reps", *std::min_element(old->outcome.reps.begin(), old->outcome.reps.end())));
    evidence.push_back(session_of(*old));
  }
  say(out, args, evidence);
  out.standing = out.start = dose;
  if (c.line.start && !known && c.line.by_coach) out.start = c.start;
  const std::uint32_t reserve = c.line.by_coach ? target(c) : std::max(kReservePhase, target(c));
  out.dose = plain_dose(c, dose, same_reps(dose.sets, dose.lo), reserve);
}

bool never_done(const Case& c) { return !c.past.ever_done; }
void start(const Case& c, Out& out) {
  say(out, {word("exercise", c.rung.id)}, c.body.evidence);
  out.dose = plain_dose(c, c.standing, same_reps(c.standing.sets, c.standing.lo), std::max(kReserveFirst, target(c)));
}

bool always(const Case&) { return true; }
void add_reps(const Case& c, Out& out) {
  say(out, {}, newest(c, 1));
  out.dose = plain_dose(c, c.standing, added_reps(c, c.standing), target(c));
}

// ---- the table ---------------------------------------------------------------------------------------

struct DoseRow {
  const char* id;
  bool (*holds)(const Case&);
  void (*decide)(const Case&, Out&);
};

constexpr std::array<DoseRow, 28> kDoseRows{{
    {"R01", stops, stop},
    {"R09", sore_too_long, stop_sore},
    {"R02", swaps, swap},
    {"R04", gap_class_is<5>, restart},
    {"R05", gap_class_is<4>, return_4},
    {"R06", gap_class_is<3>, return_3},
    {"R23", comes_back, come_back},
    {"R07", gap_class_is<2>, return_2},
    {"R24", on_ramp, ramp},
    {"R10", sore_long, reduce_sore},
    {"R25", very_sore, ease},
    {"R08", week_off, week_off_hold},
    {"R28", form_withdrawn, back_to_form},
    {"R11", missed_twice, reduce},
    {"R12", missed_once, hold_after_miss},
    {"R03", hurts_a_little, hold_for_pain},
    {"R26", form_first, ask_for_form},
    {"R13", limit_reached, better_not_heavier},
    {"R14", milestone_met, over_milestone},
    {"R15", step_usable, move_up},
    {"R16", step_big, move_up},
    {"R17", step_none, move_up},
    {"R18", step_other, move_up},
    {"R19", nearly_up, confirm},
    {"R20", near_top, show_reserve},
    {"R27", new_standing, phase},
    {"R21", never_done, start},
    {"R22", always, add_reps},
}};

// Nobody overrules a stop at 6 or more or under a local red flag; for a youth no R01 at all [6].
bool may_overrule(const Case& c, std::string_view row) { return row != "R01" || !(c.youth || c.body.stop_is_firm); }

}  // namespace

bool overruled(const SessionSituation& situation, const std::string& row, const std::string& exercise) {
  return std::any_of(situation.overrulings.begin(), situation.overrulings.end(), [&](const Overruling& overruling) {
    return overruling.row == row && (overruling.exercise.empty() || overruling.exercise == exercise);
  });
}

void fill_dose(const Case& c, ExerciseDecision& out) {
  out.standing = c.standing;
  out.start = c.start;
  std::vector<std::string> passed_over;
  for (const DoseRow& row : kDoseRows) {
    if (!row.holds(c)) continue;
    if (may_overrule(c, row.id) && row.id != kDoseRows.back().id && overruled(c.situation, row.id, c.line.standing.exercise)) {
      passed_over.push_back(row.id);
      continue;
    }
    out.row.row = row.id;
    row.decide(c, out);
    out.row.overruled = passed_over;
    return;
  }
}

}  // namespace slipway::rules
