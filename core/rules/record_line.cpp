// One plan line's past: what counted, hits and misses, the ramp (handbook 6.1).
#include <algorithm>

#include "rules/body.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/record.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

// RIR is not asked and not needed of holds; under 14 the adult's eye takes its place [1.4].
bool reserve_is_asked(const model::Rung& rung, const Athlete& athlete) {
  return !rung.is_hold() && limit_age(athlete) >= static_cast<std::int32_t>(kNoRirUnderAge);
}

bool spread_out(const std::vector<WorkSet>& sets) {
  for (std::size_t i = 1; i < sets.size(); ++i)
    if (sets[i].at_ms && sets[i - 1].at_ms && *sets[i].at_ms - *sets[i - 1].at_ms > kSpreadMs) return true;
  return false;
}

// M10: reserve and reps contradict each other.
bool contradicts(const std::vector<WorkSet>& sets, std::uint32_t lo, std::optional<std::uint32_t> reserve) {
  if (!reserve || *reserve < kReserveTooGoodHalves) return false;
  for (const WorkSet& set : sets)
    if (set.reps < lo) return true;
  return sets.size() > 1 && sets.front().load_g == sets.back().load_g && sets.back().reps + kRepsFallen <= sets.front().reps;
}

struct Judged {
  const SessionSituation& situation;
  const SessionFact& session;
  const ExerciseDone& done;
  const model::Rung& rung;
  const StandingDose& dose;      // the one it was done under
  std::vector<WorkSet> sets;     // the first S
};

std::optional<std::int64_t> one_heavier_load(const Judged& judged) {
  if (!judged.dose.load_g || judged.sets.empty() || judged.sets.size() < judged.dose.sets) return {};
  const auto chosen = judged.sets.front().load_g;
  const bool assists = judged.rung.id == "VP4m";
  if (!chosen || *chosen == *judged.dose.load_g || (*chosen > *judged.dose.load_g) == assists) return {};
  for (const WorkSet& set : judged.sets)
    if (set.load_g != chosen || set.reps < judged.dose.lo) return {};
  if (!load_is_here(judged.rung, *chosen, judged.situation.kit)) return {};
  if (worst_pain_at(judged.situation, judged.session, judged.rung) > 0) return {};
  return chosen;
}

bool lighter_than_written(const Judged& judged) {
  if (!judged.dose.load_g) return false;
  const bool assists = judged.rung.id == "VP4m";
  for (const WorkSet& set : judged.sets)
    if (set.load_g && (assists ? *set.load_g > *judged.dose.load_g : *set.load_g < *judged.dose.load_g)) return true;
  return false;
}

bool same_terms(const Judged& judged, const Outcome& outcome) {
  if (!judged.done.grip.empty() && !judged.dose.grip.empty() && judged.done.grip != judged.dose.grip) return false;
  if (!judged.done.band.empty() && !judged.dose.band.empty() && judged.done.band != judged.dose.band) return false;
  return !outcome.lighter && !outcome.spread_apart;
}

void judge_reserve(const Judged& judged, Outcome& out) {
  if (judged.sets.empty() || !reserve_is_asked(judged.rung, judged.situation.athlete)) return;
  out.reserve_written = judged.sets.back().rir_halves;
  out.reserve_aside = contradicts(judged.sets, judged.dose.lo, out.reserve_written);
  if (!out.reserve_aside) out.reserve_halves = out.reserve_written;
  out.every_reserve_four = out.reserve_halves == kRirMostHalves;
  for (const WorkSet& set : judged.sets)
    if (set.rir_halves && *set.rir_halves < kRirMostHalves) out.every_reserve_four = false;
}

bool reserve_shown(const Judged& judged, const Outcome& out) {
  if (judged.rung.is_hold()) return true;
  const std::uint32_t target = reserve_target(judged.dose, judged.situation);
  if (out.reserve_halves) return *out.reserve_halves >= 2 * target;
  if (judged.done.two_more && !reserve_is_asked(judged.rung, judged.situation.athlete)) return true;
  return judged.sets.back().reps >= judged.dose.hi + kRepsOverForReserve;
}

// First set below lo - 1, or form broken in it: a miss, whether the offer of an easier rest was taken or not [6.7].
bool poor_first_set(const Judged& judged) {
  if (judged.sets.empty() || !judged.dose.first_set_band.empty()) return false;
  return judged.sets.front().form_broke || judged.sets.front().reps + 1 < judged.dose.lo;
}

