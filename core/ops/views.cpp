#include "ops/views.h"

#include <algorithm>

#include "ops/registry.h"

namespace slipway::ops {

namespace {

model::Writer writer_of(const Stamp& stamp) { return {stamp.key, stamp.lam, stamp.author, stamp.claimed}; }

std::optional<std::vector<model::Quantity>> read_quantities(const Field& field) {
  const auto numbers = read_list(field);
  if (!numbers || numbers->size() % 3 != 0) return std::nullopt;
  std::vector<model::Quantity> out;
  for (std::size_t at = 0; at < numbers->size(); at += 3) {
    const std::uint64_t decimals = (*numbers)[at + 1];
    const std::uint64_t unit = (*numbers)[at + 2];
    if (decimals > 3 || unit < 1 || unit > 6) return std::nullopt;
    out.push_back({unzigzag((*numbers)[at]), static_cast<std::uint8_t>(decimals), static_cast<model::Unit>(unit)});
  }
  return out;
}

// Readers from a stored payload to a typed value; nothing if it is not of that type.
std::optional<std::uint64_t> to_unsigned(const Field& field) { return read_unsigned(field); }
std::optional<std::string> to_string(const Field& field) {
  const auto text = read_text(field);
  return text ? std::optional<std::string>(std::string(*text)) : std::nullopt;
}
std::optional<model::Quantity> to_quantity(const Field& field) {
  const auto list = read_quantities(field);
  return list && list->size() == 1 ? std::optional<model::Quantity>(list->front()) : std::nullopt;
}
std::optional<model::Day> to_day(const Field& field) {
  const auto days = read_signed(field);
  constexpr std::int64_t kDayCeiling = 4'000'000;  // about the year 12,900: far beyond any claimed date
  if (!days || *days < -kDayCeiling || *days > kDayCeiling) return std::nullopt;
  return model::Day{static_cast<std::int32_t>(*days)};
}

template <class T>
model::Versions<T> versions(const Record& record, std::uint32_t tag, std::optional<T> (*read)(const Field&)) {
  model::Versions<T> out;
  const auto found = record.fields.find(tag);
  if (found == record.fields.end()) return out;
  for (const Written& written : found->second.visible()) {
    const auto value = read(Field{tag, written.wire, written.payload});
    if (value) out.all.push_back({*value, writer_of(written.by)});
  }
  return out;
}

template <class T>
std::optional<T> first_value(const Record& record, std::uint32_t tag, std::optional<T> (*read)(const Field&)) {
  const auto all = versions<T>(record, tag, read);
  return all.empty() ? std::nullopt : std::optional<T>(*all.first());
}

std::optional<model::RecordId> first_ref(const Record& record, std::uint32_t tag) {
  const auto found = record.fields.find(tag);
  if (found == record.fields.end()) return std::nullopt;
  for (const Written& written : found->second.visible()) {
    const auto keys = read_refs(Field{tag, written.wire, written.payload}, written.by.key.inc);
    if (keys && keys->size() == 1) return keys->front();
  }
  return std::nullopt;
}

model::Kit read_kit(const model::RecordId& id, const Record& record) {
  model::Kit kit{id, first_value<std::string>(record, kit_tag::name, to_string).value_or(""), {}};
  const auto found = record.fields.find(kit_tag::loads);
  if (found == record.fields.end()) return kit;
  const auto visible = found->second.visible();
  if (visible.empty()) return kit;
  kit.loads = read_quantities(Field{kit_tag::loads, visible.front().wire, visible.front().payload})
                  .value_or(std::vector<model::Quantity>{});
  return kit;
}

model::Prescription read_prescription(const model::RecordId& id, const Record& record) {
  return {.id = id,
          .exercise = versions<std::string>(record, prescription_tag::exercise, to_string),
          .sets = versions<std::uint64_t>(record, prescription_tag::sets, to_unsigned),
          .reps = versions<std::uint64_t>(record, prescription_tag::reps, to_unsigned),
          .load = versions<model::Quantity>(record, prescription_tag::load, to_quantity),
          .rir = versions<std::uint64_t>(record, prescription_tag::rir, to_unsigned),
          .rest_ms = versions<std::uint64_t>(record, prescription_tag::rest_ms, to_unsigned)};
}

bool corrected(const Record& record) {
  return std::any_of(record.touched_by.begin(), record.touched_by.end(),
                     [&](const model::OpKey& key) { return !(key == record.created->key); });
}

model::SetDone read_set(const model::RecordId& id, const Record& record) {
  model::SetDone set;
  set.id = id;
  set.session = first_ref(record, set_tag::session).value_or(model::RecordId{});
  set.exercise = first_value<std::string>(record, set_tag::exercise, to_string).value_or("");
  set.round = first_value<std::uint64_t>(record, set_tag::round, to_unsigned).value_or(1);
  set.reps = versions<std::uint64_t>(record, set_tag::reps, to_unsigned);
  set.load = versions<model::Quantity>(record, set_tag::load, to_quantity);
  set.rir = versions<std::uint64_t>(record, set_tag::rir, to_unsigned);
  set.written_reps = first_value<std::uint64_t>(record, set_tag::written_reps, to_unsigned);
  set.written_load = first_value<model::Quantity>(record, set_tag::written_load, to_quantity);
  set.left_out = first_value<std::uint64_t>(record, set_tag::left_out, to_unsigned).value_or(0) == 1;
  set.corrected = corrected(record);
  set.revived = record.revived();
  set.by = writer_of(*record.created);
  return set;
}

model::Pain read_pain(const model::RecordId& id, const Record& record) {
  model::Pain pain;
  pain.id = id;
  pain.region = first_value<std::string>(record, pain_tag::region, to_string).value_or("");
  pain.band = first_value<std::uint64_t>(record, pain_tag::band, to_unsigned).value_or(0);
  pain.by = writer_of(*record.created);
  for (const auto& [key, ending] : record.endings) {
    if (ending.how == 1) pain.resolved = true;
    if (ending.how == 2) pain.withdrawn = true;
  }
  return pain;
}

void read_sessions(const Fold& fold, model::Athlete& athlete) {
  for (const auto& id : fold.of_kind(kind::session)) {
    const Record& record = *fold.find(id);
    if (record.taken_back()) continue;
    athlete.sessions.push_back({.id = id,
                                .training_day = versions<model::Day>(record, session_tag::training_day, to_day),
                                .title = first_value<std::string>(record, session_tag::title, to_string).value_or(""),
                                .by = writer_of(*record.created),
                                .sets = {}});
  }
}

// A set whose session has not arrived stands in a session of its own, so that it is never out of sight.
model::Session& session_for(model::Athlete& athlete, const model::SetDone& set) {
  for (model::Session& session : athlete.sessions)
    if (session.id == set.session) return session;
  model::Session unknown;
  unknown.id = set.session;
  unknown.training_day.all.push_back({model::day_of(set.by.claimed), set.by});
  unknown.by = set.by;
  athlete.sessions.push_back(std::move(unknown));
  return athlete.sessions.back();
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

model::Athlete read_athlete(const Fold& fold) {
  model::Athlete athlete;
  athlete.scope = fold.scope();
  athlete.not_understood = fold.not_understood().size();
  for (const auto& id : fold.of_kind(kind::athlete)) {
    const Record& record = *fold.find(id);
    if (!athlete.name.empty()) break;  // one scope is one person: the oldest record names them
    athlete.name = versions<std::string>(record, athlete_tag::name, to_string);
    athlete.birth_year = versions<std::uint64_t>(record, athlete_tag::birth_year, to_unsigned);
  }
  for (const auto& id : fold.of_kind(kind::kit)) athlete.kits.push_back(read_kit(id, *fold.find(id)));
  for (const auto& id : fold.of_kind(kind::prescription))
    if (!fold.find(id)->taken_back()) athlete.prescriptions.push_back(read_prescription(id, *fold.find(id)));
  for (const auto& id : fold.of_kind(kind::pain)) athlete.pains.push_back(read_pain(id, *fold.find(id)));
  read_sessions(fold, athlete);
  for (const auto& id : fold.of_kind(kind::set)) {
    const Record& record = *fold.find(id);
    model::SetDone set = read_set(id, record);
    if (record.taken_back()) {
      athlete.taken_back.push_back(std::move(set));
    } else {
      model::Session& session = session_for(athlete, set);
      session.sets.push_back(std::move(set));
    }
  }
  return athlete;
}

}  // namespace slipway::ops
