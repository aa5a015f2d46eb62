// The ops section of format 0: chunks as they travel.
//
//   section := chunk count, chunk*
//   chunk   := stream (place in the manifest's table), first seq, the hash before it
//              (left out where first seq is 1: it is the stream's genesis), op count,
//              byte length, bytes as in ops::Chunk, and the first 8 bytes of the hash
//              after the last op                                  (canonical varints)
//
// The check at the end of a chunk is the chain itself: it covers the bytes, their place
// and everything before them, and damage is named chunk by chunk. `before` stands in
// each chunk so that a salvage can prove a chunk whose neighbour is lost.
#pragma once

#include <vector>

#include "model/bytes.h"
#include "model/result.h"
#include "ops/chain.h"
#include "sync/bundle.h"
#include "sync/door.h"

namespace slipway::sync {

struct CarriedOps {
  std::vector<ops::Chunk> chunks;   // sorted by (scope, inc, first_seq, after)
  std::vector<ops::ChainedOp> ops;  // of all chunks, in their order
  std::vector<std::size_t> starts;  // where each chunk's ops begin in `ops`

  // The hashes that stand at a place of a stream: more than one where it forks. Needs sorted chunks.
  std::vector<model::Hash32> hashes_at(const ops::StreamId& stream, std::uint64_t seq) const;
};

// The one form of a set of ops: each once, sorted, in the longest unbroken runs, cut by
// format 0's rule. At a fork the branch with the lower hash goes on, the others begin a run.
CarriedOps carry(std::vector<ops::ChainedOp> ops);

model::Bytes write_ops(const std::vector<ops::Chunk>& chunks, const std::vector<ops::StreamId>& streams);
std::uint64_t length_of_ops(const std::vector<ops::Chunk>& chunks, const std::vector<ops::StreamId>& streams);  // of write_ops

// `at` is the section's offset in the file, for errors. Every chunk comes out proven.
model::Result<CarriedOps> read_ops(model::ByteView section, std::uint64_t at, const std::vector<ops::StreamId>& streams,
                                   std::uint64_t op_count, const Door& door);

}  // namespace slipway::sync
