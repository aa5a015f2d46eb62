// The cereal-coded sections of format 0 and their lifting to sync::Bundle: manifest
// (who made it, which scopes, the table of streams) and ranges (what the sender holds).
#pragma once

#include <vector>

#include "model/bytes.h"
#include "model/result.h"
#include "ops/chain.h"
#include "sync/bundle.h"
#include "sync/carried_ops.h"
#include "sync/door.h"

namespace slipway::sync {

// `streams` sorted: those of the holdings and of the ops.
model::Bytes write_manifest(const Bundle& bundle, const std::vector<ops::StreamId>& streams);
// Fills device, created_by, export_counter and scopes of `bundle`; hands back the streams.
model::Result<std::vector<ops::StreamId>> read_manifest(model::ByteView section, std::uint64_t at, const Door& door,
                                                        Bundle& bundle);

model::Bytes write_ranges(const ops::Holdings& holdings, const std::vector<ops::StreamId>& streams, const CarriedOps& carried);
// A head that the ops of this very file contradict is refused.
model::Result<ops::Holdings> read_ranges(model::ByteView section, std::uint64_t at, const Door& door,
                                         const std::vector<ops::StreamId>& streams, const CarriedOps& carried);

}  // namespace slipway::sync
