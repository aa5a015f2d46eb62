// Who needs the coach (handbook 6.9), worded: the rows the rules find in an athlete's record, and
// what the record itself says (written twice, entries missing), most urgent first. The list of the
// Squad place and of the command line.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "app/book.h"
#include "rules/coach_list.h"

namespace slipway::app {

struct NeedsAsked {
  model::Day today;
  std::int64_t now_ms = 0;  // claimed local ms
};

enum class Wants : std::uint8_t { look, clearance, sign_off, choose, ask_for_it, tick_in };

struct NeedFact {           // one row that holds for an athlete
  std::string row;          // "W02"; "" for entries that are missing
  std::int32_t rank = 0;    // by the order of the page, times ten
  model::Day since;
  std::string sentence;     // with the movements and the day: "Goblet squat: … Since Mon 2 Nov."
  std::string words;        // without
  std::vector<std::string> exercises;
  Wants wants = {};         // what it asks of the coach
  std::vector<model::RecordId> sessions = {};  // W03: trained with load and nobody ticked in
};

struct Need {
  model::ScopeId scope;
  std::vector<NeedFact> facts;  // most urgent first; never empty

  Wants wants() const { return facts.front().wants; }
};

// Those of `scopes` with anything to tell, by row, then oldest entry, then id.
std::vector<Need> who_needs_the_coach(Book& book, const std::vector<model::ScopeId>& scopes, const NeedsAsked& asked);

// Planned days of the last four weeks since the record begins; a number of days a week is spread over it.
std::vector<rules::PlannedDay> planned_days(const model::Athlete& athlete, model::Day today);
std::uint64_t contradictions_of(const model::Athlete& athlete);  // fields that are written twice
std::uint64_t contradictions_of(Book& book, const model::ScopeId& scope);  // and notes that coaches alone hold: for coaches

}  // namespace slipway::app
