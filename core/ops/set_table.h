// The sets of one scope in columns: what a query, a chart or a list reads, without the registers behind them.
//
// A pure function of the set of ops, by the rules of the fold and no others (fold.h): of every set that was created
// one row, taken back ones too. A field's value is the first that stands, as it is drawn; of a contradiction all that
// stand are in `others`. The table is a cache: the store keeps its bytes with the ranges they cover, and drops it for
// anything that is not as it should be (store/columns.h). What came later is laid on top with add(), which says no
// where a record that is in the table already was acted on; then the table is made anew from the ops.
//
// A set is named by incarnation and seq, without its hash: no table is kept of a scope in which a stream has forked.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "model/bytes.h"
#include "model/ids.h"
#include "model/units.h"
#include "ops/chain.h"
#include "ops/fold.h"

namespace slipway::ops {

// Bump when the meaning of the columns or of their bytes changes; the stored cache of another number is made anew.
inline constexpr std::uint32_t kSetTableVersion = 1;

struct SetTable {
  enum Flag : std::uint16_t {
    has_reps = 1, has_load = 2, has_rir = 4, has_rest = 8,
    taken_back = 16,
    edited = 32,         // acted on since it was created
    contradictory = 64,  // more than one value stands: see others
    warm_up = 128, left_out = 256,
  };
  struct Session {
    std::uint32_t inc = 0;  // place in incs
    std::uint64_t seq = 0;
    bool here = true;  // no longer, where it was taken back
    std::optional<model::Day> day;
    friend bool operator==(const Session&, const Session&) = default;
  };
  struct Other {  // a value of a contradiction: all that stand, the one in the row too, in drawing order
    std::uint32_t row = 0, tag = 0;
    std::uint64_t value = 0;  // as the column has it; load: zigzag grams
    std::int64_t claimed_ms = 0;
    friend bool operator==(const Other&, const Other&) = default;
  };

  std::vector<model::IncarnationId> incs;  // rising
  std::vector<std::string> exercises;      // in the order they were met
  std::vector<Session> sessions;           // by (inc, seq)

  // One entry a set, by (inc, seq); a number that is not there is 0 and has no flag.
  std::vector<std::uint16_t> flags;
  std::vector<std::uint32_t> inc;       // place in incs
  std::vector<std::uint64_t> seq;
  std::vector<std::uint32_t> session;   // place in sessions + 1; 0: none is here
  std::vector<std::uint32_t> exercise;  // place in exercises + 1; 0: not said
  std::vector<std::uint64_t> reps, rir, rest_ms;
  std::vector<std::int64_t> load_g, done_ms;  // done: the time claimed by the op that created it

  std::vector<Other> others;  // by row

  // What a later op may join or must not pass by: the newest session of each writer with its whole name, and the
  // records that were acted on or named and are not here.
  std::vector<model::OpKey> open_sessions, awaited;  // rising

  std::size_t size() const { return flags.size(); }
  bool has(const model::OpKey& key) const;  // a set or a session of that incarnation and seq; rows laid on top are not asked

  // Ops that are in no particular order, and may be there twice; all of one scope.
  static SetTable of(const std::vector<ChainedOp>& ops);

  // Lays ops on top that the table does not hold; new rows stand behind the old ones. False: something in the table
  // is changed by them, or its name is not known here; the table is as it was. Only once, and what came out is not written.
  bool add(const std::vector<ChainedOp>& later);

  model::Bytes write() const;
  // Nothing: damaged, or of another version.
  static std::optional<SetTable> read(model::ByteView bytes);

  friend bool operator==(const SetTable&, const SetTable&) = default;
};

}  // namespace slipway::ops
