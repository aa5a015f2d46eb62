// The verbs that write: each checks its values, writes ops, settles one transaction.
#include <algorithm>
#include <charconv>

#include "app/book.h"
#include "app/book_scope.h"
#include "model/ladder.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::app {

namespace {

namespace kind = ops::kind;
namespace tag = ops::tag;
namespace set_tag = ops::set_tag;
namespace plan_tag = ops::prescription_tag;

// A goblet squat starts, without a body mass, at 8 kg or less; default 3 sets from 8 reps,
// rest 2 min [handbook 5.8, 5.1, 1.8]; 2 in reserve [handbook 6, tgt of the general phase].
constexpr std::string_view kFirstExercise = "SQ4";
constexpr std::uint64_t kFirstSets = 3, kFirstReps = 8, kFirstRir = 2, kFirstRestMs = 120'000;
constexpr std::int64_t kFirstLoadGrams = 8'000;
// Kettlebells in close steps [handbook 1.3: implements commonly found], in kilograms.
constexpr std::int64_t kKitLoadsKg[] = {4, 6, 8, 10, 12, 14, 16, 18, 20, 24, 28, 32};

model::Error invalid(std::string text, std::vector<std::string> args = {}) {
  return model::error(model::ErrorKind::invalid, std::move(text), std::move(args));
}

std::size_t letters(std::string_view text) {  // code points of valid UTF-8
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char sign) { return (static_cast<unsigned char>(sign) & 0xC0U) != 0x80U; }));
}

std::optional<model::Error> refuse_name(std::string_view name) {
  const bool blank = name.find_first_not_of(' ') == std::string_view::npos;
  const bool control = std::any_of(name.begin(), name.end(), [](char sign) { return static_cast<unsigned char>(sign) < 32; });
  if (blank || control || letters(name) > kMaxNameLetters || !model::is_utf8(name)) return invalid("value.name");
  return std::nullopt;
}

std::optional<model::Error> refuse_reps(std::uint64_t reps) {
  if (reps > kMaxReps) return invalid("value.reps", {std::to_string(reps)});
  return std::nullopt;
}

std::optional<model::Error> refuse_load(const model::Quantity& load) {
  const bool mass = load.unit == model::Unit::kg || load.unit == model::Unit::lb;
  if (!mass || load.value < 0 || model::grams(load) > kMaxLoadGrams) return invalid("value.load", {model::to_text(load)});
  return std::nullopt;
}

std::optional<model::Error> refuse_rir(std::uint64_t rir) {
  if (rir > kMaxRir) return invalid("value.rir", {std::to_string(rir)});
  return std::nullopt;
}

std::optional<model::Error> refuse_exercise(std::string_view exercise) {
  if (model::find_rung(exercise) != nullptr) return std::nullopt;
  std::string all;
  for (const model::Rung& rung : model::rungs()) all += (all.empty() ? "" : ", ") + rung.id;
  return invalid("value.exercise", {std::string(exercise), all});
}

std::optional<model::Error> refuse(const SetEntry& entry) {
  if (auto error = refuse_exercise(entry.exercise)) return error;
  if (entry.round < 1 || entry.round > kMaxRounds) return invalid("value.round", {std::to_string(entry.round)});
  if (auto error = refuse_reps(entry.reps)) return error;
  if (entry.load)
    if (auto error = refuse_load(*entry.load)) return error;
  if (entry.rir)
    if (auto error = refuse_rir(*entry.rir)) return error;
  return std::nullopt;
}

std::optional<std::uint64_t> read_whole(std::string_view text) {
  std::uint64_t value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || read.ec != std::errc{} || read.ptr != text.data() + text.size()) return std::nullopt;
  return value;
}

model::Result<ops::Field> whole_plan_field(std::uint32_t field_tag, std::string_view value, std::uint64_t low, std::uint64_t high,
                                           std::string error_text, std::uint64_t scale = 1) {
  const auto number = read_whole(value);
  if (!number || *number < low || *number > high) return invalid(std::move(error_text), {std::string(value)});
  return ops::unsigned_field(field_tag, *number * scale);
}

