// Gates of a session (handbook 6.2): whether, when, filters. Each table in the order of the page.
#pragma once

#include "rules/case.h"

namespace slipway::rules {

void fill_gates(const Record& record, SessionDecision& out);
bool floor_only(const SessionSituation& situation);  // G11
bool on_floor_list(const model::Rung& rung, const SessionSituation& situation);
bool trained_today(const Record& record, model::Pattern pattern);
bool needs_a_day_between(model::Pattern pattern);    // shoulder care and trunk may stand before any swim [5.3]

}  // namespace slipway::rules
