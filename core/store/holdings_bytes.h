// Private to the store: what is held of streams, as the bytes of one column.
#pragma once

#include <optional>

#include "model/bytes.h"
#include "ops/ranges.h"

namespace slipway::store {

model::Bytes write_holdings(const ops::Holdings& holdings);
// Nothing if the bytes are not what write_holdings wrote.
std::optional<ops::Holdings> read_holdings(model::ByteView bytes);

}  // namespace slipway::store
