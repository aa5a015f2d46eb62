#include "kit/ops_kit.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <set>

#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::kit {

namespace {

// A test that gets here is itself wrong.
[[noreturn]] void impossible(const char* what) {
  std::fprintf(stderr, "ops_kit: %s\n", what);
  std::abort();
}

}  // namespace

model::Bytes typed_bytes(std::string_view hex_and_words) {
  std::string digits;
  bool words = false;
  for (std::size_t i = 0; i < hex_and_words.size(); ++i) {
    if (hex_and_words.substr(i, 2) == "//") words = true;
    if (hex_and_words[i] == '\n') words = false;
    if (!words && hex_and_words[i] != ' ' && hex_and_words[i] != '\n') digits += hex_and_words[i];
  }
  model::Bytes out;
  if (!model::read_hex(digits, out)) impossible("typed bytes are not hex");
  return out;
}

ops::StreamId stream_named(char scope, char inc) {
  ops::StreamId id;
  id.scope.bytes.fill(static_cast<std::uint8_t>(scope));
  id.inc.bytes.fill(static_cast<std::uint8_t>(inc));
  return id;
}

ops::Field value_field(std::uint32_t kind, std::uint32_t tag, std::int64_t value) {
  const ops::FieldInfo* info = ops::find_field(kind, tag);
  if (info == nullptr) impossible("no such field");
  switch (info->wire) {
    case ops::Wire::unsigned_int: return ops::unsigned_field(tag, static_cast<std::uint64_t>(value));
    case ops::Wire::signed_int: return ops::signed_field(tag, value);
    case ops::Wire::text: return ops::text_field(tag, std::to_string(value));
    case ops::Wire::unsigned_list: return ops::quantity_field(tag, {value, 0, model::Unit::kg});
    default: impossible("a field without a value");
  }
}

std::int64_t value_of(std::uint32_t tag, const ops::Written& written) {
  const ops::Field field{tag, written.wire, written.payload};
  if (const auto number = ops::read_unsigned(field)) return static_cast<std::int64_t>(*number);
  if (const auto number = ops::read_signed(field)) return *number;
  if (const auto text = ops::read_text(field)) return std::strtoll(std::string(*text).c_str(), nullptr, 10);
  if (const auto list = ops::read_list(field)) return list->empty() ? 0 : ops::unzigzag(list->front());
  impossible("a value of no known wire");
}

std::vector<ops::ChainedOp> through_the_door(std::vector<ops::ChainedOp> ops) {
  std::sort(ops.begin(), ops.end(), [](const ops::ChainedOp& a, const ops::ChainedOp& b) {
    if (!(a.stream == b.stream)) return a.stream < b.stream;
    return a.seq != b.seq ? a.seq < b.seq : a.hash < b.hash;
  });
  std::vector<ops::ChainedOp> arrived;
  for (const ops::Chunk& chunk : ops::make_chunks(ops)) {
    auto read = ops::read_chunk(chunk);
    if (!read) impossible("a chunk of our own was refused");
    for (ops::ChainedOp& op : *read) arrived.push_back(std::move(op));
  }
  return arrived;
}

std::vector<ops::ChainedOp> chained_anew(std::vector<ops::ChainedOp> stream, std::size_t nth, model::Bytes bytes) {
  stream.at(nth).bytes = std::move(bytes);
  for (std::size_t i = nth; i < stream.size(); ++i) {
    ops::ChainedOp& op = stream[i];
    if (i > 0) op.before = stream[i - 1].hash;
    auto read = ops::read_op(op.bytes);
    if (!read) impossible("the other bytes are no op");
    op.op = std::move(*read);
    op.hash = ops::chain(op.before, op.bytes);
  }
  return stream;
}

Device::Device(const ops::StreamId& stream, std::uint64_t seed)
    : stream_(stream), random_(seed), fold_(stream.scope), last_hash_(ops::genesis(stream)), pen_(stream, 0, last_hash_) {}

std::uint32_t Device::kind_of(const model::RecordId& record) const {
  const ops::Record* found = fold_.find(record);
  if (found == nullptr || !found->created) impossible("a record that is not here");
  return found->kind;
}

