// The verbs of a session: each checks its values, writes ops, settles one transaction.
#include <algorithm>

#include "app/book_scope.h"
#include "app/book_values.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::app {

namespace {

namespace kind = ops::kind;
namespace tag = ops::tag;
namespace set_tag = ops::set_tag;

Refusal refuse(const SetEntry& entry) {
  const auto load = [](const model::Quantity& value) { return refuse_load(value); };
  return first_of(refuse_exercise(entry.exercise), refuse_outside(entry.round, 1, kMaxRounds, "value.round"),
                  refuse_reps(entry.exercise, entry.reps), if_given(entry.load, load), if_given(entry.rir, refuse_rir),
                  refuse_band_name(entry.band), refuse_grip(entry.grip));
}

std::vector<ops::Field> set_fields(const SetEntry& entry, const model::RecordId& session, const model::IncarnationId& home) {
  const auto side = entry.side ? std::optional<std::uint64_t>(static_cast<std::uint64_t>(*entry.side)) : std::nullopt;
  return Fields(home)
      .ref(set_tag::session, session)
      .text(set_tag::exercise, entry.exercise)
      .whole(set_tag::round, entry.round)
      .whole(set_tag::reps, entry.reps)
      .load(set_tag::load, entry.load)
      .whole(set_tag::rir, entry.rir)
      .whole(set_tag::written_reps, entry.written_reps)
      .load(set_tag::written_load, entry.written_load)
      .mark(set_tag::left_out, entry.left_out)
      .whole(set_tag::side, side)
      .mark(set_tag::warm_up, entry.warm_up)
      .mark(set_tag::form_broke, entry.form_broke)
      .text(set_tag::band, entry.band)
      .text(set_tag::grip, entry.grip)
      .mark(set_tag::two_more, entry.two_more)
      .take();
}

std::vector<ops::Field> change_fields(const SetChange& change, const model::IncarnationId& home) {
  return Fields(home)
      .whole(set_tag::reps, change.reps)
      .load(set_tag::load, change.load)
      .whole(set_tag::rir, change.rir)
      .yes_no(set_tag::left_out, change.left_out)
      .yes_no(set_tag::warm_up, change.warm_up)
      .yes_no(set_tag::form_broke, change.form_broke)
      .said(set_tag::band, change.band)
      .said(set_tag::grip, change.grip)
      .whole(set_tag::side, change.side)
      .yes_no(set_tag::two_more, change.two_more)
      .take();
}

// Add-only and careful facts stay, but for the two that only ever allow something.
bool may_be_taken_back(std::uint32_t record_kind) {
  const ops::KindInfo* info = ops::find_kind(record_kind);
  if (info == nullptr) return false;
  if (info->merge == ops::Merge::careful) return record_kind == kind::tick_in || record_kind == kind::clearance;
  return info->merge != ops::Merge::add_only;
}

Refusal refuse(const model::Finish& finish) {
  const auto minutes = [](std::uint64_t value) { return refuse_outside(value, 1, kMaxMinutes, "value.minutes"); };
  const auto effort = [](std::uint64_t value) { return refuse_outside(value / 10 + (value % 10 == 0 ? 0 : 1), 0, kMaxEffortTenths / 10, "value.effort"); };  // said in whole steps
  const auto reason = [](model::ShortReason value) {
    return refuse_outside(static_cast<std::uint64_t>(value), 1, static_cast<std::uint64_t>(model::ShortReason::other), "value.short_reason");
  };
  return first_of(if_given(finish.minutes, minutes), if_given(finish.effort_tenths, effort), if_given(finish.short_reason, reason));
}

Refusal refuse(const model::Decision& decision) {
  if (auto error = refuse_exercise(decision.exercise)) return error;
  if (decision.sets > kMaxSets || decision.reps.size() > kMaxSets) return invalid("value.sets", {std::to_string(decision.sets)});
  for (std::uint64_t reps : decision.reps)
    if (auto error = refuse_reps(decision.exercise, reps)) return error;
  const auto load = [](const model::Quantity& value) { return refuse_load(value); };
  return first_of(if_given(decision.load, load), if_given(decision.rir, refuse_rir), refuse_band_name(decision.band),
                  refuse_grip(decision.grip));
}

std::vector<ops::Field> decision_fields(const model::Decision& decision, const model::IncarnationId& home) {
  namespace at = ops::decision_tag;
  const auto listed = [](const std::vector<std::uint64_t>& all) {
    return all.empty() ? std::nullopt : std::optional<std::vector<std::uint64_t>>(all);
  };
  return Fields(home)
      .ref(at::session, decision.session)
      .text(at::exercise, decision.exercise)
      .text(at::row, decision.row)
      .text(at::gate, decision.gate)
      .text(at::when, decision.when)
      .whole(at::sets, decision.sets)
      .list(at::reps, listed(decision.reps))
      .load(at::load, decision.load)
      .whole(at::rir, decision.rir)
      .whole(at::reps_low, decision.reps_low)
      .whole(at::reps_high, decision.reps_high)
      .mark(at::passing, decision.passing)
      .text(at::band, decision.band)
      .text(at::grip, decision.grip)
      .list(at::tempo, listed(decision.tempo))
      .text(at::modifiers, joined(decision.modifiers))
      .text(at::args, joined(decision.args, "\n"))
      .ref(at::prescription, decision.prescription)
      .text(at::swapped_from, decision.swapped_from)
      .whole(at::rest_ms, decision.rest_ms)
      .text(at::standing, decision.standing)
      .text(at::start, decision.start)
      .whole(at::ramp_step, decision.ramp_step == 0 ? std::nullopt : std::optional<std::uint64_t>(decision.ramp_step))
      .mark(at::by_coach, decision.by_coach)
      .mark(at::cut_by_gate, decision.cut_by_gate)
      .list(at::reps_up_to, decision.reps_up_to == decision.reps ? std::nullopt : listed(decision.reps_up_to))
      .take();
}

}  // namespace

