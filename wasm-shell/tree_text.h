// The semantic tree as JSON for the page's mirror. Ids are 16 hex digits: a JavaScript
// number can't hold them. What is empty, false or zero is left out.
#pragma once

#include <string>

#include "model/tree.h"

namespace slipway::web {

std::string tree_text(const model::Tree& tree);

}  // namespace slipway::web
