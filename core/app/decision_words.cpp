#include "app/decision_words.h"

#include <algorithm>

#include "app/desk.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

bool is_due(const model::Athlete& athlete, model::Day day) {
  return athlete.training_days.size() != 7 || athlete.training_days[weekday_of(day)];
}

std::string reps_of(const rules::Dose& dose) {
  std::string out;
  std::uint32_t last = 0;
  for (const rules::SetTarget& target : dose.targets) {
    if (out.empty() || target.reps != last) out += (out.empty() ? "" : ", ") + number(target.reps);
    last = target.reps;
  }
  return out;
}

// One entry behind a decision, or nothing.
std::string evidence_words(const DayPlan& plan, const rules::Evidence& evidence, const std::string& exercise, model::Day today) {
  const rules::SessionSituation& all = plan.situation;
  if (evidence.of == rules::EvidenceOf::session && evidence.index < all.history.size()) {
    const rules::SessionFact& session = all.history[evidence.index];
    for (const rules::ExerciseDone& done : session.exercises) {
      if (done.exercise != exercise) continue;
      std::string sets;
      for (const rules::SetFact& set : done.sets) sets += (sets.empty() ? "" : ", ") + number(set.reps);
      return say("swimmer.why_session", {day_words(session.day, today), movement_name(done.exercise), sets});
    }
    return say("swimmer.why_day", {day_words(session.day, today)});
  }
  if (evidence.of == rules::EvidenceOf::pain && evidence.index < all.pains.size()) {
    const rules::PainReport& pain = all.pains[evidence.index];
    return say("swimmer.why_pain", {day_words(pain.day, today), pain.region.empty() ? say("swimmer.somewhere") : report::part_word(pain.region, pain.joints), number(pain.amount)});
  }
  if (evidence.of == rules::EvidenceOf::soreness && evidence.index < all.soreness.size())
    return say("swimmer.why_sore", {day_words(all.soreness[evidence.index].day, today), number(all.soreness[evidence.index].level)});
  if (evidence.of == rules::EvidenceOf::red_flag && evidence.index < all.red_flags.size())
    return say("swimmer.why_flag", {day_words(all.red_flags[evidence.index].day, today), flag_words(all.red_flags[evidence.index].word)});
  return {};
}

}  // namespace

DayPlan coming_plan(const model::Athlete& athlete, const DayAsked& asked) {
  const model::Session* session = model::session_on(athlete, asked.today);
  const bool open = session != nullptr && session->finish.empty();
  if (!open && (session != nullptr || !is_due(athlete, asked.today)))
    if (auto next = plan_after(athlete, asked)) return std::move(*next);
  return plan_day(athlete, asked);
}

std::string dose_words(const model::Athlete& athlete, const rules::Dose& dose) {
  const model::Rung* rung = model::find_rung(dose.exercise);
  const std::string reps = rung != nullptr && rung->is_hold() ? say("desk.seconds", {reps_of(dose)}) : reps_of(dose);
  const std::string count = say("swimmer.sets_of", {number(dose.sets()), reps});
  if (dose.load_g) return say("dose.load", {count, model::to_text(load_as_here(athlete, *dose.load_g))});
  return dose.band.empty() ? count : say("dose.load", {count, say("desk.band", {dose.band})});
}

std::vector<std::string> entries_behind(const DayPlan& plan, const rules::Reason& reason, const std::string& exercise, model::Day today) {
  std::vector<std::string> why;
  for (const rules::Evidence& evidence : reason.evidence)
    if (std::string words = evidence_words(plan, evidence, exercise, today); !words.empty() && std::find(why.begin(), why.end(), words) == why.end())
      why.push_back(std::move(words));
  return why;
}

report::Speaking speaking_of(const model::Athlete& athlete) {
  report::Speaking out;
  out.load = [&athlete](std::int64_t load_g) { return model::to_text(load_as_here(athlete, load_g)); };
  return out;
}

}  // namespace slipway::app
