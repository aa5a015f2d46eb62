// Stops, swaps, returns, cuts and holds of handbook 6.3; the order they are tried in stands in rows.cpp.
#include "rules/rows_down.h"

#include <algorithm>
#include <array>

#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/settings.h"
#include "rules/substitute.h"

namespace slipway::rules::down {

// ---- stops and swaps ---------------------------------------------------------------------------------

bool stops(const Case& c) { return c.body.stop; }
void stop(const Case& c, Out& out) {
  out.action = Action::stop;
  say(out, {number("amount", c.body.stop_pain), word("region", c.body.region), number("joints", c.body.joints)}, c.body.evidence);
  if (c.body.ask_settled) out.asks.push_back(Ask::settled);
  tell_coach(out, "W02", out.row.args);
}

bool sore_too_long(const Case& c) { return c.body.sore.days > kSoreStop; }
void stop_sore(const Case& c, Out& out) {
  out.action = Action::stop;
  say(out, {number("days", c.body.sore.days)}, c.body.sore.evidence);
  tell_coach(out, "W02", out.row.args);
}

namespace {

StandingDose substitute_dose(const Case& c, const std::string& id) {
  const model::Rung* rung = model::find_rung(id);
  StandingDose dose;
  dose.exercise = id;
  dose.sets = std::min(c.standing.sets, rung->sets);
  dose.lo = rung->lo;
  dose.hi = rung->hi;
  dose.tgt_rir = c.standing.tgt_rir;
  if (rung->kind == model::ExerciseKind::band_helps) dose.band = thickest_band(c.situation.kit);
  if (rung->kind == model::ExerciseKind::band_resists) dose.band = thinnest_band(c.situation.kit);
  if (rung->pattern == model::Pattern::vertical_pull && (c.body.joints & (model::joint::shoulder | model::joint::elbow)) != 0)
    dose.grip = "neutral";  // 5.2
  if (rung->loaded) dose.load_g = own_last_load(c.record, *rung, {});
  keep_in_age_range(dose, c.situation);
  return dose;
}

// Reps of its last time; never done: lo, with a large reserve [5.2, R21].
std::vector<std::uint32_t> substitute_reps(const Case& c, const StandingDose& dose, bool* first) {
  std::vector<std::uint32_t> out = same_reps(dose.sets, dose.lo);
  const auto& record = c.record;
  for (auto it = record.order.rbegin(); it != record.order.rend(); ++it)
    for (const ExerciseDone& done : record.session(*it).exercises) {
      if (done.exercise != dose.exercise || !completed(done)) continue;
      const auto sets = work_sets(done);
      for (std::size_t i = 0; i < std::min(out.size(), sets.size()); ++i) out[i] = std::clamp(sets[i].reps + 1, dose.lo, dose.hi);
      *first = false;
      return out;
    }
  *first = true;
  return out;
}

}  // namespace

bool swaps(const Case& c) { return c.body.swap || (c.body.pain >= kPainSwap && c.body.pain < kPainStop); }
void swap(const Case& c, Out& out) {
  out.passing = true;
  const auto substitute = substitute_for(c.record, c.rung, c.body);
  say(out, {word("exercise", c.rung.id), number("amount", c.body.pain), word("substitute", substitute.value_or("")),
            word("region", c.body.region)},
      c.body.evidence);
  out.modifiers.push_back(reason("M08", {word("exercise", c.rung.id)}));
  tell_coach(out, "W04", out.row.args);
  if (!substitute) {  // no painless substitute: skip the pattern and tell the coach
    out.action = Action::leave_out;
    return;
  }
  const StandingDose dose = substitute_dose(c, *substitute);
  bool first = false;
  const auto reps = substitute_reps(c, dose, &first);
  out.dose = plain_dose(c, dose, reps, std::max(first ? kReserveFirst : 0U, reserve_target(dose, c.situation)));
}

// ---- returns -----------------------------------------------------------------------------------------

namespace {

struct StepRow {
  std::uint32_t percent, sets_fewer, reserve;
};
constexpr std::array<StepRow, 3> kRampSteps{{{30, 2, 4}, {20, 1, 3}, {10, 1, 3}}};  // a, b, c [6.1]

std::vector<std::uint32_t> fewer_reps(const Case& c, const StandingDose& dose, std::uint32_t fewer) {
  auto reps = hold_reps(c, dose);
  const std::uint32_t less = c.rung.is_hold() ? fewer / kRepsFewer * kSecondsFewer : fewer;
  for (std::uint32_t& r : reps) r = r > less ? r - less : 1;
  return reps;
}

void ramp_dose(const Case& c, RampStep step, Out& out) {
  out.ramp_step = step;
  if (step == RampStep::d) {
    hold(c, out);
    return;
  }
  const StepRow& row = kRampSteps[static_cast<std::size_t>(step) - 1];
  Cut cut = cut_by(c, row.percent);
  const std::uint32_t sets = fewer_sets(c.standing.sets, row.sets_fewer);
  cut.dose.sets = sets;
  auto reps = same_reps(sets, cut.dose.lo);
  if (cut.reps_fewer > 0) {
    const auto fewer = fewer_reps(c, cut.dose, cut.reps_fewer);
    // Step c without a load to cut: those of the last counted session less 2; where a rung is missing, never above lo.
    for (std::size_t i = 0; i < reps.size(); ++i) reps[i] = step == RampStep::c ? fewer[i] : std::min(reps[i], fewer[i]);
  }
  out.passing = true;
  out.dose = plain_dose(c, cut.dose, reps, std::max(row.reserve, target(c)));
}

// A new break during a ramp never gives a step later than the last one done.
RampStep capped(const Case& c, RampStep step) {
  if (!c.past.ramp.open) return step;
  return std::min(step, c.past.ramp.done.value_or(std::min(step, c.past.ramp.due)));
}

void return_by(const Case& c, RampStep step, Out& out) {
  say(out, {number("days", c.gap.gap.value_or(0))});
  if (!c.past.entries.empty()) out.row.evidence.push_back(session_of(c.past.entries.front()));
  ramp_dose(c, capped(c, step), out);
}

// Rung from which 5.8 looks again; a line that was already easier stays where it is.
std::string entry_rung(const model::Rung& rung) {
  using model::Pattern;
  std::string id;
  switch (rung.pattern) {
    case Pattern::squat: id = "SQ3"; break;
    case Pattern::hinge: id = "HG1"; break;
    case Pattern::lunge: id = "LU2"; break;
    case Pattern::vertical_pull: id = "VP1"; break;
    case Pattern::horizontal_pull: id = "HP1"; break;
    case Pattern::push: id = "PU2"; break;
    case Pattern::trunk: id = rung.is_hold() ? "TR2" : "TR1"; break;
    case Pattern::shoulder_care: return rung.id;
  }
  return harder_on_line(id, rung.id) ? rung.id : id;
}

constexpr std::uint32_t kLearnLo = 8, kLearnHi = 12;  // 5.4, learn

}  // namespace

void restart(const Case& c, Out& out) {
  const model::Rung* rung = model::find_rung(entry_rung(c.rung));
  StandingDose dose;
  dose.exercise = rung->id;
  dose.sets = 1;
  dose.lo = rung->is_hold() ? rung->lo : std::min(kLearnLo, rung->hi);
  dose.hi = rung->is_hold() ? rung->hi : std::max(dose.lo, std::min(kLearnHi, rung->hi));
  dose.tgt_rir = kReserveFirst;
  dose.format = c.standing.format;
  if (rung->kind == model::ExerciseKind::band_resists) dose.band = thinnest_band(c.situation.kit);
  out.standing = out.start = dose;
  say(out, {number("days", c.gap.gap.value_or(0)), word("exercise", dose.exercise)});
  out.asks.push_back(Ask::entry_sets);
  out.dose = plain_dose(c, dose, same_reps(1, dose.lo), kReserveFirst);
}

void return_4(const Case& c, Out& out) { return_by(c, RampStep::a, out); }
void return_3(const Case& c, Out& out) { return_by(c, RampStep::b, out); }
void return_2(const Case& c, Out& out) { return_by(c, RampStep::c, out); }

// Where the ramp of a comeback is already under way, R24 goes on with it.
bool comes_back(const Case& c) {
  const auto under_way = [&](const Entry& entry) { return has_row(*entry.done, "R23") && c.body.hurt_on && *c.body.hurt_on < entry.day; };
  return c.body.comeback && c.body.pain < kPainSwap && c.past.ever_done &&
         std::none_of(c.past.entries.begin(), c.past.entries.end(), under_way);
}
void come_back(const Case& c, Out& out) {
  say(out, {word("exercise", c.rung.id)}, c.body.evidence);
  ramp_dose(c, capped(c, RampStep::b), out);
}

bool on_ramp(const Case& c) { return c.past.ramp.open; }
void ramp(const Case& c, Out& out) {
  const Ramp& ramp = c.past.ramp;
  const bool again = ramp.last_was_miss || c.body.pain >= kPainHold || c.body.sore.days > kSoreRampAgain || c.gap.gap_class == 1;
  const RampStep step = again && ramp.done ? *ramp.done : ramp.due;
  say(out, {number("step", static_cast<std::int64_t>(step)), number("of", static_cast<std::int64_t>(RampStep::d))});
  if (!c.past.entries.empty()) out.row.evidence.push_back(session_of(c.past.entries.front()));
  ramp_dose(c, step, out);
}

// ---- cuts --------------------------------------------------------------------------------------------

bool sore_long(const Case& c) { return c.body.sore.days > kSoreReduce; }
void reduce_sore(const Case& c, Out& out) {
  Cut cut = cut_by(c, 10);
  cut.dose.sets = fewer_sets(c.standing.sets, 1);
  const auto reps = cut.other_rung ? same_reps(cut.dose.sets, cut.dose.lo) : fewer_reps(c, cut.dose, cut.reps_fewer);
  out.passing = true;
  say(out, {number("days", c.body.sore.days)}, c.body.sore.evidence);
  out.dose = plain_dose(c, cut.dose, reps, target(c));
  tell_coach(out, "W05", out.row.args);
}

bool very_sore(const Case& c) { return c.body.sore.today >= kSoreHinders; }
void ease(const Case& c, Out& out) {
  StandingDose dose = c.standing;
  dose.sets = fewer_sets(dose.sets, 1);
  out.passing = dose.sets != c.standing.sets;
  say(out, {number("level", c.body.sore.today)}, c.body.sore.evidence);
  // Of an exercise never done the first time stays as easy as R21 has it: nobody starts harder for being sore.
  if (!c.past.ever_done) out.dose = plain_dose(c, dose, same_reps(dose.sets, dose.lo), std::max(kReserveFirst, target(c)));
  else out.dose = plain_dose(c, dose, hold_reps(c, dose), target(c));
}

bool week_off(const Case& c) { return gap_class_is<1>(c) && !c.past.last_by_r08; }
void week_off_hold(const Case& c, Out& out) {
  say(out, {number("days", c.gap.gap.value_or(0))});
  hold(c, out);
}

// ---- form withdrawn ----------------------------------------------------------------------------------

namespace {

bool stepped_back_since(const Case& c) {
  for (const Entry& entry : c.past.entries)
    if (!entry.passing && has_row(*entry.done, "R28") && c.form.newest && !(entry.day < c.form.newest->day)) return true;
  return false;
}

}  // namespace

bool form_withdrawn(const Case& c) { return c.form.state == FormState::withdrawn && c.past.ever_done && !stepped_back_since(c); }

namespace {

// Last load signed off, else the last rung signed off, else load -20 %.
StandingDose back_to_form_dose(const Case& c) {
  std::optional<std::int64_t> seen;
  std::optional<Day> seen_on;
  for (const SignOff& fact : c.situation.sign_offs)
    if (fact.exercise == c.standing.exercise && fact.level >= SignOffLevel::sound && fact.load_g && !(c.situation.today < fact.day) &&
        (!seen_on || *seen_on < fact.day || (*seen_on == fact.day && *fact.load_g < *seen))) {
      seen = fact.load_g;
      seen_on = fact.day;
    }
  StandingDose dose = c.standing;
  if (seen && dose.load_g && *seen < *dose.load_g)
    if (const auto load = largest_at_most(c.rung, *seen, c.situation.kit)) {
      dose.load_g = load;
      return dose;
    }
  for (auto place = easier_place({dose.exercise, dose.band}, c.situation); place; place = easier_place(*place, c.situation))
    if (place->exercise != c.standing.exercise && form_of(place->exercise, c.situation).open() && bears(c.record, *model::find_rung(place->exercise)))
      if (auto easier = on_rung(c.record, *place, c.standing, c.standing.load_g)) return *easier;
  return cut_by(c, 20).dose;
}

}  // namespace

void back_to_form(const Case& c, Out& out) {
  const StandingDose dose = back_to_form_dose(c);
  out.standing = dose;
  if (dose.exercise != c.standing.exercise) out.start = dose;
  else out.start.load_g = dose.load_g;
  std::vector<Evidence> evidence;
  for (std::uint32_t i = 0; i < c.situation.sign_offs.size(); ++i)
    if (&c.situation.sign_offs[i] == c.form.newest) evidence.push_back({EvidenceOf::sign_off, i});
  say(out, {word("note", c.form.newest->note)}, evidence);
  out.dose = plain_dose(c, dose, same_reps(dose.sets, dose.lo), std::max(kReserveFirst, target(c)));
  tell_coach(out, "W07", {word("exercise", c.rung.id)});
}

// ---- misses ------------------------------------------------------------------------------------------

bool missed_twice(const Case& c) { return c.past.misses >= kMissesNeeded; }

namespace {

// Range max(5, lo - 3) to lo, not below 5.7; nothing left to lower, or already lowered: nothing.
std::optional<StandingDose> lower_range(const Case& c) {
  if (!c.rung.loaded || c.standing.lo < c.start.lo) return {};
  StandingDose dose = c.standing;
  const std::uint32_t lo = dose.lo > kLoweredRangeBy ? dose.lo - kLoweredRangeBy : 1;
  dose.hi = dose.lo;
  dose.lo = std::max(kLoweredRangeLeast, lo);
  keep_in_age_range(dose, c.situation);
  if (dose.lo >= c.standing.lo) return {};
  return dose;
}

std::optional<StandingDose> one_easier(const Case& c) {
  const auto place = easier_place({c.standing.exercise, c.standing.band}, c.situation);
  if (!place || !bears(c.record, *model::find_rung(place->exercise))) return {};
  StandingDose from = c.start;  // range as at the start
  from.load_g = c.standing.load_g;
  return on_rung(c.record, *place, from, c.standing.load_g);
}

}  // namespace

void reduce(const Case& c, Out& out) {
  say(out, {number("reps", c.standing.lo), number("misses", c.past.misses)}, newest(c, c.past.misses));
  StandingDose dose = c.standing;
  bool lo_reps = true;
  const Cut cut = cut_by(c, 10);
  if (goes_by_load(c.rung) && c.standing.load_g && cut.reps_fewer == 0) {
    dose = cut.dose;
    out.start = cut.other_rung ? dose : out.start;
    out.start.load_g = dose.load_g;
  } else if (const auto lowered = lower_range(c)) {
    dose = *lowered;
    lo_reps = false;
  } else if (const auto easier = one_easier(c)) {
    dose = *easier;
    out.start = dose;
  } else {
    dose.sets = fewer_sets(dose.sets, 1);
    lo_reps = false;
  }
  out.standing = dose;
  out.dose = plain_dose(c, dose, lo_reps ? same_reps(dose.sets, dose.lo) : hold_reps(c, dose), target(c));
  tell_coach(out, "W08", {word("exercise", c.rung.id), number("misses", c.past.misses)});
}

bool missed_once(const Case& c) { return c.past.misses == 1; }
void hold_after_miss(const Case& c, Out& out) {
  say(out, {number("misses", 1)}, newest(c, 1));
  hold(c, out);
}

bool hurts_a_little(const Case& c) { return c.body.pain >= kPainHold && c.body.pain < kPainSwap && !c.past.counted.empty(); }
void hold_for_pain(const Case& c, Out& out) {
  say(out, {number("amount", c.body.pain), word("region", c.body.region)}, c.body.evidence);
  hold(c, out);
}



}  // namespace slipway::rules::down
