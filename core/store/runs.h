// Private to the store: packed runs among chunks.
#pragma once

#include <tuple>
#include <vector>

#include "ops/chain.h"
#include "ops/packed.h"
#include "store/database.h"

namespace slipway::store {

// Order of chunks, within one scope.
inline bool by_key(const ops::Chunk& a, const ops::Chunk& b) {
  return std::tie(a.stream.inc, a.first_seq, a.before, a.after) < std::tie(b.stream.inc, b.first_seq, b.before, b.after);
}

// The run as chunks, proven. Of a damaged one: its places, in chunks that hold nothing.
void put_unpacked(const ops::PackedRun& run, std::vector<ops::Chunk>& out);

// The two columns of a row beside its key and its bytes: what else a run says, and a check over all of it.
model::Bytes told_of(const ops::PackedRun& run);
bool read_told(model::ByteView told, ops::PackedRun& run);
model::ShortHash check_of(const ops::PackedRun& run);

// Runs of a scope, or of one stream of it, that reach `first_seq`. A row that is not as it was written has no bytes
// here: nothing comes out of it, and its places are named.
model::Result<std::vector<ops::PackedRun>> read_runs(Database& database, const model::ScopeId& scope, const ops::StreamId* stream,
                                                     std::uint64_t first_seq);

}  // namespace slipway::store
