#include "sync/op_lines.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "ops/held.h"
#include "sync/carried_ops.h"
#include "sync/no_memory.h"
#include "sync/op_line_fields.h"
#include "sync/zip.h"

namespace slipway::sync {

namespace {

using model::ErrorKind;
using model::JsonValue;
using model::JsonWriter;
using ops::ChainedOp;

constexpr std::string_view kBegin = "{\"slipway\":\"ops\",";
constexpr std::size_t kMostLineBytes = std::size_t{1} << 20;  // 64 KiB of op bytes, in the widest form, is under half of it

bool comes_before(const ChainedOp& a, const ChainedOp& b) { return std::tie(a.stream, a.seq, a.hash) < std::tie(b.stream, b.seq, b.hash); }

bool follows(const ChainedOp& last, const ops::StreamId& stream, std::uint64_t seq) {
  return last.stream == stream && last.seq + 1 == seq;
}

}  // namespace

std::string op_lines_head(const model::DeviceId& device, const model::IncarnationId& inc, std::uint64_t ops, const Stretches& lost) {
  JsonWriter out;
  out.object().name("slipway").text("ops").name("form").whole(kOpLinesForm).name("device").text(device.hex());
  out.name("incarnation").text(inc.hex()).name("ops").whole(ops).name("units");
  write_units(out);
  if (!lost.empty()) {
    out.name("lost").list();
    for (const auto& [stream, ranges] : lost)
      for (const ops::Range& range : ranges.spans()) {
        out.object().name("athlete").text(stream.scope.hex()).name("incarnation").text(stream.inc.hex());
        out.name("first").whole(range.first).name("last").whole(range.last).end();
      }
    out.end();
  }
  return out.end().take() + "\n";
}

std::string op_lines_of(std::vector<ChainedOp> all) {
  std::sort(all.begin(), all.end(), comes_before);
  RecordKinds kinds;
  for (const ChainedOp& op : all) kinds[op.key()] = op.op.kind;
  std::string text;
  const ChainedOp* last = nullptr;
  for (const ChainedOp& op : all) {
    JsonWriter out;
    out.object().name("athlete").text(op.stream.scope.hex()).name("incarnation").text(op.stream.inc.hex()).name("seq").whole(op.seq);
    const bool said = op.seq == 1 || (last != nullptr && follows(*last, op.stream, op.seq) && last->hash == op.before);
    if (!said) out.name("before").text(op.before.hex());
    out.name("hash").text(op.hash.hex()).name("lam").whole(op.op.lam).name("kind");
    if (const ops::KindInfo* kind = ops::find_kind(op.op.kind)) out.text(kind->name);
    else out.whole(op.op.kind);
    out.name("fields");
    write_fields(out, op.op, op.stream.inc, kinds);
    text += out.end().take();
    text += '\n';
    last = &op;
  }
  return text;
}

bool is_op_lines(model::ByteView file) { return model::as_text(file).substr(0, kBegin.size()) == kBegin; }

namespace {

template <class Id>
bool read_id(const JsonValue& line, std::string_view name, Id& out) {
  const JsonValue* value = line.find(name);
  model::Bytes bytes;
  if (value == nullptr || value->as_text() == nullptr || !model::read_hex(value->text, bytes) || bytes.size() != out.bytes.size()) return false;
  out = Id::from(bytes);
  return true;
}

std::optional<std::uint64_t> read_whole(const JsonValue& line, std::string_view name) {
  const JsonValue* value = line.find(name);
  return value == nullptr ? std::nullopt : value->whole();
}

class LinesReader {
 public:
  LinesReader(std::string_view text, const Door& door, const Limits& limits) : text_(text), door_(door), limits_(limits) {}

  model::Result<ReadBundle> read() {
    if (text_.size() > limits_.raw_bytes) return door_.too_large("lines", limits_.raw_bytes);
    const auto head = next_line();
    if (!head) return head.error();
    const auto announced = read_head(*head);
    if (!announced) return announced.error();
    while (!at_end()) {
      const auto line = next_line();
      if (!line) return line.error();
      const auto read = read_op(*line);
      if (!read) return read.error();
    }
    if (ops_.size() != *announced)
      return model::error(ErrorKind::damaged, "lines.count", {std::string(door_.file_name), std::to_string(*announced), std::to_string(ops_.size())});
    return proven();
  }

 private:
  model::Error broken(std::string_view text, std::string what) const {
    return model::error(ErrorKind::damaged, std::string(text), {std::string(door_.file_name), std::to_string(line_), std::move(what)});
  }
  model::Error broken(std::string what) const { return broken("lines.broken", std::move(what)); }

  bool at_end() {
    while (at_ < text_.size() && (text_[at_] == '\n' || text_[at_] == '\r')) {
      line_ += text_[at_] == '\n' ? 1 : 0;
      ++at_;
    }
    return at_ == text_.size();
  }

  // `line_` is the number of the line it stands on.
  model::Result<JsonValue> next_line() {
    const std::size_t end = std::min(text_.find('\n', at_), text_.size());
    const std::string_view line = text_.substr(at_, end - at_);
    at_ = end;
    if (line.size() > kMostLineBytes) return door_.too_large("line " + std::to_string(line_), kMostLineBytes);
    auto value = model::read_json(line);
    if (!value && value.error().kind == ErrorKind::too_large) return door_.too_large("line " + std::to_string(line_), model::JsonLimits{}.values);
    if (!value) return broken("lines.sign", value.error().args[0]);
    return value;
  }

