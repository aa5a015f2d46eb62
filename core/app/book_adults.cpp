// The verbs that an adult answers for: sign-off, tick-in, consent, overruling.
#include <algorithm>
#include <array>

#include "app/book_scope.h"
#include "app/book_values.h"
#include "app/situation.h"
#include "model/ladder.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::app {

namespace {

namespace kind = ops::kind;

constexpr std::uint64_t kYouthLeastReps = 5;           // no maximal tests, no sets under 5 [5.7]
constexpr std::array<std::string_view, 3> kNobodyOverrules{"G01", "G02", "G11"};            // [6]
constexpr std::array<std::string_view, 4> kSwimmerOverrules{"G08", "G09", "G10", "G12"};    // "train now", of age [6]
constexpr std::string_view kStopRow = "R01";

template <std::size_t N>
bool among(const std::array<std::string_view, N>& rows, std::string_view row) {
  return std::find(rows.begin(), rows.end(), row) != rows.end();
}

Refusal refuse_row(std::string_view row) {
  const bool plain = row.size() == 3 && row[0] >= 'A' && row[0] <= 'Z' && row[1] >= '0' && row[1] <= '9' && row[2] >= '0' && row[2] <= '9';
  return plain ? Refusal{} : invalid("value.row", {std::string(row)});
}

Refusal refuse_adult_role(model::AdultRole role) {
  return refuse_outside(static_cast<std::uint64_t>(role), 1, static_cast<std::uint64_t>(model::AdultRole::guardian), "value.role");
}

Refusal refuse(const model::SignOff& seen) {
  const auto level = static_cast<std::uint64_t>(seen.level);
  if (auto error = first_of(refuse_exercise(seen.exercise), refuse_outside(level, 1, 3, "value.sign_off_level"), refuse_note(seen.note),
                            refuse_day(seen.day), refuse_adult_role(seen.role)))
    return error;
  const auto load = [](const model::Quantity& value) { return refuse_load(value); };
  const auto reps = [&](std::uint64_t value) { return refuse_reps(seen.exercise, value); };
  return first_of(if_given(seen.load, load), if_given(seen.reps, reps));
}

// Of the part that is named, else of what was done; where neither says which joints, it is about these: the safe side.
bool reaches(std::string_view region, std::string_view at, std::string_view exercise) {
  const PainPart* part = find_pain_part(region);
  const model::Rung* hurt_at = model::find_rung(at);
  const model::Rung* rung = model::find_rung(exercise);
  if (rung == nullptr || (part == nullptr && hurt_at == nullptr) || at == exercise) return true;
  return ((part != nullptr ? part->joints : hurt_at->joints) & rung->joints) != 0;
}

// A stop that nobody overrules: pain of 6 or more, or a local red flag, not cleared.
bool stop_is_firm(const model::Athlete& athlete, std::string_view exercise) {
  const bool hurts = std::any_of(athlete.pains.begin(), athlete.pains.end(), [&](const model::Pain& pain) {
    return pain.worst() >= model::kFirmPain && !pain.withdrawn && !model::is_cleared(athlete, pain.id) &&
           reaches(pain.region, pain.exercise, exercise);
  });
  return hurts || std::any_of(athlete.red_flags.begin(), athlete.red_flags.end(), [&](const model::RedFlag& flag) {
           return flag.group == model::FlagGroup::local && !model::is_cleared(athlete, flag.id) && reaches(flag.region, {}, exercise);
         });
}

Refusal refuse_overruling(const model::Athlete& athlete, const model::Overrule& overrule, Author author) {
  const bool youth = model::is_youth(athlete, overrule.day);
  if (author == Author::helper) return invalid("value.coach_only");
  if (author == Author::swimmer && (youth || !among(kSwimmerOverrules, overrule.row))) return invalid("value.coach_only");
  const bool firm = among(kNobodyOverrules, overrule.row) ||
                    (overrule.row == kStopRow && (youth || stop_is_firm(athlete, overrule.exercise)));
  if (firm) return invalid("value.row_stands", {overrule.row});
  if (author == Author::coach && overrule.note.find_first_not_of(' ') == std::string::npos) return invalid("value.note_missing");
  const std::uint64_t least = std::min(overrule.reps.value_or(kYouthLeastReps), overrule.reps_high.value_or(kYouthLeastReps));
  if (youth && least < kYouthLeastReps) return invalid("value.youth_reps", {std::to_string(least)});
  return std::nullopt;
}

Refusal refuse(const model::Overrule& overrule) {
  const auto load = [](const model::Quantity& value) { return refuse_load(value); };
  const auto sets = [](std::uint64_t value) { return refuse_outside(value, 1, kMaxSets, "value.sets"); };
  const auto reps = [&](std::uint64_t value) { return refuse_written_reps(overrule.exercise, value); };
  if (!overrule.exercise.empty())
    if (auto error = refuse_exercise(overrule.exercise)) return error;
  if (!overrule.choice.empty())
    if (auto error = refuse_word(overrule.choice)) return error;
  if (auto error = first_of(refuse_row(overrule.row), refuse_note(overrule.note), refuse_day(overrule.day), if_given(overrule.sets, sets),
                            if_given(overrule.reps, reps), if_given(overrule.reps_high, reps), if_given(overrule.load, load)))
    return error;
  if (overrule.reps && overrule.reps_high && *overrule.reps_high < *overrule.reps)
    return invalid("value.range", {std::to_string(*overrule.reps), std::to_string(*overrule.reps_high)});
  return std::nullopt;
}

}  // namespace

