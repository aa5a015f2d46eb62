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
#include <set>
#include <vector>

#include "model/bytes.h"
#include "model/ids.h"
#include "model/result.h"
#include "ops/chain.h"
#include "ops/record.h"

namespace slipway::ops {

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

// Digest of views over several scopes: BLAKE2b over (scope, digest) sorted by scope. A fold's digest is that of its state.
model::Hash32 digest_of_views(const std::vector<const Fold*>& folds);
model::Hash32 digest_of_digests(std::vector<std::pair<model::ScopeId, model::Hash32>> digests);

}  // namespace slipway::ops