model::Result<Book::Scope*> Book::open_scope(const model::ScopeId& id) {
  if (const auto may = writable(); !may) return may.error();
  const auto found = scopes_.find(id);
  if (found == scopes_.end()) return model::error(model::ErrorKind::not_found, "athlete.unknown", {id.hex().substr(0, 8)});
  return found->second.get();
}

const ops::Record* Book::find_record(const Scope& scope, const model::RecordId& id, std::uint32_t record_kind) const {
  const ops::Record* record = scope.fold().find(id);
  // A session goes on being logged into, whatever a newer version says of it.
  const bool may = record_kind == kind::session || scope.newer_only.count(id) == 0;
  const bool ours = record != nullptr && record->created && record->kind == record_kind && may;
  return ours ? record : nullptr;
}

model::RecordId Book::keep(Scope& scope, std::uint32_t record_kind, std::vector<ops::Field> fields, Author author,
                           const std::vector<model::RecordId>& replaced) {
  if (!replaced.empty()) fields.push_back(ops::saw_field(replaced, opening().inc));
  const model::RecordId id = write(scope, record_kind, std::move(fields), author).key();
  settle(nullptr);
  return id;
}

void Book::change(Scope& scope, const model::RecordId& id, std::vector<ops::Field> fields, Author author) {
  if (fields.empty()) return;
  const ops::Record& record = *scope.fold().find(id);
  std::vector<model::OpKey> seen;
  for (const ops::Field& field : fields)
    for (const model::OpKey& key : ops::seen_values(record, field.tag)) seen.push_back(key);
  std::sort(seen.begin(), seen.end());
  seen.erase(std::unique(seen.begin(), seen.end()), seen.end());
  const std::size_t own_fields = fields.size();
  fields.push_back(ops::refs_field(tag::target, {id}, opening().inc));
  if (!seen.empty()) fields.push_back(ops::saw_field(seen, opening().inc, own_fields));
  write(scope, kind::change, std::move(fields), author);
}

