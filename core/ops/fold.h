// The one fold from a set of ops to what they mean, per scope.
//
// Promise: the state is a pure function of the *set* of ops added. Adding is
// commutative, associative and idempotent, and defined on any subset: an op that
// covers values which have not arrived simply hides them when they do. Nothing waits.
//
// A record is the op that created it. Each of its fields is a register: the creating
// op and every `change` may write it; a value is visible unless another op that
// writes the *same field of the same record* names its writer in `saw`. A record is
// taken back when at least one `take_back` targets it and every op present on the
// record is named in some take_back's `saw`; a concurrent change brings it back,
// `revived`, until a change that writes nothing answers that take_back by naming it: "keep it". Add-only and careful kinds (registry.h) cannot be taken back so; the ops are kept, and
// views.h says what they mean there. A creating op may name in `saw` earlier records of its kind that it
// replaces: the fold keeps the names, views.h decides.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "model/bytes.h"
#include "model/ids.h"
#include "model/result.h"
#include "model/units.h"
#include "ops/chain.h"
#include "ops/op.h"

namespace slipway::ops {

struct Stamp {  // who wrote an op and when they claim it was
  model::OpKey key;
  std::uint64_t lam = 0;
  std::uint64_t author = 0;  // tag::author, 0 = not said
  model::ClaimedTime claimed;

  friend bool operator==(const Stamp&, const Stamp&) = default;
  // Drawing order only, never survival: (lam, inc, seq, hash).
  friend bool operator<(const Stamp& a, const Stamp& b) { return a.lam != b.lam ? a.lam < b.lam : a.key < b.key; }
};

struct Written {
  Stamp by;
  Wire wire = Wire::bytes;
  Payload payload;
  friend bool operator==(const Written&, const Written&) = default;
};

struct Register {
  std::map<model::OpKey, Written> values;  // all that have arrived, superseded ones too (history)
  std::set<model::OpKey> covered;          // named in a `saw` by a writer of this field, arrived or not

  // Not covered, in drawing order (highest stamp first); equal values merged to the first.
  std::vector<Written> visible() const;
  bool in_conflict() const { return visible().size() > 1; }
  friend bool operator==(const Register&, const Register&) = default;
};

struct Ending {  // of a pain record
  Stamp by;
  std::uint64_t how = 0;  // 1 resolved, 2 withdrawn
  friend bool operator==(const Ending&, const Ending&) = default;
};

struct Record {
  std::optional<Stamp> created;   // nothing while only changes of it have arrived
  std::uint32_t kind = 0;         // 0 while not created
  std::map<std::uint32_t, Register> fields;
  std::set<model::OpKey> replaces;           // other records, named by the creating op
  std::set<model::OpKey> touched_by;         // creating op and changes that have arrived
  std::map<model::OpKey, Stamp> take_backs;
  std::set<model::OpKey> take_backs_saw;
  std::set<model::OpKey> kept_against;  // named by changes that write nothing: take-backs that somebody saw and answered
  std::map<model::OpKey, Ending> endings;

  bool taken_back() const;
  bool revived() const;  // taken back by somebody, kept alive by a change they had not seen, and nobody has answered
  friend bool operator==(const Record&, const Record&) = default;
};

class Fold {
 public:
  explicit Fold(const model::ScopeId& scope) : scope_(scope) {}

  void add(const ChainedOp& op);  // op.stream.scope must be this scope

  const model::ScopeId& scope() const { return scope_; }
  std::uint64_t lam() const { return lam_; }  // highest lam held
  const std::map<model::RecordId, Record>& records() const { return records_; }
  const Record* find(const model::RecordId& id) const;
  // Created records of one kind in drawing order, oldest first; taken back ones too.
  std::vector<model::RecordId> of_kind(std::uint32_t kind) const;
  const std::set<model::OpKey>& not_understood() const { return not_understood_; }  // kept, unknown kinds

  // Canonical bytes: equal on every build for equal sets of ops, and read back to an
  // equal Fold. The stored cache of the watermark, and what the digest of views covers.
  model::Bytes write_state() const;
  static model::Result<Fold> read_state(model::ByteView bytes);
  model::Hash32 digest() const;

  friend bool operator==(const Fold&, const Fold&) = default;

 private:
  model::ScopeId scope_;
  std::uint64_t lam_ = 0;
  std::map<model::RecordId, Record> records_;
  std::set<model::OpKey> not_understood_;
};

// Bump when the meaning of write_state changes; the stored cache of another number is rebuilt.
inline constexpr std::uint32_t kFoldVersion = 3;

// Digest of views over several scopes: BLAKE2b over (scope, digest) sorted by scope.
model::Hash32 digest_of_views(const std::vector<const Fold*>& folds);

}  // namespace slipway::ops
