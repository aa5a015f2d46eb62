#include "contradictions.h"
#include "json_parts.h"

namespace slipway::native::json {

namespace {

std::uint64_t set_count(const model::Athlete& athlete) {
  std::uint64_t sets = 0;
  for (const model::Session& session : athlete.sessions) sets += session.sets.size();
  return sets;
}

Json sets(const std::vector<model::SetDone>& all) {
  Json out = Json::array();
  for (const model::SetDone& set : all) out.push_back(of(set));
  return out;
}

Json sessions(const model::Athlete& athlete) {
  Json all = Json::array();
  for (const model::Session& session : athlete.sessions)
    all.push_back({{"entry", model::to_text(session.id)}, {"day", of(session.training_day)}, {"sets", sets(session.sets)}, {"by", of(session.by)}});
  return all;
}

Json kits(const model::Athlete& athlete) {
  Json all = Json::array();
  for (const model::Kit& kit : athlete.kits) {
    Json loads = Json::array();
    for (const model::Quantity& load : kit.loads) loads.push_back(of(load));
    all.push_back({{"entry", model::to_text(kit.id)}, {"name", kit.name}, {"loads", loads}});
  }
  return all;
}

Json pains(const model::Athlete& athlete) {
  Json all = Json::array();
  for (const model::Pain& pain : athlete.pains)
    all.push_back({{"entry", model::to_text(pain.id)}, {"region", pain.region}, {"band", pain.band}, {"resolved", pain.resolved},
                   {"withdrawn", pain.withdrawn}, {"by", of(pain.by)}});
  return all;
}

Json plans(const model::Athlete& athlete) {
  Json all = Json::array();
  for (const model::Prescription& plan : athlete.prescriptions) all.push_back(of(plan));
  return all;
}

// What counts right now: while a field is written twice, the safer value.
Json counting(const model::Athlete& athlete) {
  if (athlete.prescriptions.empty()) return {};
  const rules::StandingDose dose = app::prescribed_dose(athlete.prescriptions.front());
  const auto load = dose.load_g ? std::optional<model::Quantity>(app::load_as_here(athlete, *dose.load_g)) : std::nullopt;
  return {{"exercise", dose.exercise}, {"sets", dose.sets}, {"reps", dose.lo}, {"load", of(load)}, {"rir", dose.tgt_rir}};
}

Person person(const model::Athlete& athlete) { return {athlete.scope, athlete.name.value_or("")}; }

Json plan_answer(const model::Athlete& athlete) {
  return {{"athlete", of(person(athlete))}, {"plan", plans(athlete)}, {"counts", counting(athlete)}};
}

}  // namespace

std::string added(const Person& who) { return text({{"athlete", of(who)}, {"kept", true}}); }
std::string demo(const std::vector<Person>& who) { return text({{"athletes", people(who)}}); }

std::string listed(const std::vector<const model::Athlete*>& athletes) {
  Json all = Json::array();
  for (const model::Athlete* athlete : athletes)
    all.push_back({{"id", athlete->scope.hex()},
                   {"name", athlete->name.value_or("")},
                   {"birth_year", athlete->birth_year.empty() ? Json() : Json(*athlete->birth_year.first())},
                   {"sessions", athlete->sessions.size()},
                   {"sets", set_count(*athlete)},
                   {"contradictions", count_contradictions(*athlete)},
                   {"not_understood", athlete->not_understood}});
  return text({{"athletes", all}});
}

std::string athlete(const model::Athlete& athlete) {
  return text({{"id", athlete.scope.hex()},
               {"name", of(athlete.name)},
               {"birth_year", of(athlete.birth_year)},
               {"plan", plans(athlete)},
               {"kits", kits(athlete)},
               {"sessions", sessions(athlete)},
               {"taken_back", sets(athlete.taken_back)},
               {"pains", pains(athlete)},
               {"contradictions", contradictions(athlete)},
               {"not_understood", athlete.not_understood}});
}

std::string kept(const Kept& kept) {
  return text({{"athlete", of(kept.who)},
               {"entry", model::to_text(kept.entry)},
               {"day", of(kept.day)},
               {"taken_back", kept.taken_back},
               {"set", of(kept.set)},
               {"kept", true}});
}

std::string plan(const model::Athlete& athlete) { return text(plan_answer(athlete)); }

std::string plan_set(const PlanSet& set, const model::Athlete& athlete) {
  Json answer = plan_answer(athlete);
  answer["field"] = set.field;
  answer["kept"] = true;
  return text(answer);
}

}  // namespace slipway::native::json
