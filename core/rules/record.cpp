#include "rules/record.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

auto order_of(const SessionFact& session) {
  return std::tie(session.day.since_1970, session.start_ms, session.order_key, session.id);
}

// Rows whose dose is always a passing one [6.1].
constexpr std::string_view kPassingRows[] = {"R02", "R05", "R06", "R07", "R10", "R23", "R25"};

struct Sides {
  std::optional<WorkSet> both, left, right;
};

WorkSet lower_side(const WorkSet& left, const WorkSet& right) {
  WorkSet lower = left.reps <= right.reps ? left : right;
  lower.form_broke = left.form_broke || right.form_broke;
  if (left.rir_halves && right.rir_halves) lower.rir_halves = std::min(*left.rir_halves, *right.rir_halves);
  if (left.load_g && right.load_g) lower.load_g = std::min(*left.load_g, *right.load_g);
  if (left.at_ms && right.at_ms) lower.at_ms = std::max(*left.at_ms, *right.at_ms);
  return lower;
}

WorkSet plain(const SetFact& set) {
  std::optional<std::uint32_t> reserve = set.rir_halves;
  if (reserve) reserve = std::min(*reserve, kRirMostHalves);
  return {set.reps, set.load_g, reserve, set.form_broke, set.at_ms};
}

}  // namespace

std::int32_t days_between(Day from, Day to) { return to.since_1970 - from.since_1970; }

Record read_record(const SessionSituation& situation) {
  Record record;
  record.situation = &situation;
  for (std::uint32_t i = 0; i < situation.history.size(); ++i) {
    const SessionFact& session = situation.history[i];
    if (session.open) continue;
    const bool after = situation.today < session.day;
    if (after || (situation.first_day && session.day < *situation.first_day))
      record.flagged.push_back({i, after});
    else
      record.order.push_back(i);
  }
  const auto earlier = [&](std::uint32_t a, std::uint32_t b) { return order_of(situation.history[a]) < order_of(situation.history[b]); };
  std::sort(record.order.begin(), record.order.end(), earlier);
  std::sort(record.flagged.begin(), record.flagged.end(),
            [&](const FlaggedSession& a, const FlaggedSession& b) { return earlier(a.index, b.index); });
  return record;
}

// Sets by their number; the sides of one number are one set, done when both sides are there.
std::vector<WorkSet> work_sets(const ExerciseDone& done) {
  std::map<std::uint32_t, Sides> sets;
  std::uint32_t both = 0, left = 0, right = 0;
  for (const SetFact& set : done.sets) {
    if (set.warm_up) continue;
    std::uint32_t& position = set.side == Side::left ? left : set.side == Side::right ? right : both;
    Sides& sides = sets[set.number ? set.number : ++position];
    std::optional<WorkSet>& slot = set.side == Side::left ? sides.left : set.side == Side::right ? sides.right : sides.both;
    if (!slot) slot = plain(set);  // a second one of the same number is a contradiction, never added up [6.7]
  }
  std::vector<WorkSet> out;
  for (const auto& [number, sides] : sets) {
    if (sides.both) out.push_back(*sides.both);
    else if (sides.left && sides.right) out.push_back(lower_side(*sides.left, *sides.right));
  }
  return out;
}

bool completed(const ExerciseDone& done) {
  return std::any_of(done.sets.begin(), done.sets.end(), [](const SetFact& set) { return !set.warm_up; });
}

bool has_row(const ExerciseDone& done, std::string_view row) {
  return done.written && std::find(done.written->rows.begin(), done.written->rows.end(), row) != done.written->rows.end();
}

bool is_passing(const ExerciseDone& done) {
  if (!done.written) return false;
  if (done.written->passing) return true;
  for (std::string_view row : kPassingRows)
    if (has_row(done, row)) return true;
  return has_row(done, "R24") && done.written->ramp_step && *done.written->ramp_step != RampStep::d;
}

bool was_held(const ExerciseDone& done) {
  constexpr std::string_view kHold[] = {"M03", "6.4a", "G08", "G09", "G11"};
  return is_passing(done) || std::any_of(std::begin(kHold), std::end(kHold), [&](std::string_view row) { return has_row(done, row); });
}

bool loaded_alone(const SessionFact& session, const Athlete& athlete) {
  if (!is_youth(athlete) || session.adult_ticked_in || session.ticked_in_afterwards) return false;
  for (const ExerciseDone& done : session.exercises) {
    const model::Rung* rung = model::find_rung(done.exercise);
    if (rung && rung->loaded && completed(done)) return true;
    for (const SetFact& set : done.sets)
      if (!set.warm_up && set.load_g.value_or(0) > 0) return true;
  }
  return false;
}

bool harder_on_line(const std::string& exercise, const std::string& than) {
  const model::Rung* rung = model::find_rung(than);
  for (int walked = 0; rung && !rung->next.empty() && walked < 20; ++walked) {
    if (rung->next == exercise) return true;
    rung = model::find_rung(rung->next);
  }
  return than == "VP6" ? exercise == "VP8" : than == "PU4" && exercise == "PU8";  // beside the line, above it [5]
}

namespace {

// Lower end of the phase's reserve [5.4].
std::uint32_t phase_reserve(PhaseKind kind) {
  if (kind == PhaseKind::learn) return 4;
  return kind == PhaseKind::power ? 3 : 2;
}

}  // namespace

