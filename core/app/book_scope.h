// Private to the book: one scope's fold, pen and the athlete read from it.
#pragma once

#include <optional>

#include "app/book.h"

namespace slipway::app {

struct Book::Scope {
  explicit Scope(const model::ScopeId& id) : fold(id) {}

  ops::Fold fold;
  std::optional<ops::Pen> pen;            // made at the first op this incarnation writes here
  std::optional<model::Athlete> athlete;  // read on demand, dropped when the fold moves

  void add(const ops::ChainedOp& op) {
    fold.add(op);
    athlete.reset();
  }
};

}  // namespace slipway::app
