// Private to the book: one scope's fold, pen and the athlete read from it.
#pragma once

#include <optional>

#include "app/book.h"

namespace slipway::app {

struct Book::Scope {
  explicit Scope(const model::ScopeId& id) : fold(id) {}

  ops::Fold fold;
  std::optional<ops::Pen> pen;            // made at the first op this incarnation writes here
  // Read on demand, dropped when the fold moves.
  std::optional<model::Athlete> athlete;
  std::optional<model::Library> library;
  mutable std::optional<model::ScopeIs> is;

  void add(const ops::ChainedOp& op) {
    fold.add(op);
    athlete.reset();
    library.reset();
    is.reset();
  }
};

}  // namespace slipway::app
