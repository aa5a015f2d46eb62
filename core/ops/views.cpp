#include "ops/views.h"

#include <algorithm>

#include "ops/read_values.h"
#include "ops/registry.h"

namespace slipway::ops {

namespace {

std::vector<std::string> words(const Record& record, std::uint32_t tag) {
  return first_value<std::vector<std::string>>(record, tag, to_words).value_or(std::vector<std::string>{});
}

std::optional<model::Kit> read_kit(const model::RecordId& id, const Record& record) {
  return model::Kit{.id = id,
                    .name = first_value<std::string>(record, kit_tag::name, to_string).value_or(""),
                    .loads = first_value<std::vector<model::Quantity>>(record, kit_tag::loads, to_quantities)
                                 .value_or(std::vector<model::Quantity>{}),
                    .bands = words(record, kit_tag::bands),
                    .equipment = words(record, kit_tag::equipment),
                    .lists_equipment = record.fields.count(kit_tag::equipment) != 0};
}

std::optional<model::Prescription> read_prescription(const model::RecordId& id, const Record& record) {
  namespace at = prescription_tag;
  return model::Prescription{.id = id,
                             .exercise = versions<std::string>(record, at::exercise, to_string),
                             .sets = versions<std::uint64_t>(record, at::sets, to_unsigned),
                             .reps = versions<std::uint64_t>(record, at::reps, to_unsigned),
                             .load = versions<model::Quantity>(record, at::load, to_quantity),
                             .rir = versions<std::uint64_t>(record, at::rir, to_unsigned),
                             .rest_ms = versions<std::uint64_t>(record, at::rest_ms, to_unsigned),
                             .reps_high = versions<std::uint64_t>(record, at::reps_high, to_unsigned),
                             .programme_day = versions<std::uint64_t>(record, at::programme_day, to_unsigned),
                             .place = versions<std::uint64_t>(record, at::place, to_unsigned),
                             .block = versions<std::uint64_t>(record, at::block, to_unsigned),
                             .format = versions<std::uint64_t>(record, at::format, to_unsigned),
                             .tempo = versions<std::vector<std::uint64_t>>(record, at::tempo, to_list),
                             .band = versions<std::string>(record, at::band, to_string),
                             .grip = versions<std::string>(record, at::grip, to_string),
                             .by = writer_of(*record.created)};
}

bool corrected(const Record& record) {
  return std::any_of(record.touched_by.begin(), record.touched_by.end(),
                     [&](const model::OpKey& key) { return !(key == record.created->key); });
}

model::SetDone read_set(const model::RecordId& id, const Record& record) {
  model::SetDone set;
  set.id = id;
  set.session = first_ref(record, set_tag::session).value_or(model::RecordId{});
  set.exercise = read_set_exercise(record);
  set.round = first_value<std::uint64_t>(record, set_tag::round, to_unsigned).value_or(1);
  set.reps = versions<std::uint64_t>(record, set_tag::reps, to_unsigned);
  set.load = versions<model::Quantity>(record, set_tag::load, to_quantity);
  set.rir = versions<std::uint64_t>(record, set_tag::rir, to_unsigned);
  set.written_reps = first_value<std::uint64_t>(record, set_tag::written_reps, to_unsigned);
  set.written_load = first_value<model::Quantity>(record, set_tag::written_load, to_quantity);
  const std::uint64_t side = first_value<std::uint64_t>(record, set_tag::side, to_unsigned).value_or(0);
  if (side == 1 || side == 2) set.side = static_cast<model::Side>(side);
  set.band = first_value<std::string>(record, set_tag::band, to_string).value_or("");
  set.grip = first_value<std::string>(record, set_tag::grip, to_string).value_or("");
  set.warm_up = first_value<std::uint64_t>(record, set_tag::warm_up, to_unsigned).value_or(0) == 1;
  set.form_broke = marks(record, set_tag::form_broke).any_yes;  // the careful one of two
  const Marks two_more = marks(record, set_tag::two_more);
  set.two_more = two_more.any_yes && !two_more.any_no;
  set.left_out = first_value<std::uint64_t>(record, set_tag::left_out, to_unsigned).value_or(0) == 1;
  set.corrected = corrected(record);
  set.revived = record.revived();
  set.by = writer_of(*record.created);
  return set;
}

std::optional<model::Session> read_session(const model::RecordId& id, const Record& record) {
  return model::Session{.id = id,
                        .training_day = versions<model::Day>(record, session_tag::training_day, to_day),
                        .title = first_value<std::string>(record, session_tag::title, to_string).value_or(""),
                        .by = writer_of(*record.created),
                        .sets = {},
                        .programme_day = first_value<std::uint64_t>(record, session_tag::programme_day, to_unsigned),
                        .kit = first_ref(record, session_tag::kit)};
}

// A set or finish whose session has not arrived stands in a session of its own, so that it is never out of sight.
model::Session& session_for(model::Athlete& athlete, const model::RecordId& id, const model::Writer& by) {
  for (model::Session& session : athlete.sessions)
    if (session.id == id) return session;
  model::Session unknown;
  unknown.id = id;
  unknown.training_day.all.push_back({model::day_of(by.claimed), by});
  unknown.by = by;
  athlete.sessions.push_back(std::move(unknown));
  return athlete.sessions.back();
}

void read_sets(const Fold& fold, model::Athlete& athlete) {
  for (const auto& id : fold.of_kind(kind::set)) {
    const Record& record = *fold.find(id);
    model::SetDone set = read_set(id, record);
    if (record.taken_back()) {
      athlete.taken_back.push_back(std::move(set));
    } else {
      model::Session& session = session_for(athlete, set.session, set.by);
      session.sets.push_back(std::move(set));
    }
  }
}

// What is written about the person. Numbers beyond a calendar are not there.
std::optional<std::uint64_t> to_year(const Field& field) {
  const auto year = read_unsigned(field);
  return year && *year <= 9999 ? year : std::nullopt;
}
std::optional<std::uint64_t> to_month(const Field& field) {
  const auto month = read_unsigned(field);
  return month && *month >= 1 && *month <= 12 ? month : std::nullopt;
}

void read_person(const model::RecordId& id, const Record& record, model::Athlete& athlete) {
  constexpr std::size_t kWeek = 7;
  athlete.id = id;
  athlete.name = versions<std::string>(record, athlete_tag::name, to_string);
  athlete.birth_year = versions<std::uint64_t>(record, athlete_tag::birth_year, to_year);
  athlete.birth_month = versions<std::uint64_t>(record, athlete_tag::birth_month, to_month);
  athlete.group = versions<std::string>(record, athlete_tag::group, to_string);
  athlete.limitations.clear();
  for (const auto& version : versions<std::vector<std::string>>(record, athlete_tag::limitations, to_words).all)
    for (const std::string& word : version.value)  // the careful reading of a contradiction: all of them
      if (std::find(athlete.limitations.begin(), athlete.limitations.end(), word) == athlete.limitations.end())
        athlete.limitations.push_back(word);
  athlete.training_days.clear();
  if (const auto bits = first_value<std::uint64_t>(record, athlete_tag::training_days, to_unsigned))
    for (std::size_t day = 0; day < kWeek; ++day) athlete.training_days.push_back(((*bits >> day) & 1U) != 0);
  athlete.sign_off_gate = marks(record, athlete_tag::sign_off_gate).any_yes;
}

}  // namespace

Field quantities_field(std::uint32_t tag, const std::vector<model::Quantity>& quantities) {
  std::vector<std::uint64_t> numbers;
  for (const model::Quantity& quantity : quantities) {
    numbers.push_back(zigzag(quantity.value));
    numbers.push_back(quantity.decimals);
    numbers.push_back(static_cast<std::uint64_t>(quantity.unit));
  }
  return list_field(tag, numbers);
}

Field quantity_field(std::uint32_t tag, const model::Quantity& quantity) { return quantities_field(tag, {quantity}); }

std::vector<model::OpKey> seen_values(const Record& record, std::uint32_t tag) {
  std::vector<model::OpKey> keys;
  const auto found = record.fields.find(tag);
  if (found == record.fields.end()) return keys;
  // Equal values merged away by visible() were seen as well, so the uncovered writers are named one by one.
  for (const auto& [key, written] : found->second.values)
    if (found->second.covered.count(key) == 0) keys.push_back(key);
  return keys;
}

std::vector<model::OpKey> seen_touches(const Record& record) {
  return {record.touched_by.begin(), record.touched_by.end()};
}

std::string read_set_exercise(const Record& set) { return first_value<std::string>(set, set_tag::exercise, to_string).value_or(""); }

model::Athlete read_athlete(const Fold& fold) {
  model::Athlete athlete;
  athlete.scope = fold.scope();
  athlete.not_understood = fold.not_understood().size();
  for (const auto& id : fold.of_kind(kind::athlete)) {
    if (!athlete.name.empty()) break;  // one scope is one person: the oldest record names them
    read_person(id, *fold.find(id), athlete);
  }
  athlete.kits = nouns_of(told<model::Kit>(fold, kind::kit, read_kit));
  athlete.prescriptions = nouns_of(told<model::Prescription>(fold, kind::prescription, read_prescription));
  athlete.sessions = nouns_of(told<model::Session>(fold, kind::session, read_session));
  read_sets(fold, athlete);
  for (const FinishOf& one : read_finishes(fold)) session_for(athlete, one.session, one.by).finish.all.push_back({one.finish, one.by});
  read_training(fold, athlete);
  read_facts(fold, athlete);
  return athlete;
}

}  // namespace slipway::ops
