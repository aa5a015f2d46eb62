// The verbs of the body: pain, soreness, red flag, clearance, body mass, illness.
#include <algorithm>

#include "app/book_scope.h"
#include "app/book_values.h"
#include "ops/registry.h"

namespace slipway::app {

namespace {

namespace kind = ops::kind;
namespace pain_tag = ops::pain_tag;

constexpr std::string_view kGeneral = "general";

// 1: 1 to 2, 2: 3 to 5, 3: 6 to 10; 0 for no pain at all [handbook 2.6].
std::uint64_t band_of(std::uint64_t amount) {
  if (amount == 0) return 0;
  return amount <= 2 ? 1 : amount <= 5 ? 2 : 3;
}

Refusal refuse(const model::Pain& pain, std::uint64_t band) {
  const auto amount = [](std::uint64_t value) { return refuse_outside(value, 0, kMaxPain, "value.pain"); };
  const auto side = [](std::uint64_t value) { return refuse_outside(value, 1, 3, "value.side"); };
  if (auto error = first_of(refuse_name(pain.region), if_given(pain.amount, amount), if_given(pain.side, side))) return error;
  if (!pain.exercise.empty())
    if (auto error = refuse_exercise(pain.exercise)) return error;
  return pain.amount ? Refusal{} : refuse_outside(band, 1, 3, "value.band");
}

Refusal refuse(const model::Soreness& answer) {
  if (std::find(model::kSoreRegions.begin(), model::kSoreRegions.end(), answer.region) == model::kSoreRegions.end())
    return invalid("value.sore_region", {answer.region});
  return first_of(refuse_outside(answer.level, 0, kMaxSoreness, "value.soreness"),
                  refuse_outside(answer.days, 0, kMostSoreDays, "value.sore_days"), refuse_day(answer.day));
}

Refusal refuse(const model::RedFlag& flag) {
  if (auto error = first_of(refuse_word(flag.flag), refuse_day(flag.day))) return error;
  const auto group = static_cast<std::uint64_t>(flag.group);
  if (auto error = refuse_outside(group, 1, static_cast<std::uint64_t>(model::FlagGroup::local), "value.flag_group")) return error;
  if (flag.group == model::FlagGroup::local || !flag.region.empty()) return refuse_name(flag.region);
  return std::nullopt;
}

Refusal refuse(const model::BodyMass& entry) {
  const bool mass = entry.mass.unit == model::Unit::kg || entry.mass.unit == model::Unit::lb;
  // The typed ceiling first: grams() must not meet a number it cannot multiply.
  if (!mass || entry.mass.value < 0 || entry.mass.value > kMaxBodyMassGrams * 1000) return invalid("value.body_mass", {model::to_text(entry.mass)});
  const std::int64_t g = model::grams(entry.mass);
  if (g < kMinBodyMassGrams || g > kMaxBodyMassGrams) return invalid("value.body_mass", {model::to_text(entry.mass)});
  return refuse_day(entry.day);
}

std::optional<std::uint64_t> answered(const std::optional<bool>& yes) {
  return yes ? std::optional<std::uint64_t>(*yes ? 1 : 0) : std::nullopt;
}

}  // namespace

model::Result<model::RecordId> Book::note_pain(const model::ScopeId& scope_id, std::string_view region, std::uint64_t band,
                                               Author author) {
  model::Pain pain;
  pain.region = std::string(region);
  pain.band = band;
  return note_pain(scope_id, pain, author);
}

model::Result<model::RecordId> Book::note_pain(const model::ScopeId& scope_id, const model::Pain& pain, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  const std::uint64_t band = pain.amount ? band_of(*pain.amount) : pain.band;
  if (auto error = refuse(pain, band)) return *error;
  if (pain.session && find_record(**scope, *pain.session, kind::session) == nullptr) return unknown_record(*pain.session);
  return keep(**scope, kind::pain,
              Fields(opening().inc)
                  .text(pain_tag::region, pain.region)
                  .whole(pain_tag::band, band)
                  .whole(pain_tag::side, pain.side)
                  .whole(pain_tag::amount, pain.amount)
                  .text(pain_tag::exercise, pain.exercise)
                  .ref(pain_tag::session, pain.session)
                  .whole(pain_tag::settled, answered(pain.settled))
                  .mark(pain_tag::in_swim, pain.in_swim)
                  .take(),
              author);
}

model::Result<model::Done> Book::detail_pain(const model::ScopeId& scope_id, const model::RecordId& pain, std::optional<std::uint64_t> amount,
                                             std::optional<std::uint64_t> side, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (find_record(**scope, pain, kind::pain) == nullptr) return unknown_record(pain);
  if (auto error = first_of(if_given(amount, [](std::uint64_t number) { return refuse_outside(number, 0, kMaxPain, "value.pain"); }),
                            if_given(side, [](std::uint64_t number) { return refuse_outside(number, 1, 3, "value.side"); })))
    return *error;
  change(**scope, pain, Fields(opening().inc).whole(pain_tag::amount, amount).whole(pain_tag::side, side).take(), author);
  settle(nullptr);
  return model::Done{};
}

model::Result<model::Done> Book::settle_pain(const model::ScopeId& scope_id, const model::RecordId& pain, bool normal_next_morning,
                                             Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (find_record(**scope, pain, kind::pain) == nullptr) return unknown_record(pain);
  change(**scope, pain, Fields(opening().inc).yes_no(pain_tag::settled, normal_next_morning).take(), author);
  settle(nullptr);
  return model::Done{};
}

model::Result<model::Done> Book::end_pain(const model::ScopeId& scope_id, const model::RecordId& pain, PainEnd how, std::string_view note,
                                          Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse_note(note)) return *error;
  const ops::Record* record = find_record(**scope, pain, kind::pain);
  if (record == nullptr) return unknown_record(pain);
  if (how == PainEnd::withdrawn && record->created->author != static_cast<std::uint64_t>(author))
    return model::error(model::ErrorKind::invalid, "value.pain_writer");
  keep(**scope, kind::pain_end,
       Fields(opening().inc)
           .ref(ops::tag::target, pain)
           .whole(ops::pain_end_tag::how, static_cast<std::uint64_t>(how))
           .text(ops::pain_end_tag::note, note)
           .take(),
       author);
  return model::Done{};
}

