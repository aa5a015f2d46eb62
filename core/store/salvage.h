// What still parses of a store file that is damaged, without SQLite.
//
// Every page that looks like a leaf or an inner page of SQLite's b-trees is read for cells that look like rows of
// the tables of chunks and of packed runs, wherever it stands and whatever the rest of the file says [SQLite's file format]. What counts is
// only what proves itself by its hash chain, so a page of nonsense yields nothing, and nothing is ever invented.
#pragma once

#include <vector>

#include "model/bytes.h"
#include "ops/chain.h"

namespace slipway::store {

// Each chunk once, by stream and first_seq. Empty: nothing of ours is in these bytes.
std::vector<ops::Chunk> salvage(model::ByteView database);

}  // namespace slipway::store
