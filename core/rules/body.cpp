#include "rules/body.h"

#include <algorithm>
#include <map>

#include "rules/limits.h"
#include "rules/settings.h"
#include "rules/substitute.h"

namespace slipway::rules {

namespace {

constexpr std::int64_t kDayMs = 86'400'000;

// A moment at which something that reaches this exercise was asked or said.
struct Moment {
  Day day;
  std::int64_t at_ms = 0;
  bool in_row = false;          // a session or a swim: counts for "two in a row"
  bool exercise_done = false;   // the exercise itself was done
  bool substitute_done = false; // what stood for it was done
  bool by_exercise = false;     // said at the exercise, or at its substitute
  bool answered = false;        // there was an answer; false: done and nothing said
  std::uint32_t value = 0;
  std::uint32_t said = 0;       // the worst report behind it, whatever it means for this exercise
  bool unsettled = false;
  std::uint32_t waits_for = 0;  // of an exercise never done: what an unsettled report at another one of its joint said
  std::string region;
  std::uint32_t joints = 0;
  std::vector<Evidence> evidence;
};

bool before(const Moment& a, const Moment& b) {
  return a.day.since_1970 != b.day.since_1970 ? a.day < b.day : a.at_ms < b.at_ms;
}

bool clearance_fits(const SessionSituation& situation, const Clearance& clearance, std::uint32_t amount) {
  if (is_youth(situation.athlete)) return clearance.by != ClearedBy::athlete && clearance.clinician_allowed;
  return amount < kPainStop || clearance.clinician_allowed;
}

bool names(const Clearance& clearance, const std::string& report) {
  return clearance.reports && std::find(clearance.reports->begin(), clearance.reports->end(), report) != clearance.reports->end();
}

// Whoever names a report knew of it, whatever the two clocks say. What nobody had told whoever gave a clearance is not freed by
// it: a second report of that day, or one that came from elsewhere later.
bool given_for(const Clearance& clearance, const std::string& report, Day day) {
  return names(clearance, report) || (!clearance.reports && !(clearance.day < day));
}

// 7 days in a row at <= 1 in daily life, after the report: an adult below 6 is free again [2.7].
bool calm_week_since(const SessionSituation& situation, const PainReport& report) {
  std::map<std::int32_t, std::uint32_t> worst;
  for (const PainReport& daily : situation.pains) {
    const std::uint32_t joints = joints_of(daily);
    if (daily.at != PainAt::daily || !(report.day < daily.day) || situation.today < daily.day) continue;
    if (joints != 0 && (joints & joints_of(report)) == 0) continue;
    auto& slot = worst.try_emplace(daily.day.since_1970, 0U).first->second;
    slot = std::max(slot, daily.amount);
  }
  std::int32_t run = 0, last = 0;
  for (const auto& [day, amount] : worst) {
    run = amount > kCalmDailyPain ? 0 : (run > 0 && day == last + 1 ? run + 1 : 1);
    last = day;
    if (run >= kDailyCalmDays) return true;
  }
  return false;
}

bool is_cleared(const SessionSituation& situation, const PainReport& report) {
  for (const Clearance& clearance : situation.clearances) {
    if ((clearance.joints & joints_of(report)) == 0 || situation.today < clearance.day) continue;
    const bool later = report.day < clearance.day || (report.day == clearance.day && (clearance.at_ms == 0 || !(clearance.at_ms < report.at_ms)));
    const bool of_its_part = later && (report.amount < kPainSwap || !clearance.reports);
    if (!of_its_part && !names(clearance, report.id)) continue;
    if (clearance_fits(situation, clearance, report.amount)) return true;
  }
  return !is_youth(situation.athlete) && report.amount < kPainStop && calm_week_since(situation, report);
}

struct Reader {
  const Record& record;
  const model::Rung& rung;
  const SessionSituation& situation;

  bool stands_for_it(const std::string& exercise, const SessionFact* session) const {
    if (!session) return false;
    for (const ExerciseDone& done : session->exercises)
      if (done.exercise == exercise && done.written && done.written->stands_for == rung.id && has_row(done, "R02")) return true;
    return false;
  }

  // Said before a session, its next morning is still to come; later it is asked about as any other [6.1]. What hurts a youth at
  // rest is freed by a clearance alone: the safer reading of "stopped by R01 before and not cleared".
  bool unsettled(const PainReport& report) const {
    const bool stays = report.day == situation.today || is_youth(situation.athlete);
    return (report.at == PainAt::check && stays) || !report.settled.value_or(false);
  }

