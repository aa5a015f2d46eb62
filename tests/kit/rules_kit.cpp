#include "kit/rules_kit.h"

#include <algorithm>

namespace slipway::kit {

using namespace rules;

namespace {

constexpr std::int64_t kDayMs = 86'400'000, kEveningMs = 18 * 3'600'000;

SetFact set_of(std::uint32_t reps, std::optional<std::int64_t> load_g) {
  SetFact set;
  set.reps = reps;
  set.load_g = load_g;
  return set;
}

}  // namespace

model::Day day(std::int32_t days_ago) { return {kToday - days_ago}; }

std::vector<std::int64_t> loads(std::int64_t from_g, std::int64_t to_g, std::int64_t by_g) {
  std::vector<std::int64_t> out;
  for (std::int64_t g = from_g; g <= to_g; g += by_g) out.push_back(g);
  return out;
}

std::vector<std::int64_t> bells() {
  std::vector<std::int64_t> out;
  for (std::int64_t weight : {4, 6, 8, 10, 12, 14, 16, 18, 20, 24, 28, 32}) out.push_back(weight * kg);
  return out;
}

SessionSituation adult() {
  SessionSituation s;
  s.today = day(0);
  s.now_ms = kToday * kDayMs + kEveningMs;
  s.athlete.age_low = 30;
  s.athlete.age_high = 31;
  s.adult_ticked_in = true;
  return s;
}

SessionSituation youth(std::int32_t age, std::int64_t body_mass_g) {
  SessionSituation s = adult();
  s.athlete.age_low = age;
  s.athlete.age_high = age + 1;
  if (body_mass_g > 0) weighs(s, body_mass_g);
  return s;
}

void weighs(SessionSituation& s, std::int64_t g) { s.athlete.body_masses.push_back({day(5), g, false}); }

void signed_off(SessionSituation& s, const std::string& exercise, SignOffLevel level, std::int32_t days_ago) {
  SignOff fact;
  fact.id = "sign" + std::to_string(s.sign_offs.size());
  fact.exercise = exercise;
  fact.level = level;
  fact.day = day(days_ago);
  s.sign_offs.push_back(fact);
}

StandingDose dose(const std::string& exercise, std::optional<std::int64_t> load_g, std::uint32_t sets, std::uint32_t lo, std::uint32_t hi,
                  std::uint32_t tgt) {
  StandingDose out;
  out.exercise = exercise;
  out.load_g = load_g;
  out.sets = sets;
  out.lo = lo;
  out.hi = hi;
  out.tgt_rir = tgt;
  return out;
}

PlanLine& plan(SessionSituation& s, const StandingDose& standing) {
  PlanLine line;
  line.standing = standing;
  s.lines.push_back(line);
  return s.lines.back();
}

SessionFact& did(SessionSituation& s, std::int32_t days_ago, std::vector<std::uint32_t> reps, Rir rir) {
  const StandingDose& standing = s.lines.back().standing;
  return did_other(s, days_ago, standing.exercise, standing.load_g, std::move(reps), rir);
}

SessionFact& did_other(SessionSituation& s, std::int32_t days_ago, const std::string& exercise, std::optional<std::int64_t> load_g,
                       std::vector<std::uint32_t> reps, Rir rir) {
  SessionFact session;
  session.day = day(days_ago);
  session.start_ms = session.day.since_1970 * kDayMs + kEveningMs;
  session.order_key = session.id = "session" + std::to_string(1000 + s.history.size());
  session.pain_answered = true;
  ExerciseDone done;
  done.exercise = exercise;
  for (std::uint32_t r : reps) done.sets.push_back(set_of(r, load_g));
  if (rir && !done.sets.empty()) done.sets.back().rir_halves = 2 * *rir;
  session.exercises.push_back(done);
  s.history.push_back(session);
  return s.history.back();
}

SessionFact& did_by(SessionSituation& s, std::int32_t days_ago, const std::string& row, std::optional<std::int64_t> load_g,
                    std::vector<std::uint32_t> reps) {
  SessionFact& session = did(s, days_ago, std::move(reps), 4);
  for (SetFact& set : first(session).sets) set.load_g = load_g;
  Written written;
  written.standing = s.lines.back().standing;
  written.rows = {"G13", row};
  written.passing = true;
  first(session).written = written;
  return session;
}

ExerciseDone& first(SessionFact& session) { return session.exercises.front(); }

PainReport& hurt(SessionSituation& s, std::int32_t days_ago, std::uint32_t amount, std::optional<bool> settled) {
  PainReport report;
  report.id = "pain" + std::to_string(s.pains.size());
  report.day = day(days_ago);
  report.at_ms = report.day.since_1970 * kDayMs + kEveningMs;
  report.exercise = s.lines.back().standing.exercise;
  report.amount = amount;
  report.settled = settled;
  for (const SessionFact& session : s.history)
    if (session.day == report.day) report.session_id = session.id;
  s.pains.push_back(report);
  return s.pains.back();
}

void sore(SessionSituation& s, model::Pattern pattern, std::int32_t days_in_a_row, std::uint32_t today) {
  for (std::int32_t ago = 0; ago < days_in_a_row; ++ago) s.soreness.push_back({day(ago), pattern, ago == 0 ? today : 2});
}

ExerciseDecision decided(const SessionSituation& s) {
  const SessionDecision session = decide(s);
  return session.exercises.empty() ? ExerciseDecision{} : session.exercises.front();
}

std::string row(const SessionSituation& s) { return decided(s).row.row; }

std::vector<std::uint32_t> reps_of(const Dose& given) {
  std::vector<std::uint32_t> out;
  for (const SetTarget& target : given.targets) out.push_back(target.reps);
  return out;
}

bool has_modifier(const ExerciseDecision& decision, const std::string& wanted) {
  return std::any_of(decision.modifiers.begin(), decision.modifiers.end(), [&](const Reason& reason) { return reason.row == wanted; });
}

bool asks(const ExerciseDecision& decision, Ask ask) {
  return std::find(decision.asks.begin(), decision.asks.end(), ask) != decision.asks.end();
}

bool tells_coach(const ExerciseDecision& decision, const std::string& wanted) {
  return std::any_of(decision.coach_rows.begin(), decision.coach_rows.end(), [&](const Reason& reason) { return reason.row == wanted; });
}

SessionFact& carry_out(SessionSituation& s, std::int32_t days_ago, const SessionDecision& session, std::vector<std::uint32_t> reps, Rir rir) {
  const ExerciseDecision& decision = session.exercises.front();
  SessionFact& fact = did_other(s, days_ago, decision.dose.exercise, decision.dose.load_g, std::move(reps), rir);
  first(fact).written = written_from(session, decision);
  return fact;
}

}  // namespace slipway::kit
