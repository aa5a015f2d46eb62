// Sealed profiles of a store without a book, as when it is damaged (book_sealed.cpp).
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "host/random.h"
#include "model/result.h"
#include "store/store.h"

namespace slipway::app {

// Opens what this passphrase fits; answers how many scopes. What it does not fit stays shut. Errors: damaged, too_large (of a lock); of the store.
model::Result<std::uint64_t> open_seals(store::Store& store, const std::string& passphrase, host::Random& random);
std::vector<std::string> shut_names(store::Store& store);  // of athletes, as they were when they were sealed

}  // namespace slipway::app
