// Who needs the coach: the Monday list (handbook 6.9). One line an athlete: the most urgent
// row, the others folded behind it.
#pragma once

#include "rules/decision.h"

namespace slipway::rules {

struct CoachFact {                    // one row that holds for an athlete
  Reason reason;                      // "W02" …
  Day since;                          // age of the entry
  std::string exercise;               // empty: about the athlete
  friend bool operator==(const CoachFact&, const CoachFact&) = default;
};

struct PlannedDay {                   // a dryland session that was planned
  Day day;
};

struct CoachSituation {
  std::string athlete;                // id: only the last tie-break of the order
  SessionSituation situation;         // as of today; lines of all sessions of the plan
  std::vector<PlannedDay> planned;    // missing or empty: W09 "though planned" cannot hold
  Day last_monday;                    // milestones since then [W14]
};

struct CoachLine {
  std::string athlete;
  std::vector<CoachFact> facts;       // most urgent first; the first one is shown
};

// All rows that hold, most urgent first. Not here yet, for want of their inputs: W10 (races),
// W11 (deload), W12 (height, consent), W13 (plan end, bundles), the wellness part of W05.
std::vector<CoachFact> coach_facts(const CoachSituation& situation);

// Lines of all athletes with at least one fact, by row, then oldest entry, then athlete id.
std::vector<CoachLine> coach_list(const std::vector<CoachSituation>& athletes);

}  // namespace slipway::rules
