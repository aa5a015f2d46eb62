// The rows of 6.3 that stop, swap, return or cut, for the table in rows.cpp. Private to this room.
#pragma once

#include <algorithm>

#include "rules/case.h"
#include "rules/reasons.h"

namespace slipway::rules::down {

using Out = ExerciseDecision;

inline std::uint32_t fewer_sets(std::uint32_t sets, std::uint32_t by) { return sets > by ? sets - by : 1; }

inline Evidence session_of(const Entry& entry) { return {EvidenceOf::session, entry.session}; }

// The newest sessions a row of hits or misses rests on.
inline std::vector<Evidence> newest(const Case& c, std::size_t how_many) {
  std::vector<Evidence> out;
  for (std::size_t i = 0; i < std::min(how_many, c.past.counted.size()); ++i) out.push_back(session_of(*c.past.counted[i]));
  return out;
}

inline void say(Out& out, std::vector<Argument> args, std::vector<Evidence> evidence = {}) {
  out.row.args = std::move(args);
  out.row.evidence = std::move(evidence);
}

inline std::uint32_t target(const Case& c) { return reserve_target(c.standing, c.situation); }

inline void hold(const Case& c, Out& out) { out.dose = plain_dose(c, c.standing, hold_reps(c, c.standing), target(c)); }

inline void tell_coach(Out& out, const char* row, std::vector<Argument> args = {}) {
  out.coach_rows.push_back(reason(row, std::move(args), out.row.evidence));
}

bool stops(const Case& c);
void stop(const Case& c, Out& out);
bool sore_too_long(const Case& c);
void stop_sore(const Case& c, Out& out);
bool swaps(const Case& c);
void swap(const Case& c, Out& out);
void restart(const Case& c, Out& out);
void return_4(const Case& c, Out& out);
void return_3(const Case& c, Out& out);
void return_2(const Case& c, Out& out);
bool comes_back(const Case& c);
void come_back(const Case& c, Out& out);
bool on_ramp(const Case& c);
void ramp(const Case& c, Out& out);
bool sore_long(const Case& c);
void reduce_sore(const Case& c, Out& out);
bool very_sore(const Case& c);
void ease(const Case& c, Out& out);
bool week_off(const Case& c);
void week_off_hold(const Case& c, Out& out);
bool form_withdrawn(const Case& c);
void back_to_form(const Case& c, Out& out);
bool missed_twice(const Case& c);
void reduce(const Case& c, Out& out);
bool missed_once(const Case& c);
void hold_after_miss(const Case& c, Out& out);
bool hurts_a_little(const Case& c);
void hold_for_pain(const Case& c, Out& out);

template <std::uint32_t Class>
bool gap_class_is(const Case& c) { return c.past.ever_done && c.gap.gap_class == Class; }

}  // namespace slipway::rules::down
