// What is said about an athlete's body and session, and what an adult answers for.
#include <algorithm>
#include <array>
#include <utility>

#include "answers.h"
#include "app/decision_words.h"
#include "app/desk.h"
#include "app/fact_words.h"
#include "commands.h"
#include "report/words.h"

namespace slipway::native {

namespace {

using model::ErrorKind;
using Noted = model::Result<model::RecordId>;

template <class T>
using Choices = std::vector<std::pair<std::string_view, T>>;

// The choice a word names. Errors: invalid "cli.choice", with what may be said.
template <class T>
model::Result<T> choose(const char* what, const std::string& word, const Choices<T>& known) {
  std::string all;
  for (const auto& [name, value] : known) {
    if (name == word) return value;
    all += (all.empty() ? "" : ", ") + std::string(name);
  }
  return model::error(ErrorKind::invalid, "cli.choice", {what, word, all});
}

const Choices<std::uint64_t> kBands{{"little", 1}, {"hurts", 2}, {"lot", 3}};
const Choices<std::uint64_t> kSides{{"left", 1}, {"right", 2}, {"both", 3}};
const Choices<bool> kYesNo{{"yes", true}, {"no", false}};
const Choices<model::ShortReason> kShort{{"no_time", model::ShortReason::no_time}, {"kit_busy", model::ShortReason::kit_busy},
                                         {"too_hard", model::ShortReason::too_hard}, {"pain", model::ShortReason::pain}, {"other", model::ShortReason::other}};
constexpr std::uint64_t kAnyTooMuch = 1'000'000;  // refused as such, and its multiples do not wrap around
const Choices<model::IllnessState> kIllness{{"well", model::IllnessState::well}, {"head_cold", model::IllnessState::head_cold},
                                            {"below_neck", model::IllnessState::fever_or_below_neck}};
const Choices<model::SignOffLevel> kLevels{{"sound", model::SignOffLevel::sound}, {"loaded", model::SignOffLevel::loaded}};
const Choices<model::AdultRole> kRoles{{"coach", model::AdultRole::coach}, {"assistant", model::AdultRole::assistant}, {"guardian", model::AdultRole::guardian}};
const Choices<model::ClearanceRole> kClearers{{"self", model::ClearanceRole::self}, {"coach", model::ClearanceRole::coach}, {"guardian", model::ClearanceRole::guardian}};
const Choices<model::ConsentThing> kThings{{"training_log", model::ConsentThing::training_log}, {"pain_and_soreness", model::ConsentThing::pain_and_soreness},
                                           {"body_measures", model::ConsentThing::body_measures}, {"wellness", model::ConsentThing::wellness}};
const Choices<model::ConsentBy> kGivers{{"guardian", model::ConsentBy::guardian}, {"young_person", model::ConsentBy::young_person}};

struct At {  // whom and when a note is about
  app::Book& book;
  const Request& asked;
  model::ScopeId who;
  model::Day day;

