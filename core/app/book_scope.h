// Private to the book: one scope's fold, pen and the athlete read from it.
#pragma once

#include <optional>
#include <set>

#include "app/book.h"
#include "ops/registry.h"

namespace slipway::app {

struct Book::Scope {
  explicit Scope(const model::ScopeId& id) : fold(id) {}

  ops::Fold fold;
  std::optional<ops::Pen> pen;            // made at the first op this incarnation writes here
  // Read on demand, dropped when the fold moves.
  std::optional<model::Athlete> athlete;
  std::optional<model::Library> library;
  mutable std::optional<model::ScopeIs> is;

  std::vector<ops::ChainedOp> erase_marks;  // that nobody here has confirmed

  // Somebody asks to erase an athlete of whom nothing is here: nothing to show, the mark is passed on.
  bool only_marks() const { return !erase_marks.empty() && fold.records().empty() && fold.not_understood().empty(); }
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
    fold.add(op);
    athlete.reset();
    library.reset();
    is.reset();
  }
};

}  // namespace slipway::app
