#include "ops/fold.h"

#include <algorithm>
#include <cassert>
#include <tuple>

#include "ops/read_values.h"
#include "ops/registry.h"

namespace slipway::ops {

namespace {

using model::OpKey;

// Within what a calendar can show (about the year 12,900); beyond it nothing is claimed.
constexpr std::int64_t kClaimedCeilingMs = std::int64_t{4'000'000} * 86'400'000;
constexpr std::int64_t kOffsetCeilingMin = 1440;

std::uint64_t unsigned_of(const Op& op, std::uint32_t tag) {
  const Field* field = op.find(tag);
  return field == nullptr ? 0 : read_unsigned(*field).value_or(0);
}

std::int64_t signed_within(const Op& op, std::uint32_t tag, std::int64_t ceiling) {
  const Field* field = op.find(tag);
  const std::int64_t value = field == nullptr ? 0 : read_signed(*field).value_or(0);
  return value < -ceiling || value > ceiling ? 0 : value;
}

std::vector<OpKey> keys_of(const ChainedOp& op, std::uint32_t tag) {
  const Field* field = op.op.find(tag);
  if (field == nullptr) return {};
  return read_refs(*field, op.stream.inc).value_or(std::vector<OpKey>{});
}

// A total order, for the one case where two ops share a key: eight bytes of hash can be
// made to collide by somebody with hours to spend. Then the lesser content stands,
// whichever came first, and the state is still a function of the set.
auto content(const Stamp& stamp) {
  return std::tie(stamp.lam, stamp.author, stamp.claimed.local_ms, stamp.claimed.utc_offset_min, stamp.claimed.since_start_min);
}
bool lesser(const Stamp& a, const Stamp& b) { return content(a) < content(b); }
bool lesser(const Written& a, const Written& b) {
  return std::tie(a.wire, a.payload) != std::tie(b.wire, b.payload) ? std::tie(a.wire, a.payload) < std::tie(b.wire, b.payload)
                                                                    : lesser(a.by, b.by);
}
bool lesser(const Ending& a, const Ending& b) { return a.how != b.how ? a.how < b.how : lesser(a.by, b.by); }

template <class Value>
void settle(std::map<OpKey, Value>& slots, const OpKey& key, Value value) {
  const auto [slot, fresh] = slots.try_emplace(key, value);
  if (!fresh && lesser(value, slot->second)) slot->second = std::move(value);
}

bool acts_on_a_record(std::uint32_t kind) {
  return kind == kind::change || kind == kind::take_back || kind == kind::pain_end;
}

// What the creating op said of a field that somebody else writes to now.
Register& shared_field(Record& record, std::uint32_t tag) {
  Register& shared = record.acts.write().fields[tag];
  if (const auto own = record.said.find(tag)) {
    settle(shared.values, record.created->key, Written{*record.created, own->wire, own->payload});
    record.said.drop(tag);
  }
  return shared;
}

// In `said` stands what only the creating op wrote, and nothing else does: whatever came first, the same.
void sort_out(Record& record) {
  std::vector<Field> own = record.said.all();
  Acts& acts = record.acts.write();
  acts.changed_by.erase(record.created->key);
  for (auto field = acts.fields.begin(); field != acts.fields.end();) {
    const Register& shared = field->second;
    if (shared.values.size() != 1 || !shared.covered.empty() || shared.values.begin()->second.by != *record.created) {
      ++field;
      continue;
    }
    const Written& written = shared.values.begin()->second;
    own.push_back({field->first, written.wire, written.payload});
    field = acts.fields.erase(field);
  }
  std::sort(own.begin(), own.end(), [](const Field& a, const Field& b) { return a.tag < b.tag; });
  record.said.put(own);
}

// Nobody writes that (views.h, saw_field): a small forged file would make a fold of gigabytes.
bool covers_too_much(const Op& op, const std::vector<OpKey>& saw) {
  const auto own = std::count_if(op.fields.begin(), op.fields.end(), [](const Field& field) { return field.tag >= tag::own; });
  return static_cast<std::size_t>(own) * saw.size() > kMostCovered;
}

void change(Record& record, const ChainedOp& op, const Stamp& stamp, const std::vector<OpKey>& saw) {
  record.acts.write().changed_by.insert(stamp.key);
  bool writes = false;
  for (const Field& field : op.op.fields) {
    if (field.tag < tag::own) continue;
    writes = true;
    Register& written = shared_field(record, field.tag);
    settle(written.values, stamp.key, Written{stamp, field.wire, field.payload});
    written.covered.insert(saw.begin(), saw.end());
  }
  if (!writes) record.acts.write().kept_against.insert(saw.begin(), saw.end());
  if (record.created && stamp.key == record.created->key) sort_out(record);
}

// The very op that created it, come once more.
bool is_here(const Record& record, const ChainedOp& op, const Stamp& stamp) {
  if (record.created != stamp || record.kind != op.op.kind) return false;
  return std::all_of(op.op.fields.begin(), op.op.fields.end(), [&](const Field& field) {
    if (field.tag < tag::own || record.said.find(field.tag) == field) return true;
    const auto shared = record.acts->fields.find(field.tag);
    if (shared == record.acts->fields.end()) return false;
    const auto value = shared->second.values.find(stamp.key);  // of which another op under this key may be the writer
    return value != shared->second.values.end() && value->second == Written{stamp, field.wire, field.payload};
  });
}

// Nothing older stands on a record than its first op, so it covers nothing.
void create(Record& record, const ChainedOp& op, const Stamp& stamp) {
  const std::vector<OpKey> saw = keys_of(op, tag::saw);
  if (!saw.empty()) record.acts.write().replaces.insert(saw.begin(), saw.end());
  if (is_here(record, op, stamp)) return;
  const bool first = !record.created;
  if (!first)  // another op under the same key: field by field the lesser stands
    for (const Field& field : record.said.all()) shared_field(record, field.tag);
  if (first || op.op.kind < record.kind || (op.op.kind == record.kind && lesser(stamp, *record.created))) {
    record.created = stamp;
    record.kind = op.op.kind;
  }
  std::vector<Field> own;
  for (const Field& field : op.op.fields) {
    if (field.tag < tag::own) continue;
    if (first && record.acts->fields.count(field.tag) == 0) own.push_back(field);
    else settle(record.acts.write().fields[field.tag].values, stamp.key, Written{stamp, field.wire, field.payload});
  }
  if (first) record.said.put(own);
  if (!first || record.acts->changed_by.count(stamp.key) != 0) sort_out(record);
}

}  // namespace

Stamp stamp_of(const ChainedOp& op) {
  return {.key = op.key(),
          .lam = op.op.lam,
          .author = unsigned_of(op.op, tag::author),
          .claimed = {.local_ms = signed_within(op.op, tag::claimed_local_ms, kClaimedCeilingMs),
                      .utc_offset_min = static_cast<std::int32_t>(signed_within(op.op, tag::utc_offset_min, kOffsetCeilingMin)),
                      .since_start_min = unsigned_of(op.op, tag::since_start_min)}};
}

void Fold::add(const ChainedOp& op) {
  assert(op.stream.scope == scope_);
  const Stamp stamp = stamp_of(op);
  lam_ = std::max(lam_, op.op.lam);
  if (op.op.kind == kind::erase) return;  // what it asks is for a person to confirm, outside
  if (creates_record(op.op.kind)) {
    create(records_[stamp.key], op, stamp);
    return;
  }
  const std::vector<OpKey> target = keys_of(op, tag::target);
  if (!acts_on_a_record(op.op.kind) || target.size() != 1) {
    not_understood_.insert(stamp.key);
    return;
  }
  Record& record = records_[target.front()];
  const std::vector<OpKey> saw = keys_of(op, tag::saw);
  switch (op.op.kind) {
    case kind::change: change(record, op, stamp, covers_too_much(op.op, saw) ? std::vector<OpKey>{} : saw); break;
    case kind::take_back:
      settle(record.acts.write().take_backs, stamp.key, stamp);
      record.acts.write().take_backs_saw.insert(saw.begin(), saw.end());
      break;
    case kind::pain_end: settle(record.acts.write().endings, stamp.key, Ending{stamp, unsigned_of(op.op, pain_end_tag::how)}); break;
    default: break;
  }
}

const Record* Fold::find(const model::RecordId& id) const {
  const auto found = records_.find(id);
  return found == records_.end() ? nullptr : &found->second;
}

std::vector<model::RecordId> Fold::of_kind(std::uint32_t kind) const {
  std::vector<const Stamp*> created;
  for (const auto& [id, record] : records_)
    if (record.created && record.kind == kind) created.push_back(&*record.created);
  std::sort(created.begin(), created.end(), [](const Stamp* a, const Stamp* b) { return *a < *b; });
  std::vector<model::RecordId> ids;
  for (const Stamp* stamp : created) ids.push_back(stamp->key);
  return ids;
}

model::Hash32 Fold::digest() const { return blake2b(write_state()); }

model::Hash32 digest_of_views(const std::vector<const Fold*>& folds) {
  std::vector<std::pair<model::ScopeId, model::Hash32>> digests;
  for (const Fold* fold : folds) digests.emplace_back(fold->scope(), fold->digest());
  return digest_of_digests(std::move(digests));
}

model::Hash32 digest_of_digests(std::vector<std::pair<model::ScopeId, model::Hash32>> digests) {
  std::sort(digests.begin(), digests.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  model::Bytes all;
  for (const auto& [scope, digest] : digests) {
    model::append(all, scope.view());
    model::append(all, digest.view());
  }
  return blake2b(all);
}

}  // namespace slipway::ops
