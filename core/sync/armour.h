// A bundle as printable text: for channels that refuse or grey out foreign files.
//
// A line that begins it, the file in base64 at 76 signs a line, a line that ends it with
// the count of bytes and the first 8 bytes of BLAKE2b-256 over all of them. Line ends of
// any system, blank lines around, blanks at line ends and a byte order mark do no harm.
#pragma once

#include "model/bytes.h"
#include "model/result.h"
#include "sync/bundle.h"
#include "sync/door.h"

namespace slipway::sync {

bool is_armoured(model::ByteView file);
// Errors: damaged (offsets count in the text), too_large.
model::Result<model::Bytes> take_off_armour(model::ByteView text, const Door& door, const Limits& limits);

}  // namespace slipway::sync
