#include "ops/record.h"

#include <algorithm>
#include <utility>

#include "model/planted.h"
#include "ops/registry.h"

namespace slipway::ops {

namespace {

using model::OpKey;

// What a value says, independent of who wrote it: references are relative to their writer.
std::pair<Wire, Payload> said_by(const Written& written) {
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

// Every op that is present on the record was seen by somebody who took it back.
bool all_seen(const Record& record) {
  const Acts& acts = *record.acts;
  if (record.created && acts.take_backs_saw.count(record.created->key) == 0) return false;
  return std::includes(acts.take_backs_saw.begin(), acts.take_backs_saw.end(), acts.changed_by.begin(), acts.changed_by.end());
}

struct Part {
  std::uint64_t tag = 0;
  Wire wire = Wire::bytes;
  model::ByteView payload;
};

// They were written here: whatever is read has the form.
bool next_part(model::ByteView bytes, std::size_t& at, Part& part) {
  std::uint64_t length = 0;
  if (at >= bytes.size() || !get_varint(bytes, at, part.tag)) return false;
  part.wire = static_cast<Wire>(bytes[at++]);
  if (!get_varint(bytes, at, length)) return false;
  part.payload = bytes.subspan(at, static_cast<std::size_t>(length));
  at += part.payload.size();
  return true;
}

Field field_of(const Part& part) { return {static_cast<std::uint32_t>(part.tag), part.wire, part.payload}; }

}  // namespace

std::optional<Field> Said::find(std::uint32_t tag) const {
  Part part;
  for (std::size_t at = 0; next_part(bytes_, at, part) && part.tag <= tag;)
    if (part.tag == tag) return field_of(part);
  return std::nullopt;
}

std::vector<Field> Said::all() const {
  std::vector<Field> out;
  Part part;
  for (std::size_t at = 0; next_part(bytes_, at, part);) out.push_back(field_of(part));
  return out;
}

void Said::put(const std::vector<Field>& fields) {
  model::Bytes bytes;
  for (const Field& field : fields) {
    put_varint(bytes, field.tag);
    bytes.push_back(static_cast<std::uint8_t>(field.wire));
    put_varint(bytes, field.payload.size());
    model::append(bytes, field.payload);
  }
  bytes_ = Payload(bytes);
}

void Said::drop(std::uint32_t tag) {
  std::vector<Field> left = all();
  std::erase_if(left, [tag](const Field& field) { return field.tag == tag; });
  put(left);
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
    if (heard.insert(said_by(written)).second) distinct.push_back(std::move(written));
  return distinct;
}

bool Record::has(std::uint32_t tag) const { return acts->fields.count(tag) != 0 || said.find(tag); }

std::vector<std::uint32_t> Record::tags() const {
  std::vector<std::uint32_t> out;
  for (const Field& field : said.all()) out.push_back(field.tag);
  for (const auto& [tag, field] : acts->fields) out.push_back(tag);
  std::sort(out.begin(), out.end());
  return out;
}

Register Record::field(std::uint32_t tag) const {
  if (const auto found = acts->fields.find(tag); found != acts->fields.end()) return found->second;
  Register out;
  if (auto own = said.find(tag)) out.values.emplace(created->key, Written{*created, own->wire, std::move(own->payload)});
  return out;
}

std::vector<Written> Record::visible(std::uint32_t tag) const {
  if (const auto found = acts->fields.find(tag); found != acts->fields.end()) return found->second.visible();
  std::vector<Written> out;
  if (auto own = said.find(tag)) out.push_back({*created, own->wire, std::move(own->payload)});
  return out;
}

std::optional<Field> Record::own(std::uint32_t tag) const {
  const auto found = acts->fields.find(tag);
  if (found == acts->fields.end()) return said.find(tag);
  if (!created) return std::nullopt;
  const auto value = found->second.values.find(created->key);
  if (value == found->second.values.end()) return std::nullopt;
  return Field{tag, value->second.wire, value->second.payload};
}

std::set<OpKey> Record::touched_by() const {
  std::set<OpKey> out = acts->changed_by;
  if (created) out.insert(created->key);
  return out;
}

bool Record::taken_back() const { return can_be_taken_back(kind) && !acts->take_backs.empty() && all_seen(*this); }

bool Record::revived() const {
  const Acts& now = *acts;
  const bool unanswered = std::any_of(now.take_backs.begin(), now.take_backs.end(), [&](const auto& one) { return now.kept_against.count(one.first) == 0; });
  return can_be_taken_back(kind) && unanswered && !all_seen(*this);
}

}  // namespace slipway::ops
