// The words of the command line: what may be asked, and the help that documents it.
#pragma once

#include <variant>

#include "request.h"

namespace slipway::native {

// A request to run, or the exit code when there is none: help was shown, or what was
// wrong has been said.
std::variant<Request, int> read_command_line(int count, char** words);

}  // namespace slipway::native
