// Plans that are nobody's yet, and lines that move and are copied.
#include <algorithm>

#include "app/book_scope.h"
#include "app/book_values.h"
#include "model/position.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::app {

namespace {

namespace kind = ops::kind;
namespace tag = ops::tag;

// What the line says now; of a contradiction the safer value (sync-and-storage 6), and where none is safer what is drawn first.
PlanLineEntry entry_of(const model::Prescription& line) {
  const auto safest = [](const auto& versions, auto safer) {
    using Value = std::decay_t<decltype(versions.all.front().value)>;
    std::optional<Value> best;
    for (const auto& version : versions.all)
      if (!best || safer(version.value, *best)) best = version.value;
    return best;
  };
  const auto fewer = [](std::uint64_t a, std::uint64_t b) { return a < b; };
  const auto more = [](std::uint64_t a, std::uint64_t b) { return b < a; };
  const auto lighter = [](const model::Quantity& a, const model::Quantity& b) { return model::grams(a) < model::grams(b); };
  const auto said = [](const auto& versions) {
    using Value = std::decay_t<decltype(versions.all.front().value)>;
    return versions.empty() ? std::optional<Value>() : std::optional<Value>(*versions.first());
  };
  PlanLineEntry entry{.exercise = said(line.exercise),
                      .sets = safest(line.sets, fewer),
                      .reps = safest(line.reps, fewer),
                      .reps_high = safest(line.reps_high, fewer),
                      .load = safest(line.load, lighter),
                      .rir = safest(line.rir, more),
                      .rest_ms = safest(line.rest_ms, more),
                      .programme_day = said(line.programme_day),
                      .place = said(line.place),
                      .block = said(line.block),
                      .tempo = said(line.tempo),
                      .band = said(line.band),
                      .grip = said(line.grip)};
  if (const auto format = said(line.format); format && *format >= 1 && *format <= 3) entry.format = static_cast<model::Format>(*format);
  return entry;
}

ops::Field position_field(const std::string& position) {
  return ops::bytes_field(ops::prescription_tag::position, model::as_bytes(position));
}

}  // namespace

std::vector<model::Prescription> Book::plan_of(const model::ScopeId& scope_id) {
  const auto all = libraries();
  const bool is_library = std::find(all.begin(), all.end(), scope_id) != all.end();
  return is_library ? library(scope_id).prescriptions : athlete(scope_id).prescriptions;
}

model::Result<model::ScopeId> Book::add_library(std::string_view name, Author author) {
  if (const auto may = writable(); !may) return may.error();
  if (auto error = refuse_name(name)) return *error;
  model::ScopeId id;
  outside_.random.fill(id.bytes);
  keep(scope_of(id), kind::library, Fields(opening().inc).text(ops::library_tag::name, name).take(), author);
  return id;
}

model::Result<model::Done> Book::move_plan_line(const model::ScopeId& scope_id, const model::RecordId& id,
                                                const std::optional<model::RecordId>& after, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  std::vector<model::Prescription> plan = plan_of(scope_id);
  const auto line = std::find_if(plan.begin(), plan.end(), [&](const model::Prescription& one) { return one.id == id; });
  if (line == plan.end() || (*scope)->newer_only.count(id) != 0) return unknown_record(id);
  const std::uint64_t block = line->block.value_or(1);
  const std::uint64_t day = line->programme_day.value_or(0);
  // Its neighbours: the other lines of its block and day, as they are drawn.
  std::vector<model::Prescription> others;
  for (const model::Prescription& one : plan)
    if (!(one.id == id) && one.block.value_or(1) == block && one.programme_day.value_or(0) == day) others.push_back(one);
  std::stable_sort(others.begin(), others.end(), [](const auto& a, const auto& b) { return a.position < b.position; });
  std::string lower, upper = others.empty() ? std::string() : others.front().position;
  if (after) {
    const auto before = std::find_if(others.begin(), others.end(), [&](const model::Prescription& one) { return one.id == *after; });
    if (before == others.end()) return unknown_record(*after);
    lower = before->position;
    const auto next = std::find_if(before, others.end(), [&](const model::Prescription& one) { return one.position > lower; });
    upper = next == others.end() ? std::string() : next->position;
  }
  change(**scope, id, {position_field(model::position_between(lower, upper))}, author);
  settle(nullptr);
  return model::Done{};
}

model::Result<std::uint64_t> Book::copy_plan(const model::ScopeId& from, const model::ScopeId& to, bool instead, Author author) {
  const auto target = open_scope(to);
  if (!target) return target.error();
  if (const auto source = open_scope(from); !source) return source.error();
  const std::vector<model::Prescription> lines = plan_of(from);
  if (lines.empty()) return model::error(model::ErrorKind::not_found, "plan.nothing_to_copy");
  if (from == to) return invalid("plan.copy_to_itself");
  const model::IncarnationId home = opening().inc;
  if (instead)
    for (const model::Prescription& line : plan_of(to))
      if ((*target)->newer_only.count(line.id) != 0) return unknown_record(line.id);
  if (instead)
    for (const model::Prescription& line : plan_of(to))
      write(**target, kind::take_back,
            {ops::refs_field(tag::target, {line.id}, home), ops::saw_field(ops::seen_touches(*(*target)->fold().find(line.id)), home)},
            author);
  for (const model::Prescription& line : lines) {
    std::vector<ops::Field> fields = plan_line_fields(entry_of(line), home);
    fields.push_back(position_field(line.position));
    write(**target, kind::prescription, std::move(fields), author);
  }
  settle(nullptr);
  return lines.size();
}

}  // namespace slipway::app
