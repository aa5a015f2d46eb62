#include "app/decision_words.h"

#include <algorithm>

#include "app/day_plan.h"
#include "app/desk.h"
#include "app/situation.h"
#include "app/sides.h"
#include "report/words.h"
#include "rules/decide.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

bool is_due(const model::Athlete& athlete, model::Day day) {
  return athlete.training_days.size() != 7 || athlete.training_days[weekday_of(day)];
}

std::string reps_of(const rules::Dose& dose) {
  std::string out;
  const rules::SetTarget* last = nullptr;
  for (const rules::SetTarget& target : dose.targets) {
    if (last == nullptr || !(target == *last))
      out += (out.empty() ? "" : ", ") + (target.up_to > target.reps ? say("dose.range", {number(target.reps), number(target.up_to)}) : number(target.reps));
    last = &target;
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
  std::string words = with_side(say("swimmer.sets_of", {number(dose.sets()), reps}), rung != nullptr && rung->one_sided ? say("dose.each_side") : "");
  if (dose.load_g) words = say("dose.load", {words, model::to_text(load_as_here(athlete, *dose.load_g))});
  else if (!dose.band.empty()) words = say("dose.load", {words, say("desk.band", {dose.band})});
  if (!dose.first_set_band.empty()) words = say("dose.first_band", {words, dose.first_set_band});
  const std::string tempo = tempo_words(dose);
  return tempo.empty() ? words : say("dose.and", {words, tempo});
}

std::string tempo_words(const rules::Dose& dose) {
  const model::Rung* rung = model::find_rung(dose.exercise);
  if (rung == nullptr || dose.tempo.usual()) return {};
  const rules::Tempo usual = rules::standard_tempo(rung->pattern);
  std::string out;
  const auto add = [&out](std::uint32_t seconds, std::uint32_t usually, const char* text_id) {
    if (seconds == usually) return;
    const std::string words = say(text_id, {number(seconds)});
    out = out.empty() ? words : say("dose.and", {out, words});
  };
  add(dose.tempo.down, usual.down, "dose.lower");
  add(dose.tempo.bottom, usual.bottom, "dose.pause_bottom");
  add(dose.tempo.up, usual.up, "dose.lift");
  add(dose.tempo.top, usual.top, "dose.pause_top");
  return out;
}

std::vector<std::string> entries_behind(const DayPlan& plan, const rules::Reason& reason, const std::string& exercise, model::Day today) {
  std::vector<std::string> why;
  for (const rules::Evidence& evidence : reason.evidence)
    if (std::string words = evidence_words(plan, evidence, exercise, today); !words.empty() && std::find(why.begin(), why.end(), words) == why.end())
      why.push_back(std::move(words));
  return why;
}

std::string reason_shown(const model::Athlete& athlete, const model::Decision& shown) {
  rules::Reason why;
  why.row = shown.row;
  for (const std::string& text : shown.args)
    if (auto argument = read_argument(text)) why.args.push_back(std::move(*argument));
  return report::sentence(why, speaking_of(athlete));
}

report::Speaking speaking_of(const model::Athlete& athlete) {
  report::Speaking out;
  out.load = [&athlete](std::int64_t load_g) { return model::to_text(step_as_here(athlete, load_g)); };  // a load is one too, from nothing
  out.note = [&athlete](const std::string& id) {
    for (const model::SignOff& seen : athlete.sign_offs)
      if (model::to_text(seen.id) == id) return seen.note;
    return std::string();
  };
  return out;
}

}  // namespace slipway::app