model::Result<ops::Field> read_plan_field(std::string_view field, std::string_view value) {
  if (field == "sets") return whole_plan_field(plan_tag::sets, value, 1, kMaxSets, "value.sets");
  if (field == "reps") return whole_plan_field(plan_tag::reps, value, 0, kMaxReps, "value.reps");
  if (field == "rir") return whole_plan_field(plan_tag::rir, value, 0, kMaxRir, "value.rir");
  if (field == "rest") return whole_plan_field(plan_tag::rest_ms, value, 0, kMaxRestSeconds, "value.rest", 1000);
  if (field == "load") {
    const auto load = model::read_quantity(value, model::Unit::kg);
    if (!load) return load.error();
    if (auto error = refuse_load(*load)) return *error;
    return ops::quantity_field(plan_tag::load, *load);
  }
  if (field == "exercise") {
    if (auto error = refuse_exercise(value)) return *error;
    return ops::text_field(plan_tag::exercise, value);
  }
  return invalid("value.field", {std::string(field), "exercise, sets, reps, load, rir, rest"});
}

model::Error unknown_record(const model::RecordId& id) {
  return model::error(model::ErrorKind::not_found, "record.unknown", {model::to_text(id)});
}

void saw(std::vector<ops::Field>& fields, std::vector<model::OpKey> keys, const model::IncarnationId& home) {
  std::sort(keys.begin(), keys.end());
  keys.erase(std::unique(keys.begin(), keys.end()), keys.end());
  if (!keys.empty()) fields.push_back(ops::refs_field(tag::saw, keys, home));
}

std::vector<model::Quantity> kit_loads() {
  std::vector<model::Quantity> loads;
  for (std::int64_t kg : kKitLoadsKg) loads.push_back({kg, 0, model::Unit::kg});
  return loads;
}

std::vector<ops::Field> set_fields(const SetEntry& entry, const model::RecordId& session, const model::IncarnationId& home) {
  std::vector<ops::Field> fields{ops::refs_field(set_tag::session, {session}, home),
                                 ops::text_field(set_tag::exercise, entry.exercise),
                                 ops::unsigned_field(set_tag::round, entry.round),
                                 ops::unsigned_field(set_tag::reps, entry.reps)};
  if (entry.load) fields.push_back(ops::quantity_field(set_tag::load, *entry.load));
  if (entry.rir) fields.push_back(ops::unsigned_field(set_tag::rir, *entry.rir));
  if (entry.written_reps) fields.push_back(ops::unsigned_field(set_tag::written_reps, *entry.written_reps));
  if (entry.written_load) fields.push_back(ops::quantity_field(set_tag::written_load, *entry.written_load));
  if (entry.left_out) fields.push_back(ops::unsigned_field(set_tag::left_out, 1));
  return fields;
}

}  // namespace

model::Result<model::ScopeId> Book::add_athlete(const NewAthlete& who, Author author) {
  if (const auto may = writable(); !may) return may.error();
  if (auto error = refuse_name(who.name)) return *error;
  const std::int64_t year_now = std::stoll(model::iso(model::day_of(now())).substr(0, 4));
  if (who.birth_year && (*who.birth_year < 1900 || static_cast<std::int64_t>(*who.birth_year) > year_now))
    return invalid("value.birth_year", {std::to_string(year_now), std::to_string(*who.birth_year)});

  model::ScopeId id;
  outside_.random.fill(id.bytes);
  Scope& scope = scope_of(id);
  std::vector<ops::Field> about{ops::text_field(ops::athlete_tag::name, who.name)};
  if (who.birth_year) about.push_back(ops::unsigned_field(ops::athlete_tag::birth_year, *who.birth_year));
  write(scope, kind::athlete, std::move(about), author);
  write(scope, kind::kit, {ops::quantities_field(ops::kit_tag::loads, kit_loads())}, author);
  write(scope, kind::prescription,
        {ops::text_field(plan_tag::exercise, kFirstExercise), ops::unsigned_field(plan_tag::sets, kFirstSets),
         ops::unsigned_field(plan_tag::reps, kFirstReps),
         ops::quantity_field(plan_tag::load, model::kilograms_from_grams(kFirstLoadGrams)),
         ops::unsigned_field(plan_tag::rir, kFirstRir), ops::unsigned_field(plan_tag::rest_ms, kFirstRestMs)},
        author);
  settle(nullptr);
  return id;
}

model::Result<model::RecordId> Book::log_set(const model::ScopeId& scope_id, const SetEntry& entry, model::Day training_day,
                                             Author author, const LocalValue* with) {
  if (const auto may = writable(); !may) return may.error();
  if (scopes_.count(scope_id) == 0) return model::error(model::ErrorKind::not_found, "athlete.unknown", {scope_id.hex().substr(0, 8)});
  if (auto error = refuse(entry)) return *error;

  std::optional<model::RecordId> session;
  for (const model::Session& known : athlete(scope_id).sessions)
    if (!known.training_day.empty() && *known.training_day.first() == training_day) session = known.id;
  Scope& scope = scope_of(scope_id);
  const model::IncarnationId home = opening().inc;
  if (!session)
    session = write(scope, kind::session, {ops::signed_field(ops::session_tag::training_day, training_day.since_1970)}, author).key();
  const model::RecordId id = write(scope, kind::set, set_fields(entry, *session, home), author).key();
  settle(with);
  return id;
}

