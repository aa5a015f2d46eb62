// The data files of assets/, embedded by the build as string literals.
#pragma once

#include <string_view>

namespace slipway::model {

// The whole text of assets/<name>; empty if there is no such file.
std::string_view asset(std::string_view name);

}  // namespace slipway::model
