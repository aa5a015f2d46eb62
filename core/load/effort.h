// How hard a set was, and how hard a session: two scales that are never mixed [handbook 0.2, 1.4, 2.1].
#pragma once

#include <cstdint>
#include <optional>

#include "model/result.h"

namespace slipway::load {

// Set scale: RPE = 10 − RIR, for a reserve of up to 3 [Zourdos 2016 (from memory)]; above it there is no number.
// Never back from RPE to RIR. In halves: a reserve of 2.5 is 5, an RPE of 7.5 is 15.
std::optional<std::uint32_t> set_rpe_halves(std::uint32_t rir_halves);

// Session scale: load in arbitrary units = rating × minutes of the whole session [Foster 2001].
// Rating 0 … 10 in halves, 1 … 600 minutes, not rounded [our judgement].
// Errors: invalid "load.rating_range", "load.minutes_range".
model::Result<double> session_load_au(double rating, double minutes);

}  // namespace slipway::load