  const model::Athlete& athlete() { return book.athlete(who); }
  std::optional<model::RecordId> session() {
    const model::Session* found = model::session_on(athlete(), day);
    return found == nullptr ? std::nullopt : std::optional(found->id);
  }
};

model::Result<model::Quantity> quantity(const std::string& text) { return model::read_quantity(text, model::Unit::kg); }

// ---- the session and the body ----------------------------------------------------------------------------

Noted finish(At at) {
  if (const auto may = may_write(at.athlete(), model::ConsentThing::training_log, at.day); !may) return may.error();
  const auto session = at.session();
  if (!session) return model::error(ErrorKind::not_found, "cli.no_session", {model::iso(at.day)});
  const model::Session* known = model::session_on(at.athlete(), at.day);
  model::Finish entry = known->finish.value_or({});  // what was said before and is not said anew stays
  if (at.asked.effort) entry.effort_tenths = std::min(*at.asked.effort, kAnyTooMuch) * 10;
  if (at.asked.minutes) entry.minutes = at.asked.minutes;
  if (!at.asked.short_reason.empty()) {
    const auto reason = choose("--short", at.asked.short_reason, kShort);
    if (!reason) return reason.error();
    entry.short_reason = *reason;
  }
  return at.book.finish_session(at.who, *session, entry, at.asked.author);
}

Noted pain(At at) {
  if (const auto may = may_write(at.athlete(), model::ConsentThing::pain_and_soreness, at.day); !may) return may.error();
  if (app::find_pain_part(at.asked.region) == nullptr) {
    std::string all;
    for (const app::PainPart& part : app::pain_parts()) all += (all.empty() ? "" : ", ") + std::string(part.region);
    return model::error(ErrorKind::invalid, "cli.choice", {"PART", at.asked.region, all});
  }
  if (at.asked.band.empty() == !at.asked.amount.has_value()) return model::error(ErrorKind::invalid, "cli.pain_how_much");
  model::Pain entry;
  entry.region = at.asked.region;
  entry.amount = at.asked.amount;
  entry.exercise = at.asked.exercise;
  entry.session = at.session();
  if (!at.asked.band.empty()) {
    const auto band = choose("--band", at.asked.band, kBands);
    if (!band) return band.error();
    entry.band = *band;
  }
  if (!at.asked.side.empty()) {
    const auto side = choose("--side", at.asked.side, kSides);
    if (!side) return side.error();
    entry.side = *side;
  }
  return at.book.note_pain(at.who, entry, at.asked.author);
}

// "Normal next morning?" of the newest report of the part that was not answered yet.
Noted settled(At at) {
  const auto answer = choose("ANSWER", at.asked.yes_no, kYesNo);
  if (!answer) return answer.error();
  std::optional<model::RecordId> found;
  bool answered = true;
  for (const model::Pain& report : at.athlete().pains) {
    if (report.region != at.asked.region || report.withdrawn || (report.settled && !answered)) continue;
    found = report.id;  // where all are answered, the newest answer is given anew
    answered = report.settled.has_value();
  }
  if (!found) return model::error(ErrorKind::not_found, "cli.no_pain", {at.asked.region});
  if (const auto kept = at.book.settle_pain(at.who, *found, *answer, at.asked.author); !kept) return kept.error();
  return *found;
}

// The newest report of the part that still stands; it stays on record, struck through.
Noted over(At at) {
  std::optional<model::RecordId> found;
  for (const model::Pain& report : at.athlete().pains)
    if (report.region == at.asked.region && !report.withdrawn && !report.resolved) found = report.id;
  if (!found) return model::error(ErrorKind::not_found, "cli.no_pain_stands", {at.asked.region});
  const auto how = at.asked.slip ? app::Book::PainEnd::withdrawn : app::Book::PainEnd::resolved;
  if (const auto kept = at.book.end_pain(at.who, *found, how, "", at.asked.author); !kept) return kept.error();
  return *found;
}

Noted sore(At at) {
  if (const auto may = may_write(at.athlete(), model::ConsentThing::pain_and_soreness, at.day); !may) return may.error();
  model::Soreness entry;
  entry.region = at.asked.region;
  entry.level = at.asked.days == 0U ? 0 : at.asked.hinders ? 3 : 2;  // clear; hinders movement [1.12]
  entry.days = at.asked.days.value_or(1);
  entry.day = at.day;
  entry.session = at.session();
  if (const auto kept = at.book.note_soreness(at.who, {entry}, at.asked.author); !kept) return kept.error();
  return at.athlete().soreness.back().id;
}

Noted flag(At at) {
  std::string all;
  for (const app::FlagWord& known : app::known_flags()) {
    if (known.flag == at.asked.flag) {
      model::RedFlag entry;
      entry.flag = at.asked.flag;
      entry.group = known.group;
      entry.day = at.day;
      return at.book.note_red_flag(at.who, entry, at.asked.author);
    }
    all += (all.empty() ? "" : ", ") + std::string(known.flag);
  }
  return model::error(ErrorKind::invalid, "cli.choice", {"SIGN", at.asked.flag, all});
}

Noted mass(At at) {
  if (const auto may = may_write(at.athlete(), model::ConsentThing::body_measures, at.day); !may) return may.error();
  const auto typed = quantity(at.asked.value);
  if (!typed) return typed.error();
  model::BodyMass entry;
  entry.mass = *typed;
  entry.day = at.day;
  return at.book.note_body_mass(at.who, entry, at.asked.author);
}

Noted illness(At at) {
  const auto state = choose("STATE", at.asked.state, kIllness);
  if (!state) return state.error();
  model::Illness entry;
  entry.state = *state;
  entry.day = at.day;
  if (*state == model::IllnessState::well) entry.ended_local_ms = at.book.now().local_ms;
  return at.book.note_illness(at.who, entry, at.asked.author);
}

// ---- what an adult answers for ---------------------------------------------------------------------------

Noted sign_off(At at) {
  const auto level = choose("LEVEL", at.asked.level, kLevels);
  if (!level) return level.error();
  const auto role = choose("--role", at.asked.role, kRoles);
  if (!role) return role.error();
  model::SignOff entry;
  entry.exercise = at.asked.exercise;
  entry.level = *level;
  entry.reps = at.asked.reps;
  entry.note = at.asked.note;
  entry.day = at.day;
  entry.role = *role;
  if (at.asked.load) {
    const auto load = quantity(*at.asked.load);
    if (!load) return load.error();
    entry.load = *load;
  }
  return at.book.sign_off(at.who, entry, at.asked.author);
}

Noted withdraw(At at) {
  const auto role = choose("--role", at.asked.role, kRoles);
  if (!role) return role.error();
  return at.book.withdraw_sign_off(at.who, at.asked.exercise, at.asked.note, at.day, *role, at.asked.author);
}

// What an adult answers for is not the swimmer's to say, whatever role is named.
bool says_it_alone(At at) { return at.asked.author == app::Author::swimmer && model::is_youth(at.athlete(), at.day); }

Noted tick_in(At at) {
  if (says_it_alone(at)) return model::error(ErrorKind::invalid, "cli.adult_says");
  if (model::day_of(at.book.now()) < at.day) return model::error(ErrorKind::invalid, "cli.tick_ahead", {model::iso(at.day)});
  const auto role = choose("--role", at.asked.role, kRoles);
  if (!role) return role.error();
  const app::DayPlan plan = app::plan_day(at.athlete(), {.today = at.day, .now_ms = at.book.now().local_ms, .kit = {}, .train_now = {}, .programme_day = {}});
  const auto session = at.book.begin_session(at.who, at.day, plan.programme_day, {}, at.asked.author);
  if (!session) return session.error();
  model::TickIn entry;
  entry.session = *session;
  entry.role = *role;
  entry.second_adult = at.asked.second_adult;
  entry.day = at.day;  // of an earlier session: afterwards, and who said it when stays on record [W03]
  return at.book.tick_in(at.who, entry, at.asked.author);
}

Noted consent(At at) {
  const auto thing = choose("THING", at.asked.state, kThings);
  if (!thing) return thing.error();
  const auto given = choose("ANSWER", at.asked.yes_no, kYesNo);
  if (!given) return given.error();
  const auto from = choose("--from", at.asked.from, kGivers);
  if (!from) return from.error();
  if (says_it_alone(at) && *from != model::ConsentBy::young_person) return model::error(ErrorKind::invalid, "cli.adult_says");
  model::Consent entry;
  entry.thing = *thing;
  entry.given = *given;
  entry.from = *from;
  entry.day = at.day;
  return at.book.give_consent(at.who, entry, at.asked.author);
}

Noted clear(At at) {
  const auto role = choose("--role", at.asked.role, kClearers);
  if (!role) return role.error();
  model::Clearance entry;
  entry.covers = at.asked.region;
  entry.note = at.asked.note;
  entry.role = *role;
  entry.day = at.day;
  entry.clinician_allowed = at.asked.clinician;
  const model::Athlete& athlete = at.athlete();
  if (entry.covers != "general" && app::find_pain_part(entry.covers) == nullptr) {
    std::string all = "general";
    for (const app::PainPart& part : app::pain_parts()) all += ", " + std::string(part.region);
    return model::error(ErrorKind::invalid, "cli.choice", {"PART", entry.covers, all});
  }
  for (const model::RedFlag& report : athlete.red_flags) {
    const std::string covers = report.group == model::FlagGroup::local ? report.region : "general";
    if (covers == entry.covers && !model::is_cleared(athlete, report.id)) entry.reports.push_back(report.id);
  }
  for (const model::Pain& report : athlete.pains)
    if (report.region == entry.covers && !report.withdrawn && !model::is_cleared(athlete, report.id)) entry.reports.push_back(report.id);
  return at.book.note_clearance(at.who, entry, at.asked.author);
}

// The line of the session that comes whose exercise is named, as it stands or as it was written.
const app::PlanRow* row_for(const app::DayPlan& plan, const std::string& exercise) {
  for (const app::PlanRow& row : plan.rows)
    if (row.rung->id == exercise || row.decision.line == exercise || row.decision.standing.exercise == exercise) return &row;
  return nullptr;
}

// The rows that are in force: of one line, or of the session.
std::vector<std::string> rows_in_force(const app::DayPlan& plan, const app::PlanRow* row) {
  if (row != nullptr) return {row->because().row.row};
  std::vector<std::string> all;
  const auto add = [&all](const std::string& one) {
    if (!one.empty() && one != "TODAY" && std::find(all.begin(), all.end(), one) == all.end()) all.push_back(one);  // "today" is no row to overrule
  };
  add(plan.decision.whether != rules::Whether::normal ? plan.decision.gate.row : plan.decision.when_row.row);
  for (const app::PlanRow& one : plan.rows)
    for (const rules::Reason& modifier : one.because().modifiers) add(modifier.row);
  return all;
}

// What is overruled has to be in force at the session that comes. A dose given with it is written into the line, as the coach's own.
Noted overrule(At at) {
  const std::string& name = at.asked.who;  // as it was said: it names one athlete, where the name alone may name two
  if (model::find_rung(at.asked.row) != nullptr) return model::error(ErrorKind::invalid, "cli.overrule_row", {at.asked.row, name});
  const app::DayPlan plan = app::coming_plan(at.athlete(), {.today = at.day, .now_ms = at.book.now().local_ms, .kit = {}, .train_now = {}, .programme_day = {}});
  const app::PlanRow* row = at.asked.exercise.empty() ? nullptr : row_for(plan, at.asked.exercise);
  if (!at.asked.exercise.empty() && row == nullptr) return model::error(ErrorKind::invalid, "cli.overrule_no_line", {at.asked.exercise, name});
  const auto in_force = rows_in_force(plan, row);
  if (std::find(in_force.begin(), in_force.end(), at.asked.row) == in_force.end()) {
    std::string all;
    for (const app::PlanRow& one : plan.rows)
      if (row == nullptr && one.because().row.row == at.asked.row) all += (all.empty() ? "" : ", ") + one.rung->id;
    if (!all.empty()) return model::error(ErrorKind::invalid, "cli.overrule_say_line", {at.asked.row, name, all});
    for (const std::string& one : in_force) all += (all.empty() ? "" : ", ") + one;
    return model::error(ErrorKind::invalid, "cli.overrule_not_now", {at.asked.row, name, all.empty() ? report::say("cli.overrule_no_row") : all});
  }
  model::Overrule entry;
  entry.row = at.asked.row;
  if (row != nullptr) entry.exercise = row->decision.line.empty() ? row->decision.standing.exercise : row->decision.line;
  entry.note = at.asked.note;
  entry.day = at.day;
  app::PlanLineEntry change;
  const bool own = at.asked.sets || at.asked.reps || at.asked.load;
  entry.choice = own ? "own" : "as_planned";
  if (own && row == nullptr) return model::error(ErrorKind::invalid, "cli.overrule_which");
  if (own) {
    const rules::StandingDose standing = row->decision.standing;
    change.exercise = standing.exercise;
    change.sets = entry.sets = at.asked.sets.value_or(standing.sets);
    change.reps = entry.reps = at.asked.reps.value_or(standing.lo);
    change.reps_high = entry.reps_high = std::max(*change.reps, at.asked.reps_high.value_or(at.asked.reps ? *at.asked.reps : standing.hi));
    if (standing.load_g) change.load = app::load_as_here(at.athlete(), *standing.load_g);
    if (at.asked.load) {
      const auto load = quantity(*at.asked.load);
      if (!load) return load.error();
      change.load = *load;
    }
    entry.load = change.load;
  }
  const std::optional<model::RecordId> line = row == nullptr ? std::nullopt : std::optional(row->line);
  const auto kept = at.book.overrule(at.who, entry, at.asked.author);
  if (!kept || !own) return kept;
  if (const auto written = at.book.change_plan_line(at.who, *line, change, at.asked.author); !written) return written.error();
  return kept;
}

// What was said calls for something now, and whoever typed it reads it here [handbook 2.6, 2.7].
std::string care_of(const model::Athlete& athlete, const model::RecordId& entry) {
  for (const model::RedFlag& flag : athlete.red_flags)
    if (flag.id == entry) return flag.group == model::FlagGroup::emergency ? report::say("stop.what") + " " + report::say("stop.who") : report::say("cli.care_flag");
  for (const model::Pain& pain : athlete.pains)
    if (pain.id == entry && pain.worst() >= model::kFirmPain) return report::say("cli.care_pain");
  return {};
}

int note(Desk& desk, Noted (*make)(At at), const char* said) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = desk.book().find_athlete(desk.request().who);
  if (!who) return desk.refuse(who.error());
  const auto day = desk.day();
  if (!day) return desk.refuse(day.error());
  const auto noted = make({desk.book(), desk.request(), *who, *day});
  if (!noted) return desk.refuse(noted.error());
  if (const auto kept = desk.kept(); !kept) return desk.refuse(kept.error());
  NotedFact fact{{*who, desk.book().athlete(*who).name.value_or("")}, said, *noted, *day};
  fact.care = care_of(desk.book().athlete(*who), *noted);
  return desk.answer(json::noted(fact), words::noted(fact));
}

}  // namespace

