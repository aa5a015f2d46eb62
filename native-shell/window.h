// The desktop window: the app of the browser on this computer's screen and disk.
#pragma once

#include "request.h"

namespace slipway::native {

// Runs until the window is closed; bundles among request.files are taken in first.
// Answers the exit code: kDone, or kStorageTrouble if no window can be opened here.
int run_window(const Request& request);

}  // namespace slipway::native
