#include "kit/plain_blake2b.h"

#include <array>

namespace slipway::kit {

namespace {

using Words = std::array<std::uint64_t, 8>;
using Block = std::array<std::uint64_t, 16>;

constexpr std::size_t kBlockBytes = 128;

// RFC 7693, 2.6.
constexpr Words kStart{0x6A09E667F3BCC908, 0xBB67AE8584CAA73B, 0x3C6EF372FE94F82B, 0xA54FF53A5F1D36F1,
                       0x510E527FADE682D1, 0x9B05688C2B3E6C1F, 0x1F83D9ABFB41BD6B, 0x5BE0CD19137E2179};
// RFC 7693, 2.7: which word of the message comes when.
constexpr std::uint8_t kOrder[10][16] = {
    {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15}, {14, 10, 4, 8, 9, 15, 13, 6, 1, 12, 0, 2, 11, 7, 5, 3},
    {11, 8, 12, 0, 5, 2, 15, 13, 10, 14, 3, 6, 7, 1, 9, 4}, {7, 9, 3, 1, 13, 12, 11, 14, 2, 6, 5, 10, 4, 0, 15, 8},
    {9, 0, 5, 7, 2, 4, 10, 15, 14, 1, 11, 12, 6, 8, 3, 13}, {2, 12, 6, 10, 0, 11, 8, 3, 4, 13, 7, 5, 15, 14, 1, 9},
    {12, 5, 1, 15, 14, 13, 4, 10, 0, 7, 6, 3, 9, 2, 8, 11}, {13, 11, 7, 14, 12, 1, 3, 9, 5, 0, 15, 4, 8, 6, 2, 10},
    {6, 15, 14, 9, 11, 3, 0, 8, 12, 2, 13, 7, 1, 4, 10, 5}, {10, 2, 8, 4, 7, 6, 1, 5, 15, 11, 9, 14, 3, 12, 13, 0}};

constexpr std::uint64_t turned(std::uint64_t word, int right) { return (word >> right) | (word << (64 - right)); }

void stir(Block& v, int a, int b, int c, int d, std::uint64_t x, std::uint64_t y) {  // RFC 7693, 3.1
  const auto at = [&v](int i) -> std::uint64_t& { return v[static_cast<std::size_t>(i)]; };
  at(a) += at(b) + x;
  at(d) = turned(at(d) ^ at(a), 32);
  at(c) += at(d);
  at(b) = turned(at(b) ^ at(c), 24);
  at(a) += at(b) + y;
  at(d) = turned(at(d) ^ at(a), 16);
  at(c) += at(d);
  at(b) = turned(at(b) ^ at(c), 63);
}

void compress(Words& h, const Block& m, std::uint64_t bytes_so_far, bool last) {  // RFC 7693, 3.2
  Block v;
  for (std::size_t i = 0; i < 8; ++i) {
    v[i] = h[i];
    v[i + 8] = kStart[i];
  }
  v[12] ^= bytes_so_far;
  if (last) v[14] = ~v[14];
  for (std::size_t round = 0; round < 12; ++round) {
    const std::uint8_t* s = kOrder[round % 10];
    for (int i = 0; i < 4; ++i) stir(v, i, i + 4, i + 8, i + 12, m[s[2 * i]], m[s[2 * i + 1]]);
    for (int i = 0; i < 4; ++i)
      stir(v, i, (i + 1) % 4 + 4, (i + 2) % 4 + 8, (i + 3) % 4 + 12, m[s[8 + 2 * i]], m[s[9 + 2 * i]]);
  }
  for (std::size_t i = 0; i < 8; ++i) h[i] ^= v[i] ^ v[i + 8];
}

Block block_at(const model::Bytes& padded, std::size_t at) {
  Block block{};
  for (std::size_t i = 0; i < kBlockBytes; ++i) block[i / 8] |= std::uint64_t{padded[at + i]} << (8 * (i % 8));
  return block;
}

}  // namespace

model::Bytes plain_blake2b(model::ByteView input, std::size_t size, model::ByteView key) {
  model::Bytes all(key.begin(), key.end());
  if (!key.empty()) all.resize(kBlockBytes);
  model::append(all, input);
  const std::size_t length = all.size();
  const std::size_t blocks = length == 0 ? 1 : (length + kBlockBytes - 1) / kBlockBytes;
  all.resize(blocks * kBlockBytes);

  Words h = kStart;
  h[0] ^= 0x01010000U ^ (key.size() << 8) ^ size;
  for (std::size_t i = 0; i < blocks; ++i) {
    const bool last = i + 1 == blocks;
    compress(h, block_at(all, i * kBlockBytes), last ? length : (i + 1) * kBlockBytes, last);
  }
  model::Bytes out;
  for (std::size_t i = 0; i < size; ++i) out.push_back(static_cast<std::uint8_t>(h[i / 8] >> (8 * (i % 8))));
  return out;
}

}  // namespace slipway::kit
