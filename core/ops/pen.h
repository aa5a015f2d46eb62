// Writes ops: one pen per stream that this incarnation writes.
//
// The first op after each opening of the store carries an 8-byte random nonce; the
// chain carries it on, so that two equal sets written by two clones stay two ops and
// hashes betray no guessable content (sync-and-storage 1.1).
#pragma once

#include <cstdint>
#include <vector>

#include "host/random.h"
#include "model/units.h"
#include "ops/chain.h"

namespace slipway::ops {

struct Signature {  // who writes, and the time their device claims
  std::uint64_t author = 1;
  model::ClaimedTime claimed;
};

class Pen {
 public:
  // `last_seq` 0 and hash = genesis(stream) for a new stream.
  Pen(const StreamId& stream, std::uint64_t last_seq, const model::Hash32& last_hash);

  // Composes the next op; own fields may stand in any order. lam_held is the highest
  // lam of the scope. The pen moves on at once; what becomes of the op is the caller's.
  ChainedOp write(std::uint32_t kind, std::vector<Field> own_fields, const Signature& signature,
                  std::uint64_t lam_held, host::Random& random);

  // One that says nothing of who and when: the nonce, these fields, and the lowest lam.
  ChainedOp write_bare(std::uint32_t kind, std::vector<Field> fields, host::Random& random);

  const StreamId& stream() const { return stream_; }
  std::uint64_t last_seq() const { return last_seq_; }

 private:
  Field nonce(host::Random& random);
  ChainedOp chained(const Op& op);

  StreamId stream_;
  std::uint64_t last_seq_ = 0;
  model::Hash32 last_hash_;
  bool nonce_written_ = false;
};

}  // namespace slipway::ops
