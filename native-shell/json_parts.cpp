#include "json_parts.h"

#include "app/contradictions.h"
#include "report/words.h"

namespace slipway::native::json {

namespace {

const char* word(model::ErrorKind kind) {
  switch (kind) {
    case model::ErrorKind::invalid: return "invalid";
    case model::ErrorKind::not_found: return "not_found";
    case model::ErrorKind::foreign: return "foreign";
    case model::ErrorKind::damaged: return "damaged";
    case model::ErrorKind::newer_version: return "newer_version";
    case model::ErrorKind::too_large: return "too_large";
    case model::ErrorKind::full: return "full";
    case model::ErrorKind::busy: return "busy";
    case model::ErrorKind::io: return "io";
    case model::ErrorKind::no_permission: return "no_permission";
    case model::ErrorKind::sealed: return "sealed";
    case model::ErrorKind::unconfirmed: return "unconfirmed";
  }
  return "";
}

}  // namespace

Json of(const std::string& word) { return word; }
Json of(std::uint64_t value) { return value; }
Json of(model::Day day) { return model::iso(day); }

Json of(const model::Quantity& load) {
  return {{"typed", model::number_text(load)}, {"unit", load.unit == model::Unit::lb ? "lb" : "kg"}, {"grams", model::grams(load)}};
}

Json of(const model::Writer& by) {
  return {{"author", report::author_word(by.author)},
          {"incarnation", by.op.inc.hex()},
          {"entry", model::to_text(by.op)},
          {"lam", by.lam},
          {"claimed", model::iso(by.claimed)}};
}

Json of(const std::vector<std::uint64_t>& values) { return values; }
Json of(const model::Finish& said) { return {{"effort_tenths", of(said.effort_tenths)}, {"minutes", of(said.minutes)}}; }
Json of(const model::Programme& programme) { return {{"phase", programme.phase}, {"starts", of(programme.starts)}, {"weeks", programme.weeks}, {"days_a_week", programme.days_a_week}}; }

Json of(const Person& who) { return {{"id", who.id.hex()}, {"name", who.name}}; }

Json of(const model::SetDone& set) {
  return {{"entry", model::to_text(set.id)},
          {"exercise", set.exercise},
          {"round", set.round},
          {"reps", of(set.reps)},
          {"load", of(set.load)},
          {"rir", of(set.rir)},
          {"written_reps", of(set.written_reps)},
          {"written_load", of(set.written_load)},
          {"as_written", set.as_written()},
          {"left_out", set.left_out},
          {"side", set.side ? Json(*set.side == model::Side::left ? "left" : "right") : Json()},
          {"warm_up", set.warm_up},
          {"form_broke", set.form_broke},
          {"two_more", set.two_more},
          {"corrected", set.corrected},
          {"revived", set.revived},
          {"by", of(set.by)}};
}

Json of(const model::Prescription& plan) {
  return {{"entry", model::to_text(plan.id)}, {"exercise", of(plan.exercise)}, {"sets", of(plan.sets)}, {"reps", of(plan.reps)},
          {"load", of(plan.load)},            {"rir", of(plan.rir)},           {"rest_ms", of(plan.rest_ms)}};
}

Json of(const model::Error& why) { return {{"kind", word(why.kind)}, {"id", why.text}, {"args", why.args}, {"say", report::say(why)}}; }

Json of(const app::Digests& digests) { return {{"ops", digests.ops.hex()}, {"views", digests.views.hex()}}; }

Json of(const std::vector<app::MissingStretch>& gaps) {
  Json all = Json::array();
  for (const app::MissingStretch& gap : gaps)
    all.push_back({{"athlete", gap.scope.hex()}, {"incarnation", gap.inc.hex()}, {"first", gap.first}, {"last", gap.last}});
  return all;
}

Json people(const std::vector<Person>& who) {
  Json all = Json::array();
  for (const Person& person : who) all.push_back(of(person));
  return all;
}

Json contradictions(const model::Athlete& athlete) {
  Json all = Json::array();
  app::each_contradiction(athlete, [&all](const char* record_of, const model::RecordId& record, const char* field, const auto& versions) {
    Json one{{"of", record_of}, {"entry", Json()}, {"field", field}, {"values", values(versions)}};
    if (record.seq != 0) one["entry"] = model::to_text(record);
    all.push_back(std::move(one));
  });
  return all;
}

std::string text(const Json& answer) {
  constexpr int kIndent = 2;
  return answer.dump(kIndent, ' ', false, Json::error_handler_t::replace);
}

}  // namespace slipway::native::json
