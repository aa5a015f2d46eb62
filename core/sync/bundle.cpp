#include "sync/bundle.h"

#include <algorithm>
#include <map>

#include "ops/op.h"
#include "sync/armour.h"
#include "sync/bundle_v0.h"
#include "sync/carried_ops.h"
#include "sync/codec1.h"
#include "sync/container.h"
#include "sync/door.h"
#include "sync/no_memory.h"
#include "sync/seal.h"
#include "sync/signature.h"
#include "sync/tables.h"
#include "sync/zip.h"

namespace slipway::sync {

namespace {

using ops::ChainedOp;
using ops::StreamId;

std::vector<StreamId> streams_of(const ops::Holdings& holdings, const CarriedOps& carried) {
  std::vector<StreamId> streams;
  for (const auto& [stream, holding] : holdings) streams.push_back(stream);
  for (const ops::Chunk& chunk : carried.chunks) streams.push_back(chunk.stream);
  std::sort(streams.begin(), streams.end());
  streams.erase(std::unique(streams.begin(), streams.end()), streams.end());
  return streams;
}

// Everything but the chunks is taken from `bundle`, the ops from `carried`. `with_raw`: the canonical form of a packed
// section is at hand too, for a signature is over that.
// `packed`: the packed form, where it is known to be the one.
FramePlan plan_frame(const Bundle& bundle, const CarriedOps& carried, std::uint64_t codec, bool with_raw, model::ByteView packed = {}) {
  const std::vector<StreamId> streams = streams_of(bundle.holdings, carried);
  FramePlan plan;
  ops::put_varint(plan.header, carried.ops.size());
  plan.sections.push_back({section::manifest, write_manifest(bundle, streams)});
  plan.sections.push_back({section::ranges, write_ranges(bundle.holdings, streams, carried)});
  plan.sections.push_back({section::ops, {}, codec});
  FramePlan::Section& entries = plan.sections.back();
  if (codec == kStoredPlain || with_raw) entries.raw = write_ops(carried.chunks, streams);
  if (codec != kStoredPlain) {
    entries.packed = packed.empty() ? pack_ops(carried, streams) : model::Bytes(packed.begin(), packed.end());
    entries.raw_length = length_of_ops(carried.chunks, streams);
  }
  return plan;
}

// What the door would refuse is stored plain, and what would not gain.
bool worth_packing(const FramePlan& plan) {
  const FramePlan::Section& entries = plan.sections.back();
  return entries.packed.size() < entries.raw_length && !unpacks_too_far(entries.packed.size(), entries.raw_length);
}

model::Result<CarriedOps> proven_ops(const std::vector<ops::Chunk>& chunks, const std::vector<ops::PackedRun>& runs) {
  std::vector<ChainedOp> all;
  for (const ops::PackedRun& run : runs) {
    auto proven = ops::unpack(run);
    if (!proven) return proven.error();
    for (ChainedOp& op : *proven) all.push_back(std::move(op));
  }
  for (const ops::Chunk& chunk : chunks) {
    auto proven = ops::read_chunk(chunk);
    if (!proven) return proven.error();
    for (ChainedOp& op : *proven) all.push_back(std::move(op));
  }
  return carry(std::move(all));
}

model::Error too_large_to_write(std::uint64_t limit) {
  return model::error(model::ErrorKind::too_large, "bundle.too_large_to_make", {std::to_string(limit)});
}

// What the door would refuse, this program does not make.
bool in_too_many_pieces(const ops::Holdings& holdings, const CarriedOps& carried) {
  std::map<StreamId, std::uint64_t> pieces;
  const ops::Chunk* last = nullptr;
  for (const ops::Chunk& chunk : carried.chunks) {
    const bool goes_on = last != nullptr && last->stream == chunk.stream && last->after == chunk.before;
    if (!goes_on && ++pieces[chunk.stream] > v0::kPiecesAStream) return true;
    last = &chunk;
  }
  return std::any_of(holdings.begin(), holdings.end(),
                     [](const auto& held) { return held.second.ranges.spans().size() > v0::kPiecesAStream; });
}

void add_signature(FramePlan& plan, model::Bytes signature) {
  plan.sections.push_back({section::signature, std::move(signature)});
  plan.flags |= flag::has_signature;
}

// A run that was packed as this file would pack it is handed on. Nothing: it has to be unpacked.
std::optional<FramePlan> plan_as_kept(const Bundle& bundle, const ops::PackedRun& run) {
  // What the ranges section may ask of the ops: the head of the run.
  CarriedOps head;
  head.chunks.push_back({run.stream, run.last_seq, run.last_seq, {}, run.after, {}});
  head.ops.push_back({run.stream, run.last_seq, {}, run.after, {}, {}});
  head.starts.push_back(0);
  const auto holding = bundle.holdings.find(run.stream);
  const std::uint64_t end = holding == bundle.holdings.end() ? 0 : holding->second.ranges.prefix_end();
  if (end >= run.first_seq && end < run.last_seq) return std::nullopt;
  const std::vector<StreamId> streams = streams_of(bundle.holdings, head);
  const auto same = [&](const StreamId& stream, const model::IncarnationId& inc) { return stream == StreamId{run.stream.scope, inc}; };
  if (run.section_length == 0 || !std::equal(streams.begin(), streams.end(), run.beside.begin(), run.beside.end(), same)) return std::nullopt;
  FramePlan plan;
  ops::put_varint(plan.header, run.last_seq - run.first_seq + 1);
  plan.sections.push_back({section::manifest, write_manifest(bundle, streams)});
  plan.sections.push_back({section::ranges, write_ranges(bundle.holdings, streams, head)});
  plan.sections.push_back({section::ops, {}, kPackedOps, section_of(run, streams), run.section_length});
  return plan;
}

model::Result<model::Bytes> write_now(const Bundle& bundle, const Limits& limits, Packing packing, const Signing* signing) {
  Bundle around{.device = bundle.device,
                .created_by = bundle.created_by,
                .export_counter = bundle.export_counter,
                .scopes = bundle.scopes,
                .holdings = bundle.holdings,
                .chunks = {}};
  std::sort(around.scopes.begin(), around.scopes.end());
  around.scopes.erase(std::unique(around.scopes.begin(), around.scopes.end()), around.scopes.end());
  const bool one_run = packing == Packing::packed && bundle.chunks.empty() && bundle.runs.size() == 1;
  if (one_run && signing == nullptr && !in_too_many_pieces(around.holdings, {})) {  // a signature is over what stands in the run, unpacked
    const auto listed = [&](const StreamId& stream) { return std::binary_search(around.scopes.begin(), around.scopes.end(), stream.scope); };
    const bool all_listed = std::all_of(around.holdings.begin(), around.holdings.end(), [&](const auto& held) { return listed(held.first); });
    const auto kept = all_listed && listed(bundle.runs.front().stream) ? plan_as_kept(around, bundle.runs.front()) : std::nullopt;
    if (kept && worth_packing(*kept)) {
      model::Bytes file = write_frame(*kept);
      if (file.size() > limits.file_bytes) return too_large_to_write(limits.file_bytes);
      return file;
    }
  }
  const auto carried = proven_ops(bundle.chunks, bundle.runs);
  if (!carried) return carried.error();
  if (carried->ops.size() > limits.ops) return too_large_to_write(limits.ops);
  if (in_too_many_pieces(around.holdings, *carried)) return too_large_to_write(v0::kPiecesAStream);
  for (const StreamId& stream : streams_of(around.holdings, *carried))
    if (!std::binary_search(around.scopes.begin(), around.scopes.end(), stream.scope))
      // A scope that is not listed must never leave, whoever forgot to leave it out.
      return model::error(model::ErrorKind::invalid, "bundle.scope", {stream.scope.hex()});
  FramePlan plan = plan_frame(around, *carried, packing == Packing::packed ? kPackedOps : kStoredPlain, signing != nullptr);
  if (packing == Packing::packed && !worth_packing(plan)) plan = plan_frame(around, *carried, kStoredPlain, signing != nullptr);
  if (signing != nullptr) add_signature(plan, write_signature(signing->key, signing->envelope, plan.sections));
  model::Bytes file = write_frame(plan);
  if (file.size() > limits.file_bytes) return too_large_to_write(limits.file_bytes);
  return file;
}

}  // namespace

model::Result<model::Bytes> write_bundle(const Bundle& bundle, const Limits& limits, Packing packing, const Signing* signing) {
  return or_no_memory<model::Bytes>([&] { return write_now(bundle, limits, packing, signing); });
}

namespace {

model::Result<std::uint64_t> read_header(const Frame& frame, const Door& door, const Limits& limits) {
  Cursor cursor(frame.header);
  std::uint64_t op_count = 0;
  const bool more_allowed = frame.is_newer();  // it may add fields behind ours
  if (!cursor.number(op_count) || (cursor.left() != 0 && !more_allowed))
    return door.damaged("bundle.section", "header", frame.header_at + cursor.at());
  if (op_count > limits.ops) return door.too_large("ops", limits.ops);
  return op_count;
}

// Where two byte runs first differ.
std::uint64_t first_difference(model::ByteView a, model::ByteView b) {
  const auto pair = std::mismatch(a.begin(), a.end(), b.begin(), b.end());
  return static_cast<std::uint64_t>(pair.first - a.begin());
}

// Written again, what was read must give the same bytes: a value has one form only.
model::Result<model::Done> check_canonical(model::ByteView file, const Frame& frame, FramePlan again, const Door& door) {
  for (const FramePlan::Section& section : again.sections) {
    const Frame::Section& found = *frame.find(section.type);
    const bool plain = section.codec == kStoredPlain;
    const model::Bytes& stored = plain ? section.raw : section.packed;
    if (!model::equal(found.stored, stored) || found.raw_length != (plain ? stored.size() : section.raw_length))
      return door.damaged("bundle.not_canonical", section_name(section.type), found.at + first_difference(found.stored, stored));
  }
  if (frame.is_newer()) return model::Done{};
  again.major = frame.major;
  again.minor = frame.minor;
  const model::Bytes whole = write_frame(again);
  if (!model::equal(whole, file)) return door.damaged("bundle.not_canonical", "table", first_difference(file, whole));
  return model::Done{};
}

model::Result<Unpacked> read_entries(const Frame::Section& entries, const std::vector<StreamId>& streams, std::uint64_t op_count, const Door& door) {
  if (entries.codec == kPackedOps) return unpack_ops(entries.stored, entries.at, entries.raw_length, streams, op_count, door);
  auto carried = read_ops(entries.raw, entries.at, streams, op_count, door);
  if (!carried) return carried.error();
  return Unpacked{std::move(carried->ops), false};
}

// Of the sections as they are written: the signature proven, and made for this envelope. One that was sealed
// to several keys was opened by one of them.
model::Result<model::Done> check_signature(const Frame& frame, FramePlan& again, const Unsealed& outside, const Door& door, ReadBundle& read) {
  const Frame::Section* found = frame.find(section::signature);
  if (found == nullptr) return model::Done{};
  const auto signature = read_signature(found->raw);
  if (!signature) return door.damaged("bundle.section", section_name(section::signature), found->at);
  const Envelope& made_for = signature->said.envelope;
  const bool for_us = made_for.how == outside.how &&
                      (made_for.how != Envelope::How::to_keys || std::binary_search(made_for.to.begin(), made_for.to.end(), outside.opened_by));
  if (!holds(*signature, again.sections) || !for_us) return door.damaged("bundle.signature", section_name(section::signature), found->at);
  add_signature(again, model::Bytes(found->raw.begin(), found->raw.end()));
  read.signature = signature->said;
  return model::Done{};
}

// `outside` says how the file travelled; its bytes are not used.
model::Result<ReadBundle> read_open(model::ByteView file, const Frame& frame, const Unsealed& outside, const Door& door, const Limits& limits) {
  if (const Frame::Section* squad = frame.find(section::squad)) return door.no(model::ErrorKind::foreign, "bundle.is_squad", section_name(section::squad), squad->at);
  const auto op_count = read_header(frame, door, limits);
  if (!op_count) return op_count.error();
  const Frame::Section* manifest = frame.find(section::manifest);
  const Frame::Section* ranges = frame.find(section::ranges);
  const Frame::Section* entries = frame.find(section::ops);
  if (!manifest || !ranges || !entries) return door.damaged("bundle.section", "table", frame.header_at);

  ReadBundle read;
  read.file_hash = frame.file_hash;
  read.envelope = outside.how;
  read.bundle.major = static_cast<std::uint32_t>(frame.major);
  read.bundle.minor = static_cast<std::uint32_t>(frame.minor);
  const auto streams = read_manifest(manifest->raw, manifest->at, door, read.bundle);
  if (!streams) return streams.error();
  read.packing = entries->codec == kStoredPlain ? Packing::plain : Packing::packed;
  auto proven = read_entries(*entries, *streams, *op_count, door);
  if (!proven) return proven.error();
  CarriedOps again = carry(std::move(proven->ops));  // another cut or order shows when written again
  auto holdings = read_ranges(ranges->raw, ranges->at, door, *streams, again);
  if (!holdings) return holdings.error();
  read.bundle.holdings = *std::move(holdings);
  FramePlan as_written = plan_frame(read.bundle, again, read.packing == Packing::packed ? kPackedOps : kStoredPlain,
                                    frame.find(section::signature) != nullptr, proven->in_its_form ? entries->stored : model::ByteView{});
  if (const auto who = check_signature(frame, as_written, outside, door, read); !who) return who.error();
  if (const auto same = check_canonical(file, frame, std::move(as_written), door); !same) return same.error();
  if (read.packing == Packing::packed) read.run = only_run(entries->stored, entries->raw_length, *streams, again.ops);
  read.bundle.chunks = std::move(again.chunks);
  read.ops = std::move(again.ops);
  return read;
}

model::Result<ReadBundle> read_file(model::ByteView file, const Door& door, const Limits& limits, const Keyring& keyring) {
  const auto frame = read_frame(file, door, limits);
  if (!frame) return frame.error();
  if ((frame->flags & flag::sealed) == 0) return read_open(file, *frame, {{}, Envelope::How::open, {}}, door, limits);
  const auto inside = unseal(*frame, door, keyring, limits);
  if (!inside) return inside.error();
  if (is_zip(inside->bundle)) return model::error(model::ErrorKind::invalid, "bundle.sealed_backup", {std::string(door.file_name)});
  const auto inner = read_frame(inside->bundle, door, limits);
  if (!inner) return inner.error();
  if ((inner->flags & flag::sealed) != 0) return door.damaged("bundle.seal", section_name(section::sealed), 0);
  auto read = read_open(inside->bundle, *inner, *inside, door, limits);
  if (read) read->file_hash = frame->file_hash;
  return read;
}

}  // namespace

model::Result<ReadBundle> read_inside(model::ByteView bundle, const std::string& file_name, const Envelope& envelope) {
  return or_no_memory<ReadBundle>([&]() -> model::Result<ReadBundle> {
    const Door door{file_name};
    const Limits limits;
    const auto frame = read_frame(bundle, door, limits);
    if (!frame) return frame.error();
    return read_open(bundle, *frame, {{}, envelope.how, envelope.to.empty() ? RecipientKey{} : envelope.to.front()}, door, limits);
  });
}

bool is_sealed(model::ByteView file) {
  const auto frame = read_frame(file, Door{""}, {});
  return frame && (frame->flags & flag::sealed) != 0;
}

model::Result<model::Bytes> open_seal(model::ByteView file, const std::string& file_name, const Keyring& keyring, const Limits& limits) {
  return or_no_memory<model::Bytes>([&]() -> model::Result<model::Bytes> {
    const Door door{file_name};
    const auto frame = read_frame(file, door, limits);
    if (!frame) return frame.error();
    if ((frame->flags & flag::sealed) == 0) return door.damaged("bundle.seal", "file", 0);
    auto inside = unseal(*frame, door, keyring, limits);
    if (!inside) return inside.error();
    return std::move(inside->bundle);
  });
}

model::Result<ReadBundle> read_bundle(model::ByteView file, const std::string& file_name, const Limits& limits, const Keyring& keyring) {
  return or_no_memory<ReadBundle>([&]() -> model::Result<ReadBundle> {
    const Door door{file_name};
    if (!is_armoured(file)) return read_file(file, door, limits, keyring);
    const auto bare = take_off_armour(file, door, limits);
    if (!bare) return bare.error();
    return read_file(*bare, door, limits, keyring);
  });
}

}  // namespace slipway::sync
