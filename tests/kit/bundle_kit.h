// Bundles for tests: small logs of readable people, files taken apart and put together
// again, and verdicts as one line. No doctest here; all of it is pure and the same on
// every build.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "host/random.h"
#include "model/bytes.h"
#include "model/ids.h"
#include "ops/held.h"
#include "ops/pen.h"
#include "sync/bundle.h"
#include "sync/container.h"

namespace slipway::kit {

// Random bytes that are the same each time (SplitMix64, from memory).
class SameRandom : public host::Random {
 public:
  explicit SameRandom(std::uint64_t seed) : state_(seed) {}
  void fill(std::span<std::uint8_t> out) override;
  std::uint64_t next();
  std::size_t below(std::size_t limit) { return static_cast<std::size_t>(next() % limit); }

 private:
  std::uint64_t state_;
};

// Ids that can be read in a failure: sixteen times one letter.
model::ScopeId scope_named(char letter);
model::IncarnationId inc_named(char letter);

// What one writer writes in one scope. A copy is a cloned device: it goes on from the
// same place and forks the stream.
class Log {
 public:
  Log(char scope, char inc);

  void has_seen(const std::vector<ops::ChainedOp>& others);  // its next lam is higher than theirs
  void write(std::uint32_t kind, std::vector<ops::Field> fields);
  void session();
  void set(std::uint64_t reps);       // as the app writes it: 22 kg goblet squats of the last session
  void write_with_lam(std::uint64_t lam_held);
  const std::vector<ops::ChainedOp>& ops() const { return ops_; }
  std::vector<ops::ChainedOp> ops(std::uint64_t first_seq, std::uint64_t last_seq) const;

 private:
  ops::Signature signature();

  ops::Pen pen_;
  SameRandom random_;
  std::uint64_t lam_held_ = 0;
  std::uint64_t rounds_ = 0;
  model::OpKey last_session_;
  std::vector<ops::ChainedOp> ops_;
};

std::vector<ops::ChainedOp> together(std::vector<std::vector<ops::ChainedOp>> parts);
ops::Held held_of(const std::vector<ops::ChainedOp>& ops);

// Consecutive ops of a stream in chunks of at most so many.
std::vector<ops::Chunk> chunks_of(const std::vector<ops::ChainedOp>& ops, std::size_t at_most = ops::kMaxChunkOps);

// A bundle of these ops by a sender who holds these and `also` (none of it in the file).
sync::Bundle bundle_of(const std::vector<ops::ChainedOp>& ops, char made_by, const std::vector<ops::ChainedOp>& also = {});
// Must be writable. Plain, unless it is the packing that is looked at: there a test can lay hands on the ops.
model::Bytes file_of(const sync::Bundle& bundle, sync::Packing packing = sync::Packing::plain);
sync::ReadBundle read_of(model::ByteView file);                   // must be readable
sync::Taking taking_of(const sync::Bundle& bundle, const ops::Held& held, char own);  // must be takeable

// Three reference files: three sets; a week of one swimmer (30 sets); and one with two
// athletes, a fork, a gap and an entry of a kind that nobody knows yet.
struct ReferenceFile {
  std::string name;
  model::Bytes bytes;
};
std::vector<ReferenceFile> reference_files(sync::Packing packing = sync::Packing::plain);

// The reference files as a C++ header, to be kept as tests/bundles/<name>.h for ever.
std::string golden_header(std::string_view name, sync::Packing packing);

// Files on the operating table.
sync::FramePlan taken_apart(model::ByteView file);
// All checks made true again for bytes that were changed: chunks, sections, whole file, as
// far as their place can still be found. What is left to say no is the decoder itself.
model::Bytes sealed_again(model::Bytes file);
model::Bytes whole_hash_again(model::Bytes file);  // the last 32 bytes only

// "read 30" or "damaged bundle.hash|name|file|812".
std::string verdict(const model::Result<sync::ReadBundle>& read);

// Verdicts in order, as one hash to compare between builds.
class Verdicts {
 public:
  void add(std::string_view line);
  std::uint64_t count() const { return count_; }
  void print(std::string_view name) const;  // "digest sync.NAME HEX (N)"

 private:
  model::Hash32 hash_;
  std::uint64_t count_ = 0;
};

}  // namespace slipway::kit
