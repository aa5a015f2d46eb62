// plans.json of an archive: what is planned, with every value that stands.
#include "app/archive.h"
#include "model/json.h"
#include "report/words.h"

namespace slipway::app {

namespace {

using model::JsonWriter;

void put(JsonWriter& out, const std::string& value) { out.text(value); }
void put(JsonWriter& out, std::uint64_t value) { out.whole(value); }
void put(JsonWriter& out, const std::vector<std::uint64_t>& values) {
  out.list();
  for (const std::uint64_t value : values) out.whole(value);
  out.end();
}
void put(JsonWriter& out, const model::Quantity& value) {
  out.object().name("typed").text(model::number_text(value)).name("unit").text(value.unit == model::Unit::lb ? "lb" : "kg");
  out.name("grams").with_sign(model::grams(value)).end();
}
void put(JsonWriter& out, model::Day day) { out.text(model::iso(day)); }
template <class T>
void put(JsonWriter& out, const std::optional<T>& value) {
  if (value) put(out, *value);
  else out.nothing();
}
void put(JsonWriter& out, const std::vector<std::string>& words) {
  out.list();
  for (const std::string& word : words) out.text(word);
  out.end();
}
void put(JsonWriter& out, const model::Writer& by) {
  out.object().name("author").text(report::author_word(by.author)).name("incarnation").text(by.op.inc.hex());
  out.name("entry").text(model::to_text(by.op)).name("claimed").text(model::iso(by.claimed)).end();
}
void put(JsonWriter& out, const model::Programme& programme) {
  out.object().name("entry").text(model::to_text(programme.id)).name("phase").text(programme.phase).name("starts");
  put(out, programme.starts);
  out.name("weeks").whole(programme.weeks).name("days_a_week").whole(programme.days_a_week).name("rest_between_exercises_ms");
  put(out, programme.rest_between_exercises_ms);
  out.name("rest_between_rounds_ms");
  put(out, programme.rest_between_rounds_ms);
  out.end();
}

// A list: usually one value, several where nobody has chosen, none where nothing was said.
template <class T>
void field(JsonWriter& out, const char* name, const model::Versions<T>& versions) {
  out.name(name).list();
  for (const auto& version : versions.all) {
    out.object().name("value");
    put(out, version.value);
    out.name("by");
    put(out, version.by);
    out.end();
  }
  out.end();
}

void put(JsonWriter& out, const model::Prescription& line) {
  out.object().name("entry").text(model::to_text(line.id));
  field(out, "exercise", line.exercise);
  field(out, "sets", line.sets);
  field(out, "reps", line.reps);
  field(out, "reps_high", line.reps_high);
  field(out, "load", line.load);
  field(out, "rir", line.rir);
  field(out, "rest_ms", line.rest_ms);
  field(out, "programme_day", line.programme_day);
  field(out, "block", line.block);
  field(out, "place", line.place);
  field(out, "format", line.format);
  field(out, "tempo_s", line.tempo);
  field(out, "band", line.band);
  field(out, "grip", line.grip);
  out.end();
}

void put(JsonWriter& out, const model::Kit& kit) {
  out.object().name("entry").text(model::to_text(kit.id)).name("name").text(kit.name).name("loads").list();
  for (const model::Quantity& load : kit.loads) put(out, load);
  out.end().name("bands");
  put(out, kit.bands);
  out.name("equipment");
  put(out, kit.equipment);
  out.end();
}

void put(JsonWriter& out, const model::Race& race) {
  out.object().name("entry").text(model::to_text(race.id)).name("name").text(race.name).name("first_day");
  put(out, race.first_day);
  out.name("last_day");
  put(out, race.last_day);
  out.name("priority").whole(race.priority).end();
}

template <class T>
void each(JsonWriter& out, const char* name, const std::vector<T>& all) {
  out.name(name).list();
  for (const T& one : all) put(out, one);
  out.end();
}

}  // namespace

std::string plan_object(const model::Athlete& athlete) {
  JsonWriter out;
  out.object().name("id").text(athlete.scope.hex());
  field(out, "name", athlete.name);
  field(out, "birth_year", athlete.birth_year);
  field(out, "birth_month", athlete.birth_month);
  field(out, "group", athlete.group);
  each(out, "limitations", athlete.limitations);
  out.name("training_days").list();
  for (const bool trains : athlete.training_days) out.yes_no(trains);
  out.end().name("sign_off_gate").yes_no(athlete.sign_off_gate);
  each(out, "kits", athlete.kits);
  field(out, "programme", athlete.programme);
  each(out, "lines", athlete.prescriptions);
  each(out, "races", athlete.races);
  return out.end().take();
}

std::string library_object(const model::Library& library) {
  JsonWriter out;
  out.object().name("id").text(library.scope.hex());
  field(out, "name", library.name);
  each(out, "lines", library.prescriptions);
  return out.end().take();
}

}  // namespace slipway::app
