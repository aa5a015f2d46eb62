#include "ops/views.h"

#include <algorithm>
#include <map>

#include "model/position.h"
#include "ops/read_values.h"
#include "ops/registry.h"

namespace slipway::ops {

namespace {

constexpr std::uint64_t kPlacesCeiling = 1000;  // numbers beyond are somebody's mistake, not an order
constexpr std::size_t kPositionCeiling = 1024;

std::optional<std::string> to_position(const Field& field) {
  if (field.wire != Wire::bytes || field.payload.empty() || field.payload.size() > kPositionCeiling) return std::nullopt;
  return std::string(field.payload.begin(), field.payload.end());
}

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
                    .lists_equipment = record.has(kit_tag::equipment)};
}

// Whoever moved it last; where nobody did, its numbered place.
std::string read_position(const Record& record) {
  const auto said = first_value<std::string>(record, prescription_tag::position, to_position);
  if (said) return *said;
  const std::uint64_t place = first_value<std::uint64_t>(record, prescription_tag::place, to_unsigned).value_or(1);
  return model::position_of_place(std::clamp<std::uint64_t>(place, 1, kPlacesCeiling));
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
                             .position = read_position(record),
                             .revived = record.revived(),
                             .by = writer_of(*record.created)};
}

bool corrected(const Record& record) { return !record.acts->changed_by.empty(); }

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

std::optional<model::Note> read_note(const model::RecordId& id, const Record& record) {
  return model::Note{.id = id,
                     .text = versions<std::string>(record, note_tag::text, to_string),
                     .about = first_ref(record, note_tag::about),
                     .day = first_value<model::Day>(record, note_tag::day, to_day),
                     .revived = record.revived(),
                     .by = writer_of(*record.created)};
}

// One a name: the last in drawing order. A clock decides nothing but what is drawn.
std::vector<model::Preference> read_preferences(const Fold& fold) {
  std::map<std::string, std::string> newest;
  for (const auto& id : fold.of_kind(kind::preference)) {
    const Record& record = *fold.find(id);
    if (record.taken_back()) continue;
    const auto name = own_value<std::string>(record, preference_tag::name, to_string);
    const auto value = own_value<std::string>(record, preference_tag::value, to_string);
    if (name && value) newest[*name] = *value;
  }
  std::vector<model::Preference> out;
  for (const auto& [name, value] : newest) out.push_back({name, value});
  return out;
}

// Who changed it last, of those whom no take-back had seen, and who took it away last.
model::CameBack read_came_back(const model::RecordId& id, const Record& record) {
  const KindInfo* kind = find_kind(record.kind);
  model::CameBack out{.id = id, .kind = kind == nullptr ? std::string() : std::string(kind->name), .changed = writer_of(*record.created), .taken_away = {}};
  const Stamp* changed = nullptr;
  record.each_writer([&](const Stamp& by) {
    if (record.acts->take_backs_saw.count(by.key) == 0 && (changed == nullptr || *changed < by)) changed = &by;
  });
  if (changed != nullptr) out.changed = writer_of(*changed);
  const Stamp* taken = nullptr;
  for (const auto& [key, stamp] : record.acts->take_backs)
    if (taken == nullptr || *taken < stamp) taken = &stamp;
  if (taken != nullptr) out.taken_away = writer_of(*taken);
  return out;
}

// Words of the list that stand, after those that a register of an older form named.
void add_members(const Fold& fold, std::string_view list, std::vector<std::string>& words) {
  for (const auto& [word, records] : standing_words(fold, list))
    if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
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
  const Register field = record.field(tag);
  // Equal values merged away by visible() were seen as well, so the uncovered writers are named one by one.
  for (const auto& [key, written] : field.values)
    if (field.covered.count(key) == 0) keys.push_back(key);
  return keys;
}

std::vector<model::OpKey> seen_touches(const Record& record) {
  const std::set<model::OpKey> all = record.touched_by();
  std::vector<model::OpKey> keys(all.begin(), all.end());
  std::stable_partition(keys.begin(), keys.end(), [&](const model::OpKey& key) { return record.acts->take_backs_saw.count(key) == 0; });
  return keys;
}

Field saw_field(const std::vector<model::OpKey>& seen, const model::IncarnationId& home, std::size_t own_fields) {
  const std::size_t most = std::min(kMostRefs, kMostCovered / std::max<std::size_t>(own_fields, 1));
  return refs_field(tag::saw, {seen.begin(), seen.begin() + static_cast<std::ptrdiff_t>(std::min(seen.size(), most))}, home);
}

std::string read_set_exercise(const Record& set) { return first_value<std::string>(set, set_tag::exercise, to_string).value_or(""); }

std::vector<std::pair<std::string, std::vector<model::RecordId>>> standing_words(const Fold& fold, std::string_view list) {
  std::map<std::string, std::vector<model::RecordId>> words;
  for (const auto& id : fold.of_kind(kind::member)) {
    const Record& record = *fold.find(id);
    if (record.taken_back() || own_value<std::string>(record, member_tag::list, to_string) != std::string(list)) continue;
    if (const auto word = own_value<std::string>(record, member_tag::word, to_string); word && !word->empty()) words[*word].push_back(id);
  }
  return {words.begin(), words.end()};
}

model::ScopeIs scope_is(const Fold& fold) {
  bool library = false, coach_notes = false;
  for (const auto& [id, record] : fold.records()) {
    if (record.kind == kind::athlete) return model::ScopeIs::athlete;  // whatever else is in it: never out of sight
    library = library || record.kind == kind::library;
    coach_notes = coach_notes || record.kind == kind::coach_notes;
  }
  return coach_notes ? model::ScopeIs::coach_notes : library ? model::ScopeIs::library : model::ScopeIs::athlete;
}

model::Library read_library(const Fold& fold) {
  model::Library library{.scope = fold.scope()};
  for (const auto& id : fold.of_kind(kind::library)) {
    library.id = id;
    library.name = versions<std::string>(*fold.find(id), library_tag::name, to_string);
    break;  // the oldest names it
  }
  library.prescriptions = nouns_of(told<model::Prescription>(fold, kind::prescription, read_prescription));
  return library;
}

model::CoachNotes read_coach_notes(const Fold& fold) {
  model::CoachNotes out{.scope = fold.scope(), .athlete = {}};
  for (const auto& id : fold.of_kind(kind::coach_notes)) {
    const Record& record = *fold.find(id);
    const auto said = record.own(coach_notes_tag::athlete);
    if (!said || said->payload.size() != out.athlete.bytes.size()) continue;
    out.athlete = model::ScopeId::from(said->payload);
    break;
  }
  out.notes = nouns_of(told<model::Note>(fold, kind::note, read_note));
  return out;
}

model::Athlete read_athlete(const Fold& fold) {
  model::Athlete athlete;
  athlete.scope = fold.scope();
  athlete.not_understood = fold.not_understood().size();
  for (const auto& id : fold.of_kind(kind::athlete)) {
    if (!athlete.name.empty()) break;  // one scope is one person: the oldest record names them
    read_person(id, *fold.find(id), athlete);
  }
  add_members(fold, kLimitations, athlete.limitations);
  athlete.notes = nouns_of(told<model::Note>(fold, kind::note, read_note));
  athlete.preferences = read_preferences(fold);
  for (const auto& [id, record] : fold.records())
    if (record.created && record.revived()) athlete.came_back.push_back(read_came_back(id, record));
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
