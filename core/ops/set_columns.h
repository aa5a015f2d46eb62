// One column of numbers as bytes, small and quick to read (private to ops). The writer tries the ways below and takes
// the shortest, the first of equal ones, so that equal columns have equal bytes.
//
//   column    := 0 base width packed(value - base) exceptions        width 0 … 56; exceptions: count (gap value)*
//              | 1 count values column of places                     the distinct values, the commonest first; at most 4096
//              | 2 packed(1 where it is not the one before) column   of those that are not
//
// Numbers are varints; packed: the low bits first, up to the next whole byte.
#pragma once

#include <cstdint>
#include <vector>

#include "model/bytes.h"

namespace slipway::ops {

void put_column(model::Bytes& out, const std::vector<std::uint64_t>& values);

// False: not so many numbers stand there. `values` has room for `count`.
bool get_column(model::ByteView bytes, std::size_t& at, std::size_t count, std::vector<std::uint64_t>& values);

}  // namespace slipway::ops
