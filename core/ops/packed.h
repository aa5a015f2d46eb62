// A run of one stream without what can be foretold: the form in which a store keeps what is folded, and in which
// the ops section of a bundle of one writer travels (core/sync/codec1.h, format.md).
//
// It gives back exactly the canonical bytes of its ops, and nothing it gives back is believed before the chain from
// `before` ends in `after`. The coder's view of other streams of the scope is part of it: `beside`.
#pragma once

#include <cstdint>
#include <vector>

#include "model/bytes.h"
#include "model/ids.h"
#include "model/result.h"
#include "ops/chain.h"

namespace slipway::ops {

// Longer ones are not made here; a damaged run is lost from its beginning, so it has an end.
inline constexpr std::size_t kMostPackedOps = 4096;

struct PackedRun {
  StreamId stream;
  std::uint64_t first_seq = 1, last_seq = 0;
  model::Hash32 before, after;
  std::vector<model::IncarnationId> beside;  // writers of the scope that the coder knew of, rising; the stream's own among them
  std::uint64_t op_bytes = 0;                // how long its ops are together: a bound for whoever unpacks it
  std::uint64_t section_length = 0;          // of the plain ops section of a bundle with this run alone in it; 0: nobody has counted
  model::Bytes bytes;                        // range coded

  friend bool operator==(const PackedRun&, const PackedRun&) = default;
};

// `run`: ops of one stream, each standing on the one before; not empty, not more than kMostPackedOps.
PackedRun pack(const std::vector<ChainedOp>& run, std::vector<model::IncarnationId> beside);

// Every op comes out proven. Errors: damaged (args: what, stream hex, seq), too_large.
model::Result<std::vector<ChainedOp>> unpack(const PackedRun& run);

}  // namespace slipway::ops
