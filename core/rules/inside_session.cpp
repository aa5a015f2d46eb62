// Inside a session (handbook 6.7): pain at a set, a poor first set, a load more, rest.
#include <algorithm>

#include "rules/case.h"
#include "rules/decide.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/reasons.h"
#include "rules/settings.h"
#include "rules/substitute.h"

namespace slipway::rules {

namespace {

constexpr std::int64_t kMsInS = 1000;

bool uses(const std::string& exercise, std::uint32_t joints) {
  const model::Rung* rung = model::find_rung(exercise);
  return rung && (rung->joints & joints) != 0;
}

const PlanLine* line_of(const SessionSituation& situation, const std::string& exercise) {
  for (const PlanLine& line : situation.lines)
    if (line.standing.exercise == exercise) return &line;
  return nullptr;
}

}  // namespace

PainAnswer pain_at_set(const SessionSituation& situation, const std::string& exercise, std::uint32_t amount, std::uint32_t joints,
                       const std::string& region) {
  PainAnswer out;
  const model::Rung* rung = model::find_rung(exercise);
  if (!rung || amount == 0) return out;
  if (joints == 0) joints = region_joints(region);
  if (joints == 0) joints = rung->joints;
  const std::vector<Argument> args{number("amount", amount), word("region", region), word("exercise", exercise)};
  if (amount < kPainSwap) {
    out.reason = reason("R03", args);
    return out;
  }
  out.crossed_out.push_back(exercise);
  if (amount >= kPainStop) {  // everything with that joint
    out.what = PainAnswer::What::stop_joints;
    out.reason = reason("R01", args);
    for (const PlanLine& line : situation.lines)
      if (line.standing.exercise != exercise && uses(line.standing.exercise, joints)) out.crossed_out.push_back(line.standing.exercise);
    std::sort(out.crossed_out.begin() + 1, out.crossed_out.end());
    return out;
  }
  out.what = PainAnswer::What::swap;
  const Record record = read_record(situation);
  Body body;
  body.region = region;
  body.joints = joints;
  out.substitute = substitute_for(record, *rung, body).value_or("");
  const model::Rung* substitute = model::find_rung(out.substitute);
  if (substitute && is_youth(situation.athlete) && !situation.adult_ticked_in && !substitute->on_floor_list) out.substitute.clear();
  out.reason = reason("R02", args);
  out.reason.args.push_back(word("substitute", out.substitute));
  return out;
}

std::optional<Dose> offer_after_first_set(const SessionSituation& situation, const Dose& dose, const SetFact& first) {
  const model::Rung* rung = model::find_rung(dose.exercise);
  if (!rung || (!first.form_broke && first.reps + 1 >= dose.lo)) return {};
  Dose offer = dose;
  if (goes_by_load(*rung) && dose.load_g)
    if (const auto load = exercise_cut(*rung, *dose.load_g, 10, situation)) {
      offer.load_g = load;
      if (*load > 0) return offer;
      offer.load_g.reset();
      offer.exercise = "VP6";
      return offer;
    }
  const auto place = easier_place({dose.exercise, dose.band}, situation);
  if (!place) return {};
  StandingDose from;
  from.exercise = dose.exercise;
  from.load_g = dose.load_g;
  from.sets = std::max(1U, dose.sets());
  from.lo = dose.lo;
  from.hi = dose.hi;
  from.grip = dose.grip;
  const Record record = read_record(situation);
  const auto easier = on_rung(record, *place, from, dose.load_g);
  if (!easier) return {};
  offer.exercise = easier->exercise;
  offer.load_g = easier->load_g;
  offer.band = easier->band;
  offer.first_set_band.clear();
  offer.lo = easier->lo;
  offer.hi = easier->hi;
  offer.tempo = {};
  for (SetTarget& target : offer.targets) target = {easier->lo, easier->lo};
  return offer;
}

std::optional<std::int64_t> next_load_in_session(const SessionSituation& situation, const ExerciseDecision& decision, const SetFact& done) {
  if (is_youth(situation.athlete) || (decision.row.row != "R21" && decision.row.row != "R27") || decision.passing) return {};
  const model::Rung* rung = model::find_rung(decision.dose.exercise);
  const PlanLine* line = line_of(situation, decision.line);
  if (!rung || !line || !rung->loaded || rung->id == "VP4m" || done.form_broke || done.rir_halves.value_or(0) < kRirMostHalves) return {};
  const std::int64_t load = done.load_g.value_or(decision.dose.load_g.value_or(0));
  for (std::int64_t g : available_loads(*rung, situation.kit).value_or(std::vector<std::int64_t>{}))
    if (g > load) return g;
  return {};
}

std::uint32_t rest_to_show(std::uint32_t written_rest_s, std::uint32_t least_rest_s, std::optional<std::int64_t> own_last_set_ms,
                           std::int64_t now_ms) {
  if (!own_last_set_ms || now_ms < *own_last_set_ms) return written_rest_s;
  const std::int64_t gone = (now_ms - *own_last_set_ms) / kMsInS;
  const std::int64_t missing = std::int64_t{least_rest_s} - gone;
  return std::max(written_rest_s, static_cast<std::uint32_t>(std::max<std::int64_t>(0, missing)));
}

}  // namespace slipway::rules