Outcome judge(const Judged& judged) {
  Outcome out;
  const std::size_t written = judged.dose.sets;
  bool all_top = true, below = false, broke = false;
  for (std::size_t i = 0; i < judged.sets.size(); ++i) {
    const WorkSet& set = judged.sets[i];
    out.reps.push_back(set.reps);
    broke = broke || set.form_broke;
    if (i == 0 && !judged.dose.first_set_band.empty()) continue;  // the thinner band is being tried [6.4a]
    all_top = all_top && set.reps >= judged.dose.hi;
    below = below || set.reps < judged.dose.lo;
  }
  const bool too_few = judged.sets.size() < written;
  judge_reserve(judged, out);
  out.lighter = lighter_than_written(judged);
  out.spread_apart = judged.dose.format != Format::spread && spread_out(judged.sets);
  out.cut_short = too_few && !below && judged.done.short_reason != ShortReason::too_hard;
  out.miss = below || (too_few && judged.done.short_reason == ShortReason::too_hard);
  if (poor_first_set(judged)) {
    out.miss = true;
    out.lighter = out.cut_short = false;
  }
  const bool top = !too_few && !judged.sets.empty() && all_top && !out.miss;
  out.hit = top && !broke && reserve_shown(judged, out);
  out.near_top = top && !out.hit;
  out.self_chosen_g = one_heavier_load(judged);
  out.counted = !judged.sets.empty() && !out.cut_short && !judged.done.test && !judged.session.left_out &&
                !loaded_alone(judged.session, judged.situation.athlete) && same_terms(judged, out);
  return out;
}

// START and R27 in adults: the heaviest load done for >= lo with >= tgt left.
std::optional<std::int64_t> gone_up_to(const Judged& judged) {
  if (!judged.dose.load_g || is_youth(judged.situation.athlete)) return {};
  if (!has_row(judged.done, "R21") && !has_row(judged.done, "R27")) return {};
  std::int64_t best = *judged.dose.load_g;
  const std::uint32_t target = reserve_target(judged.dose, judged.situation);
  for (const WorkSet& set : judged.sets)
    if (set.load_g && *set.load_g > best && set.reps >= judged.dose.lo && !set.form_broke && set.rir_halves &&
        *set.rir_halves >= 2 * target)
      best = *set.load_g;
  if (best == *judged.dose.load_g || judged.rung.id == "VP4m") return {};
  return best;
}

StandingDose done_under(const ExerciseDone& done, const StandingDose& present) {
  if (done.written && !is_passing(done) && !done.written->standing.exercise.empty()) return done.written->standing;
  if (done.written && !done.written->standing.exercise.empty() && done.written->stands_for.empty()) return done.written->standing;
  return present;
}

Entry make_entry(const Record& record, std::uint32_t index, const ExerciseDone& done, const StandingDose& present) {
  const SessionFact& session = record.session(index);
  Entry entry;
  entry.session = index;
  entry.done = &done;
  entry.day = session.day;
  entry.passing = is_passing(done);
  entry.same_exercise = done.exercise == present.exercise;
  entry.effective = done_under(done, present);
  const model::Rung* rung = model::find_rung(done.exercise);
  auto sets = work_sets(done);
  if (sets.size() > entry.effective.sets && entry.effective.sets > 0) sets.resize(entry.effective.sets);
  const Judged judged{*record.situation, session, done, *rung, entry.effective, std::move(sets)};
  entry.outcome = judge(judged);
  if (entry.passing) return entry;
  if (const auto load = gone_up_to(judged)) entry.effective.load_g = load;
  else if (entry.outcome.self_chosen_g && entry.outcome.counted && !is_youth(record.situation->athlete))
    entry.effective.load_g = entry.outcome.self_chosen_g;
  return entry;
}

bool belongs(const ExerciseDone& done, const std::string& exercise) {
  if (!completed(done) || !model::find_rung(done.exercise)) return false;
  if (done.exercise == exercise) return true;
  return done.written && done.written->stands_for == exercise && !has_row(done, "6.1");  // what a poorer kit made of it is no step of it
}

RampStep next_step(RampStep step) { return step == RampStep::d ? RampStep::d : static_cast<RampStep>(static_cast<int>(step) + 1); }

