// What hurts and what is sore, for one exercise on one day (handbook 2.6, 2.7, 6.1 "Body").
#pragma once

#include "rules/record.h"

namespace slipway::rules {

struct Soreness {
  std::int32_t days = 0;              // in a row with 2 or 3, up to and including today
  std::uint32_t today = 0;            // today's answer; none: 0
  std::vector<Evidence> evidence;
};
Soreness soreness_on(const SessionSituation& situation, model::Pattern pattern, Day day);

struct Body {
  std::uint32_t pain = 0;             // 6.1
  bool stop = false;                  // R01
  bool stop_is_firm = false;          // pain was 6 or more, or a local red flag stands: nobody overrules it
  bool swap = false;                  // R02
  bool comeback = false;              // R23: free again and not yet back
  bool ask_settled = false;
  std::uint32_t stop_pain = 0;        // worst of what stops or swaps
  std::string region;                 // part of the newest report that counts
  std::uint32_t joints = 0;           // its joints
  std::optional<Day> since;           // when the stop or swap began
  std::optional<Day> hurt_on;         // comeback: newest day that stopped or swapped it
  std::vector<Evidence> evidence;
  Soreness sore;
};
Body body_of(const Record& record, const model::Rung& rung);

bool general_flag_stands(const SessionSituation& situation, std::uint32_t* index);
bool local_flag_stands(const SessionSituation& situation, std::uint32_t joints, std::uint32_t* index);
// Joints of a report: its own, else those of its exercise, else those of its region [5.2].
std::uint32_t joints_of(const PainReport& report);
// No pain forbids this exercise: what is done instead of another must bear it too.
bool bears(const Record& record, const model::Rung& rung);
// The worst report of that session at this exercise, or without an exercise at a joint it uses; none: 0.
std::uint32_t worst_pain_at(const SessionSituation& situation, const SessionFact& session, const model::Rung& rung);
// A stop or swap of this exercise by what was reported after that day and moment (0: the whole day): ends a sign-off [6.8].
bool hurt_since(const SessionSituation& situation, const model::Rung& rung, Day since, std::int64_t since_ms);

}  // namespace slipway::rules
