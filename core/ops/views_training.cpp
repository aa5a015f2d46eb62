// Programme, finish, decision, overruling, swap, race, key swim.
#include "ops/read_values.h"
#include "ops/registry.h"

namespace slipway::ops {

namespace {

std::optional<std::uint64_t> number(const Record& record, std::uint32_t tag) { return first_value<std::uint64_t>(record, tag, to_unsigned); }
std::string word(const Record& record, std::uint32_t tag) { return first_value<std::string>(record, tag, to_string).value_or(""); }
std::optional<model::Quantity> quantity(const Record& record, std::uint32_t tag) {
  return first_value<model::Quantity>(record, tag, to_quantity);
}
std::vector<std::uint64_t> list(const Record& record, std::uint32_t tag) {
  return first_value<std::vector<std::uint64_t>>(record, tag, to_list).value_or(std::vector<std::uint64_t>{});
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

struct ProgrammeTold {
  model::RecordId id;
  model::Programme programme;
  model::Writer by;
};

std::optional<ProgrammeTold> read_programme(const model::RecordId& id, const Record& record) {
  namespace at = programme_tag;
  model::Programme programme{.id = id,
                             .phase = word(record, at::phase),
                             .starts = first_value<model::Day>(record, at::starts, to_day),
                             .weeks = number(record, at::weeks).value_or(0),
                             .days_a_week = number(record, at::days_a_week).value_or(0),
                             .rest_between_exercises_ms = number(record, at::rest_between_exercises_ms),
                             .rest_between_rounds_ms = number(record, at::rest_between_rounds_ms)};
  return ProgrammeTold{id, std::move(programme), writer_of(*record.created)};
}

std::optional<FinishOf> read_finish(const model::RecordId& id, const Record& record) {
  const auto session = first_ref(record, finish_tag::session);
  if (!session) return std::nullopt;
  const std::uint64_t reason = number(record, finish_tag::short_reason).value_or(0);
  model::Finish finish{.id = id,
                       .effort_tenths = number(record, finish_tag::effort_tenths),
                       .minutes = number(record, finish_tag::minutes),
                       .short_reason = std::nullopt};
  if (reason >= 1 && reason <= static_cast<std::uint64_t>(model::ShortReason::other))
    finish.short_reason = static_cast<model::ShortReason>(reason);
  return FinishOf{id, *session, finish, writer_of(*record.created)};
}

std::optional<model::Decision> read_decision(const model::RecordId& id, const Record& record) {
  namespace at = decision_tag;
  model::Decision decision;
  decision.id = id;
  decision.session = first_ref(record, at::session).value_or(model::RecordId{});
  decision.exercise = word(record, at::exercise);
  decision.row = word(record, at::row);
  decision.gate = word(record, at::gate);
  decision.when = word(record, at::when);
  decision.sets = number(record, at::sets).value_or(0);
  decision.reps = list(record, at::reps);
  decision.load = quantity(record, at::load);
  decision.rir = number(record, at::rir);
  decision.reps_low = number(record, at::reps_low).value_or(0);
  decision.reps_high = number(record, at::reps_high).value_or(0);
  decision.passing = number(record, at::passing).value_or(0) == 1;
  decision.band = word(record, at::band);
  decision.grip = word(record, at::grip);
  decision.tempo = list(record, at::tempo);
  decision.modifiers = first_value<std::vector<std::string>>(record, at::modifiers, to_words).value_or(std::vector<std::string>{});
  decision.args = lines_of(word(record, at::args));
  decision.prescription = first_ref(record, at::prescription);
  decision.swapped_from = word(record, at::swapped_from);
  decision.rest_ms = number(record, at::rest_ms);
  decision.standing = word(record, at::standing);
  decision.start = word(record, at::start);
  decision.ramp_step = number(record, at::ramp_step).value_or(0);
  decision.by_coach = number(record, at::by_coach).value_or(0) == 1;
  decision.cut_by_gate = number(record, at::cut_by_gate).value_or(0) == 1;
  decision.reps_up_to = list(record, at::reps_up_to);
  decision.by = writer_of(*record.created);
  return decision;
}

std::optional<model::Overrule> read_overrule(const model::RecordId& id, const Record& record) {
  namespace at = overrule_tag;
  return model::Overrule{.id = id,
                         .exercise = word(record, at::exercise),
                         .day = first_value<model::Day>(record, at::training_day, to_day).value_or(model::day_of(record.created->claimed)),
                         .row = word(record, at::row),
                         .note = word(record, at::note),
                         .choice = word(record, at::choice),
                         .sets = number(record, at::sets),
                         .reps = number(record, at::reps),
                         .reps_high = number(record, at::reps_high),
                         .load = quantity(record, at::load),
                         .by = writer_of(*record.created)};
}

std::optional<model::Swap> read_swap(const model::RecordId& id, const Record& record) {
  return model::Swap{.id = id,
                     .session = first_ref(record, swap_tag::session).value_or(model::RecordId{}),
                     .from = word(record, swap_tag::from),
                     .to = word(record, swap_tag::to),
                     .pain = first_ref(record, swap_tag::pain),
                     .by = writer_of(*record.created)};
}

std::optional<model::Race> read_race(const model::RecordId& id, const Record& record) {
  const auto first = first_value<model::Day>(record, race_tag::first_day, to_day);
  if (!first) return std::nullopt;
  const model::Day last = first_value<model::Day>(record, race_tag::last_day, to_day).value_or(*first);
  const std::uint64_t priority = number(record, race_tag::priority).value_or(1);
  return model::Race{.id = id,
                     .name = word(record, race_tag::name),
                     .first_day = *first,
                     .last_day = last < *first ? *first : last,
                     .priority = priority < 1 || priority > 3 ? 1 : priority,
                     .by = writer_of(*record.created)};
}

std::optional<model::KeySwim> read_key_swim(const model::RecordId& id, const Record& record) {
  const auto start = first_value<std::int64_t>(record, key_swim_tag::start_local_ms, to_signed_ms);
  if (!start) return std::nullopt;
  return model::KeySwim{.id = id, .start_local_ms = *start, .by = writer_of(*record.created)};
}

}  // namespace

std::vector<FinishOf> read_finishes(const Fold& fold) {
  std::vector<FinishOf> finishes =
      standing(told<FinishOf>(fold, kind::finish, read_finish), [](const auto& a, const auto& b) { return a.session == b.session; });
  std::reverse(finishes.begin(), finishes.end());
  return finishes;
}

void read_training(const Fold& fold, model::Athlete& athlete) {
  std::vector<ProgrammeTold> programmes =
      standing(told<ProgrammeTold>(fold, kind::programme, read_programme), [](const auto&, const auto&) { return true; });
  std::reverse(programmes.begin(), programmes.end());
  for (ProgrammeTold& one : programmes) athlete.programme.all.push_back({std::move(one.programme), one.by});
  athlete.decisions = nouns_of(told<model::Decision>(fold, kind::decision, read_decision));
  athlete.overrules = nouns_of(told<model::Overrule>(fold, kind::overrule, read_overrule));
  athlete.swaps = nouns_of(told<model::Swap>(fold, kind::swap, read_swap));
  athlete.races = nouns_of(told<model::Race>(fold, kind::race, read_race));
  std::stable_sort(athlete.races.begin(), athlete.races.end(), [](const auto& a, const auto& b) { return a.first_day < b.first_day; });
  athlete.key_swims = nouns_of(told<model::KeySwim>(fold, kind::key_swim, read_key_swim));
  std::stable_sort(athlete.key_swims.begin(), athlete.key_swims.end(),
                   [](const auto& a, const auto& b) { return a.start_local_ms < b.start_local_ms; });
}

}  // namespace slipway::ops
