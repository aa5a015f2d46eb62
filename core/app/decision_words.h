// A decision for whoever asks why: the session that is coming, each dose in words, and the
// entries of the record it rests on. The swimmer's page and the command line say the same.
#pragma once

#include <string>
#include <vector>

#include "app/day_plan.h"
#include "report/reasons.h"

namespace slipway::app {

// The session that is coming, or that of `asked.today` while it is open or due.
DayPlan coming_plan(const model::Athlete& athlete, const DayAsked& asked);
// "3 × 8 × 22 kg", "2 × 8 each side × medium band, set 1 thin band, lower 3 s"
std::string dose_words(const model::Athlete& athlete, const rules::Dose& dose);
// "lower 3 s, pause 2 s at the bottom": what differs from the usual tempo of the movement [handbook 1.6]; "" for nothing.
std::string tempo_words(const rules::Dose& dose);
// Each once: "Thu 14 Jan: goblet squat 12, 12, 12". `exercise`: whose sets of a session are told.
std::vector<std::string> entries_behind(const DayPlan& plan, const rules::Reason& reason, const std::string& exercise, model::Day today);
// Why a dose was shown, as it was told then.
std::string reason_shown(const model::Athlete& athlete, const model::Decision& shown);
// Loads as a kit of the athlete writes them. Holds on to `athlete`.
report::Speaking speaking_of(const model::Athlete& athlete);

}  // namespace slipway::app
