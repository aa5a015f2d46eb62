// Sentences about keys that the screens and the command line share.
#pragma once

#include <string>

#include "app/book.h"

namespace slipway::app {

// Of a bundle that was taken in: empty, where it came from a device that is known.
std::string sender_words(const TakenIn& taken);
// Of a squad file that was taken in.
std::string joined_words(const sync::Squad& squad);

}  // namespace slipway::app