model::Result<model::Done> Book::note_soreness(const model::ScopeId& scope_id, const std::vector<model::Soreness>& answers, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  for (const model::Soreness& answer : answers) {
    if (auto error = refuse(answer)) return *error;
    if (answer.session && find_record(**scope, *answer.session, kind::session) == nullptr) return unknown_record(*answer.session);
  }
  if (answers.empty()) return model::Done{};
  namespace at = ops::soreness_tag;
  for (const model::Soreness& answer : answers) {
    std::vector<model::RecordId> replaced;
    for (const model::Soreness& known : athlete(scope_id).soreness)
      if (known.day == answer.day && known.region == answer.region) replaced.push_back(known.id);
    Fields fields(opening().inc);
    fields.refs(ops::tag::saw, replaced)
        .text(at::region, answer.region)
        .whole(at::level, answer.level)
        .whole(at::days, answer.days)
        .day(at::training_day, answer.day)
        .ref(at::session, answer.session);
    write(**scope, kind::soreness, fields.take(), author);
  }
  settle(nullptr);
  return model::Done{};
}

model::Result<model::RecordId> Book::note_check(const model::ScopeId& scope_id, model::Day day,
                                                const std::optional<model::RecordId>& session, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse_day(day)) return *error;
  if (session && find_record(**scope, *session, kind::session) == nullptr) return unknown_record(*session);
  return keep(**scope, kind::check,
              Fields(opening().inc).day(ops::check_tag::training_day, day).ref(ops::check_tag::session, session).take(), author);
}