// As model::session_on, without reading the whole athlete: a set must be kept at once, however long the record is.
std::optional<model::RecordId> Book::session_of_day(const Scope& scope, model::Day day) const {
  std::optional<model::RecordId> found;
  for (const model::RecordId& id : scope.fold().of_kind(kind::session)) {
    const ops::Record& record = *scope.fold().find(id);
    if (record.taken_back()) continue;
    const auto days = record.visible(ops::session_tag::training_day);
    if (days.empty()) continue;
    const auto said = ops::read_signed(ops::Field{ops::session_tag::training_day, days.front().wire, days.front().payload});
    if (said && *said == day.since_1970) found = id;
  }
  return found;
}

model::Result<model::RecordId> Book::begin_session(const model::ScopeId& scope_id, model::Day training_day,
                                                   std::optional<std::uint64_t> programme_day, const std::optional<model::RecordId>& kit,
                                                   Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = first_of(refuse_day(training_day), if_given(programme_day, refuse_programme_day))) return *error;
  if (kit && find_record(**scope, *kit, kind::kit) == nullptr) return unknown_record(*kit);
  const model::IncarnationId home = opening().inc;
  if (const model::Session* known = model::session_on(athlete(scope_id), training_day)) {
    const model::RecordId id = known->id;
    Fields missing(home);
    if (!known->programme_day) missing.whole(ops::session_tag::programme_day, programme_day);
    if (!known->kit) missing.ref(ops::session_tag::kit, kit);
    std::vector<ops::Field> fields = missing.take();
    if (!fields.empty() && find_record(**scope, id, kind::session) != nullptr) {
      change(**scope, id, std::move(fields), author);
      settle(nullptr);
    }
    return id;
  }
  return keep(**scope, kind::session,
              Fields(home)
                  .day(ops::session_tag::training_day, training_day)
                  .whole(ops::session_tag::programme_day, programme_day)
                  .ref(ops::session_tag::kit, kit)
                  .take(),
              author);
}

model::Result<model::Done> Book::move_session(const model::ScopeId& scope_id, const model::RecordId& session, model::Day to, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse_day(to)) return *error;
  if (find_record(**scope, session, kind::session) == nullptr) return unknown_record(session);
  const model::Session* there = model::session_on(athlete(scope_id), to);
  if (there != nullptr && !(there->id == session)) return model::error(model::ErrorKind::invalid, "session.day_taken", {model::iso(to)});
  change(**scope, session, Fields(opening().inc).day(ops::session_tag::training_day, to).take(), author);
  settle(nullptr);
  return model::Done{};
}

model::Result<model::Done> Book::may_log(const SetEntry& entry) {
  if (auto error = refuse(entry)) return *error;
  return model::Done{};
}

model::Result<model::RecordId> Book::log_set(const model::ScopeId& scope_id, const SetEntry& entry, model::Day training_day,
                                             Author author, const LocalValue* with) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse(entry)) return *error;
  const model::IncarnationId home = opening().inc;
  if (entry.session && find_record(**scope, *entry.session, kind::session) == nullptr) return unknown_record(*entry.session);
  std::optional<model::RecordId> session = entry.session ? entry.session : session_of_day(**scope, training_day);
  if (!session)
    session = write(**scope, kind::session, Fields(home).day(ops::session_tag::training_day, training_day).take(), author).key();
  const model::RecordId id = write(**scope, kind::set, set_fields(entry, *session, home), author).key();
  settle(with);
  return id;
}

