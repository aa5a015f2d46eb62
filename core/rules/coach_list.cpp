#include "rules/coach_list.h"

#include <algorithm>
#include <array>
#include <map>
#include <tuple>

#include "rules/case.h"
#include "rules/gates.h"
#include "rules/limits.h"
#include "rules/loads.h"
#include "rules/reasons.h"
#include "rules/settings.h"

namespace slipway::rules {

namespace {

struct Facts {
  const CoachSituation& about;
  const SessionSituation& situation;
  const Record& record;
  const SessionDecision& decision;
  std::vector<Case>& cases;
  std::vector<CoachFact> out;

  void add(Reason why, Day since, std::string exercise = {}) { out.push_back({std::move(why), since, std::move(exercise)}); }
};

Day day_of(const SessionSituation& situation, const Reason& why) {
  std::optional<Day> oldest;
  for (const Evidence& evidence : why.evidence) {
    std::optional<Day> day;
    switch (evidence.of) {
      case EvidenceOf::session: day = situation.history[evidence.index].day; break;
      case EvidenceOf::pain: day = situation.pains[evidence.index].day; break;
      case EvidenceOf::soreness: day = situation.soreness[evidence.index].day; break;
      case EvidenceOf::sign_off: day = situation.sign_offs[evidence.index].day; break;
      case EvidenceOf::red_flag: day = situation.red_flags[evidence.index].day; break;
      case EvidenceOf::illness: day = situation.illnesses[evidence.index].first_day; break;
      case EvidenceOf::clearance: day = situation.clearances[evidence.index].day; break;
      case EvidenceOf::line: break;
    }
    if (day && (!oldest || *day < *oldest)) oldest = day;
  }
  return oldest.value_or(situation.today);
}

// W01, W02, W04, W05, W07, W08 and a part of W06: what the rows of today's decision say.
void from_the_decision(Facts& facts) {
  for (const Reason& row : facts.decision.coach_rows)
    if (row.row != "W06") facts.add(row, day_of(facts.situation, row));  // dates are told below, one by one
  for (const ExerciseDecision& exercise : facts.decision.exercises)
    for (const Reason& row : exercise.coach_rows) facts.add(row, day_of(facts.situation, row), exercise.line);
}

void trained_alone(Facts& facts) {  // W03
  for (std::uint32_t index : facts.record.order)
    if (loaded_alone(facts.record.session(index), facts.situation.athlete))
      facts.add(reason("W03", {}, {{EvidenceOf::session, index}}), facts.record.session(index).day);
}

void outside_limits(Facts& facts) {  // W03, "or outside 5.7"
  if (!is_youth(facts.situation.athlete)) return;
  for (std::uint32_t index : facts.record.order) {
    const SessionFact& session = facts.record.session(index);
    if (session.left_out || session.ticked_in_afterwards || days_between(session.day, facts.situation.today) > kNoSessionDays) continue;
    for (const ExerciseDone& done : session.exercises) {
      const model::Rung* rung = model::find_rung(done.exercise);
      if (!rung) continue;
      const LoadLimit limit = load_limit(*rung, facts.situation, true);
      const bool over = std::any_of(done.sets.begin(), done.sets.end(), [&](const SetFact& set) {
        return set.load_g && *set.load_g > 0 && (!limit.allowed || (limit.most_g && *set.load_g > *limit.most_g));
      });
      if (over) facts.add(reason("W03", {word("exercise", done.exercise)}, {{EvidenceOf::session, index}}), session.day, done.exercise);
    }
  }
}

// W04: pain 1-2 at one exercise, or at a joint it uses, in three sessions in a row.
void grumbles(Facts& facts) {
  for (const Case& c : facts.cases) {
    std::uint32_t run = 0;
    std::vector<Evidence> evidence;
    for (const Entry& entry : c.past.entries) {
      const model::Rung* rung = model::find_rung(entry.done->exercise);
      const std::uint32_t worst = rung == nullptr ? 0 : worst_pain_at(facts.situation, facts.record.session(entry.session), *rung);
      if (worst < kPainHold || worst >= kPainSwap) break;
      evidence.push_back({EvidenceOf::session, entry.session});
      if (++run == kGrumbleSessions) break;
    }
    if (run < kGrumbleSessions) continue;
    const Reason why = reason("W04", {word("exercise", c.rung.id)}, evidence);
    facts.add(why, day_of(facts.situation, why), c.line.standing.exercise);
  }
}

void is_ill(Facts& facts) {  // W05, the mild ones too; G02 has told the others
  for (std::uint32_t i = 0; i < facts.situation.illnesses.size(); ++i) {
    const Illness& illness = facts.situation.illnesses[i];
    if (illness.ended_ms || facts.situation.today < illness.first_day || facts.decision.whether == Whether::skip) continue;
    facts.add(reason("W05", {}, {{EvidenceOf::illness, i}}), illness.first_day);
  }
}

void is_sore(Facts& facts) {  // W05, where another row decided today
  for (const Case& c : facts.cases) {
    if (c.body.sore.days <= kSoreReduce || c.body.sore.days > kSoreStop) continue;
    const Reason why = reason("W05", {number("days", c.body.sore.days)}, c.body.sore.evidence);
    facts.add(why, day_of(facts.situation, why), c.line.standing.exercise);
  }
}

struct Entered {
  std::uint32_t session, halves;
};

// W06: the same reserve in 12 entries in a row.
void same_reserve(Facts& facts) {
  std::vector<Entered> entered;  // newest first
  for (auto it = facts.record.order.rbegin(); it != facts.record.order.rend(); ++it)
    for (const ExerciseDone& done : facts.record.session(*it).exercises)
      for (auto set = done.sets.rbegin(); set != done.sets.rend(); ++set)
        if (!set->warm_up && set->rir_halves) entered.push_back({*it, *set->rir_halves});
  if (entered.size() < kSameReserveEntries) return;
  for (std::size_t i = 1; i < kSameReserveEntries; ++i)
    if (entered[i].halves != entered[0].halves) return;
  const Evidence oldest{EvidenceOf::session, entered[kSameReserveEntries - 1].session};
  facts.add(reason("W06", {word("what", "same_reserve"), number("reserve", entered[0].halves / 2)}, {oldest}),
            facts.record.session(oldest.index).day);
}

void look_at_entries(Facts& facts) {  // W06: M10 twice, contradictory entries, wrong dates
  for (const Case& c : facts.cases) {
    const auto& entries = c.past.entries;
    if (entries.size() < 2 || !entries[0].outcome.reserve_aside || !entries[1].outcome.reserve_aside) continue;
    facts.add(reason("W06", {word("what", "reserve_against_reps")}, {{EvidenceOf::session, entries[1].session}}), entries[1].day,
              c.line.standing.exercise);
  }
  for (std::uint32_t index : facts.record.order)
    if (facts.record.session(index).contradiction)
      facts.add(reason("W06", {word("what", "contradiction")}, {{EvidenceOf::session, index}}), facts.record.session(index).day);
  for (const FlaggedSession& flagged : facts.record.flagged)
    facts.add(reason("W06", {word("what", "date")}, {{EvidenceOf::session, flagged.index}}), facts.situation.history[flagged.index].day);
}

// W07: a sign-off that ended; waiting ones and withdrawn ones are told by R26 and R28.
void ended_sign_offs(Facts& facts) {
  for (const Case& c : facts.cases) {
    const bool ended = c.form.state == FormState::ended || c.form.state == FormState::ended_by_time;
    if (!gate_is_on(facts.situation.athlete) || !c.form.newest || (!ended && c.form.state != FormState::withdrawn)) continue;
    std::uint32_t index = 0;
    while (&facts.situation.sign_offs[index] != c.form.newest) ++index;
    facts.add(reason("W07", {word("exercise", c.rung.id)}, {{EvidenceOf::sign_off, index}}), c.form.newest->day, c.line.standing.exercise);
  }
}

void away(Facts& facts) {  // W09: no session for 10 days though planned
  std::optional<Day> last;
  if (!facts.record.order.empty()) last = facts.record.session(facts.record.order.back()).day;
  bool missed = false;
  std::optional<Day> first_missed;
  for (const PlannedDay& planned : facts.about.planned) {
    if (!(planned.day < facts.situation.today) || (last && !(*last < planned.day))) continue;
    missed = true;
    if (!first_missed || planned.day < *first_missed) first_missed = planned.day;
  }
  const Day since = last ? *last : first_missed.value_or(facts.situation.today);
  const std::int32_t days = days_between(since, facts.situation.today);
  if (missed && days >= kNoSessionDays) facts.add(reason("W09", {number("days", days)}), since);
}

void short_in_a_row(Facts& facts) {  // W09
  std::vector<Evidence> evidence;
  for (auto it = facts.record.order.rbegin(); it != facts.record.order.rend() && evidence.size() < kShortInARow; ++it) {
    bool any = false;
    for (const Case& c : facts.cases)
      for (const Entry& entry : c.past.entries) any = any || (entry.session == *it && !entry.passing && entry.outcome.cut_short);
    if (!any) return;
    evidence.push_back({EvidenceOf::session, *it});
  }
  if (evidence.size() < kShortInARow) return;
  const Reason why = reason("W09", {number("sessions", kShortInARow)}, evidence);
  facts.add(why, day_of(facts.situation, why));
}

void milestones(Facts& facts) {  // W14
  for (std::uint32_t index : facts.record.order) {
    const SessionFact& session = facts.record.session(index);
    if (session.day < facts.about.last_monday) continue;
    for (const ExerciseDone& done : session.exercises) {
      const auto sets = work_sets(done);
      const auto best = std::max_element(sets.begin(), sets.end(), [](const WorkSet& a, const WorkSet& b) { return a.reps < b.reps; });
      const bool first_pull_up = done.test && done.exercise == "VP6" && best != sets.end() && best->reps >= 1;
      if (!has_row(done, "R14") && !first_pull_up) continue;
      facts.add(reason("W14", {word("exercise", done.exercise)}, {{EvidenceOf::session, index}}), session.day, done.exercise);
    }
  }
}

// In the order of the page.
constexpr std::array kFinders{from_the_decision, trained_alone, outside_limits, grumbles,        is_ill, is_sore, same_reserve,
                              look_at_entries,   ended_sign_offs, away,         short_in_a_row, milestones};

// A sign-off waiting for more than 14 days comes just after W04 [6.8].
std::int32_t urgency(const CoachFact& fact, Day today) {
  const std::int32_t number = (fact.reason.row[1] - '0') * 100 + (fact.reason.row[2] - '0') * 10;
  if (fact.reason.row == "W07" && days_between(fact.since, today) > kSignOffWaitsDays) return 45;
  return number;
}

std::string evidence_text(const CoachFact& fact) {
  std::string out;
  for (const Argument& argument : fact.reason.args) out += argument.name + '=' + argument.text + ':' + std::to_string(argument.number) + ' ';
  return out;
}

// One fact for a row and an exercise: the oldest.
void drop_repeats(std::vector<CoachFact>& facts) {
  const auto same = [](const CoachFact& a, const CoachFact& b) { return a.reason.row == b.reason.row && a.exercise == b.exercise && a.since == b.since; };
  facts.erase(std::unique(facts.begin(), facts.end(), same), facts.end());
}

}  // namespace

std::vector<CoachFact> coach_facts(const CoachSituation& about) {
  const SessionSituation& situation = about.situation;
  const Record record = read_record(situation);
  const SessionDecision decision = decide(situation);
  std::vector<Case> cases;
  for (std::uint32_t i = 0; i < situation.lines.size(); ++i)
    if (auto c = make_case(situation, record, i)) cases.push_back(std::move(*c));
  Facts facts{about, situation, record, decision, cases, {}};
  for (const auto& finder : kFinders) finder(facts);
  std::sort(facts.out.begin(), facts.out.end(), [&](const CoachFact& a, const CoachFact& b) {
    const auto key = [&](const CoachFact& fact) {
      return std::tuple(urgency(fact, situation.today), fact.since.since_1970, fact.reason.row, fact.exercise, evidence_text(fact));
    };
    return key(a) < key(b);
  });
  drop_repeats(facts.out);
  return facts.out;
}

std::vector<CoachLine> coach_list(const std::vector<CoachSituation>& athletes) {
  struct Ranked {
    std::int32_t urgency, since;
    CoachLine line;
  };
  std::vector<Ranked> ranked;
  for (const CoachSituation& about : athletes) {
    auto facts = coach_facts(about);
    if (facts.empty()) continue;
    const CoachFact first = facts.front();
    ranked.push_back({urgency(first, about.situation.today), first.since.since_1970, {about.athlete, std::move(facts)}});
  }
  std::sort(ranked.begin(), ranked.end(), [](const Ranked& a, const Ranked& b) {
    return std::tie(a.urgency, a.since, a.line.athlete) < std::tie(b.urgency, b.since, b.line.athlete);
  });
  std::vector<CoachLine> out;
  for (Ranked& entry : ranked) out.push_back(std::move(entry.line));
  return out;
}

}  // namespace slipway::rules
