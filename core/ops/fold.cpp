#include "ops/fold.h"

#include <algorithm>
#include <cassert>
#include <tuple>

#include "model/planted.h"
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

void write_fields(Record& record, const ChainedOp& op, const Stamp& stamp, const std::vector<OpKey>& saw) {
  record.touched_by.insert(stamp.key);
  bool writes = false;
  for (const Field& field : op.op.fields) {
    if (field.tag < tag::own) continue;
    writes = true;
    Register& written = record.fields[field.tag];
    settle(written.values, stamp.key, Written{stamp, field.wire, field.payload});
    written.covered.insert(saw.begin(), saw.end());
  }
  if (!writes) record.kept_against.insert(saw.begin(), saw.end());
}

void create(Record& record, const ChainedOp& op, const Stamp& stamp) {
  const bool first = !record.created;
  if (first || op.op.kind < record.kind || (op.op.kind == record.kind && lesser(stamp, *record.created))) {
    record.created = stamp;
    record.kind = op.op.kind;
  }
  write_fields(record, op, stamp, {});  // nothing older stands on a record than its first op
  const std::vector<OpKey> saw = keys_of(op, tag::saw);
  record.replaces.insert(saw.begin(), saw.end());
}

// What a value says, independent of who wrote it: references are relative to their writer.
std::pair<Wire, Payload> said(const Written& written) {
  if (written.wire != Wire::refs) return {written.wire, written.payload};
  const auto keys = read_refs(Field{0, written.wire, written.payload}, written.by.key.inc);
  if (!keys) return {written.wire, written.payload};
  return {written.wire, refs_field(0, *keys, model::IncarnationId{}).payload};
}

bool can_be_taken_back(std::uint32_t kind) {
  const KindInfo* info = find_kind(kind);
  if (model::kPlanted == 4) return true;
  return info == nullptr || (info->merge != Merge::add_only && info->merge != Merge::careful);
}

bool has_all(const std::set<OpKey>& all, const std::set<OpKey>& some) {
  return std::includes(all.begin(), all.end(), some.begin(), some.end());
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

std::vector<Written> Register::visible() const {
  std::vector<Written> standing;
  for (const auto& [key, written] : values)
    if (covered.count(key) == 0) standing.push_back(written);
  std::sort(standing.begin(), standing.end(), [](const Written& a, const Written& b) {
    if (model::kPlanted == 3) return b.by.claimed.local_ms < a.by.claimed.local_ms;
    return b.by < a.by;
  });
  if (standing.size() < 2) return standing;
  std::vector<Written> distinct;
  std::set<std::pair<Wire, Payload>> heard;
  for (Written& written : standing)
    if (heard.insert(said(written)).second) distinct.push_back(std::move(written));
  return distinct;
}

bool Record::taken_back() const {
  return can_be_taken_back(kind) && !take_backs.empty() && has_all(take_backs_saw, touched_by);
}

bool Record::revived() const {
  const bool unanswered = std::any_of(take_backs.begin(), take_backs.end(), [&](const auto& one) { return kept_against.count(one.first) == 0; });
  return can_be_taken_back(kind) && unanswered && !has_all(take_backs_saw, touched_by);
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
    case kind::change: write_fields(record, op, stamp, saw); break;
    case kind::take_back:
      settle(record.take_backs, stamp.key, stamp);
      record.take_backs_saw.insert(saw.begin(), saw.end());
      break;
    case kind::pain_end: settle(record.endings, stamp.key, Ending{stamp, unsigned_of(op.op, pain_end_tag::how)}); break;
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
  std::vector<const Fold*> sorted = folds;
  std::sort(sorted.begin(), sorted.end(), [](const Fold* a, const Fold* b) { return a->scope() < b->scope(); });
  model::Bytes all;
  for (const Fold* fold : sorted) {
    model::append(all, fold->scope().view());
    model::append(all, fold->digest().view());
  }
  return blake2b(all);
}

}  // namespace slipway::ops
