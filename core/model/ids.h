// Names of things. All ids are random or content hashes from `host` and `ops`;
// none is derived from a person's name or birth date (sync-and-storage 1.1).
#pragma once

#include <array>
#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>

#include "model/bytes.h"

namespace slipway::model {

template <class Tag, std::size_t N>
struct FixedBytes {
  std::array<std::uint8_t, N> bytes{};

  ByteView view() const { return {bytes.data(), N}; }
  std::string hex() const { return slipway::model::hex(view()); }
  bool is_zero() const {
    for (auto b : bytes)
      if (b != 0) return false;
    return true;
  }
  static FixedBytes from(ByteView source) {  // source holds exactly N bytes
    FixedBytes out;
    if (source.size() == N) std::memcpy(out.bytes.data(), source.data(), N);
    return out;
  }
  // Word by word: a merge compares millions of them, and no build makes a call of it.
  friend bool operator==(const FixedBytes& a, const FixedBytes& b) {
    static_assert(N % sizeof(std::uint64_t) == 0);
    for (std::size_t at = 0; at < N; at += sizeof(std::uint64_t)) {
      std::uint64_t one = 0, other = 0;
      std::memcpy(&one, a.bytes.data() + at, sizeof one);
      std::memcpy(&other, b.bytes.data() + at, sizeof other);
      if (one != other) return false;
    }
    return true;
  }
  friend bool operator<(const FixedBytes& a, const FixedBytes& b) {
    return std::memcmp(a.bytes.data(), b.bytes.data(), N) < 0;
  }
};

using ScopeId = FixedBytes<struct ScopeTag, 16>;        // one per athlete, one per shared plan library
using IncarnationId = FixedBytes<struct IncTag, 16>;    // this device since it last became itself: the writer of ops
using DeviceId = FixedBytes<struct DeviceTag, 16>;      // a label for people; never orders anything
using Token16 = FixedBytes<struct TokenTag, 16>;        // the open token kept in two places
using Hash32 = FixedBytes<struct HashTag, 32>;          // BLAKE2b-256
using ShortHash = FixedBytes<struct ShortHashTag, 8>;   // the first 8 bytes of a Hash32

// One op inside a known scope. The hash tells both branches of a fork apart.
struct OpKey {
  IncarnationId inc;
  std::uint64_t seq = 0;  // from 1, below 2^40
  ShortHash hash;

  friend bool operator==(const OpKey&, const OpKey&) = default;
  friend bool operator<(const OpKey& a, const OpKey& b) {
    if (!(a.inc == b.inc)) return a.inc < b.inc;
    if (a.seq != b.seq) return a.seq < b.seq;
    return a.hash < b.hash;
  }
};

// A record is named by the op that created it; nothing extra travels.
using RecordId = OpKey;

inline ShortHash shorten(const Hash32& hash) { return ShortHash::from(ByteView(hash.bytes.data(), 8)); }

// "inc:seq:hash" in hex, for JSON and failure messages; read_op_key reads it back.
std::string to_text(const OpKey& key);
bool read_op_key(std::string_view text, OpKey& out);

}  // namespace slipway::model
