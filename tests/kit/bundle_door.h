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

// For the open forms, JSON, ops as lines and zips: what is read, written as lines and read again is the same set.
std::string broken_open_form(model::ByteView file);

// For the header of a sealed file, with the key and the passphrase at hand: what opens is what was sealed. The first
// byte says what the others are: 0 the whole file; 1 stanzas instead of a passphrase's; else stanzas before a key's.
std::string broken_seal(model::ByteView input);

}  // namespace slipway::kit
