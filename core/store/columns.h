// The sets of a scope in columns, out of a store: the cache if it is sound, what came later laid on top, made anew
// where that does not do. Nothing here is truth, and everything here comes out the same without the cache.
#pragma once

#include "ops/set_table.h"
#include "store/store.h"

namespace slipway::store {

// Errors: of the storage; damaged, if a chunk that must be read does not prove itself.
model::Result<ops::SetTable> read_sets(Store& store, const model::ScopeId& scope);

// Makes the cache of a scope from its chunks, if it does not cover what is held; false: it did, or the scope has a
// forked stream, of which none is kept. In calm moments, where chunks are folded.
model::Result<bool> save_sets(Store& store, const model::ScopeId& scope);

}  // namespace slipway::store