model::Result<model::RecordId> Book::note_red_flag(const model::ScopeId& scope_id, const model::RedFlag& flag, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse(flag)) return *error;
  return keep(**scope, kind::red_flag,
              Fields(opening().inc)
                  .text(ops::red_flag_tag::flag, flag.flag)
                  .whole(ops::red_flag_tag::group, static_cast<std::uint64_t>(flag.group))
                  .text(ops::red_flag_tag::region, flag.region)
                  .day(ops::red_flag_tag::training_day, flag.day)
                  .take(),
              author);
}

model::Result<model::RecordId> Book::note_clearance(const model::ScopeId& scope_id, const model::Clearance& clearance, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  const auto role = static_cast<std::uint64_t>(clearance.role);
  if (auto error = first_of(refuse_note(clearance.note), refuse_day(clearance.day), refuse_outside(role, 1, 3, "value.role"),
                            clearance.covers == kGeneral ? Refusal{} : refuse_name(clearance.covers)))
    return *error;
  const bool own_word = clearance.role == model::ClearanceRole::self || author == Author::swimmer;
  if (own_word && model::is_youth(athlete(scope_id), clearance.day)) return invalid("value.clearance_youth");
  if (clearance.covers == kGeneral && !clearance.clinician_allowed) return invalid("value.clearance_clinician");  // [2.7]
  if (clearance.reports.empty()) return invalid("value.clearance_of_nothing");
  for (const model::RecordId& report : clearance.reports)
    if (find_record(**scope, report, kind::pain) == nullptr && find_record(**scope, report, kind::red_flag) == nullptr)
      return unknown_record(report);
  // What would free nobody is not written: under 18, and at 6 and more, only the word that training is allowed does [2.7].
  const model::Athlete& who = athlete(scope_id);
  const bool firm = std::any_of(who.pains.begin(), who.pains.end(), [&](const model::Pain& pain) {
    return pain.worst() >= model::kFirmPain && std::find(clearance.reports.begin(), clearance.reports.end(), pain.id) != clearance.reports.end();
  });
  if (!clearance.clinician_allowed && (firm || model::is_youth(who, clearance.day))) return invalid("value.clearance_clinician");
  namespace at = ops::clearance_tag;
  return keep(**scope, kind::clearance,
              Fields(opening().inc)
                  .text(at::covers, clearance.covers)
                  .text(at::note, clearance.note)
                  .whole(at::role, role)
                  .day(at::day, clearance.day)
                  .refs(at::reports, clearance.reports)
                  .mark(at::clinician_allowed, clearance.clinician_allowed)
                  .take(),
              author);
}

model::Result<model::RecordId> Book::note_body_mass(const model::ScopeId& scope_id, const model::BodyMass& mass, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse(mass)) return *error;
  std::vector<model::RecordId> replaced;
  for (const model::BodyMass& known : athlete(scope_id).body_masses)
    if (known.day == mass.day) replaced.push_back(known.id);
  return keep(**scope, kind::body_mass,
              Fields(opening().inc)
                  .load(ops::body_mass_tag::mass, mass.mass)
                  .day(ops::body_mass_tag::day, mass.day)
                  .mark(ops::body_mass_tag::coarse, mass.coarse)
                  .take(),
              author, replaced);
}

model::Result<model::RecordId> Book::note_illness(const model::ScopeId& scope_id, const model::Illness& illness, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  const auto state = static_cast<std::uint64_t>(illness.state);
  if (auto error = first_of(refuse_outside(state, 0, 2, "value.illness"), refuse_day(illness.day),
                            if_given(illness.ended_local_ms, refuse_local_ms)))
    return *error;
  std::vector<model::RecordId> replaced;
  for (const model::Illness& known : athlete(scope_id).illnesses)
    if (known.day == illness.day) replaced.push_back(known.id);
  return keep(**scope, kind::illness,
              Fields(opening().inc)
                  .whole(ops::illness_tag::state, state)
                  .day(ops::illness_tag::day, illness.day)
                  .with_sign(ops::illness_tag::ended_local_ms, illness.ended_local_ms)
                  .take(),
              author, replaced);
}

}  // namespace slipway::app
