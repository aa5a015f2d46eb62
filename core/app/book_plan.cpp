// The verbs of who somebody is, what is there and what is planned.
#include <algorithm>
#include <array>
#include <charconv>

#include "app/book_scope.h"
#include "app/book_values.h"
#include "model/ladder.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::app {

namespace {

namespace kind = ops::kind;
namespace athlete_tag = ops::athlete_tag;

constexpr std::array<std::string_view, 7> kPhases{"learn", "general", "strength", "power", "taper", "race", "break"};  // [handbook 5.4]
constexpr std::size_t kWeek = 7;
constexpr std::int32_t kLongestMeetDays = 30;

std::optional<std::uint64_t> read_whole(std::string_view text) {
  std::uint64_t value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || read.ec != std::errc{} || read.ptr != text.data() + text.size()) return std::nullopt;
  return value;
}

// One field as typed; its range is checked like that of any change.
model::Result<PlanLineEntry> read_plan_field(std::string_view field, std::string_view value) {
  PlanLineEntry entry;
  if (field == "exercise") {
    entry.exercise = std::string(value);
    return entry;
  }
  if (field == "load") {
    const auto load = model::read_quantity(value, model::Unit::kg);
    if (!load) return load.error();
    entry.load = *load;
    return entry;
  }
  struct Whole {
    std::string_view name, text;
    std::optional<std::uint64_t> PlanLineEntry::*where;
    std::uint64_t scale;
  };
  static constexpr std::array<Whole, 4> kWhole{{{"sets", "value.sets", &PlanLineEntry::sets, 1},
                                                {"reps", "value.reps", &PlanLineEntry::reps, 1},
                                                {"rir", "value.rir", &PlanLineEntry::rir, 1},
                                                {"rest", "value.rest", &PlanLineEntry::rest_ms, 1000}}};
  for (const Whole& one : kWhole) {
    if (one.name != field) continue;
    const auto number = read_whole(value);
    if (!number || *number > kMaxRestSeconds * 1000) return invalid(std::string(one.text), {std::string(value)});
    entry.*one.where = *number * one.scale;
    return entry;
  }
  return invalid("value.field", {std::string(field), "exercise, sets, reps, load, rir, rest"});
}

Refusal refuse_rest(std::uint64_t rest_ms) {
  if (rest_ms > kMaxRestSeconds * 1000) return invalid("value.rest", {std::to_string(rest_ms / 1000)});
  return std::nullopt;
}

Refusal refuse_tempo(const std::vector<std::uint64_t>& tempo) {
  std::uint64_t sum = 0;
  bool within = tempo.size() == 4;
  for (std::uint64_t part : tempo) {
    within = within && part <= kMaxTempoSeconds;
    sum += part;
  }
  if (!within || sum == 0) return invalid("value.tempo");
  return std::nullopt;
}

// `exercise`, `low` and `high`: what the line will say afterwards.
Refusal refuse(const PlanLineEntry& line, std::string_view exercise, std::uint64_t low, std::optional<std::uint64_t> high) {
  const auto reps = [&](std::uint64_t value) { return refuse_written_reps(exercise, value); };
  const auto load = [](const model::Quantity& value) { return refuse_load(value); };
  const auto named = [](const std::string& value) { return refuse_exercise(value); };
  const auto sets = [](std::uint64_t value) { return refuse_outside(value, 1, kMaxSets, "value.sets"); };
  const auto place = [](std::uint64_t value) { return refuse_outside(value, 1, kMaxPlace, "value.place"); };
  const auto format = [](model::Format value) { return refuse_outside(static_cast<std::uint64_t>(value), 1, 3, "value.format"); };
  const auto band = [](const std::string& value) { return refuse_band_name(value); };
  const auto grip = [](const std::string& value) { return refuse_grip(value); };
  if (auto error = first_of(if_given(line.exercise, named), if_given(line.sets, sets), if_given(line.reps, reps),
                            if_given(line.reps_high, reps), if_given(line.load, load), if_given(line.rir, refuse_rir),
                            if_given(line.rest_ms, refuse_rest), if_given(line.programme_day, refuse_programme_day),
                            if_given(line.place, place), if_given(line.block, place), if_given(line.format, format),
                            if_given(line.tempo, refuse_tempo), if_given(line.band, band), if_given(line.grip, grip)))
    return error;
  if (high && *high < low && (line.reps || line.reps_high))
    return invalid("value.range", {std::to_string(low), std::to_string(*high)});
  return std::nullopt;
}

Refusal refuse_group(const std::string& group) { return group.empty() ? Refusal{} : refuse_word(group); }

