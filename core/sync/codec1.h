// Codec 1 of the ops section: the ops without what can be foretold or worked out again.
//
//   stored := piece count, piece*, ops                              (canonical varints)
//   piece  := stream (place in the manifest's table), first seq, the hash before it
//             (left out where first seq is 1), op count, and the first 8 bytes of the
//             hash after its last op
//   ops    := all ops of all pieces, in their order, by OpCoder with a range coder
//
// A piece is an unbroken run of a stream. Hashes, chunk cuts and their checks are worked
// out again; what comes out are exactly the bytes that codec 0 carries, whose length is
// the section's raw length. One set of ops has one stored form, which the door holds by
// coding it again. format.md tells it to those who build a reader of their own.
#pragma once

#include <vector>

#include "model/bytes.h"
#include "model/result.h"
#include "sync/carried_ops.h"

namespace slipway::sync {

model::Bytes pack_ops(const CarriedOps& carried, const std::vector<ops::StreamId>& streams);

// `raw_length` bounds what is taken into memory. Every op comes out proven, in the order of the file; errors
// as of read_ops.
model::Result<std::vector<ops::ChainedOp>> unpack_ops(model::ByteView stored, std::uint64_t at, std::uint64_t raw_length,
                                                      const std::vector<ops::StreamId>& streams, std::uint64_t op_count, const Door& door);

}  // namespace slipway::sync
