// Private to the book: one scope's fold, pen and the athlete read from it.
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <utility>

#include "app/book.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::app {

// A folded record takes several times the bytes of its state. A coach's desk holds a whole squad and changes few of
// it: the folds that were not asked for lately rest as their state, and wake when somebody asks.
struct Book::Rests {
  std::uint64_t asked = 0;  // counts up, so that it is known who was asked for last
  std::size_t awake = 0;
};
inline constexpr std::size_t kFoldsAwake = 4, kMostFoldsAwake = 2 * kFoldsAwake;

struct Book::Scope {
  Scope(const model::ScopeId& id, Rests& rests) : id_(id), rests_(rests) { wake(ops::Fold(id)); }
  ~Scope() { rests_.awake -= fold_ ? 1 : 0; }
  Scope(const Scope&) = delete;
  Scope& operator=(const Scope&) = delete;

  const model::ScopeId& id() const { return id_; }
  // Stays where it is till Book::rest_folds(), which nobody calls who holds something of a fold.
  const ops::Fold& fold() const {
    if (!fold_) wake(awoken());
    asked_ = ++rests_.asked;
    return *fold_;
  }
  // Only to read something off it: it rests on.
  template <class Read>
  auto peek(Read read) const {
    if (fold_) return read(*fold_);
    const ops::Fold once = awoken();
    return read(once);
  }
  model::Bytes state() const { return fold_ ? fold_->write_state() : state_; }
  model::Hash32 view_digest() const { return fold_ ? fold_->digest() : ops::blake2b(state_); }
  model::ScopeIs what() const {
    if (!is) is = peek(ops::scope_is);
    return *is;
  }
  const model::CoachNotes& notes_of_coaches() const {
    if (!coach_notes) coach_notes = peek(ops::read_coach_notes);
    return *coach_notes;
  }
  std::uint64_t asked() const { return fold_ ? asked_ + 1 : 0; }  // 0: it rests

  void put(ops::Fold fold) { wake(std::move(fold)); }
  void put_at_rest(model::Bytes state) {  // of a fold that was read from it
    state_ = std::move(state);
    rests_.awake -= fold_ ? 1 : 0;
    fold_.reset();
  }
  void rest() { put_at_rest(fold_->write_state()); }

  std::optional<ops::Pen> pen;            // made at the first op this incarnation writes here
  // Read on demand, dropped when the fold moves.
  std::optional<model::Athlete> athlete;
  std::optional<model::Library> library;
  mutable std::optional<model::ScopeIs> is;
  mutable std::optional<model::CoachNotes> coach_notes;
  std::optional<model::Day> newest_claim;

  std::vector<ops::ChainedOp> erase_marks;  // that nobody here has confirmed

  // Somebody asks to erase an athlete of whom nothing is here: nothing to show, the mark is passed on.
  bool only_marks() const {
    return !erase_marks.empty() && peek([](const ops::Fold& fold) { return fold.records().empty() && fold.not_understood().empty(); });
  }
  // Records that a newer version has done something to which this one must not act on: shown, never changed here.
  std::set<model::RecordId> newer_only;

  void note(const ops::ChainedOp& op) {
    if (op.op.kind == ops::kind::erase) erase_marks.push_back(op);
    if (!ops::is_critical(op.op.kind) || ops::find_kind(op.op.kind) != nullptr) return;
    const ops::Field* target = op.op.find(ops::tag::target);
    if (const auto keys = target == nullptr ? std::nullopt : ops::read_refs(*target, op.stream.inc)) newer_only.insert(keys->begin(), keys->end());
  }
  void add(const ops::ChainedOp& op) {
    note(op);
    if (!fold_) wake(awoken());
    fold_->add(op);
    asked_ = ++rests_.asked;
    athlete.reset();
    library.reset();
    is.reset();
    coach_notes.reset();
    newest_claim.reset();
  }

 private:
  ops::Fold awoken() const { return std::move(*ops::Fold::read_state(state_)); }  // it was written by a fold: it reads
  void wake(ops::Fold fold) const {
    rests_.awake += fold_ ? 0 : 1;
    fold_.emplace(std::move(fold));
    state_ = {};
  }

  model::ScopeId id_;
  Rests& rests_;
  mutable std::optional<ops::Fold> fold_;
  mutable model::Bytes state_;  // of one that rests
  mutable std::uint64_t asked_ = 0;
};

// One stream's ops together: what make_chunks needs.
std::vector<ops::Chunk> chunks_of(const std::vector<ops::ChainedOp>& all);

}  // namespace slipway::app
