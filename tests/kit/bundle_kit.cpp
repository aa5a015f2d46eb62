#include "kit/bundle_kit.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <map>

#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::kit {

namespace {

// The kit's own "this cannot be": a test that gets here is itself wrong.
template <class T>
T sure(model::Result<T> result, const char* what) {
  if (!result) {
    std::fprintf(stderr, "%s: %s", what, result.error().text.c_str());
    for (const std::string& arg : result.error().args) std::fprintf(stderr, " | %s", arg.c_str());
    std::fprintf(stderr, "\n");
    std::abort();
  }
  return std::move(*result);
}

}  // namespace

std::uint64_t SameRandom::next() {
  state_ += 0x9E3779B97F4A7C15ULL;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
  return z ^ (z >> 31);
}

void SameRandom::fill(std::span<std::uint8_t> out) {
  for (std::uint8_t& byte : out) byte = static_cast<std::uint8_t>(next() >> 56);
}

model::ScopeId scope_named(char letter) {
  model::ScopeId id;
  id.bytes.fill(static_cast<std::uint8_t>(letter));
  return id;
}

model::IncarnationId inc_named(char letter) {
  model::IncarnationId id;
  id.bytes.fill(static_cast<std::uint8_t>(letter));
  return id;
}

Log::Log(char scope, char inc)
    : pen_({scope_named(scope), inc_named(inc)}, 0, ops::genesis({scope_named(scope), inc_named(inc)})),
      random_((static_cast<std::uint64_t>(scope) << 8) + static_cast<std::uint64_t>(inc)) {}

void Log::has_seen(const std::vector<ops::ChainedOp>& others) {
  for (const ops::ChainedOp& op : others) lam_held_ = std::max(lam_held_, op.op.lam);
}

ops::Signature Log::signature() {
  // Wed 25 Nov 2026, 18:00 local, one hour east; an entry each 100 s and a bit.
  const auto nth = static_cast<std::int64_t>(ops_.size());
  return {.author = 1,
          .claimed = {.local_ms = 1'795'629'600'000 + nth * 100'217,
                      .utc_offset_min = 60,
                      .since_start_min = static_cast<std::uint64_t>(nth * 5 / 3)}};
}

void Log::write(std::uint32_t kind, std::vector<ops::Field> fields) {
  ops_.push_back(pen_.write(kind, std::move(fields), signature(), lam_held_, random_));
  lam_held_ = ops_.back().op.lam;
}