std::optional<RampStep> step_of(const ExerciseDone& done, const Ramp& before) {
  for (const auto& [row, step] : {std::pair{"R05", RampStep::a}, {"R06", RampStep::b}, {"R23", RampStep::b}, {"R07", RampStep::c}})
    if (has_row(done, row)) return done.written->ramp_step ? done.written->ramp_step : std::optional(step);
  if (!has_row(done, "R24")) return {};
  return done.written->ramp_step ? done.written->ramp_step : std::optional(before.due);
}

// A step is missed below the reps it asks for: lo; without a load, in step c, 2 fewer [6.1].
bool step_missed(const Entry& entry, RampStep step, const StandingDose& standing) {
  const model::Rung* rung = model::find_rung(entry.done->exercise);
  std::uint32_t least = standing.lo;
  if (step == RampStep::c && rung && !rung->loaded) least = least > kRepsFewer ? least - kRepsFewer : 1;
  if (!entry.same_exercise && rung) least = std::min(least, rung->lo);
  if (entry.done->short_reason == ShortReason::too_hard) return true;
  return std::any_of(entry.outcome.reps.begin(), entry.outcome.reps.end(), [&](std::uint32_t r) { return r < least; });
}

Ramp read_ramp(const LineRecord& line, const StandingDose& standing) {
  Ramp ramp;
  for (auto entry = line.entries.rbegin(); entry != line.entries.rend(); ++entry) {
    const auto step = step_of(*entry->done, ramp);
    if (!step) {  // the standing dose done once ends it, by whatever row
      if (!entry->passing && entry->outcome.counted) ramp = {};
      continue;
    }
    ramp.open = true;
    if (entry->done->written->cut_by_gate) {
      ramp.due = *step;
      continue;
    }
    ramp.last_was_miss = step_missed(*entry, *step, standing);
    ramp.done = step;
    ramp.due = next_step(*step);
    if (*step == RampStep::d) ramp = {};
  }
  return ramp;
}

bool resets(const Entry& entry) {
  for (std::string_view row : {"R05", "R06", "R07", "R10", "R23"})
    if (has_row(*entry.done, row)) return true;
  return false;
}

void count(LineRecord& line, const StandingDose& standing, std::optional<Day> since) {
  bool running = true, seen = false, hits = true;
  for (const Entry& entry : line.entries) {
    if (since && entry.day < *since) return;
    if (entry.passing) {
      if (resets(entry)) running = false;
      continue;
    }
    if (!entry.same_exercise || !(entry.effective == standing)) return;
    if (!entry.outcome.counted) continue;
    line.counted.push_back(&entry);
    const bool chosen = entry.outcome.self_chosen_g && entry.outcome.self_chosen_g == standing.load_g;
    const bool hit = entry.outcome.hit, miss = entry.outcome.miss;
    if (chosen || (!hit && !miss) || (seen && hit != hits)) running = false;
    if (!running) continue;
    seen = true;
    hits = hit;
    ++(hit ? line.hits : line.misses);
  }
}

}  // namespace

LineRecord read_line(const Record& record, const StandingDose& standing, std::optional<Day> since) {
  LineRecord line;
  for (auto it = record.order.rbegin(); it != record.order.rend(); ++it)
    for (const ExerciseDone& done : record.session(*it).exercises)
      if (belongs(done, standing.exercise)) line.entries.push_back(make_entry(record, *it, done, standing));
  line.ever_done = std::any_of(line.entries.begin(), line.entries.end(), [](const Entry& entry) { return entry.same_exercise; });
  line.last_by_r08 = !line.entries.empty() && has_row(*line.entries.front().done, "R08");
  line.ramp = read_ramp(line, standing);
  count(line, standing, since);
  return line;
}

StandingDose with_chosen_load(const Record& record, const StandingDose& standing, std::optional<Day> since) {
  for (auto it = record.order.rbegin(); it != record.order.rend(); ++it) {
    const SessionFact& session = record.session(*it);
    if (since && session.day < *since) break;
    for (const ExerciseDone& done : session.exercises) {
      if (done.exercise != standing.exercise || !completed(done) || is_passing(done) || done.test) continue;
      StandingDose under = done_under(done, standing);
      const Entry entry = make_entry(record, *it, done, standing);
      return under == standing ? entry.effective : standing;
    }
  }
  return standing;
}

}  // namespace slipway::rules
