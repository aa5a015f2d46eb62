// BLAKE2b-256 of what fits one block, which is nearly every op with the hash before it (RFC 7693; private to ops). The
// library hashes the same bytes to the same answer, through a state that it sets up, copies and clears: half the time
// of an import. hash_test.cpp holds both to a second opinion.
#pragma once

#include <array>
#include <cstdint>
#include <cstring>

#include "model/ids.h"

namespace slipway::ops {

inline constexpr std::size_t kOneBlock = 128;

// `block` is filled with zeros from `length` on; length at most kOneBlock. Little endian, as all our builds are.
inline model::Hash32 hash_one_block(const std::array<std::uint8_t, kOneBlock>& block, std::size_t length) {
  static constexpr std::uint64_t kStart[8] = {0x6A09E667F3BCC908, 0xBB67AE8584CAA73B, 0x3C6EF372FE94F82B, 0xA54FF53A5F1D36F1,
                                              0x510E527FADE682D1, 0x9B05688C2B3E6C1F, 0x1F83D9ABFB41BD6B, 0x5BE0CD19137E2179};
  static constexpr std::uint8_t kOrder[12][16] = {
      {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15}, {14, 10, 4, 8, 9, 15, 13, 6, 1, 12, 0, 2, 11, 7, 5, 3},
      {11, 8, 12, 0, 5, 2, 15, 13, 10, 14, 3, 6, 7, 1, 9, 4}, {7, 9, 3, 1, 13, 12, 11, 14, 2, 6, 5, 10, 4, 0, 15, 8},
      {9, 0, 5, 7, 2, 4, 10, 15, 14, 1, 11, 12, 6, 8, 3, 13}, {2, 12, 6, 10, 0, 11, 8, 3, 4, 13, 7, 5, 15, 14, 1, 9},
      {12, 5, 1, 15, 14, 13, 4, 10, 0, 7, 6, 3, 9, 2, 8, 11}, {13, 11, 7, 14, 12, 1, 3, 9, 5, 0, 15, 4, 8, 6, 2, 10},
      {6, 15, 14, 9, 11, 3, 0, 8, 12, 2, 13, 7, 1, 4, 10, 5}, {10, 2, 8, 4, 7, 6, 1, 5, 15, 11, 9, 14, 3, 12, 13, 0},
      {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15}, {14, 10, 4, 8, 9, 15, 13, 6, 1, 12, 0, 2, 11, 7, 5, 3}};
  const std::uint64_t first = kStart[0] ^ 0x01010020;  // no key, 32 bytes, one leaf
  std::uint64_t m[16];
  std::memcpy(m, block.data(), kOneBlock);
  std::uint64_t v[16] = {first,     kStart[1], kStart[2], kStart[3], kStart[4],          kStart[5], kStart[6],  kStart[7],
                         kStart[0], kStart[1], kStart[2], kStart[3], kStart[4] ^ length, kStart[5], ~kStart[6], kStart[7]};
  const auto right = [](std::uint64_t x, int by) { return x >> by | x << (64 - by); };
  const auto mix = [&](int a, int b, int c, int d, std::uint64_t x, std::uint64_t y) {
    v[a] += v[b] + x;
    v[d] = right(v[d] ^ v[a], 32);
    v[c] += v[d];
    v[b] = right(v[b] ^ v[c], 24);
    v[a] += v[b] + y;
    v[d] = right(v[d] ^ v[a], 16);
    v[c] += v[d];
    v[b] = right(v[b] ^ v[c], 63);
  };
  for (const auto& s : kOrder) {
    mix(0, 4, 8, 12, m[s[0]], m[s[1]]);
    mix(1, 5, 9, 13, m[s[2]], m[s[3]]);
    mix(2, 6, 10, 14, m[s[4]], m[s[5]]);
    mix(3, 7, 11, 15, m[s[6]], m[s[7]]);
    mix(0, 5, 10, 15, m[s[8]], m[s[9]]);
    mix(1, 6, 11, 12, m[s[10]], m[s[11]]);
    mix(2, 7, 8, 13, m[s[12]], m[s[13]]);
    mix(3, 4, 9, 14, m[s[14]], m[s[15]]);
  }
  model::Hash32 hash;
  const std::uint64_t out[4] = {first ^ v[0] ^ v[8], kStart[1] ^ v[1] ^ v[9], kStart[2] ^ v[2] ^ v[10], kStart[3] ^ v[3] ^ v[11]};
  std::memcpy(hash.bytes.data(), out, hash.bytes.size());
  return hash;
}

}  // namespace slipway::ops
