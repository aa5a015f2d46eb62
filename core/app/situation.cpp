#include "app/situation.h"

#include <algorithm>
#include <array>
#include <map>
#include <tuple>

#include "app/book.h"
#include "app/dose_text.h"
#include "model/ladder.h"

namespace slipway::app {

namespace {

using model::Pattern;
namespace joint = model::joint;

constexpr std::int32_t kDaysAWeek = 7;
constexpr std::uint64_t kStartingDays = 2;  // days a week of a starting programme [5.4]
constexpr std::uint64_t kRirMost = 4;  // "4+" counts as 4 [1.4]

template <class T, class Safer>
T safest(const model::Versions<T>& versions, T otherwise, Safer safer) {
  if (versions.empty()) return otherwise;
  T best = versions.all.front().value;
  for (const auto& version : versions.all)
    if (safer(version.value, best)) best = version.value;
  return best;
}

constexpr auto kFewer = [](std::uint64_t a, std::uint64_t b) { return a < b; };
constexpr auto kMore = [](std::uint64_t a, std::uint64_t b) { return a > b; };

std::optional<std::int64_t> lightest(const model::Versions<model::Quantity>& loads) {
  std::optional<std::int64_t> least;
  for (const auto& load : loads.all) {
    const std::int64_t g = model::grams(load.value);
    if (!least || g < *least) least = g;
  }
  return least;
}

// As the doses rise; a phase with no dose of its own counts as general.
int rank_of(std::string_view phase) { return phase == "learn" ? 0 : phase == "strength" ? 2 : phase == "power" ? 3 : 1; }

// The fewer of two numbers of which 0 says nothing.
std::uint64_t fewer_said(std::uint64_t a, std::uint64_t b) { return a == 0 || b == 0 ? std::max(a, b) : std::min(a, b); }

std::uint32_t small(std::uint64_t value) { return static_cast<std::uint32_t>(std::min<std::uint64_t>(value, 1'000'000)); }

std::string order_key(const model::Writer& by) {  // sorts as drawing order does
  std::string lam = std::to_string(by.lam);
  return std::string(20 - std::min<std::size_t>(20, lam.size()), '0') + lam + model::to_text(by.op);
}

// Every writer a line has: its making and each value that stands.
std::vector<model::Writer> writers_of(const model::Prescription& line) {
  std::vector<model::Writer> all{line.by};
  const auto take = [&all](const auto& versions) {
    for (const auto& version : versions.all) all.push_back(version.by);
  };
  take(line.exercise);
  take(line.sets);
  take(line.reps);
  take(line.reps_high);
  take(line.load);
  take(line.rir);
  take(line.band);
  take(line.grip);
  take(line.tempo);
  take(line.format);
  return all;
}

rules::Prescribed prescribed(const model::Prescription& line) {
  rules::Prescribed out;
  out.dose = prescribed_dose(line);
  out.since = model::day_of(line.by.claimed);
  for (const model::Writer& by : writers_of(line)) {
    const model::Day day = model::day_of(by.claimed);
    if (out.since < day) out.since = day;
    out.by_coach = out.by_coach || by.author == 2;
  }
  return out;
}

void add_athlete(const model::Athlete& athlete, model::Day today, rules::SessionSituation& out) {
  if (const auto ages = model::ages_on(athlete, today)) {
    out.athlete.age_low = ages->lowest;
    out.athlete.age_high = ages->highest;
  }
  for (const model::BodyMass& mass : athlete.body_masses) out.athlete.body_masses.push_back({mass.day, model::grams(mass.mass), mass.coarse});
  out.athlete.has_coach = std::any_of(athlete.prescriptions.begin(), athlete.prescriptions.end(), [](const model::Prescription& line) {
    const auto writers = writers_of(line);
    return std::any_of(writers.begin(), writers.end(), [](const model::Writer& by) { return by.author == 2; });
  });
  out.athlete.gate_on = athlete.sign_off_gate;
  if (const auto programme = programme_in_use(athlete)) {
    // The coach's number of days a week [G08]. An adult's named days say more, and the two of a starting programme are
    // the fewest that are meant, not the most: then the number of the age holds.
    const auto named = static_cast<std::uint64_t>(std::count(athlete.training_days.begin(), athlete.training_days.end(), true));
    std::uint64_t days = programme->days_a_week;
    if (!model::is_youth(athlete, today)) days = named > 0 ? named : days > kStartingDays ? days : 0;
    if (days > 0) out.athlete.days_a_week = small(days);
    if (programme->phase == "learn") out.phase.kind = rules::PhaseKind::learn;
    if (programme->phase == "strength") out.phase.kind = rules::PhaseKind::strength;
    if (programme->phase == "power") out.phase.kind = rules::PhaseKind::power;
    if (programme->starts && !(today < *programme->starts))
      out.phase.week = small(static_cast<std::uint64_t>((today.since_1970 - programme->starts->since_1970) / kDaysAWeek + 1));
  }
  for (const model::SignOff& sign_off : athlete.counting_sign_offs)
    if (sign_off.level == model::SignOffLevel::sound || sign_off.level == model::SignOffLevel::loaded)
      out.athlete.ticks.push_back(sign_off.exercise);
}

void add_kit(const model::Athlete& athlete, const std::optional<model::RecordId>& which, rules::SessionSituation& out) {
  const model::Kit* kit = athlete.kits.empty() ? nullptr : &athlete.kits.front();
  for (const model::Kit& one : athlete.kits)
    if (which && one.id == *which) kit = &one;
  if (kit == nullptr) return;  // nobody listed one: every exercise is taken as possible
  out.kit.loads_g.emplace();
  for (const model::Quantity& load : kit->loads) out.kit.loads_g->push_back(model::grams(load));
  out.kit.bands = kit->bands;
  if (kit->lists_equipment) out.kit.equipment = kit->equipment;  // an empty list is a beach, a missing one says nothing
}

rules::ClearedBy cleared_by(model::ClearanceRole role) {
  switch (role) {
    case model::ClearanceRole::coach: return rules::ClearedBy::coach;
    case model::ClearanceRole::guardian: return rules::ClearedBy::guardian;
    default: return rules::ClearedBy::athlete;
  }
}

std::uint32_t joints_of(std::string_view region) {
  const PainPart* part = find_pain_part(region);
  return part == nullptr ? 0 : part->joints;
}

// Of a device whose clock runs ahead: what has been reported by now was not reported tomorrow, and a warning counts at once.
model::Day reported(model::Day day, const rules::SessionSituation& out) {
  constexpr std::int64_t kDayMs = 86'400'000;
  const bool ahead = out.now_ms > 0 && out.now_ms / kDayMs < day.since_1970;
  return ahead && out.today < day ? out.today : day;
}

void add_flags(const model::Athlete& athlete, rules::SessionSituation& out) {
  for (const model::RedFlag& flag : athlete.red_flags)
    out.red_flags.push_back({model::to_text(flag.id), flag.flag, reported(flag.day, out), flag.group == model::FlagGroup::local, joints_of(flag.region)});
  for (const model::Clearance& clearance : athlete.clearances) {
    if (clearance.withdrawn) continue;
    const bool general = clearance.covers == "general";
    std::vector<std::string> reports;
    for (const model::RecordId& report : clearance.reports) reports.push_back(model::to_text(report));
    out.clearances.push_back({model::to_text(clearance.id), clearance.day, clearance.by.claimed.local_ms, cleared_by(clearance.role), clearance.clinician_allowed, general,
                              general ? 0 : joints_of(clearance.covers), std::move(reports)});
  }
}

// Facts of how it is from a day on become spans of illness.
void add_illness(const model::Athlete& athlete, rules::SessionSituation& out) {
  std::vector<model::Illness> gravest;  // they stand by day; written apart about one day, the gravest counts
  for (const model::Illness& fact : athlete.illnesses) {
    if (gravest.empty() || gravest.back().day < fact.day) gravest.push_back(fact);
    else if (gravest.back().state < fact.state) gravest.back() = fact;
  }
  for (const model::Illness& fact : gravest) {
    if (!out.illnesses.empty() && !out.illnesses.back().ended_ms) {
      rules::Illness& open = out.illnesses.back();
      const bool same = fact.state != model::IllnessState::well && (fact.state == model::IllnessState::fever_or_below_neck) == open.below_neck;
      if (same) continue;
      open.ended_ms = fact.ended_local_ms ? *fact.ended_local_ms : fact.by.claimed.local_ms;
    }
    if (fact.state != model::IllnessState::well)
      out.illnesses.push_back({model::to_text(fact.id), fact.day, fact.state == model::IllnessState::fever_or_below_neck, std::nullopt});
  }
}

void add_pains(const model::Athlete& athlete, rules::SessionSituation& out) {
  for (const model::Pain& pain : athlete.pains) {
    if (pain.withdrawn) continue;  // a slip of the finger, struck through
    rules::PainReport report;
    report.id = model::to_text(pain.id);
    report.day = model::day_of(pain.by.claimed);
    if (pain.session)
      if (const model::Session* session = model::find_session(athlete, *pain.session); session != nullptr && !session->training_day.empty())
        report.day = *session->training_day.first();
    report.day = reported(report.day, out);
    report.at_ms = pain.by.claimed.local_ms;
    report.at = pain.in_swim ? rules::PainAt::swim : pain.exercise.empty() && !pain.session ? rules::PainAt::check : rules::PainAt::session;
    if (pain.session) report.session_id = model::to_text(*pain.session);
    report.exercise = pain.exercise;
    const PainPart* part = find_pain_part(pain.region);
    report.joints = part == nullptr ? 0 : part->joints;
    report.region = part == nullptr ? pain.region : std::string(part->rule_word);
    report.amount = small(pain.worst());
    report.settled = pain.resolved ? std::optional<bool>(true) : pain.settled;
    out.pains.push_back(std::move(report));
  }
}

constexpr Pattern kAllPatterns[] = {Pattern::squat, Pattern::hinge, Pattern::lunge, Pattern::vertical_pull, Pattern::horizontal_pull,
                                    Pattern::push, Pattern::trunk, Pattern::shoulder_care};

// An answer "sore for 3 days" stands for three days; "nothing hurts, not sore" is a 0 for every pattern.
void add_soreness(const model::Athlete& athlete, rules::SessionSituation& out) {
  std::map<std::pair<std::int32_t, Pattern>, std::uint32_t> worst;
  for (const model::Check& check : athlete.checks)
    for (const Pattern pattern : kAllPatterns) worst.emplace(std::pair(check.day.since_1970, pattern), 0);
  for (const model::Soreness& sore : athlete.soreness) {
    const auto days = static_cast<std::int32_t>(std::clamp<std::uint64_t>(sore.days, 1, kMostSoreDays));
    for (const Pattern pattern : patterns_of_region(sore.region))
      for (std::int32_t back = 0; back < days; ++back) {
        auto& level = worst[{sore.day.since_1970 - back, pattern}];
        level = std::max(level, small(sore.level));
      }
  }
  for (const auto& [at, level] : worst) out.soreness.push_back({model::Day{at.first}, at.second, level});
}

void add_sign_offs(const model::Athlete& athlete, rules::SessionSituation& out) {
  for (const model::SignOff& sign_off : athlete.counting_sign_offs) {
    rules::SignOff fact;
    fact.id = model::to_text(sign_off.id);
    fact.exercise = sign_off.exercise;
    fact.level = sign_off.level == model::SignOffLevel::withdrawn ? rules::SignOffLevel::withdrawn
                 : sign_off.level == model::SignOffLevel::loaded  ? rules::SignOffLevel::loaded
                 : sign_off.level == model::SignOffLevel::sound   ? rules::SignOffLevel::sound
                                                                  : rules::SignOffLevel::none;
    fact.day = sign_off.day;
    fact.at_ms = sign_off.by.claimed.local_ms;
    if (sign_off.load) fact.load_g = model::grams(*sign_off.load);
    fact.note = sign_off.note.empty() ? "" : fact.id;
    out.sign_offs.push_back(std::move(fact));
  }
}

rules::SetFact set_fact(const model::SetDone& set) {
  rules::SetFact fact;
  fact.number = small(set.round);
  fact.reps = small(safest(set.reps, std::uint64_t{0}, kFewer));
  fact.load_g = lightest(set.load);
  if (!set.rir.empty()) fact.rir_halves = small(2 * std::min(safest(set.rir, std::uint64_t{0}, kFewer), kRirMost));
  if (set.side) fact.side = *set.side == model::Side::left ? rules::Side::left : rules::Side::right;
  fact.warm_up = set.warm_up;
  fact.form_broke = set.form_broke;
  fact.at_ms = set.by.claimed.local_ms;
  return fact;
}

rules::ShortReason short_reason(const model::Session& session) {
  const model::Finish* finish = session.finish.first();
  if (finish == nullptr || !finish->short_reason) return rules::ShortReason::not_given;
  switch (*finish->short_reason) {
    case model::ShortReason::no_time: return rules::ShortReason::no_time;
    case model::ShortReason::kit_busy: return rules::ShortReason::kit_busy;
    case model::ShortReason::too_hard: return rules::ShortReason::too_hard;
    case model::ShortReason::pain: return rules::ShortReason::pain;
    default: return rules::ShortReason::other;
  }
}

std::optional<rules::Written> written_of(const model::Athlete& athlete, const model::RecordId& session, const std::string& exercise) {
  const model::Decision* found = nullptr;
  for (const model::Decision& decision : athlete.decisions)
    if (decision.session == session && decision.exercise == exercise) found = &decision;
  if (found == nullptr) return std::nullopt;
  const auto standing = read_dose(found->standing);
  if (!standing) return std::nullopt;
  rules::Written written;
  written.standing = *standing;
  written.start = read_dose(found->start).value_or(rules::StandingDose{});
  for (const std::string& row : {found->gate, found->when, found->row})
    if (!row.empty()) written.rows.push_back(row);
  written.rows.insert(written.rows.end(), found->modifiers.begin(), found->modifiers.end());
  written.stands_for = found->swapped_from;
  written.passing = found->passing;
  written.by_coach = found->by_coach;
  written.cut_by_gate = found->cut_by_gate;
  if (found->ramp_step >= 1 && found->ramp_step <= 4) written.ramp_step = static_cast<rules::RampStep>(found->ramp_step);
  return written;
}

rules::SessionFact session_fact(const model::Athlete& athlete, const model::Session& session, model::Day today) {
  rules::SessionFact fact;
  fact.id = model::to_text(session.id);
  fact.day = session.training_day.empty() ? model::day_of(session.by.claimed) : *session.training_day.first();
  fact.start_ms = session.by.claimed.local_ms;
  fact.order_key = order_key(session.by);
  fact.adult_ticked_in = model::adult_ticked_in(athlete, session.id);
  fact.open = fact.day == today && session.finish.empty();
  fact.pain_answered = std::any_of(athlete.checks.begin(), athlete.checks.end(), [&](const model::Check& check) { return check.day == fact.day; }) ||
                       std::any_of(athlete.pains.begin(), athlete.pains.end(),
                                   [&](const model::Pain& pain) { return pain.session && *pain.session == session.id; });
  for (const model::SetDone& set : session.sets) {
    fact.contradiction = fact.contradiction || set.contradiction();
    if (set.left_out) continue;
    auto done = std::find_if(fact.exercises.begin(), fact.exercises.end(),
                             [&](const rules::ExerciseDone& one) { return one.exercise == set.exercise; });
    if (done == fact.exercises.end()) {
      rules::ExerciseDone one;
      one.exercise = set.exercise;
      one.short_reason = short_reason(session);
      one.written = written_of(athlete, session.id, set.exercise);
      fact.exercises.push_back(std::move(one));
      done = fact.exercises.end() - 1;
    }
    if (!set.band.empty()) done->band = set.band;
    if (!set.grip.empty()) done->grip = set.grip;
    done->two_more = done->two_more || set.two_more;
    done->sets.push_back(set_fact(set));
  }
  return fact;
}

void add_history(const model::Athlete& athlete, model::Day today, rules::SessionSituation& out) {
  const auto programme = programme_in_use(athlete);
  bool first_seen = false;
  for (const model::Session& session : athlete.sessions) {
    rules::SessionFact fact = session_fact(athlete, session, today);
    if (programme && programme->starts && !first_seen && !(fact.day < *programme->starts)) fact.first_of_programme = first_seen = true;
    out.history.push_back(std::move(fact));
  }
}

// An overruling is for one session: the first that was begun after it was written, whatever day that turned out to be.
bool still_holds(const model::Athlete& athlete, const model::Overrule& overrule, model::Day today) {
  if (today < model::day_of(overrule.by.claimed)) return false;
  return std::none_of(athlete.sessions.begin(), athlete.sessions.end(), [&](const model::Session& session) {
    const model::Day day = session.training_day.empty() ? model::day_of(session.by.claimed) : *session.training_day.first();
    return day < today && !session.sets.empty() && session.by.claimed.local_ms > overrule.by.claimed.local_ms;
  });
}

}  // namespace

std::optional<model::Programme> programme_in_use(const model::Athlete& athlete) {
  if (athlete.programme.empty()) return std::nullopt;
  model::Programme out = *athlete.programme.first();
  for (const auto& version : athlete.programme.all) {
    const model::Programme& other = version.value;
    if (rank_of(other.phase) < rank_of(out.phase)) out.phase = other.phase;
    out.starts = std::max(out.starts, other.starts);  // none is before any
    out.weeks = fewer_said(out.weeks, other.weeks);
    out.days_a_week = fewer_said(out.days_a_week, other.days_a_week);
    out.rest_between_exercises_ms = std::max(out.rest_between_exercises_ms, other.rest_between_exercises_ms);
    out.rest_between_rounds_ms = std::max(out.rest_between_rounds_ms, other.rest_between_rounds_ms);
  }
  return out;
}

const std::vector<PainPart>& pain_parts() {
  // The joints a part belongs to, and the row of the substitution table it finds [handbook 5.2].
  static const std::vector<PainPart> kParts{
      {"shoulder", joint::shoulder, "front_shoulder"}, {"elbow", joint::elbow, "elbow"},      {"wrist", joint::wrist, "wrist"},
      {"neck", joint::spine | joint::shoulder, "neck"}, {"low_back", joint::spine, "low_back"}, {"hip_groin", joint::hip, "groin"},
      {"knee", joint::knee, "front_knee"},             {"ankle", joint::ankle, "ankle"},
  };
  return kParts;
}

const PainPart* find_pain_part(std::string_view region) {
  for (const PainPart& part : pain_parts())
    if (part.region == region) return &part;
  return nullptr;
}

std::vector<Pattern> patterns_of_region(std::string_view region) {
  if (region == "shoulders_back") return {Pattern::vertical_pull, Pattern::horizontal_pull, Pattern::shoulder_care};
  if (region == "chest_arms") return {Pattern::push, Pattern::vertical_pull};
  if (region == "trunk") return {Pattern::trunk, Pattern::hinge};
  if (region == "hips_thighs") return {Pattern::squat, Pattern::hinge, Pattern::lunge};
  if (region == "calves") return {Pattern::lunge};
  return {};
}

rules::StandingDose prescribed_dose(const model::Prescription& line) {
  rules::StandingDose dose;
  dose.exercise = line.exercise.value_or("");
  const model::Rung* rung = model::find_rung(dose.exercise);
  if (rung == nullptr || rung->loaded) dose.load_g = lightest(line.load);
  // A file may say any number: no more than can be written here.
  dose.sets = small(std::min(safest(line.sets, std::uint64_t{rung == nullptr ? 1U : rung->sets}, kFewer), kMaxSets));
  dose.lo = small(std::min(safest(line.reps, std::uint64_t{rung == nullptr ? 8U : rung->lo}, kFewer), kMaxHoldSeconds));
  dose.hi = std::max(dose.lo, small(std::min(safest(line.reps_high, std::uint64_t{dose.lo}, kFewer), kMaxHoldSeconds)));
  dose.tgt_rir = small(safest(line.rir, std::uint64_t{2}, kMore));
  dose.band = line.band.value_or("");
  dose.grip = line.grip.value_or("");
  if (const auto* tempo = line.tempo.first(); tempo != nullptr && tempo->size() == 4)
    dose.tempo = {small((*tempo)[0]), small((*tempo)[1]), small((*tempo)[2]), small((*tempo)[3])};
  const std::uint64_t format = line.format.value_or(1);
  dose.format = format == 3 ? rules::Format::spread : format == 2 ? rules::Format::circuit : rules::Format::straight;
  return dose;
}

std::vector<const model::Prescription*> lines_of(const model::Athlete& athlete, std::uint64_t programme_day) {
  std::vector<const model::Prescription*> lines;
  for (const model::Prescription& line : athlete.prescriptions) {
    const std::uint64_t day = line.programme_day.value_or(0);
    const bool today = programme_day == 0 || day == 0 || day == programme_day;
    if (today && model::find_rung(line.exercise.value_or("")) != nullptr) lines.push_back(&line);
  }
  std::stable_sort(lines.begin(), lines.end(), [](const model::Prescription* a, const model::Prescription* b) {
    const std::uint64_t first = a->block.value_or(1), second = b->block.value_or(1);
    return first != second ? first < second : a->position < b->position;
  });
  return lines;
}

rules::SessionSituation situation_of(const model::Athlete& athlete, const AskedAbout& asked) {
  rules::SessionSituation out;
  out.today = asked.today;
  out.now_ms = asked.now_ms;
  out.train_now = asked.train_now;
  add_athlete(athlete, asked.today, out);
  add_kit(athlete, asked.kit, out);
  add_flags(athlete, out);
  add_illness(athlete, out);
  add_pains(athlete, out);
  add_soreness(athlete, out);
  add_sign_offs(athlete, out);
  add_history(athlete, asked.today, out);
  out.adult_ticked_in = asked.adult_expected;
  for (const model::TickIn& tick : athlete.tick_ins)
    if (!tick.withdrawn && tick.role != model::AdultRole::unsaid && tick.day == asked.today) out.adult_ticked_in = true;
  for (const model::Overrule& overrule : athlete.overrules)
    if (still_holds(athlete, overrule, asked.today)) out.overrulings.push_back({overrule.row, overrule.exercise});
  for (const model::Prescription* line : lines_of(athlete, asked.programme_day))
    out.lines.push_back(rules::present_line({prescribed(*line)}, out.history, out.pains, out.athlete, asked.today));
  return out;
}

}  // namespace slipway::app
