#include "rules/gates.h"

#include <algorithm>
#include <array>
#include <set>

#include "rules/limits.h"
#include "rules/reasons.h"
#include "rules/settings.h"

namespace slipway::rules {

using model::Pattern;

bool needs_a_day_between(Pattern pattern) { return pattern != Pattern::trunk && pattern != Pattern::shoulder_care; }

bool trained_today(const Record& record, Pattern pattern) {
  const auto gap = pattern_gap(record, pattern, record.situation->today);
  return gap && *gap == 0;
}

bool floor_only(const SessionSituation& situation) { return is_youth(situation.athlete) && !situation.adult_ticked_in; }

bool on_floor_list(const model::Rung& rung, const SessionSituation& situation) {
  if (rung.on_floor_list) return true;
  const auto& ticks = situation.athlete.ticks;  // SC1 and SC2 with a thin band, if the coach put them on the list
  return (rung.id == "SC1" || rung.id == "SC2") && std::find(ticks.begin(), ticks.end(), rung.id) != ticks.end();
}

namespace {

struct GateView {
  const Record& record;
  const SessionSituation& situation;
};

// ---- 6.2a --------------------------------------------------------------------------------------------

bool red_flag(const GateView& view, Reason& out) {
  std::uint32_t index = 0;
  if (!general_flag_stands(view.situation, &index)) return false;
  out.args = {word("flag", view.situation.red_flags[index].word)};
  out.evidence = {{EvidenceOf::red_flag, index}};
  return true;
}

bool ill(const GateView& view, Reason& out) {
  for (std::uint32_t i = 0; i < view.situation.illnesses.size(); ++i) {
    const Illness& illness = view.situation.illnesses[i];
    if (!illness.below_neck || view.situation.today < illness.first_day) continue;
    if (illness.ended_ms && view.situation.now_ms - *illness.ended_ms >= kAfterIllnessMs) continue;
    out.evidence = {{EvidenceOf::illness, i}};
    return true;
  }
  return false;
}

bool normal(const GateView&, Reason&) { return true; }

struct WhetherRow {
  const char* id;
  bool (*holds)(const GateView&, Reason&);
  Whether whether;
};
constexpr std::array<WhetherRow, 3> kWhetherRows{{
    {"G01", red_flag, Whether::stop},
    {"G02", ill, Whether::skip},
    {"G13", normal, Whether::normal},
}};

// ---- 6.2b --------------------------------------------------------------------------------------------

std::set<Pattern> patterns_of(const SessionSituation& situation) {
  std::set<Pattern> out;
  for (const PlanLine& line : situation.lines)
    if (const model::Rung* rung = model::find_rung(line.standing.exercise); rung && needs_a_day_between(rung->pattern)) out.insert(rung->pattern);
  return out;
}

bool trains_a_main_pattern(const SessionFact& session) {
  return std::any_of(session.exercises.begin(), session.exercises.end(), [](const ExerciseDone& done) {
    const model::Rung* rung = model::find_rung(done.exercise);
    return rung && needs_a_day_between(rung->pattern) && completed(done);
  });
}

std::uint32_t days_a_week(const Athlete& athlete) { return athlete.days_a_week.value_or(age_row(athlete).days_a_week); }

bool same_day_or_week_full(const GateView& view, Reason& out) {
  for (Pattern pattern : patterns_of(view.situation))
    if (trained_today(view.record, pattern)) {
      out.args = {number("days", 0), word("pattern", std::string(model::to_text(pattern)))};
      return true;
    }
  std::set<std::int32_t> days;
  for (std::uint32_t index : view.record.order) {
    const SessionFact& session = view.record.session(index);
    const std::int32_t ago = days_between(session.day, view.situation.today);
    if (ago >= 1 && ago <= kWeekBefore && trains_a_main_pattern(session)) days.insert(ago);
  }
  if (days.size() < days_a_week(view.situation.athlete) || patterns_of(view.situation).empty()) return false;
  out.args = {number("days_used", static_cast<std::int64_t>(days.size()))};
  return true;
}

// The last session of the pattern was the first of a new programme, or had a set to failure.
bool hard_last_time(const GateView& view, Pattern pattern) {
  for (auto it = view.record.order.rbegin(); it != view.record.order.rend(); ++it) {
    const SessionFact& session = view.record.session(*it);
    bool trained = false, failed = false;
    for (const ExerciseDone& done : session.exercises) {
      const model::Rung* rung = model::find_rung(done.exercise);
      if (!rung || rung->pattern != pattern || !completed(done)) continue;
      trained = true;
      for (const SetFact& set : done.sets) failed = failed || (!set.warm_up && set.rir_halves == 0U);
    }
    if (trained) return failed || session.first_of_programme;
  }
  return false;
}

bool too_soon(const GateView& view, Reason& out) {
  for (Pattern pattern : patterns_of(view.situation)) {
    const auto gap = pattern_gap(view.record, pattern, view.situation.today);
    if (!gap) continue;
    const bool sore = soreness_on(view.situation, pattern, view.situation.today).days >= 1;
    const bool careful = is_masters(view.situation.athlete) || hard_last_time(view, pattern);
    if (*gap != kPgapAsk && !(*gap == kPgapAskSore && sore && careful)) continue;
    out.args = {number("days", *gap), word("pattern", std::string(model::to_text(pattern)))};
    return true;
  }
  return false;
}

bool no_reason(const GateView&, Reason&) { return true; }

struct WhenRow {
  const char* id;
  bool (*holds)(const GateView&, Reason&);
  When adult, youth;
};
constexpr std::array<WhenRow, 3> kWhenRows{{
    {"G08", same_day_or_week_full, When::move, When::move},
    {"G09", too_soon, When::ask, When::move},
    {"TODAY", no_reason, When::today, When::today},
}};

// ---- 6.2c --------------------------------------------------------------------------------------------

bool no_adult(const GateView& view, Reason&) { return floor_only(view.situation); }

struct FilterRow {
  const char* id;
  bool (*holds)(const GateView&, Reason&);
};
constexpr std::array<FilterRow, 1> kFilterRows{{{"G11", no_adult}}};

bool may_overrule_gate(std::string_view id) { return id != "G01" && id != "G02" && id != "G11"; }

}  // namespace

void fill_gates(const Record& record, SessionDecision& out) {
  const GateView view{record, *record.situation};
  for (const WhetherRow& row : kWhetherRows) {
    Reason found = reason(row.id);
    if (!row.holds(view, found)) continue;
    out.gate = found;
    out.whether = row.whether;
    break;
  }
  if (out.whether != Whether::normal) return;
  std::vector<std::string> passed_over;
  for (const WhenRow& row : kWhenRows) {
    Reason found = reason(row.id);
    if (!row.holds(view, found)) continue;
    if (row.adult != When::today && may_overrule_gate(row.id) && overruled(view.situation, row.id, {})) {
      passed_over.push_back(row.id);
      continue;
    }
    out.when_row = found;
    out.when_row.overruled = passed_over;
    out.when = is_youth(view.situation.athlete) ? row.youth : row.adult;
    break;
  }
  for (const FilterRow& row : kFilterRows) {
    Reason found = reason(row.id);
    if (row.holds(view, found)) out.filters.push_back(found);
  }
}

}  // namespace slipway::rules
