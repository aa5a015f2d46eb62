// Every field of an athlete that may be written twice, and those that are.
#pragma once

#include "model/athlete.h"

namespace slipway::app {

// Calls visit(record word, record id, field name, versions) for each field there is. The
// words are those of JSON: "athlete", "plan", "note", "session", "set".
template <class Visit>
void each_field(const model::Athlete& athlete, Visit visit) {
  visit("athlete", model::RecordId{}, "name", athlete.name);
  visit("athlete", model::RecordId{}, "birth_year", athlete.birth_year);
  visit("athlete", model::RecordId{}, "birth_month", athlete.birth_month);
  visit("athlete", model::RecordId{}, "group", athlete.group);
  visit("athlete", model::RecordId{}, "programme", athlete.programme);
  for (const model::Prescription& plan : athlete.prescriptions) {
    visit("plan", plan.id, "exercise", plan.exercise);
    visit("plan", plan.id, "sets", plan.sets);
    visit("plan", plan.id, "reps", plan.reps);
    visit("plan", plan.id, "load", plan.load);
    visit("plan", plan.id, "rir", plan.rir);
    visit("plan", plan.id, "rest_ms", plan.rest_ms);
    visit("plan", plan.id, "reps_high", plan.reps_high);
    visit("plan", plan.id, "programme_day", plan.programme_day);
    visit("plan", plan.id, "block", plan.block);
    visit("plan", plan.id, "place", plan.place);
    visit("plan", plan.id, "format", plan.format);
    visit("plan", plan.id, "tempo", plan.tempo);
    visit("plan", plan.id, "band", plan.band);
    visit("plan", plan.id, "grip", plan.grip);
  }
  for (const model::Note& note : athlete.notes) visit("note", note.id, "text", note.text);
  for (const model::Session& session : athlete.sessions) {
    visit("session", session.id, "day", session.training_day);
    visit("session", session.id, "finish", session.finish);
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

}  // namespace slipway::app
