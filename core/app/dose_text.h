// A standing dose as one short text, as it stands in the record beside the decision it
// came with: "SQ4;22000;3;8;12;2;;;overhand;2-0-1-0;2". Fields in the order of
// rules::StandingDose; a missing load is empty. Read back to an equal dose on every build.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "rules/situation.h"

namespace slipway::app {

std::string dose_text(const rules::StandingDose& dose);
std::optional<rules::StandingDose> read_dose(std::string_view text);  // nothing: not such a text

}  // namespace slipway::app