bool said_no(const model::Athlete& athlete, model::ConsentThing thing, model::Day day) {
  return model::asks_consent(athlete, day) && !model::consent_for(athlete, thing).value_or(true);
}

model::Result<model::Done> may_write(const model::Athlete& athlete, model::ConsentThing thing, model::Day day) {
  if (!said_no(athlete, thing, day)) return model::Done{};
  return model::error(ErrorKind::invalid, thing == model::ConsentThing::pain_and_soreness ? "cli.consent_no_pain" : "cli.consent_no",
                      {athlete.name.value_or(""), app::thing_words(thing)});
}

int run_note(Desk& desk) {
  switch (desk.request().command) {
    case Command::note_finish: return note(desk, finish, "finish");
    case Command::note_pain: return note(desk, pain, "pain");
    case Command::note_settled: return note(desk, settled, "settled");
    case Command::note_over: return note(desk, over, "pain_over");
    case Command::note_sore: return note(desk, sore, "soreness");
    case Command::note_flag: return note(desk, flag, "red_flag");
    case Command::note_mass: return note(desk, mass, "body_mass");
    case Command::note_illness: return note(desk, illness, "illness");
    default: break;
  }
  return note(
      desk,
      [](At at) -> Noted {
        if (const auto may = may_write(at.athlete(), model::ConsentThing::pain_and_soreness, at.day); !may) return may.error();
        return at.book.note_check(at.who, at.day, at.session(), at.asked.author);
      },
      "check");
}

// A session that stands on a wrong day: of a clock that was wrong, or logged the day after.
int run_log_move(Desk& desk) {
  return note(
      desk,
      [](At at) -> Noted {
        const auto from = model::read_day(at.asked.since), to = model::read_day(at.asked.to);
        if (!from) return from.error();
        if (!to) return to.error();
        if (model::day_of(at.book.now()) < *to) return model::error(ErrorKind::invalid, "cli.move_ahead", {model::iso(*to)});
        at.day = *from;
        const auto session = at.session();
        if (!session) return model::error(ErrorKind::not_found, "cli.no_session", {model::iso(*from)});
        if (const auto moved = at.book.move_session(at.who, *session, *to, at.asked.author); !moved) return moved.error();
        return *session;
      },
      "session_day");
}

int run_adult(Desk& desk) {
  switch (desk.request().command) {
    case Command::sign_off: return note(desk, sign_off, "sign_off");
    case Command::withdraw: return note(desk, withdraw, "withdrawal");
    case Command::tick_in: return note(desk, tick_in, "tick_in");
    case Command::consent: return note(desk, consent, "consent");
    case Command::clear: return note(desk, clear, "clearance");
    default: break;
  }
  return note(desk, overrule, "overruling");
}

}  // namespace slipway::native
