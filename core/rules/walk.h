// Steps along the lines of handbook 5.1, with each band a rung of its own, over what the
// kit and the age allow.
#pragma once

#include "rules/record.h"

namespace slipway::rules {

struct Place {                      // on a line
  std::string exercise, band;
  friend bool operator==(const Place&, const Place&) = default;
};

bool possible_here(const model::Rung& rung, const Kit& kit);  // its equipment is here
// One rung easier that is possible here; VP5 is never a step back [6.1]. Nothing: on rung 1, or beside every line.
std::optional<Place> easier_place(const Place& from, const SessionSituation& situation);
// `rungs` easier; what is missing on the way is counted in `missing`.
std::optional<Place> easier_by(const Place& from, std::uint32_t rungs, const SessionSituation& situation, std::uint32_t* missing);
std::string thinner_band(const std::string& band, const Kit& kit);  // empty: thinnest, or not known
std::string thicker_band(const std::string& band, const Kit& kit);
std::string thinnest_band(const Kit& kit);
std::string thickest_band(const Kit& kit);

// Last load of another exercise, at most `most_g`; never done: the first load of 5.8.
std::optional<std::int64_t> own_last_load(const Record& record, const model::Rung& rung, std::optional<std::int64_t> most_g);
// A standing dose on another rung: range and sets as at the start where both count the same, else the rung's own.
// Nothing: its load is not here or not allowed.
std::optional<StandingDose> on_rung(const Record& record, const Place& place, const StandingDose& start, std::optional<std::int64_t> most_g);
// Range and sets inside 5.7.
void keep_in_age_range(StandingDose& dose, const SessionSituation& situation);

}  // namespace slipway::rules