Refusal refuse_training_days(const std::vector<bool>& days) {
  if (days.size() != kWeek) return invalid("value.training_days");
  return std::nullopt;
}

std::uint64_t bits_of(const std::vector<bool>& days) {
  std::uint64_t bits = 0;
  for (std::size_t day = 0; day < days.size(); ++day) bits |= days[day] ? std::uint64_t{1} << day : 0;
  return bits;
}

Refusal refuse(const model::Programme& programme) {
  if (std::find(kPhases.begin(), kPhases.end(), programme.phase) == kPhases.end()) return invalid("value.phase", {programme.phase});
  const auto day = [](model::Day value) { return refuse_day(value); };
  return first_of(if_given(programme.starts, day), refuse_outside(programme.weeks, 0, kMaxWeeks, "value.weeks"),
                  refuse_outside(programme.days_a_week, 0, kWeek, "value.days_a_week"),
                  if_given(programme.rest_between_exercises_ms, refuse_rest), if_given(programme.rest_between_rounds_ms, refuse_rest));
}

Refusal refuse(const model::Race& race) {
  if (auto error = first_of(refuse_name(race.name), refuse_day(race.first_day), refuse_day(race.last_day),
                            refuse_outside(race.priority, 1, 3, "value.priority")))
    return error;
  const std::int32_t days = race.last_day.since_1970 - race.first_day.since_1970;
  if (days < 0 || days >= kLongestMeetDays) return invalid("value.race_days", {std::to_string(days + 1)});
  return std::nullopt;
}

}  // namespace

Refusal refuse(const KitEntry& kit) {
  if (kit.name && !kit.name->empty())
    if (auto error = refuse_name(*kit.name)) return error;
  if (kit.loads) {
    if (kit.loads->size() > kMaxKitLoads) return invalid("value.kit_loads", {std::to_string(kit.loads->size())});
    for (const model::Quantity& load : *kit.loads)
      if (auto error = refuse_load(load)) return error;
  }
  if (kit.bands) {
    if (kit.bands->size() > kMaxWords) return invalid("value.word_count", {std::to_string(kit.bands->size())});
    for (const std::string& band : *kit.bands) {
      if (band.empty()) return invalid("value.band_name", {band});
      if (auto error = refuse_band_name(band)) return error;
    }
  }
  return kit.equipment ? refuse_equipment(*kit.equipment) : Refusal{};
}

model::Result<model::ScopeId> Book::add_athlete(const NewAthlete& who, Author author) {
  if (const auto may = writable(); !may) return may.error();
  const model::Day today = model::day_of(now());
  const auto year = [&](std::uint64_t value) { return refuse_birth_year(value, today); };
  const KitEntry kit = who.kit.value_or(common_kit());
  if (auto error = first_of(refuse_name(who.name), if_given(who.birth_year, year), if_given(who.birth_month, refuse_birth_month),
                            refuse_group(who.group), refuse(kit)))
    return *error;

  model::ScopeId id;
  outside_.random.fill(id.bytes);
  Scope& scope = scope_of(id);
  const model::IncarnationId home = opening().inc;
  write(scope, kind::athlete,
        Fields(home)
            .text(athlete_tag::name, who.name)
            .whole(athlete_tag::birth_year, who.birth_year)
            .whole(athlete_tag::birth_month, who.birth_month)
            .text(athlete_tag::group, who.group)
            .take(),
        author);
  write(scope, kind::kit, kit_fields(kit, home), author);
  write(scope, kind::programme, programme_fields(starting_programme(today), home), author);
  for (const PlanLineEntry& line : starting_lines(kit, model::ages_on(athlete(id), today)))
    write(scope, kind::prescription, plan_line_fields(line, home), author);
  settle(nullptr);
  return id;
}

model::Result<model::Done> Book::set_athlete(const model::ScopeId& scope_id, const AthleteChange& to, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  const model::Day today = model::day_of(now());
  const auto year = [&](std::uint64_t value) { return refuse_birth_year(value, today); };
  const auto name = [](const std::string& value) { return refuse_name(value); };
  if (auto error = first_of(if_given(to.name, name), if_given(to.birth_year, year), if_given(to.birth_month, refuse_birth_month),
                            if_given(to.group, refuse_group), if_given(to.limitations, refuse_words),
                            if_given(to.training_days, refuse_training_days)))
    return *error;
  const model::RecordId id = athlete(scope_id).id;
  if (find_record(**scope, id, kind::athlete) == nullptr) return unknown_record(id);
  Fields fields(opening().inc);
  fields.said(athlete_tag::name, to.name)
      .whole(athlete_tag::birth_year, to.birth_year)
      .whole(athlete_tag::birth_month, to.birth_month)
      .said(athlete_tag::group, to.group)
      .yes_no(athlete_tag::sign_off_gate, to.sign_off_gate);
  if (to.limitations) set_words(**scope, ops::kLimitations, *to.limitations, author);
  // An older form named them in one field: from now on they stand as members, and the field is empty.
  const ops::Record& named = *(*scope)->fold().find(id);
  if (to.limitations && !ops::seen_values(named, athlete_tag::limitations).empty()) fields.said(athlete_tag::limitations, std::string());
  if (to.training_days) fields.whole(athlete_tag::training_days, bits_of(*to.training_days));
  change(**scope, id, fields.take(), author);
  settle(nullptr);
  return model::Done{};
}