std::uint32_t reserve_target(const StandingDose& standing, const SessionSituation& situation) {
  const model::Rung* rung = model::find_rung(standing.exercise);
  std::uint32_t target = standing.tgt_rir;
  if (is_masters(situation.athlete)) target = std::max(target, phase_reserve(situation.phase.kind) + 1);
  if (is_youth(situation.athlete)) target = std::max(target, 1U);  // no sets to failure [5.7]
  if (rung && rung->pattern == model::Pattern::shoulder_care) target = std::max(target, kReserveShoulderCare);
  return std::min(target, kReserveMost);
}

// ---- gaps --------------------------------------------------------------------------------------------

namespace {


bool activation(const ExerciseDone& done) { return has_row(done, "G05"); }

// Passing doses count as completed, also on an easier rung; ACTIVATE, substitutes and floor versions do not. Nor does what a
// kit without the load made of it: weeks on body weight keep up the pattern (they bridge a gap), not the load. The safer reading.
bool keeps_in_touch(const ExerciseDone& done, const std::string& exercise, std::optional<std::int64_t> load_g) {
  if (!completed(done) || activation(done)) return false;
  const bool other = done.written && !done.written->stands_for.empty() && done.written->stands_for != done.exercise;
  if (has_row(done, "R02") || (other && has_row(done, "6.1")) || (has_row(done, "G11") && (other || is_passing(done)))) return false;
  if (done.exercise == exercise || (other && done.written->stands_for == exercise)) return true;
  if (!harder_on_line(done.exercise, exercise)) return false;
  const model::Rung* rung = model::find_rung(done.exercise);
  if (!load_g || !rung || !rung->loaded || done.exercise == "VP8" || done.exercise == "PU8") return true;
  for (const SetFact& set : done.sets)
    if (!set.warm_up && set.load_g.value_or(done.written ? done.written->standing.load_g.value_or(0) : 0) >= *load_g) return true;
  return false;
}

bool session_trains(const SessionFact& session, model::Pattern pattern) {
  for (const ExerciseDone& done : session.exercises) {
    const model::Rung* rung = model::find_rung(done.exercise);
    if (rung && rung->pattern == pattern && completed(done) && !activation(done)) return true;
  }
  return false;
}

bool session_keeps(const SessionFact& session, const std::string& exercise, std::optional<std::int64_t> load_g) {
  return std::any_of(session.exercises.begin(), session.exercises.end(),
                     [&](const ExerciseDone& done) { return keeps_in_touch(done, exercise, load_g); });
}

std::uint32_t class_of(std::int32_t gap) {
  std::uint32_t found = 0;
  for (std::int32_t border : {kGapClass1, kGapClass2, kGapClass3, kGapClass4, kGapClass5})
    if (gap >= border) ++found;
  return found;
}

struct Stretch {
  Day from, to;
};

// Since then the pattern was trained otherwise in at least floor(gap / 7) sessions, and lately.
bool bridged(const Record& record, model::Pattern pattern, Stretch stretch) {
  const std::int32_t gap = days_between(stretch.from, stretch.to);
  std::int32_t sessions = 0;
  std::optional<Day> newest;
  for (std::uint32_t index : record.order) {
    const SessionFact& session = record.session(index);
    if (!(stretch.from < session.day) || stretch.to < session.day || !session_trains(session, pattern)) continue;
    ++sessions;
    newest = session.day;
  }
  return newest && sessions >= gap / kBridgeDaysASession && days_between(*newest, stretch.to) <= kBridgePgapMost;
}

}  // namespace

std::optional<std::int32_t> pattern_gap(const Record& record, model::Pattern pattern, Day on) {
  for (auto it = record.order.rbegin(); it != record.order.rend(); ++it)
    if (session_trains(record.session(*it), pattern)) return days_between(record.session(*it).day, on);
  return {};
}

Gap gap_of(const Record& record, const StandingDose& standing, Day on) {
  Gap out;
  const model::Rung* rung = model::find_rung(standing.exercise);
  if (!rung) return out;
  out.pgap = pattern_gap(record, rung->pattern, on);
  for (auto it = record.order.rbegin(); it != record.order.rend() && !out.gap; ++it)
    if (session_keeps(record.session(*it), standing.exercise, standing.load_g)) {
      const Day last = record.session(*it).day;
      out.gap = days_between(last, on);
      out.gap_class = class_of(*out.gap);
      out.bridged = out.gap_class > 0 && bridged(record, rung->pattern, {last, on});
    }
  if (out.bridged) --out.gap_class;
  return out;
}

bool long_break_since(const Record& record, const std::string& exercise, Day since, Day on) {
  const model::Rung* rung = model::find_rung(exercise);
  if (!rung) return false;
  std::vector<Day> days;
  for (std::uint32_t index : record.order)
    if (session_keeps(record.session(index), exercise, {})) days.push_back(record.session(index).day);
  days.push_back(on);
  for (std::size_t i = 1; i < days.size(); ++i) {
    if (!(since < days[i])) continue;
    std::uint32_t found = class_of(days_between(days[i - 1], days[i]));
    if (found > 0 && bridged(record, rung->pattern, {days[i - 1], days[i]})) --found;
    if (found >= 4) return true;
  }
  return false;
}

}  // namespace slipway::rules
