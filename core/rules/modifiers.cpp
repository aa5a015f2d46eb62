// Modifiers of handbook 6.4: all that match act, in the order of the page. None raises a dose.
#include <algorithm>
#include <array>
#include <tuple>

#include "rules/case.h"
#include "rules/reasons.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

using model::Pattern;

using Cases = std::vector<Case>;
using Outs = std::vector<ExerciseDecision>;

// Since when an increase has been waiting: the day on which the last hit it needs was done.
std::int32_t waiting_since(const Case& c) {
  const std::size_t hits = c.past.hits, needed = c.needed_hits();
  if (hits >= needed && hits - needed < c.past.counted.size()) return c.past.counted[hits - needed]->day.since_1970;
  return c.last() ? c.last()->day.since_1970 : c.situation.today.since_1970;
}

// Squat, pull, push; within these the order of the ladders.
int order_of(Pattern pattern) {
  switch (pattern) {
    case Pattern::squat: return 0;
    case Pattern::hinge: return 1;
    case Pattern::lunge: return 2;
    case Pattern::vertical_pull: return 3;
    case Pattern::horizontal_pull: return 4;
    case Pattern::push: return 5;
    default: return 6;
  }
}

bool is_main(const Case& c) { return c.rung.pattern != Pattern::trunk && c.rung.pattern != Pattern::shoulder_care; }
bool is_care(const Case& c) { return c.rung.pattern == Pattern::shoulder_care; }

// Of those that increase today only the one that has waited longest does.
void keep_one(Cases& cases, Outs& out, bool (*concerned)(const Case&), const char* row) {
  const auto key = [&](std::size_t i) { return std::tuple(waiting_since(cases[i]), order_of(cases[i].rung.pattern), cases[i].rung.id, cases[i].index); };
  std::optional<std::size_t> kept;
  for (std::size_t i = 0; i < cases.size(); ++i)
    if (out[i].increase && concerned(cases[i]) && (!kept || key(i) < key(*kept))) kept = i;
  for (std::size_t i = 0; i < cases.size(); ++i) {
    if (!kept || i == *kept || !out[i].increase || !concerned(cases[i])) continue;
    hold_instead(cases[i], out[i]);
    out[i].modifiers.push_back(reason(row, {word("exercise", cases[*kept].rung.id)}));
  }
}

void one_step_at_a_time(Cases& cases, Outs& out) {  // M03
  if (!cases.empty() && cases.front().youth) keep_one(cases, out, is_main, "M03");
}

void one_care_move(Cases& cases, Outs& out) { keep_one(cases, out, is_care, "6.4a"); }

void same_dose_for_long(Cases& cases, Outs& out) {  // M09
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const auto sessions = static_cast<std::int64_t>(cases[i].past.counted.size());
    if (sessions < static_cast<std::int64_t>(kSameDoseSessions) || out[i].action != Action::train) continue;
    if (!(out[i].standing == cases[i].standing)) continue;  // it changes now
    out[i].modifiers.push_back(reason("M09", {number("sessions", sessions)}));
    if (!cases[i].situation.athlete.has_coach && !cases[i].youth) out[i].asks.push_back(Ask::keep_or_change);
    else out[i].coach_rows.push_back(reason("W08", {word("exercise", cases[i].rung.id), number("sessions", sessions)}));
  }
}

void reserve_against_reps(Cases& cases, Outs& out) {  // M10
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const Entry* last = cases[i].last();
    if (!last || !last->outcome.reserve_aside || out[i].action != Action::train) continue;
    out[i].modifiers.push_back(reason("M10", {number("reserve", *last->outcome.reserve_written / 2)}, {{EvidenceOf::session, last->session}}));
    out[i].asks.push_back(Ask::reserve_again);
  }
}

// M08 is written by R02 itself: a swapped exercise has no counters that could move. "6.4a": one
// shoulder-care move a session goes up.
struct ModifierRow {
  const char* id;
  void (*act)(Cases&, Outs&);
};
constexpr std::array<ModifierRow, 4> kModifierRows{{
    {"M03", one_step_at_a_time},
    {"6.4a", one_care_move},
    {"M09", same_dose_for_long},
    {"M10", reserve_against_reps},
}};

}  // namespace

void hold_instead(const Case& c, ExerciseDecision& out) {
  if (!out.increase) return;
  out.increase = false;
  out.standing = c.standing;
  out.start = c.start;
  out.dose = plain_dose(c, c.standing, hold_reps(c, c.standing), reserve_target(c.standing, c.situation));
  std::erase_if(out.asks, [](Ask ask) { return ask == Ask::test_set; });
}

void modify(std::vector<Case>& cases, std::vector<ExerciseDecision>& out) {
  for (const ModifierRow& row : kModifierRows)
    if (cases.empty() || !overruled(cases.front().situation, row.id, {})) row.act(cases, out);
}

}  // namespace slipway::rules
