// Ops for tests: devices that write and exchange the log of one athlete, without store,
// files or screens. No doctest here; the same on every build.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "kit/fixed_clock.h"
#include "kit/fixed_random.h"
#include "ops/chain.h"
#include "ops/fold.h"
#include "ops/held.h"
#include "ops/pen.h"

namespace slipway::kit {

// "0a 02 // words to the end of the line" as bytes. Anything else ends the test run.
model::Bytes typed_bytes(std::string_view hex_and_words);

// Sixteen times one letter, for ids that can be read in a failure.
ops::StreamId stream_named(char scope, char inc);

// A value for a field of this record kind, in the wire that the registry gives it.
ops::Field value_field(std::uint32_t kind, std::uint32_t tag, std::int64_t value);
std::int64_t value_of(std::uint32_t tag, const ops::Written& written);

// What travels in a file: the ops in chunks, each chunk read and proven at the door.
std::vector<ops::ChainedOp> through_the_door(std::vector<ops::ChainedOp> ops);

// The same op with other bytes, and everything after it in its stream chained anew.
std::vector<ops::ChainedOp> chained_anew(std::vector<ops::ChainedOp> stream, std::size_t nth, model::Bytes bytes);

using Values = std::vector<std::pair<std::uint32_t, std::int64_t>>;  // tag, value

// One device. A copy is a clone or a backup; what it does next may fork the stream.
class Device {
 public:
  Device(const ops::StreamId& stream, std::uint64_t seed);

  // A new record, naming those it replaces and one it belongs to.
  model::OpKey begin(std::uint32_t kind, const Values& values, const std::vector<model::OpKey>& replaced = {},
                     const std::vector<ops::Field>& more = {});
  model::OpKey change(const model::RecordId& record, const Values& values);      // names what it sees
  model::OpKey change_unseen(const model::RecordId& record, const Values& values);
  model::OpKey take_back(const model::RecordId& record);
  model::OpKey keep_it(const model::RecordId& record);  // writes nothing, names every take-back it sees
  model::OpKey end_pain(const model::RecordId& record, std::uint64_t how);
  model::OpKey write(std::uint32_t kind, std::vector<ops::Field> fields);

  std::size_t take_in(const std::vector<ops::ChainedOp>& ops);  // how many were new
  void reopen(std::uint64_t seed);                              // the app is started again
  void become(const model::IncarnationId& inc, std::uint64_t seed);

  const ops::StreamId& stream() const { return stream_; }
  const model::IncarnationId& inc() const { return stream_.inc; }
  std::uint64_t last_seq() const { return last_seq_; }
  const ops::Fold& fold() const { return fold_; }
  const ops::Held& held() const { return held_; }
  const std::vector<ops::ChainedOp>& ops() const { return ops_; }  // in the order they came
  FixedClock& clock() { return clock_; }

 private:
  std::uint32_t kind_of(const model::RecordId& record) const;
  model::OpKey change_naming(const model::RecordId& record, const Values& values, const std::vector<model::OpKey>& saw);

  ops::StreamId stream_;
  FixedRandom random_;
  FixedClock clock_;
  ops::Fold fold_;
  ops::Held held_;
  std::vector<ops::ChainedOp> ops_;
  std::uint64_t last_seq_ = 0;  // of its own stream, with the hash that stands there
  model::Hash32 last_hash_;
  ops::Pen pen_;
};

ops::Fold fold_of(const std::vector<ops::ChainedOp>& ops);
ops::Held holding(const std::vector<ops::ChainedOp>& ops);

// "digest ops.NAME HEX" on stdout: the runner compares these lines between builds.
void print_digest(std::string_view name, const model::Hash32& digest);

}  // namespace slipway::kit