model::OpKey Device::write(std::uint32_t kind, std::vector<ops::Field> fields) {
  clock_.tick(30'000);
  ops::ChainedOp op = pen_.write(kind, std::move(fields), {1, clock_.now()}, fold_.lam(), random_);
  last_seq_ = op.seq;
  last_hash_ = op.hash;
  fold_.add(op);
  held_.add(op);
  ops_.push_back(std::move(op));
  return ops_.back().key();
}

model::OpKey Device::begin(std::uint32_t kind, const Values& values, const std::vector<model::OpKey>& replaced,
                           const std::vector<ops::Field>& more) {
  std::vector<ops::Field> fields = more;
  if (!replaced.empty()) fields.push_back(ops::refs_field(ops::tag::saw, replaced, inc()));
  for (const auto& [tag, value] : values) fields.push_back(value_field(kind, tag, value));
  return write(kind, std::move(fields));
}

model::OpKey Device::change_naming(const model::RecordId& record, const Values& values, const std::vector<model::OpKey>& saw) {
  const std::uint32_t kind = kind_of(record);
  std::vector<ops::Field> fields{ops::refs_field(ops::tag::target, {record}, inc())};
  if (!saw.empty()) fields.push_back(ops::refs_field(ops::tag::saw, saw, inc()));
  for (const auto& [tag, value] : values) fields.push_back(value_field(kind, tag, value));
  return write(ops::kind::change, std::move(fields));
}

model::OpKey Device::change(const model::RecordId& record, const Values& values) {
  kind_of(record);
  std::set<model::OpKey> saw;
  for (const auto& [tag, value] : values)
    for (const model::OpKey& key : ops::seen_values(*fold_.find(record), tag)) saw.insert(key);
  return change_naming(record, values, {saw.begin(), saw.end()});
}

model::OpKey Device::change_unseen(const model::RecordId& record, const Values& values) {
  return change_naming(record, values, {});
}

model::OpKey Device::take_back(const model::RecordId& record) {
  kind_of(record);
  return write(ops::kind::take_back, {ops::refs_field(ops::tag::target, {record}, inc()),
                                      ops::refs_field(ops::tag::saw, ops::seen_touches(*fold_.find(record)), inc())});
}

model::OpKey Device::keep_it(const model::RecordId& record) {
  std::vector<model::OpKey> saw;
  for (const auto& [key, stamp] : fold_.find(record)->acts->take_backs) saw.push_back(key);
  return change_naming(record, {}, saw);
}

model::OpKey Device::end_pain(const model::RecordId& record, std::uint64_t how) {
  return write(ops::kind::pain_end,
               {ops::refs_field(ops::tag::target, {record}, inc()), ops::unsigned_field(ops::pain_end_tag::how, how)});
}

std::size_t Device::take_in(const std::vector<ops::ChainedOp>& ops) {
  std::size_t fresh = 0;
  for (const ops::ChainedOp& op : ops) {
    if (held_.contains(op.stream, op.seq, op.hash)) continue;
    held_.add(op);
    fold_.add(op);
    ops_.push_back(op);
    ++fresh;
  }
  return fresh;
}

void Device::reopen(std::uint64_t seed) {
  random_ = FixedRandom(seed);
  pen_ = ops::Pen(stream_, last_seq_, last_hash_);
}

void Device::become(const model::IncarnationId& inc, std::uint64_t seed) {
  stream_.inc = inc;
  last_seq_ = 0;
  last_hash_ = ops::genesis(stream_);
  reopen(seed);
}

ops::Fold fold_of(const std::vector<ops::ChainedOp>& ops) {
  ops::Fold fold(ops.empty() ? model::ScopeId{} : ops.front().stream.scope);
  for (const ops::ChainedOp& op : ops) fold.add(op);
  return fold;
}

ops::Held holding(const std::vector<ops::ChainedOp>& ops) {
  ops::Held held;
  for (const ops::ChainedOp& op : ops) held.add(op);
  return held;
}

void print_digest(std::string_view name, const model::Hash32& digest) {
  std::printf("digest ops.%.*s %s\n", static_cast<int>(name.size()), name.data(), digest.hex().c_str());
}

}  // namespace slipway::kit