model::Result<model::Done> Book::change_set(const model::ScopeId& scope_id, const model::RecordId& set, const SetChange& change,
                                            Author author, const LocalValue* with) {
  if (const auto may = writable(); !may) return may.error();
  const ops::Record* record = scopes_.count(scope_id) != 0 ? scope_of(scope_id).fold.find(set) : nullptr;
  if (record == nullptr || record->kind != kind::set) return unknown_record(set);
  if (change.reps)
    if (auto error = refuse_reps(*change.reps)) return *error;
  if (change.load)
    if (auto error = refuse_load(*change.load)) return *error;
  if (change.rir)
    if (auto error = refuse_rir(*change.rir)) return *error;

  const model::IncarnationId home = opening().inc;
  std::vector<ops::Field> fields{ops::refs_field(tag::target, {set}, home)};
  if (change.reps) fields.push_back(ops::unsigned_field(set_tag::reps, *change.reps));
  if (change.load) fields.push_back(ops::quantity_field(set_tag::load, *change.load));
  if (change.rir) fields.push_back(ops::unsigned_field(set_tag::rir, *change.rir));
  if (change.left_out) fields.push_back(ops::unsigned_field(set_tag::left_out, *change.left_out ? 1 : 0));
  if (fields.size() == 1) return model::Done{};
  std::vector<model::OpKey> seen;
  for (std::size_t i = 1; i < fields.size(); ++i)
    for (const model::OpKey& key : ops::seen_values(*record, fields[i].tag)) seen.push_back(key);
  saw(fields, std::move(seen), home);
  write(scope_of(scope_id), kind::change, std::move(fields), author);
  settle(with);
  return model::Done{};
}

model::Result<model::Done> Book::take_back(const model::ScopeId& scope_id, const model::RecordId& id, Author author) {
  if (const auto may = writable(); !may) return may.error();
  const ops::Record* record = scopes_.count(scope_id) != 0 ? scope_of(scope_id).fold.find(id) : nullptr;
  if (record == nullptr || !record->created || record->kind == kind::pain) return unknown_record(id);
  const model::IncarnationId home = opening().inc;
  std::vector<ops::Field> fields{ops::refs_field(tag::target, {id}, home)};
  saw(fields, ops::seen_touches(*record), home);
  write(scope_of(scope_id), kind::take_back, std::move(fields), author);
  settle(nullptr);
  return model::Done{};
}

model::Result<model::Done> Book::set_plan(const model::ScopeId& scope_id, std::string_view field, std::string_view value,
                                          Author author) {
  if (const auto may = writable(); !may) return may.error();
  auto read = read_plan_field(field, value);
  if (!read) return read.error();
  const auto& plan = athlete(scope_id).prescriptions;
  if (plan.empty()) return model::error(model::ErrorKind::not_found, "plan.none", {athlete(scope_id).name.value_or("")});
  const model::RecordId id = plan.front().id;
  Scope& scope = scope_of(scope_id);
  const model::IncarnationId home = opening().inc;
  std::vector<model::OpKey> seen = ops::seen_values(*scope.fold.find(id), read->tag);
  std::vector<ops::Field> fields{ops::refs_field(tag::target, {id}, home), std::move(*read)};
  saw(fields, std::move(seen), home);
  write(scope, kind::change, std::move(fields), author);
  settle(nullptr);
  return model::Done{};
}

model::Result<model::RecordId> Book::note_pain(const model::ScopeId& scope_id, std::string_view region, std::uint64_t band,
                                               Author author) {
  if (const auto may = writable(); !may) return may.error();
  if (scopes_.count(scope_id) == 0) return model::error(model::ErrorKind::not_found, "athlete.unknown", {scope_id.hex().substr(0, 8)});
  if (auto error = refuse_name(region)) return *error;
  if (band < 1 || band > 3) return invalid("value.band", {std::to_string(band)});
  const model::RecordId id = write(scope_of(scope_id), kind::pain,
                                   {ops::text_field(ops::pain_tag::region, region), ops::unsigned_field(ops::pain_tag::band, band)}, author)
                                 .key();
  settle(nullptr);
  return id;
}

}  // namespace slipway::app