  bool ever_done() const {
    return std::any_of(situation.history.begin(), situation.history.end(), [&](const SessionFact& session) {
      return !(situation.today < session.day) && std::any_of(session.exercises.begin(), session.exercises.end(),
                                                             [&](const ExerciseDone& done) { return done.exercise == rung.id && completed(done); });
    });
  }

  // What this report means for this exercise [6.1]; nothing: it reaches another part.
  std::optional<std::uint32_t> value_of(const PainReport& report, bool at_it) const {
    if (at_it) return report.amount;
    if ((joints_of(report) & rung.joints) == 0) return {};
    if (report.amount >= kPainStop || report.amount < kPainSwap) return report.amount;
    const std::uint32_t held = kPainSwap - 1;  // "the rest of that joint gets R03"
    if (!report.exercise.empty()) return held;
    if (unsettled(report)) return report.amount;
    return taken_out(report.region, joints_of(report), rung.id, {}) ? report.amount : held;
  }

  // `open`: said in the session going on now, whose next morning is still to come: a swap for the rest of it [6.7].
  void take(Moment& moment, std::uint32_t index, bool at_it, bool open = false) const {
    const PainReport& report = situation.pains[index];
    const auto value = value_of(report, at_it);
    if (!value) return;
    // Of another exercise "at least R03" [6.1]. One never done has no dose to hold, and nobody knows that it does not hurt,
    // were it only for being a harder one: it waits with the one that did till the next morning is answered for.
    if (!open && report.amount >= kPainSwap && *value < kPainSwap && unsettled(report) && !ever_done()) moment.waits_for = std::max(moment.waits_for, report.amount);
    moment.answered = true;
    moment.said = std::max(moment.said, report.amount);
    moment.by_exercise = moment.by_exercise || at_it;
    if (!open && *value >= kPainSwap && unsettled(report)) moment.unsettled = true;
    if (*value > 0) moment.evidence.push_back({EvidenceOf::pain, index});
    if (*value < moment.value || *value == 0) return;
    moment.value = *value;
    moment.region = report.region;
    moment.joints = joints_of(report) & rung.joints ? joints_of(report) & rung.joints : rung.joints;
  }

  // The session a report belongs to; nullptr: none that counts.
  const SessionFact* session_of(const PainReport& report) const {
    const SessionFact* found = nullptr;
    for (const SessionFact& session : situation.history)
      if (report.session_id.empty() ? session.day == report.day : session.id == report.session_id)
        if (!found || found->start_ms < session.start_ms || (found->start_ms == session.start_ms && found->id < session.id)) found = &session;
    return found;
  }

  void add_sessions(std::vector<Moment>& out, std::vector<bool>& used) const {
    for (const SessionFact& session : situation.history) {
      if (situation.today < session.day) continue;
      Moment moment;
      moment.day = session.day;
      moment.at_ms = session.start_ms;
      moment.in_row = true;
      bool uses_part = false;
      for (const ExerciseDone& done : session.exercises) {
        const model::Rung* other = model::find_rung(done.exercise);
        if (!completed(done) || !other) continue;
        uses_part = uses_part || (other->joints & rung.joints) != 0;
        moment.exercise_done = moment.exercise_done || done.exercise == rung.id;
        moment.substitute_done = moment.substitute_done || stands_for_it(done.exercise, &session);
      }
      moment.answered = session.pain_answered && uses_part;
      for (std::uint32_t i = 0; i < situation.pains.size(); ++i) {
        const PainReport& report = situation.pains[i];
        if (report.at != PainAt::session || session_of(report) != &session) continue;
        used[i] = true;
        if (!is_cleared(situation, report)) take(moment, i, report.exercise == rung.id || stands_for_it(report.exercise, &session), session.open);
      }
      if (moment.answered || moment.exercise_done || moment.substitute_done) out.push_back(std::move(moment));
    }
  }

  void add_others(std::vector<Moment>& out, const std::vector<bool>& used) const {
    for (std::uint32_t i = 0; i < situation.pains.size(); ++i) {
      const PainReport& report = situation.pains[i];
      if (used[i] || situation.today < report.day || is_cleared(situation, report)) continue;
      Moment moment;
      moment.day = report.day;
      moment.at_ms = report.at_ms;
      moment.in_row = report.at == PainAt::session || report.at == PainAt::swim;
      take(moment, i, report.exercise == rung.id);
      if (moment.answered) out.push_back(std::move(moment));
    }
  }

