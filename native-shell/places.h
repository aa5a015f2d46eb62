// Where things live on this computer when nobody names a place (XDG base directories).
#pragma once

#include <optional>
#include <string>

namespace slipway::native {

// Empty if neither the variable of XDG nor HOME is set.
std::string data_folder();    // of the store: $XDG_DATA_HOME/slipway
std::string state_folder();   // of the open tokens: $XDG_STATE_HOME/slipway
std::optional<std::string> downloads_folder();  // as user-dirs.dirs names it, or ~/Downloads; only if it is there

}  // namespace slipway::native
