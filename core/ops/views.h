// From the fold's records to the nouns of model/athlete.h. Pure; order is drawing order.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "model/athlete.h"
#include "ops/fold.h"
#include "ops/op.h"

namespace slipway::ops {

model::Athlete read_athlete(const Fold& fold);
model::ScopeIs scope_is(const Fold& fold);
model::Library read_library(const Fold& fold);
model::CoachNotes read_coach_notes(const Fold& fold);
std::string read_set_exercise(const Record& set);  // empty: not said

// Facts that stand about one thing: what a new one about it must name in `saw`.
std::vector<model::RecordId> standing_sign_offs(const Fold& fold, std::string_view exercise);
std::vector<model::RecordId> standing_consents(const Fold& fold, model::ConsentThing thing);

// A quantity as a field: (zigzag value, decimals, unit); a list of them back to back.
Field quantity_field(std::uint32_t tag, const model::Quantity& quantity);
Field quantities_field(std::uint32_t tag, const std::vector<model::Quantity>& quantities);

// Standing members of a list of words, each with its records: all that a removal of the word covers.
std::vector<std::pair<std::string, std::vector<model::RecordId>>> standing_words(const Fold& fold, std::string_view list);
inline constexpr std::string_view kLimitations = "limitations";

// Ops a writer must name in `saw` when writing this field, or taking the record back.
std::vector<model::OpKey> seen_values(const Record& record, std::uint32_t tag);
std::vector<model::OpKey> seen_touches(const Record& record);  // those first that no take-back named yet
// Names them, as far as one op with so many own fields carries it (op.h); only forged records have more, and of those
// what is not named here stays as it was till the next op about it.
Field saw_field(const std::vector<model::OpKey>& seen, const model::IncarnationId& home, std::size_t own_fields = 1);

}  // namespace slipway::ops