  std::vector<Moment> moments() const {
    std::vector<Moment> out;
    std::vector<bool> used(situation.pains.size());
    add_sessions(out, used);
    add_others(out, used);
    // At one moment the worse answer comes last, so that it counts as the newest.
    std::sort(out.begin(), out.end(), [](const Moment& a, const Moment& b) {
      if (before(a, b) || before(b, a)) return before(a, b);
      return a.value < b.value;
    });
    return out;
  }
};

void blame(Body& body, const Moment& moment) {
  if (!body.since || moment.day < *body.since) body.since = moment.day;
  const std::uint32_t value = std::max(moment.value, moment.waits_for);
  if (value >= body.stop_pain) {
    body.stop_pain = value;
    body.region = moment.region;
    body.joints = moment.joints;
  }
  for (const Evidence& evidence : moment.evidence)
    if (std::find(body.evidence.begin(), body.evidence.end(), evidence) == body.evidence.end()) body.evidence.push_back(evidence);
}

void come_back_from(Body& body, Day hurt_on) {
  body.comeback = true;
  if (!body.hurt_on || *body.hurt_on < hurt_on) body.hurt_on = hurt_on;
}

// R01 from reports: 6 and more; 3 and more not settled; 3 and more in two sessions or swims in a row.
void read_stops(Body& body, const std::vector<Moment>& moments) {
  const Moment* previous = nullptr;
  for (const Moment& moment : moments) {
    bool stops = moment.value >= kPainStop || moment.unsettled || moment.waits_for > 0;
    if (moment.in_row) {
      if (previous && previous->value >= kPainSwap && moment.value >= kPainSwap) {
        stops = true;
        blame(body, *previous);
      }
      previous = &moment;
    }
    if (!stops) continue;
    body.stop = true;
    body.stop_is_firm = body.stop_is_firm || moment.value >= kPainStop;
    body.ask_settled = body.ask_settled || ((moment.unsettled || moment.waits_for > 0) && moment.value < kPainStop);
    blame(body, moment);
  }
}

// Two sessions of the substitute in a row at <= 2, the newest ones after `from`.
bool substitute_was_calm(const std::vector<Moment>& moments, std::size_t from, bool* swapped) {
  std::uint32_t calm = 0;
  *swapped = false;
  for (std::size_t i = from + 1; i < moments.size(); ++i) {
    if (!moments[i].substitute_done) continue;
    *swapped = true;
    if (!moments[i].answered) continue;  // nobody asked: no answer
    calm = moments[i].value < kPainSwap ? calm + 1 : 0;
  }
  return calm >= kSubstituteCalmSessions;
}

// R02 and the way back from it, from the newest report of 3 to 5.
void read_swap(Body& body, const std::vector<Moment>& moments, Day today) {
  std::size_t at = moments.size();
  for (std::size_t i = 0; i < moments.size(); ++i)
    if (moments[i].value >= kPainSwap) at = i;
  if (at == moments.size()) return;
  const Moment& report = moments[at];
  bool back = false, calmer = false, swapped = false;
  for (std::size_t i = at + 1; i < moments.size(); ++i) {
    back = back || moments[i].exercise_done;
    calmer = calmer || (moments[i].in_row && moments[i].answered && moments[i].value < kPainSwap);
  }
  if (back) return;
  const bool calm = substitute_was_calm(moments, at, &swapped);
  if (calm) {
    come_back_from(body, report.day);
    return;
  }
  const bool old = days_between(report.day, today) > kPainFreshDays;
  if (!report.by_exercise && !swapped && (calmer || old)) return;
  body.swap = true;
  body.pain = std::max(body.pain, report.value);
  blame(body, report);
}

// Beside today's check one of an earlier day counts where it said 3 or more ("the rest of that joint gets R03" [6.1]), as long as a
// session would and till one was answered.
void read_present_pain(Body& body, const std::vector<Moment>& moments, Day today) {
  const Moment *at_exercise = nullptr, *newest = nullptr, *between = nullptr;
  for (const Moment& moment : moments) {
    if (moment.exercise_done) at_exercise = &moment;
    if (moment.in_row && moment.answered && days_between(moment.day, today) <= kPainFreshDays) newest = &moment;
    if (!moment.in_row && moment.day == today) body.pain = std::max(body.pain, moment.value);
    if (moment.in_row && moment.answered) between = nullptr;
    if (!moment.in_row && moment.said >= kPainSwap && days_between(moment.day, today) <= kPainFreshDays) between = &moment;
  }
  for (const Moment* moment : {at_exercise, newest, between}) {
    if (!moment || (body.comeback && moment == at_exercise)) continue;  // two calm sessions of the substitute lower it
    body.pain = std::max(body.pain, moment->value);
    if (moment->value > 0 && body.region.empty()) body.region = moment->region;
    if (moment->value > 0 && body.evidence.empty()) body.evidence = moment->evidence;
  }
}

// Free again by a clearance, and the exercise not done since: what was reported then no longer counts, but the way back does.
void read_clearances(Body& body, const Reader& reader) {
  const SessionSituation& situation = reader.situation;
  std::optional<Day> last_done;
  std::int64_t last_start = 0;
  for (std::uint32_t index : reader.record.order)
    for (const ExerciseDone& done : reader.record.session(index).exercises)
      if (done.exercise == reader.rung.id && completed(done)) {
        last_done = reader.record.session(index).day;
        last_start = reader.record.session(index).start_ms;
      }
  for (const PainReport& report : situation.pains) {
    const SessionFact* session = report.at == PainAt::session ? reader.session_of(report) : nullptr;
    const auto value = reader.value_of(report, report.exercise == reader.rung.id || reader.stands_for_it(report.exercise, session));
    if (value.value_or(0) < kPainSwap || situation.today < report.day || !is_cleared(situation, report)) continue;
    const std::int64_t at = session ? session->start_ms : report.at_ms;
    if (!last_done || *last_done < report.day || (*last_done == report.day && last_start <= at)) come_back_from(body, report.day);
  }
  for (const RedFlag& flag : situation.red_flags)
    if (flag.local && (flag.joints & reader.rung.joints) != 0 && !(situation.today < flag.day) &&
        (!last_done || !(flag.day < *last_done)))
      come_back_from(body, flag.day);  // where the flag still stands, R01 comes first
}

// R09 before: more than 7 days in a row since the exercise was last done, and an answer that made it 0.
std::optional<Day> was_too_sore(const Reader& reader) {
  const SessionSituation& situation = reader.situation;
  std::int32_t from = situation.today.since_1970 - kGapClass5;
  for (std::uint32_t index : reader.record.order)
    for (const ExerciseDone& done : reader.record.session(index).exercises)
      if (done.exercise == reader.rung.id && completed(done)) from = std::max(from, reader.record.session(index).day.since_1970);
  std::optional<Day> newest;
  for (const SorenessAnswer& answer : situation.soreness)
    if (answer.pattern == reader.rung.pattern && answer.day.since_1970 >= from && answer.day < situation.today &&
        (!newest || *newest < answer.day) && soreness_on(situation, answer.pattern, answer.day).days > kSoreStop)
      newest = answer.day;
  return newest;
}

// Stopped by R09, and no answer yet below "sore": a silence frees nobody [R09].
bool sore_stop_stands(const Reader& reader) {
  std::optional<Day> newest;
  const SessionSituation& situation = reader.situation;
  for (const SorenessAnswer& answer : situation.soreness)
    if (answer.pattern == reader.rung.pattern && !(situation.today < answer.day) && (!newest || *newest < answer.day)) newest = answer.day;
  return newest && soreness_on(situation, reader.rung.pattern, *newest).days > kSoreStop;
}

}  // namespace

std::uint32_t joints_of(const PainReport& report) {
  if (report.joints != 0) return report.joints;
  if (const std::uint32_t joints = region_joints(report.region)) return joints;
  const model::Rung* rung = model::find_rung(report.exercise);
  return rung ? rung->joints : 0;
}

// Days without an answer between two sore answers count as sore; no answer today: yesterday's.
Soreness soreness_on(const SessionSituation& situation, model::Pattern pattern, Day day) {
  std::map<std::int32_t, std::pair<std::uint32_t, std::uint32_t>> level;  // day -> worst answer, its index
  for (std::uint32_t i = 0; i < situation.soreness.size(); ++i) {
    const SorenessAnswer& answer = situation.soreness[i];
    if (answer.pattern != pattern || day < answer.day) continue;
    const auto [slot, fresh] = level.try_emplace(answer.day.since_1970, answer.level, i);
    if (!fresh && answer.level > slot->second.first) slot->second = {answer.level, i};
  }
  Soreness out;
  if (level.empty()) return out;
  const auto newest = std::prev(level.end());
  if (newest->first == day.since_1970) out.today = newest->second.first;
  if (newest->first < day.since_1970 - 1) return out;
  for (auto it = level.rbegin(); it != level.rend() && it->second.first >= kSoreCounts; ++it) {
    out.days = day.since_1970 - it->first + 1;
    out.evidence.push_back({EvidenceOf::soreness, it->second.second});
  }
  return out;
}

bool general_flag_stands(const SessionSituation& situation, std::uint32_t* index) {
  for (std::uint32_t i = 0; i < situation.red_flags.size(); ++i) {
    const RedFlag& flag = situation.red_flags[i];
    if (flag.local || situation.today < flag.day) continue;
    const bool cleared = std::any_of(situation.clearances.begin(), situation.clearances.end(), [&](const Clearance& clearance) {
      return clearance.general && given_for(clearance, flag.id, flag.day) && !(situation.today < clearance.day) &&
             clearance_fits(situation, clearance, kPainStop);  // "all else": a clinician's word
    });
    if (cleared) continue;
    *index = i;
    return true;
  }
  return false;
}

bool local_flag_stands(const SessionSituation& situation, std::uint32_t joints, std::uint32_t* index) {
  for (std::uint32_t i = 0; i < situation.red_flags.size(); ++i) {
    const RedFlag& flag = situation.red_flags[i];
    if (!flag.local || (flag.joints & joints) == 0 || situation.today < flag.day) continue;
    const bool cleared = std::any_of(situation.clearances.begin(), situation.clearances.end(), [&](const Clearance& clearance) {
      return (clearance.joints & flag.joints) == flag.joints && given_for(clearance, flag.id, flag.day) && !(situation.today < clearance.day) &&
             clearance_fits(situation, clearance, kPainSwap);
    });
    if (cleared) continue;
    *index = i;
    return true;
  }
  return false;
}

bool bears(const Record& record, const model::Rung& rung) {
  const Body body = body_of(record, rung);
  return !body.stop && body.pain < kPainSwap;
}

std::uint32_t worst_pain_at(const SessionSituation& situation, const SessionFact& session, const model::Rung& rung) {
  std::uint32_t worst = 0;
  for (const PainReport& report : situation.pains) {
    const bool of_session = report.session_id.empty() ? report.day == session.day : report.session_id == session.id;
    const bool at_it = report.exercise.empty() ? (joints_of(report) & rung.joints) != 0 : report.exercise == rung.id;
    if (report.at == PainAt::session && of_session && at_it) worst = std::max(worst, report.amount);
  }
  return worst;
}

bool hurt_since(const SessionSituation& situation, const model::Rung& rung, Day since, std::int64_t since_ms) {
  const Record record = read_record(situation);
  const Reader reader{record, rung, situation};
  for (const PainReport& report : situation.pains) {
    if (report.day < since || situation.today < report.day) continue;
    const bool known_moment = since_ms / kDayMs == since.since_1970 && report.at_ms != 0;  // not that of a later writing down
    if (report.day == since && known_moment && report.at_ms < since_ms) continue;
    const auto value = reader.value_of(report, report.exercise == rung.id);
    if (value.value_or(0) >= kPainSwap) return true;
  }
  return std::any_of(situation.red_flags.begin(), situation.red_flags.end(), [&](const RedFlag& flag) {
    return flag.local && (flag.joints & rung.joints) != 0 && !(flag.day < since) && !(situation.today < flag.day);
  });
}

Body body_of(const Record& record, const model::Rung& rung) {
  const SessionSituation& situation = *record.situation;
  const Reader reader{record, rung, situation};
  Body body;
  const auto moments = reader.moments();
  read_stops(body, moments);
  read_swap(body, moments, situation.today);
  read_clearances(body, reader);
  read_present_pain(body, moments, situation.today);
  std::uint32_t flag = 0;
  if (local_flag_stands(situation, rung.joints, &flag)) {
    body.stop = body.stop_is_firm = true;
    body.joints = situation.red_flags[flag].joints;
    body.evidence.push_back({EvidenceOf::red_flag, flag});
    if (!body.since || situation.red_flags[flag].day < *body.since) body.since = situation.red_flags[flag].day;
  }
  body.sore = soreness_on(situation, rung.pattern, situation.today);
  if (sore_stop_stands(reader)) body.sore.days = std::max(body.sore.days, kSoreStop + 1);
  else if (const auto sore_on = body.sore.days == 0 ? was_too_sore(reader) : std::nullopt) come_back_from(body, *sore_on);
  return body;
}

}  // namespace slipway::rules
