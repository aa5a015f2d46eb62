#include "app/needs.h"
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

Person person(const model::Athlete& athlete) { return {athlete.scope, athlete.name.value_or("")}; }

Json plan_answer(const model::Athlete& athlete) {
  const Json lines = plans(athlete);
  return {{"athlete", of(person(athlete))}, {"plan", lines}, {"counts", lines.empty() ? Json() : lines.front()["counts"]}};
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
                   {"contradictions", app::contradictions_of(*athlete)},
                   {"not_understood", athlete->not_understood}});
  return text({{"athletes", all}});
}

std::string athlete(const model::Athlete& athlete) {
  Json out{{"id", athlete.scope.hex()},
               {"name", of(athlete.name)},
               {"birth_year", of(athlete.birth_year)},
               {"group", of(athlete.group)},
               {"limitations", athlete.limitations},
               {"training_days", athlete.training_days},
               {"form_gate", athlete.sign_off_gate},
               {"plan", plans(athlete)},
               {"kits", kits(athlete)},
               {"sessions", sessions(athlete, {})},
               {"taken_back", sets(athlete.taken_back)}};
  put_facts(out, athlete, {});
  out["contradictions"] = contradictions(athlete);
  Json back = Json::array();
  for (const model::CameBack& one : athlete.came_back)
    back.push_back({{"entry", model::to_text(one.id)}, {"kind", one.kind}, {"changed", of(one.changed)}, {"taken_away", of(one.taken_away)}});
  out["came_back"] = back;
  out["not_understood"] = athlete.not_understood;
  return text(out);
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
