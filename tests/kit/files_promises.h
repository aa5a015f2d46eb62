// What every host::Files keeps, one list for every implementation: the twins in memory,
// the POSIX files and the browser's files. No doctest here, as in store_promises.
#pragma once

#include "kit/store_promises.h"

namespace slipway::kit {

// Two processes of one place never run at the same time here.
std::span<const StorePromise> files_promises();

}  // namespace slipway::kit