model::Result<model::RecordId> Book::keep_sign_off(Scope& scope, const model::SignOff& seen, Author author) {
  if (author == Author::swimmer) return invalid("value.adult_only");
  if (auto error = refuse(seen)) return *error;
  // Named are those that stand: a later word counts alone, a concurrent one counts by care.
  namespace at = ops::sign_off_tag;
  return keep(scope, kind::sign_off,
              Fields(opening().inc)
                  .text(at::exercise, seen.exercise)
                  .whole(at::level, static_cast<std::uint64_t>(seen.level))
                  .load(at::load, seen.load)
                  .whole(at::reps, seen.reps)
                  .text(at::note, seen.note)
                  .day(at::day, seen.day)
                  .whole(at::role, static_cast<std::uint64_t>(seen.role))
                  .take(),
              author, ops::standing_sign_offs(scope.fold(), seen.exercise));
}

model::Result<model::RecordId> Book::sign_off(const model::ScopeId& scope_id, const model::SignOff& seen, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (seen.level == model::SignOffLevel::withdrawn) return invalid("value.sign_off_level", {"3"});
  return keep_sign_off(**scope, seen, author);
}

model::Result<model::RecordId> Book::withdraw_sign_off(const model::ScopeId& scope_id, std::string_view exercise, std::string_view note,
                                                       model::Day day, model::AdultRole role, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  model::SignOff withdrawal;
  withdrawal.exercise = std::string(exercise);
  withdrawal.level = model::SignOffLevel::withdrawn;
  withdrawal.note = std::string(note);
  withdrawal.day = day;
  withdrawal.role = role;
  return keep_sign_off(**scope, withdrawal, author);
}

model::Result<model::RecordId> Book::tick_in(const model::ScopeId& scope_id, const model::TickIn& tick, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = first_of(refuse_adult_role(tick.role), refuse_day(tick.day))) return *error;
  if (find_record(**scope, tick.session, kind::session) == nullptr) return unknown_record(tick.session);
  return keep(**scope, kind::tick_in,
              Fields(opening().inc)
                  .ref(ops::tick_in_tag::session, tick.session)
                  .whole(ops::tick_in_tag::role, static_cast<std::uint64_t>(tick.role))
                  .mark(ops::tick_in_tag::second_adult, tick.second_adult)
                  .day(ops::tick_in_tag::training_day, tick.day)
                  .take(),
              author);
}

model::Result<model::RecordId> Book::give_consent(const model::ScopeId& scope_id, const model::Consent& consent, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  const auto thing = static_cast<std::uint64_t>(consent.thing);
  const auto from = static_cast<std::uint64_t>(consent.from);
  if (auto error = first_of(refuse_outside(thing, 1, 4, "value.consent_thing"), refuse_outside(from, 1, 2, "value.consent_by"),
                            refuse_day(consent.day)))
    return *error;
  const auto ages = model::ages_on(athlete(scope_id), consent.day);
  const bool too_young = !ages || ages->lowest < kConsentAge;
  // A no is anybody's to say.
  if (consent.given && consent.from == model::ConsentBy::young_person && too_young) return invalid("value.consent_age");
  return keep(**scope, kind::consent,
              Fields(opening().inc)
                  .whole(ops::consent_tag::thing, thing)
                  .yes_no(ops::consent_tag::given, consent.given)
                  .whole(ops::consent_tag::by, from)
                  .day(ops::consent_tag::day, consent.day)
                  .take(),
              author, ops::standing_consents((*scope)->fold(), consent.thing));
}

bool Book::may_overrule(const model::ScopeId& scope_id, const model::Overrule& overrule, Author author) {
  return !refuse_overruling(athlete(scope_id), overrule, author);
}

model::Result<model::RecordId> Book::overrule(const model::ScopeId& scope_id, const model::Overrule& overrule, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = first_of(refuse(overrule), refuse_overruling(athlete(scope_id), overrule, author))) return *error;
  namespace at = ops::overrule_tag;
  return keep(**scope, kind::overrule,
              Fields(opening().inc)
                  .text(at::exercise, overrule.exercise)
                  .day(at::training_day, overrule.day)
                  .text(at::row, overrule.row)
                  .text(at::note, overrule.note)
                  .whole(at::sets, overrule.sets)
                  .whole(at::reps, overrule.reps)
                  .load(at::load, overrule.load)
                  .whole(at::reps_high, overrule.reps_high)
                  .text(at::choice, overrule.choice)
                  .take(),
              author);
}

}  // namespace slipway::app
