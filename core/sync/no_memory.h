// Where memory runs out at the door. Only for files of this room: they are built with exceptions, their users are not.
#pragma once

#include <exception>

#include "model/result.h"

namespace slipway::sync {

// Runs a step of the door; exceptions end here. The text is so short that saying "no
// memory" needs none: it fits into a string itself, also in 32 bit.
template <class T, class Step>
model::Result<T> or_no_memory(const Step& step) {
  try {
    return step();
  } catch (const std::exception&) {
    return model::Error{model::ErrorKind::too_large, "memory.out", {}};
  }
}

}  // namespace slipway::sync
