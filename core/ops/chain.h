// The hash chain of one stream, and chunks, its stored and carried form.
//
// A stream is what one incarnation wrote in one scope, seq 1, 2, 3 …
//   genesis = BLAKE2b-256("slipway stream 0" || scope || inc)
//   hash(n) = BLAKE2b-256(hash(n-1) || op bytes n)
// so a hash fixes scope, incarnation, place and everything before it. The input of
// an ordinary op stays within one 128-byte block. Hashing happens in two places
// only: when an op is written, and when a chunk is read at the door.
#pragma once

#include <cstdint>
#include <vector>

#include "model/bytes.h"
#include "model/ids.h"
#include "model/result.h"
#include "ops/op.h"

namespace slipway::ops {

inline constexpr std::size_t kMaxChunkOps = 64;
inline constexpr std::size_t kFoldedChunkBytes = 16 * 1024;  // folding stops here

struct StreamId {
  model::ScopeId scope;
  model::IncarnationId inc;
  friend bool operator==(const StreamId&, const StreamId&) = default;
  friend bool operator<(const StreamId& a, const StreamId& b) {
    return a.scope == b.scope ? a.inc < b.inc : a.scope < b.scope;
  }
};

// Ops first_seq … last_seq of a stream: for each its length as a varint, then its
// bytes. `before` is the hash of first_seq - 1 (genesis if first_seq is 1).
struct Chunk {
  StreamId stream;
  std::uint64_t first_seq = 1;
  std::uint64_t last_seq = 0;
  model::Hash32 before;
  model::Hash32 after;
  model::Bytes bytes;

  friend bool operator==(const Chunk&, const Chunk&) = default;
};

// One op with everything the chain says of it. `bytes` are the exact received ones.
struct ChainedOp {
  StreamId stream;
  std::uint64_t seq = 0;
  model::Hash32 before;
  model::Hash32 hash;
  model::Bytes bytes;
  Op op;

  model::OpKey key() const { return {stream.inc, seq, model::shorten(hash)}; }
};

model::Hash32 blake2b(model::ByteView bytes);
model::Hash32 genesis(const StreamId& stream);
model::Hash32 chain(const model::Hash32& before, model::ByteView op_bytes);

// A short reference is one of the writer's own; only here is it known whose. False for the longer form of it.
bool refs_fit(const Op& op, const model::IncarnationId& home);

// Reads and proves a chunk: every op canonical, count and seqs agree, the chain from
// `before` ends in `after`, `before` is genesis exactly when first_seq is 1, an op whose
// lam exceeds kCounterCeiling is refused. Errors: damaged (args: stream hex, seq), too_large.
model::Result<std::vector<ChainedOp>> read_chunk(const Chunk& chunk);

// Chunks of at most kMaxChunkOps ops and about kFoldedChunkBytes from consecutive ops of
// one stream (each one's `before` is the hash of the one in front). Splits where a gap or branch is.
std::vector<Chunk> make_chunks(const std::vector<ChainedOp>& ops);

}  // namespace slipway::ops