model::Result<model::RecordId> Book::set_kit(const model::ScopeId& scope_id, const std::optional<model::RecordId>& kit,
                                             const KitEntry& entry, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse(entry)) return *error;
  if (!kit) return keep(**scope, kind::kit, kit_fields(entry, opening().inc), author);
  if (find_record(**scope, *kit, kind::kit) == nullptr) return unknown_record(*kit);
  change(**scope, *kit, kit_fields(entry, opening().inc), author);
  settle(nullptr);
  return *kit;
}

model::Result<model::RecordId> Book::add_plan_line(const model::ScopeId& scope_id, const PlanLineEntry& line, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (!line.exercise) return *refuse_exercise("");
  if (!line.sets) return invalid("value.sets", {""});
  if (!line.reps) return invalid("value.reps", {""});
  if (auto error = refuse(line, *line.exercise, *line.reps, line.reps_high)) return *error;
  return keep(**scope, kind::prescription, plan_line_fields(line, opening().inc), author);
}

model::Result<model::Done> Book::change_plan_line(const model::ScopeId& scope_id, const model::RecordId& id, const PlanLineEntry& to,
                                                  Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  const auto plan = plan_of(scope_id);
  const auto line = std::find_if(plan.begin(), plan.end(), [&](const model::Prescription& one) { return one.id == id; });
  if (line == plan.end() || (*scope)->newer_only.count(id) != 0) return unknown_record(id);
  const std::uint64_t low = to.reps.value_or(line->reps.value_or(0));
  PlanLineEntry change_to = to;
  // One low end moved past the high end takes it along: a line never says "12 to 10".
  if (to.reps && !to.reps_high && !line->reps_high.empty() && *line->reps_high.first() < low) change_to.reps_high = low;
  const auto high = change_to.reps_high ? change_to.reps_high
                                        : (line->reps_high.empty() ? std::nullopt : std::optional<std::uint64_t>(*line->reps_high.first()));
  if (auto error = refuse(change_to, to.exercise.value_or(line->exercise.value_or("")), low, high)) return *error;
  change(**scope, id, plan_line_fields(change_to, opening().inc), author);
  settle(nullptr);
  return model::Done{};
}

model::Result<model::Done> Book::set_plan(const model::ScopeId& scope_id, std::string_view field, std::string_view value,
                                          Author author, const std::optional<model::RecordId>& line) {
  if (const auto may = writable(); !may) return may.error();
  const auto read = read_plan_field(field, value);
  if (!read) return read.error();
  if (line) return change_plan_line(scope_id, *line, *read, author);
  const auto& plan = athlete(scope_id).prescriptions;
  if (plan.empty()) return model::error(model::ErrorKind::not_found, "plan.none", {athlete(scope_id).name.value_or("")});
  return change_plan_line(scope_id, plan.front().id, *read, author);
}

model::Result<model::RecordId> Book::set_programme(const model::ScopeId& scope_id, const model::Programme& programme, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse(programme)) return *error;
  std::vector<model::RecordId> replaced;
  for (const auto& version : athlete(scope_id).programme.all) replaced.push_back(version.value.id);
  return keep(**scope, kind::programme, programme_fields(programme, opening().inc), author, replaced);
}

model::Result<model::RecordId> Book::add_race(const model::ScopeId& scope_id, const model::Race& race, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse(race)) return *error;
  return keep(**scope, kind::race,
              Fields(opening().inc)
                  .text(ops::race_tag::name, race.name)
                  .day(ops::race_tag::first_day, race.first_day)
                  .day(ops::race_tag::last_day, race.last_day)
                  .whole(ops::race_tag::priority, race.priority)
                  .take(),
              author);
}

model::Result<model::RecordId> Book::add_key_swim(const model::ScopeId& scope_id, std::int64_t start_local_ms, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse_local_ms(start_local_ms)) return *error;
  return keep(**scope, kind::key_swim, Fields(opening().inc).with_sign(ops::key_swim_tag::start_local_ms, start_local_ms).take(), author);
}

}  // namespace slipway::app
