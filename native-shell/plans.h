// Plans on the command line: an athlete's own, or a library's.
#pragma once

#include <string>
#include <vector>

#include "app/book.h"

namespace slipway::native {

bool is_library(app::Book& book, const model::ScopeId& scope);
std::vector<model::Prescription> lines_of_plan(app::Book& book, const model::ScopeId& scope);
// By its rung, where only one line has it, or by its entry. Errors: not_found, invalid (several).
model::Result<model::RecordId> line_named(const std::vector<model::Prescription>& lines, const std::string& named);
// What the answers about plans print: lines in their order, and a library as an athlete without a body.
model::Athlete plan_shown(app::Book& book, const model::ScopeId& scope);

}  // namespace slipway::native
