// Another exercise for a row of today's board, by the swimmer's own choice: the bar is taken, the
// bench is gone. Offered are the nearest easier rungs of the same line, and for a pull that hangs a row
// that does not, as this kit and age allow (handbook 5.2), each with the dose the rules give it; and the way back to what the plan says.
#pragma once

#include <vector>

#include "app/day_plan.h"

namespace slipway::app {

struct SwapOffer {
  const model::Rung* rung = nullptr;
  rules::SessionDecision gates;
  rules::ExerciseDecision decision;  // trains, and does this rung
};

// Nothing once a set of the row is done: then it is changed, not swapped.
std::vector<SwapOffer> swap_offers(const model::Athlete& athlete, const DayPlan& plan, const PlanRow& row);

// Keeps the swap and the dose shown with it. What is done then counts as the exercise it is; the
// line it stood in is neither done nor missed.
model::Result<model::RecordId> swap_row(Book& book, const model::ScopeId& scope, const model::RecordId& session, const PlanRow& row, const SwapOffer& offer,
                                        Author author);

}  // namespace slipway::app