model::Result<model::Done> Book::change_set(const model::ScopeId& scope_id, const model::RecordId& set, const SetChange& change_to,
                                            Author author, const LocalValue* with) {
  if (const auto may = writable(); !may) return may.error();
  const auto found = scopes_.find(scope_id);
  const ops::Record* record = found != scopes_.end() ? find_record(*found->second, set, kind::set) : nullptr;
  if (record == nullptr) return unknown_record(set);
  const std::string exercise = ops::read_set_exercise(*record);
  const auto reps = [&](std::uint64_t value) { return refuse_reps(exercise, value); };
  const auto load = [](const model::Quantity& value) { return refuse_load(value); };
  const auto band = [](const std::string& value) { return refuse_band_name(value); };
  const auto grip = [](const std::string& value) { return refuse_grip(value); };
  const auto side = [](std::uint64_t value) { return refuse_outside(value, 1, kBothSides, "value.side"); };
  if (auto error = first_of(if_given(change_to.reps, reps), if_given(change_to.load, load), if_given(change_to.rir, refuse_rir),
                            if_given(change_to.band, band), if_given(change_to.grip, grip), if_given(change_to.side, side)))
    return *error;
  std::vector<ops::Field> fields = change_fields(change_to, opening().inc);
  if (fields.empty()) {
    if (with != nullptr) set_local(with->name, with->value);
    return model::Done{};
  }
  change(*found->second, set, std::move(fields), author);
  settle(with);
  return model::Done{};
}

model::Result<model::Done> Book::take_back(const model::ScopeId& scope_id, const model::RecordId& id, Author author) {
  if (const auto may = writable(); !may) return may.error();
  const auto found = scopes_.find(scope_id);
  const ops::Record* record = found != scopes_.end() ? found->second->fold().find(id) : nullptr;
  if (record == nullptr || !record->created || !may_be_taken_back(record->kind) || found->second->newer_only.count(id) != 0) return unknown_record(id);
  const model::IncarnationId home = opening().inc;
  std::vector<ops::Field> fields{ops::refs_field(tag::target, {id}, home),
                                 ops::saw_field(ops::seen_touches(*record), home)};
  write(*found->second, kind::take_back, std::move(fields), author);
  settle(nullptr);
  return model::Done{};
}

model::Result<model::RecordId> Book::finish_session(const model::ScopeId& scope_id, const model::RecordId& session,
                                                    const model::Finish& finish, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = refuse(finish)) return *error;
  const model::Session* known = model::find_session(athlete(scope_id), session);
  if (known == nullptr) return unknown_record(session);
  std::vector<model::RecordId> replaced;
  for (const auto& version : known->finish.all) replaced.push_back(version.value.id);
  const auto reason =
      finish.short_reason ? std::optional<std::uint64_t>(static_cast<std::uint64_t>(*finish.short_reason)) : std::nullopt;
  return keep(**scope, kind::finish,
              Fields(opening().inc)
                  .ref(ops::finish_tag::session, session)
                  .whole(ops::finish_tag::effort_tenths, finish.effort_tenths)
                  .whole(ops::finish_tag::minutes, finish.minutes)
                  .whole(ops::finish_tag::short_reason, reason)
                  .take(),
              author, replaced);
}

model::Result<model::Done> Book::note_decisions(const model::ScopeId& scope_id, const std::vector<model::Decision>& decisions,
                                                Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  for (const model::Decision& decision : decisions) {
    if (auto error = refuse(decision)) return *error;
    if (find_record(**scope, decision.session, kind::session) == nullptr) return unknown_record(decision.session);
  }
  if (decisions.empty()) return model::Done{};
  for (const model::Decision& decision : decisions) write(**scope, kind::decision, decision_fields(decision, opening().inc), author);
  settle(nullptr);
  return model::Done{};
}

model::Result<model::RecordId> Book::swap(const model::ScopeId& scope_id, const model::Swap& swap, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = first_of(refuse_exercise(swap.from), refuse_exercise(swap.to))) return *error;
  if (find_record(**scope, swap.session, kind::session) == nullptr) return unknown_record(swap.session);
  if (swap.pain && find_record(**scope, *swap.pain, kind::pain) == nullptr) return unknown_record(*swap.pain);
  return keep(**scope, kind::swap,
              Fields(opening().inc)
                  .ref(ops::swap_tag::session, swap.session)
                  .text(ops::swap_tag::from, swap.from)
                  .text(ops::swap_tag::to, swap.to)
                  .ref(ops::swap_tag::pain, swap.pain)
                  .take(),
              author);
}

}  // namespace slipway::app
