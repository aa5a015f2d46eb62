// The set of ops held, by identity only: which hash stands at which seq of which
// stream. Answers "is it new?", forks, ranges, and the digest of ops.
#pragma once

#include <cstdint>
#include <map>
#include <vector>

#include "model/ids.h"
#include "ops/chain.h"
#include "ops/ranges.h"

namespace slipway::ops {

class Held {
 public:
  void add(const ChainedOp& op);
  void add(const std::vector<ChainedOp>& ops);  // quick where they are long runs
  void forget(const model::ScopeId& scope);  // all ops of it: it was erased
  bool contains(const StreamId& stream, std::uint64_t seq, const model::Hash32& hash) const;
  // An op with another hash already stands at this seq.
  bool forks(const StreamId& stream, std::uint64_t seq, const model::Hash32& hash) const;
  bool has_stream(const StreamId& stream) const { return streams_.count(stream) != 0; }
  std::uint64_t op_count() const { return op_count_; }
  std::uint64_t op_count(const model::ScopeId& scope) const;
  Holdings holdings() const;
  Holdings holdings(const model::ScopeId& scope) const;
  // BLAKE2b over all (scope, inc, seq, hash) in that order: equal for equal sets.
  model::Hash32 digest() const;

 private:
  // Most streams are one unbroken run, each place once: that part is a plain list.
  struct Stream {
    std::vector<model::Hash32> run;                              // of seq 1 …, at each place the smallest
    std::map<std::uint64_t, std::vector<model::Hash32>> beside;  // sorted: others at those places, and all beyond the run
    std::uint64_t ops = 0;
  };
  static Holding holding_of(const StreamId& id, const Stream& stream);

  std::map<StreamId, Stream> streams_;
  std::uint64_t op_count_ = 0;
};

}  // namespace slipway::ops
