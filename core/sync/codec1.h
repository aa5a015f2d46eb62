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
// coding it again, or by the coder's own word (op_coder.h). format.md tells it to those who build a reader of their own.
#pragma once

#include <optional>
#include <vector>

#include "model/bytes.h"
#include "model/result.h"
#include "ops/packed.h"
#include "sync/carried_ops.h"

namespace slipway::sync {

model::Bytes pack_ops(const CarriedOps& carried, const std::vector<ops::StreamId>& streams);

struct Unpacked {
  std::vector<ops::ChainedOp> ops;  // every one proven, in the order of the file
  bool in_its_form = false;         // one piece, of which the coder held every choice against the writer's: no need to code it again
};
// `raw_length` bounds what is taken into memory. Errors as of read_ops.
model::Result<Unpacked> unpack_ops(model::ByteView stored, std::uint64_t at, std::uint64_t raw_length, const std::vector<ops::StreamId>& streams,
                                   std::uint64_t op_count, const Door& door);

// The section's one run as a store keeps it; nothing if there are more, or streams of other scopes. `ops` are those of it.
std::optional<ops::PackedRun> only_run(model::ByteView stored, std::uint64_t raw_length, const std::vector<ops::StreamId>& streams,
                                       const std::vector<ops::ChainedOp>& ops);
// The section that holds this run alone; `streams` are those that it was packed beside.
model::Bytes section_of(const ops::PackedRun& run, const std::vector<ops::StreamId>& streams);

}  // namespace slipway::sync