void Log::session() {
  write(ops::kind::session, {ops::signed_field(ops::session_tag::training_day, 20'782)});
  last_session_ = ops_.back().key();
  rounds_ = 0;
}

void Log::set(std::uint64_t reps) {
  namespace tag = ops::set_tag;
  const model::Quantity load{.value = 22, .decimals = 0, .unit = model::Unit::kg};
  std::vector<ops::Field> fields{ops::text_field(tag::exercise, "SQ4"),   ops::unsigned_field(tag::round, ++rounds_),
                                 ops::unsigned_field(tag::reps, reps),    ops::quantity_field(tag::load, load),
                                 ops::unsigned_field(tag::written_reps, 8), ops::quantity_field(tag::written_load, load)};
  if (last_session_.seq != 0) fields.push_back(ops::refs_field(tag::session, {last_session_}, pen_.stream().inc));
  write(ops::kind::set, std::move(fields));
}

void Log::write_with_lam(std::uint64_t lam_held) {
  lam_held_ = lam_held;
  set(8);
}

std::vector<ops::ChainedOp> Log::ops(std::uint64_t first_seq, std::uint64_t last_seq) const {
  return {ops_.begin() + static_cast<std::ptrdiff_t>(first_seq - 1), ops_.begin() + static_cast<std::ptrdiff_t>(last_seq)};
}

std::vector<ops::ChainedOp> together(std::vector<std::vector<ops::ChainedOp>> parts) {
  std::vector<ops::ChainedOp> all;
  for (const auto& part : parts) all.insert(all.end(), part.begin(), part.end());
  return all;
}

ops::Held held_of(const std::vector<ops::ChainedOp>& ops) {
  ops::Held held;
  for (const ops::ChainedOp& op : ops) held.add(op);
  return held;
}

std::vector<ops::Chunk> chunks_of(const std::vector<ops::ChainedOp>& all, std::size_t at_most) {
  std::vector<ops::Chunk> chunks;
  std::size_t in_last = 0;
  for (const ops::ChainedOp& op : all) {
    const bool goes_on = !chunks.empty() && in_last < at_most && chunks.back().stream == op.stream && chunks.back().after == op.before &&
                         chunks.back().last_seq + 1 == op.seq;
    if (!goes_on) {
      chunks.push_back({.stream = op.stream, .first_seq = op.seq, .last_seq = op.seq, .before = op.before, .after = {}, .bytes = {}});
      in_last = 0;
    }
    ++in_last;
    chunks.back().last_seq = op.seq;
    chunks.back().after = op.hash;
    ops::put_varint(chunks.back().bytes, op.bytes.size());
    model::append(chunks.back().bytes, op.bytes);
  }
  return chunks;
}

sync::Bundle bundle_of(const std::vector<ops::ChainedOp>& ops, char made_by, const std::vector<ops::ChainedOp>& also) {
  sync::Bundle bundle;
  bundle.device = model::DeviceId::from(inc_named(static_cast<char>(made_by - 'a' + 'A')).view());
  bundle.created_by = inc_named(made_by);
  bundle.export_counter = 7;
  bundle.holdings = held_of(together({ops, also})).holdings();
  for (const auto& [stream, holding] : bundle.holdings)
    if (bundle.scopes.empty() || !(bundle.scopes.back() == stream.scope)) bundle.scopes.push_back(stream.scope);
  bundle.chunks = chunks_of(ops);
  return bundle;
}

model::Bytes file_of(const sync::Bundle& bundle, sync::Packing packing) {
  return sure(sync::write_bundle(bundle, {}, packing), "write_bundle");
}
sync::ReadBundle read_of(model::ByteView file) { return sure(sync::read_bundle(file, "kit.slip"), "read_bundle"); }

sync::Taking taking_of(const sync::Bundle& bundle, const ops::Held& held, char own) {
  return sure(sync::plan_taking(read_of(file_of(bundle)), held, inc_named(own), "kit.slip"), "plan_taking");
}

std::vector<ReferenceFile> reference_files(sync::Packing packing) {
  Log three('A', 's');
  three.session();
  for (const std::uint64_t reps : {8, 8, 7}) three.set(reps);

  Log week('A', 's');
  for (int day = 0; day < 5; ++day) {
    week.session();
    for (std::uint64_t round = 0; round < 6; ++round) week.set(8 + round % 2);
  }

  Log swimmer('A', 's'), other('B', 't');
  swimmer.session();
  for (int i = 0; i < 3; ++i) swimmer.set(8);
  Log clone = swimmer;  // a copied tablet
  swimmer.set(6);
  swimmer.set(5);
  clone.set(4);
  Log coach('A', 'c');
  coach.has_seen(swimmer.ops());
  coach.write(998, {ops::text_field(16, "from a later version")});
  for (int i = 0; i < 4; ++i) coach.set(10);
  other.session();
  other.set(12);
  const auto branches = together({swimmer.ops(), clone.ops(5, 5), coach.ops(1, 1), coach.ops(4, 5), other.ops()});

  return {{"three", file_of(bundle_of(three.ops(), 's'), packing)},
          {"week", file_of(bundle_of(week.ops(), 's'), packing)},
          {"branches", file_of(bundle_of(branches, 'c', coach.ops(2, 2)), packing)}};
}

}  // namespace slipway::kit
