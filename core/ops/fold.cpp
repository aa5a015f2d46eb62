#include "ops/fold.h"

#include <algorithm>

#include "ops/registry.h"

namespace slipway::ops {

namespace {

std::uint64_t unsigned_of(const Op& op, std::uint32_t tag) {
  const Field* field = op.find(tag);
  return field == nullptr ? 0 : read_unsigned(*field).value_or(0);
}

std::int64_t signed_of(const Op& op, std::uint32_t tag) {
  const Field* field = op.find(tag);
  return field == nullptr ? 0 : read_signed(*field).value_or(0);
}

Stamp stamp_of(const ChainedOp& op) {
  constexpr std::int64_t kOffsetCeilingMin = 24 * 60;
  const std::int64_t offset = signed_of(op.op, tag::utc_offset_min);
  const bool offset_fits = offset >= -kOffsetCeilingMin && offset <= kOffsetCeilingMin;
  return {op.key(),
          op.op.lam,
          unsigned_of(op.op, tag::author),
          {signed_of(op.op, tag::claimed_local_ms), offset_fits ? static_cast<std::int32_t>(offset) : 0,
           unsigned_of(op.op, tag::since_start_min)}};
}

std::optional<model::OpKey> target_of(const ChainedOp& op) {
  const Field* field = op.op.find(tag::target);
  if (field == nullptr) return std::nullopt;
  const auto keys = read_refs(*field, op.stream.inc);
  return keys && keys->size() == 1 ? std::optional<model::OpKey>(keys->front()) : std::nullopt;
}

std::vector<model::OpKey> saw_of(const ChainedOp& op) {
  const Field* field = op.op.find(tag::saw);
  if (field == nullptr) return {};
  return read_refs(*field, op.stream.inc).value_or(std::vector<model::OpKey>{});
}

void write_fields(Record& record, const ChainedOp& op, const Stamp& stamp) {
  const auto saw = saw_of(op);
  for (const Field& field : op.op.fields) {
    if (field.tag < tag::own) continue;
    Register& cell = record.fields[field.tag];
    cell.values[stamp.key] = {stamp, field.wire, field.payload};
    cell.covered.insert(saw.begin(), saw.end());
  }
  record.touched_by.insert(stamp.key);
}

bool is_record_kind(std::uint32_t kind) {
  return find_kind(kind) != nullptr && kind != kind::change && kind != kind::take_back && kind != kind::pain_end;
}

// ---- canonical bytes of the state -------------------------------------------------

void put_key(model::Bytes& out, const model::OpKey& key) {
  model::append(out, key.inc.view());
  put_varint(out, key.seq);
  model::append(out, key.hash.view());
}

void put_stamp(model::Bytes& out, const Stamp& stamp) {
  put_key(out, stamp.key);
  put_varint(out, stamp.lam);
  put_varint(out, stamp.author);
  put_varint(out, zigzag(stamp.claimed.local_ms));
  put_varint(out, zigzag(stamp.claimed.utc_offset_min));
  put_varint(out, stamp.claimed.since_start_min);
}

void put_keys(model::Bytes& out, const std::set<model::OpKey>& keys) {
  put_varint(out, keys.size());
  for (const model::OpKey& key : keys) put_key(out, key);
}

// Reads what the writers above wrote; after the first failure everything answers empty.
class StateReader {
 public:
  explicit StateReader(model::ByteView bytes) : bytes_(bytes) {}

  std::uint64_t number() {
    std::uint64_t value = 0;
    if (!sound_ || !get_varint(bytes_, at_, value)) sound_ = false;
    return sound_ ? value : 0;
  }
  // A count of things that need at least one byte each.
  std::uint64_t count() {
    const std::uint64_t value = number();
    if (value > bytes_.size() - at_) sound_ = false;
    return sound_ ? value : 0;
  }
  model::ByteView take(std::uint64_t size) {
    if (!sound_ || size > bytes_.size() - at_) {
      sound_ = false;
      return {};
    }
    const model::ByteView view = bytes_.subspan(at_, static_cast<std::size_t>(size));
    at_ += view.size();
    return view;
  }
  model::OpKey key() {
    model::OpKey key;
    key.inc = model::IncarnationId::from(take(16));
    key.seq = number();
    key.hash = model::ShortHash::from(take(8));
    return key;
  }
  Stamp stamp() {
    Stamp stamp;
    stamp.key = key();
    stamp.lam = number();
    stamp.author = number();
    stamp.claimed.local_ms = unzigzag(number());
    stamp.claimed.utc_offset_min = static_cast<std::int32_t>(unzigzag(number()));
    stamp.claimed.since_start_min = number();
    return stamp;
  }
  std::set<model::OpKey> keys() {
    std::set<model::OpKey> out;
    for (std::uint64_t left = count(); left > 0 && sound_; --left) out.insert(key());
    return out;
  }
  bool finished() const { return sound_ && at_ == bytes_.size(); }
  bool sound() const { return sound_; }

