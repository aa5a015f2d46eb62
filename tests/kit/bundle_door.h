// What must hold at the door for any bytes at all. Used by the fuzz targets and by the
// replay of their corpora in the ordinary tests.
#pragma once

#include <string>

#include "model/bytes.h"

namespace slipway::kit {

// Empty, or the promise that was broken. The bytes are read as they are and once more
// with all checks made true, so that the decoder itself is reached.
std::string broken_promise(model::ByteView file);

// The same for packed ops alone: the bytes are unpacked as far as ops come out of them; those are packed, and
// must come out once more. No check stands before them here.
std::string broken_unpacking(model::ByteView packed);

}  // namespace slipway::kit
