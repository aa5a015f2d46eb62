// What a set said before: every value that was ever written, and who wrote it. And what is missing.
#include <algorithm>

#include "app/book_scope.h"
#include "ops/read_values.h"
#include "ops/registry.h"

namespace slipway::app {

namespace {

namespace set_tag = ops::set_tag;

// The value an op wrote in a field of the record, if it wrote there.
template <class T>
std::optional<T> written_by(const ops::Record& record, std::uint32_t tag, const model::OpKey& op, ops::Reader<T> read) {
  const ops::Register field = record.field(tag);
  const auto value = field.values.find(op);
  if (value == field.values.end()) return std::nullopt;
  return read(ops::Field{tag, value->second.wire, value->second.payload});
}

// Nothing that it says of the set was replaced, and the set was not taken back.
bool stands(const ops::Record& record, const model::OpKey& op) {
  if (record.taken_back()) return false;
  for (const std::uint32_t tag : {set_tag::reps, set_tag::load, set_tag::rir, set_tag::left_out}) {
    const ops::Register field = record.field(tag);
    if (field.values.count(op) != 0 && field.covered.count(op) != 0) return false;
  }
  return true;
}

}  // namespace

std::vector<SetVersion> Book::set_history(const model::ScopeId& scope_id, const model::RecordId& set) const {
  std::vector<SetVersion> out;
  const auto scope = scopes_.find(scope_id);
  if (scope == scopes_.end()) return out;
  const ops::Record* record = find_record(*scope->second, set, ops::kind::set);
  if (record == nullptr) return out;
  std::map<model::OpKey, ops::Stamp> stamps;
  record->each_writer([&stamps](const ops::Stamp& by) { stamps.emplace(by.key, by); });
  for (const auto& [op, stamp] : stamps) {
    SetVersion version;
    version.by = ops::writer_of(stamp);
    version.reps = written_by<std::uint64_t>(*record, set_tag::reps, op, ops::to_unsigned);
    version.load = written_by<model::Quantity>(*record, set_tag::load, op, ops::to_quantity);
    version.rir = written_by<std::uint64_t>(*record, set_tag::rir, op, ops::to_unsigned);
    if (const auto left = written_by<std::uint64_t>(*record, set_tag::left_out, op, ops::to_unsigned)) version.left_out = *left != 0;
    version.stands = stands(*record, op);
    out.push_back(std::move(version));
  }
  for (const auto& [op, stamp] : record->acts->take_backs) {
    SetVersion version;
    version.by = ops::writer_of(stamp);
    version.takes_back = true;
    version.stands = record->taken_back();
    out.push_back(std::move(version));
  }
  std::sort(out.begin(), out.end(), [](const SetVersion& a, const SetVersion& b) {
    return a.by.lam != b.by.lam ? a.by.lam < b.by.lam : a.by.op < b.by.op;
  });
  return out;
}

std::vector<DayVersion> Book::day_history(const model::ScopeId& scope_id, const model::RecordId& session) const {
  std::vector<DayVersion> out;
  const auto scope = scopes_.find(scope_id);
  const ops::Record* record = scope == scopes_.end() ? nullptr : find_record(*scope->second, session, ops::kind::session);
  if (record == nullptr) return out;
  const ops::Register field = record->field(ops::session_tag::training_day);
  for (const auto& [op, value] : field.values)
    if (const auto day = ops::to_day(ops::Field{ops::session_tag::training_day, value.wire, value.payload}))
      out.push_back({ops::writer_of(value.by), *day, field.covered.count(op) == 0});
  std::sort(out.begin(), out.end(), [](const DayVersion& a, const DayVersion& b) { return a.by.lam != b.by.lam ? a.by.lam < b.by.lam : a.by.op < b.by.op; });
  return out;
}

std::vector<MissingStretch> Book::missing() const {
  std::vector<MissingStretch> out;
  for (const auto& [stream, holding] : held_.holdings()) {
    for (const ops::Range& range : holding.ranges.missing()) {
      MissingStretch gap{stream.scope, stream.inc, range.first, range.last, std::nullopt};
      const auto scope = scopes_.find(stream.scope);
      if (scope != scopes_.end()) {
        // The last moment this writer claims before the hole.
        std::uint64_t best = 0;
        scope->second->peek([&, &writer = stream.inc](const ops::Fold& fold) {
          for (const auto& [id, record] : fold.records())
            if (record.created && id.inc == writer && id.seq < range.first && id.seq >= best) {
              best = id.seq;
              gap.after = record.created->claimed;
            }
          return best;
        });
      }
      out.push_back(std::move(gap));
    }
  }
  return out;
}

}  // namespace slipway::app