  model::Result<std::uint64_t> read_head(const JsonValue& head) {
    const auto form = read_whole(head, "form");
    if (!form) return broken("form");
    if (*form > kOpLinesForm) return door_.newer(*form, 0);
    if (!read_id(head, "device", bundle_.device)) return broken("device");
    if (!read_id(head, "incarnation", bundle_.created_by)) return broken("incarnation");
    const auto count = read_whole(head, "ops");
    if (!count) return broken("ops");
    if (*count > limits_.ops) return door_.too_large("ops", limits_.ops);
    if (const JsonValue* lost = head.find("lost")) {
      for (const JsonValue& stretch : lost->items) {
        ops::StreamId stream;
        const auto first = read_whole(stretch, "first"), last = read_whole(stretch, "last");
        if (!read_id(stretch, "athlete", stream.scope) || !read_id(stretch, "incarnation", stream.inc)) return broken("lost");
        if (!first || !last || *first < 1 || *last < *first || *last >= ops::kCounterCeiling) return broken("lost");
        lost_[stream].add(*first, *last);
      }
    }
    return *count;
  }

  model::Result<model::Done> read_op(const JsonValue& line) {
    ChainedOp op;
    model::Hash32 said;
    if (ops_.size() == limits_.ops) return door_.too_large("ops", limits_.ops);
    if (!read_id(line, "athlete", op.stream.scope)) return broken("athlete");
    if (!read_id(line, "incarnation", op.stream.inc)) return broken("incarnation");
    const auto seq = read_whole(line, "seq"), lam = read_whole(line, "lam");
    if (!seq || *seq < 1 || *seq >= ops::kCounterCeiling) return broken("seq");
    if (!lam || *lam >= ops::kCounterCeiling) return broken("lam");
    if (!read_id(line, "hash", said)) return broken("hash");
    op.seq = *seq;
    if (!read_before(line, op)) return broken("before");
    op.op.lam = *lam;
    if (!read_kind(line, op.op.kind)) return broken("kind");
    const JsonValue* fields = line.find("fields");
    if (fields == nullptr) return broken("fields");
    if (const auto wrong = read_fields(*fields, op.stream.inc, op.op)) return broken(*wrong);
    op.bytes = ops::write_op(op.op);
    op.hash = ops::chain(op.before, op.bytes);
    if (!(op.hash == said)) return broken("lines.hash", said.hex());
    ops_.push_back(std::move(op));
    return model::Done{};
  }

  bool read_before(const JsonValue& line, ChainedOp& op) const {
    if (line.find("before") != nullptr) return read_id(line, "before", op.before);
    if (op.seq == 1) {
      op.before = ops::genesis(op.stream);
      return true;
    }
    if (ops_.empty() || !follows(ops_.back(), op.stream, op.seq)) return false;
    op.before = ops_.back().hash;
    return true;
  }

  static bool read_kind(const JsonValue& line, std::uint32_t& kind) {
    const JsonValue* value = line.find("kind");
    if (value == nullptr) return false;
    if (const std::string* name = value->as_text()) {
      const auto known = ops::kinds();
      const auto found = std::find_if(known.begin(), known.end(), [&](const ops::KindInfo& info) { return info.name == *name; });
      if (found == known.end()) return false;
      kind = found->kind;
      return true;
    }
    const auto number = value->whole();
    if (!number || *number > UINT32_MAX) return false;
    kind = static_cast<std::uint32_t>(*number);
    return true;
  }

  // From here on as a bundle's: cut into chunks, each chunk read again with all that a chunk must be.
  model::Result<ReadBundle> proven() {
    ReadBundle read;
    ops::Held held;
    for (const ChainedOp& op : ops_) {
      held.add(op);
      bundle_.scopes.push_back(op.stream.scope);
    }
    CarriedOps carried = carry(std::move(ops_));
    for (const ops::Chunk& chunk : carried.chunks)
      if (const auto proof = ops::read_chunk(chunk); !proof) return proof.error();
    std::sort(bundle_.scopes.begin(), bundle_.scopes.end());
    bundle_.scopes.erase(std::unique(bundle_.scopes.begin(), bundle_.scopes.end()), bundle_.scopes.end());
    bundle_.holdings = held.holdings();
    bundle_.chunks = std::move(carried.chunks);
    read.bundle = std::move(bundle_);
    read.ops = std::move(carried.ops);
    read.file_hash = ops::blake2b(model::as_bytes(text_));
    read.lost = std::move(lost_);
    return read;
  }

  std::string_view text_;
  const Door& door_;
  const Limits& limits_;
  std::size_t at_ = 0;
  std::uint64_t line_ = 1;
  Bundle bundle_;
  Stretches lost_;
  std::vector<ChainedOp> ops_;
};

}  // namespace

model::Result<ReadBundle> read_op_lines(model::ByteView file, const Door& door, const Limits& limits) {
  return LinesReader(model::as_text(file), door, limits).read();
}

bool is_open_form(model::ByteView file) { return is_zip(file) || is_op_lines(file); }

model::Result<ReadBundle> read_entries(model::ByteView file, const std::string& file_name, const Limits& limits) {
  if (!is_open_form(file)) return read_bundle(file, file_name, limits);
  return or_no_memory<ReadBundle>([&]() -> model::Result<ReadBundle> {
    const Door door{file_name};
    if (!is_zip(file)) return read_op_lines(file, door, limits);
    if (file.size() > limits.file_bytes) return door.too_large("zip", limits.file_bytes);
    const auto lines = read_zip_part(file, std::string(kOpLinesName), door, limits.raw_bytes);
    if (lines) return read_op_lines(*lines, door, limits);
    if (lines.error().kind != ErrorKind::not_found) return lines.error();
    const auto bundle = read_zip_part(file, std::string(kZippedBundleName), door, limits.file_bytes);
    if (!bundle) return bundle.error().kind == ErrorKind::not_found ? lines.error() : bundle.error();
    return read_bundle(*bundle, file_name, limits);
  });
}

}  // namespace slipway::sync
