// Private to the book: one scope's fold, pen and the athlete read from it.
#pragma once

#include <optional>

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
  void note_mark(const ops::ChainedOp& op) {
    if (op.op.kind == ops::kind::erase) erase_marks.push_back(op);
  }
  void add(const ops::ChainedOp& op) {
    note_mark(op);
    fold.add(op);
    athlete.reset();
    library.reset();
    is.reset();
  }
};

}  // namespace slipway::app
