// What must hold at the door for any bytes at all. Used by the fuzz target and by the
// replay of its corpus in the ordinary tests.
#pragma once

#include <string>

#include "model/bytes.h"

namespace slipway::kit {

// Empty, or the promise that was broken. The bytes are read as they are and once more
// with all checks made true, so that the decoder itself is reached.
std::string broken_promise(model::ByteView file);

}  // namespace slipway::kit