 private:
  model::ByteView bytes_;
  std::size_t at_ = 0;
  bool sound_ = true;
};

void put_register(model::Bytes& out, const Register& cell) {
  put_varint(out, cell.values.size());
  for (const auto& [key, written] : cell.values) {
    put_stamp(out, written.by);
    out.push_back(static_cast<std::uint8_t>(written.wire));
    put_varint(out, written.payload.size());
    model::append(out, written.payload);
  }
  put_keys(out, cell.covered);
}

Register read_register(StateReader& reader) {
  Register cell;
  for (std::uint64_t left = reader.count(); left > 0 && reader.sound(); --left) {
    Written written;
    written.by = reader.stamp();
    const model::ByteView wire = reader.take(1);
    if (!wire.empty()) written.wire = static_cast<Wire>(wire[0]);
    const model::ByteView payload = reader.take(reader.number());
    written.payload.assign(payload.begin(), payload.end());
    cell.values[written.by.key] = written;
  }
  cell.covered = reader.keys();
  return cell;
}

void put_record(model::Bytes& out, const Record& record) {
  out.push_back(record.created ? 1 : 0);
  if (record.created) put_stamp(out, *record.created);
  put_varint(out, record.kind);
  put_varint(out, record.fields.size());
  for (const auto& [tag, cell] : record.fields) {
    put_varint(out, tag);
    put_register(out, cell);
  }
  put_keys(out, record.touched_by);
  put_varint(out, record.take_backs.size());
  for (const auto& [key, stamp] : record.take_backs) put_stamp(out, stamp);
  put_keys(out, record.take_backs_saw);
  put_varint(out, record.endings.size());
  for (const auto& [key, ending] : record.endings) {
    put_stamp(out, ending.by);
    put_varint(out, ending.how);
  }
}

Record read_record(StateReader& reader) {
  Record record;
  const model::ByteView created = reader.take(1);
  if (!created.empty() && created[0] == 1) record.created = reader.stamp();
  record.kind = static_cast<std::uint32_t>(reader.number());
  for (std::uint64_t left = reader.count(); left > 0 && reader.sound(); --left) {
    const auto tag = static_cast<std::uint32_t>(reader.number());
    record.fields[tag] = read_register(reader);
  }
  record.touched_by = reader.keys();
  for (std::uint64_t left = reader.count(); left > 0 && reader.sound(); --left) {
    const Stamp stamp = reader.stamp();
    record.take_backs[stamp.key] = stamp;
  }
  record.take_backs_saw = reader.keys();
  for (std::uint64_t left = reader.count(); left > 0 && reader.sound(); --left) {
    Ending ending;
    ending.by = reader.stamp();
    ending.how = reader.number();
    record.endings[ending.by.key] = ending;
  }
  return record;
}

}  // namespace

std::vector<Written> Register::visible() const {
  std::vector<Written> out;
  for (const auto& [key, written] : values)
    if (covered.count(key) == 0) out.push_back(written);
  std::sort(out.begin(), out.end(), [](const Written& a, const Written& b) { return b.by < a.by; });
  std::vector<Written> distinct;
  for (Written& written : out) {
    const bool known = std::any_of(distinct.begin(), distinct.end(), [&](const Written& other) {
      return other.wire == written.wire && other.payload == written.payload;
    });
    if (!known) distinct.push_back(std::move(written));
  }
  return distinct;
}

bool Record::taken_back() const {
  if (take_backs.empty() || kind == kind::pain) return false;
  return std::all_of(touched_by.begin(), touched_by.end(), [this](const model::OpKey& key) { return take_backs_saw.count(key) != 0; });
}

bool Record::revived() const { return !take_backs.empty() && kind != kind::pain && !taken_back(); }

void Fold::add(const ChainedOp& op) {
  const Stamp stamp = stamp_of(op);
  lam_ = std::max(lam_, op.op.lam);
  if (is_record_kind(op.op.kind)) {
    Record& record = records_[stamp.key];
    record.created = stamp;
    record.kind = op.op.kind;
    write_fields(record, op, stamp);
    return;
  }
  const auto target = target_of(op);
  if (find_kind(op.op.kind) == nullptr || !target) {
    not_understood_.insert(stamp.key);
    return;
  }
  Record& record = records_[*target];
  if (op.op.kind == kind::change) {
    write_fields(record, op, stamp);
  } else if (op.op.kind == kind::take_back) {
    const auto saw = saw_of(op);
    record.take_backs[stamp.key] = stamp;
    record.take_backs_saw.insert(saw.begin(), saw.end());
  } else {
    record.endings[stamp.key] = {stamp, unsigned_of(op.op, pain_end_tag::how)};
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

model::Bytes Fold::write_state() const {
  model::Bytes out;
  model::append(out, scope_.view());
  put_varint(out, kFoldVersion);
  put_varint(out, lam_);
  put_varint(out, records_.size());
  for (const auto& [id, record] : records_) {
    put_key(out, id);
    put_record(out, record);
  }
  put_keys(out, not_understood_);
  return out;
}

model::Result<Fold> Fold::read_state(model::ByteView bytes) {
  const model::Error broken = model::error(model::ErrorKind::damaged, "fold.damaged");
  StateReader reader(bytes);
  Fold fold(model::ScopeId::from(reader.take(16)));
  if (reader.number() != kFoldVersion) return broken;
  fold.lam_ = reader.number();
  for (std::uint64_t left = reader.count(); left > 0 && reader.sound(); --left) {
    const model::RecordId id = reader.key();
    fold.records_[id] = read_record(reader);
  }
  fold.not_understood_ = reader.keys();
  // Written again it must be the same bytes: whatever the reader let pass is refused here.
  if (!reader.finished() || !model::equal(fold.write_state(), bytes)) return broken;
  return fold;
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
