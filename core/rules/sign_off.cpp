#include "rules/sign_off.h"

#include <algorithm>

#include "rules/body.h"
#include "rules/limits.h"
#include "rules/record.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

// Newest first; of the same moment the more careful one first: withdrawn, none, SOUND, LOADED.
std::vector<const SignOff*> facts_of(const std::string& exercise, const SessionSituation& situation) {
  std::vector<const SignOff*> facts;
  for (const SignOff& fact : situation.sign_offs)
    if (fact.exercise == exercise && !(situation.today < fact.day)) facts.push_back(&fact);
  std::stable_sort(facts.begin(), facts.end(), [](const SignOff* a, const SignOff* b) {
    if (!(a->day == b->day)) return b->day < a->day;
    if (a->at_ms != b->at_ms) return a->at_ms > b->at_ms;
    if (a->level != b->level) return a->level < b->level;
    return a->id < b->id;
  });
  return facts;
}

constexpr std::string_view kIncreases[] = {"R14", "R15", "R16", "R17", "R18"};

// Increases that were done, not those that were due and held.
std::uint32_t increases_since(const std::string& exercise, const SessionSituation& situation, Day since) {
  std::uint32_t found = 0;
  const Written* before = nullptr;
  const Record record = read_record(situation);
  for (std::uint32_t index : record.order)
    for (const ExerciseDone& done : record.session(index).exercises) {
      if (done.exercise != exercise || !completed(done) || !done.written) continue;
      const bool slower = before != nullptr && has_row(done, "R13") && !(before->standing.tempo == done.written->standing.tempo);  // 6.1 "increase"
      const bool goes_up = slower || std::any_of(std::begin(kIncreases), std::end(kIncreases), [&](std::string_view row) { return has_row(done, row); });
      const bool changes = before == nullptr || !(before->standing == done.written->standing);  // else there was nothing to go to
      if (goes_up && changes && !was_held(done) && since < record.session(index).day) ++found;
      before = &*done.written;
    }
  return found;
}

bool ended_otherwise(const SignOff& fact, const SessionSituation& situation) {
  const model::Rung* rung = model::find_rung(fact.exercise);
  if (!rung) return true;
  if (limit_age(situation.athlete) < kLoadAge && increases_since(fact.exercise, situation, fact.day) >= kIncreasesSinceLook) return true;
  if (hurt_since(situation, *rung, fact.day, fact.at_ms)) return true;
  return long_break_since(read_record(situation), fact.exercise, fact.day, situation.today);
}

}  // namespace

// One fact by itself; an older LOADED goes on counting beside a newer SOUND, until a withdrawal.
FormState state_of(const SignOff& fact, const SessionSituation& situation) {
  if (ended_otherwise(fact, situation)) return FormState::ended;
  if (days_between(fact.day, situation.today) > kSignOffDays) return FormState::ended_by_time;
  return fact.level == SignOffLevel::loaded ? FormState::loaded : FormState::sound;
}

Form form_of(const std::string& exercise, const SessionSituation& situation) {
  Form form;
  const auto facts = facts_of(exercise, situation);
  for (const SignOff* fact : facts) {
    if (fact->level == SignOffLevel::withdrawn || fact->level == SignOffLevel::none) {
      if (!form.newest && fact->level == SignOffLevel::withdrawn) form.state = FormState::withdrawn;
      if (!form.newest) form.newest = fact;
      break;
    }
    const FormState state = state_of(*fact, situation);
    if (!form.newest) form.state = state;
    if (state == FormState::loaded) form.state = state;
    form.loaded_ended_by_time = form.loaded_ended_by_time || (state == FormState::ended_by_time && fact->level == SignOffLevel::loaded);
    if (!form.newest) form.newest = fact;
  }
  return form;
}

bool has_loaded(const std::string& exercise, const SessionSituation& situation, bool ended_by_time_counts) {
  const Form form = form_of(exercise, situation);
  return form.state == FormState::loaded || (ended_by_time_counts && form.loaded_ended_by_time);
}

bool gate_is_on(const Athlete& athlete) { return is_youth(athlete) || athlete.gate_on; }

}  // namespace slipway::rules
