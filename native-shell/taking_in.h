// Bundles taken in, each file on its own: for "bundle merge" and "inbox".
#pragma once

#include <string>

#include "answers.h"
#include "commands.h"

namespace slipway::native {

model::Result<app::TakeInWish> asked_wish(const Request& asked);
// A file that is refused changes nothing.
MergedFile take_file(app::Book& book, const std::string& path, const app::TakeInWish& wish);
// Tidies the store, tells what is written twice now, and answers.
int answer_taken(Desk& desk, Merged merged);

}  // namespace slipway::native
