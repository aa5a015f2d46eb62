// BLAKE2b once more, plainly, from RFC 7693: a second opinion on the library's.
#pragma once

#include <cstddef>

#include "model/bytes.h"

namespace slipway::kit {

// `size` bytes of hash, 1 … 64; a key of 0 … 64 bytes.
model::Bytes plain_blake2b(model::ByteView input, std::size_t size, model::ByteView key = {});

}  // namespace slipway::kit
