// Every field of an athlete that may be written twice, and those that are.
#pragma once

#include "model/athlete.h"

namespace slipway::native {

// Calls visit(record word, record id, field name, versions) for each field there is. The
// words are those of JSON: "athlete", "plan", "session", "set".
template <class Visit>
void each_field(const model::Athlete& athlete, Visit visit) {
  visit("athlete", model::RecordId{}, "name", athlete.name);
  visit("athlete", model::RecordId{}, "birth_year", athlete.birth_year);
  for (const model::Prescription& plan : athlete.prescriptions) {
    visit("plan", plan.id, "exercise", plan.exercise);
    visit("plan", plan.id, "sets", plan.sets);
    visit("plan", plan.id, "reps", plan.reps);
    visit("plan", plan.id, "load", plan.load);
    visit("plan", plan.id, "rir", plan.rir);
    visit("plan", plan.id, "rest_ms", plan.rest_ms);
  }
  for (const model::Session& session : athlete.sessions) {
    visit("session", session.id, "day", session.training_day);
    for (const model::SetDone& set : session.sets) {
      visit("set", set.id, "reps", set.reps);
      visit("set", set.id, "load", set.load);
      visit("set", set.id, "rir", set.rir);
    }
  }
}

template <class Visit>
void each_contradiction(const model::Athlete& athlete, Visit visit) {
  each_field(athlete, [&visit](const char* of, const model::RecordId& record, const char* field, const auto& versions) {
    if (versions.contradiction()) visit(of, record, field, versions);
  });
}

inline std::uint64_t count_contradictions(const model::Athlete& athlete) {
  std::uint64_t count = 0;
  each_contradiction(athlete, [&count](auto&&...) { ++count; });
  return count;
}

}  // namespace slipway::native
