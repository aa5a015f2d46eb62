// What comes next, the coach's list and one athlete's report in words, good enough to print.
#include <algorithm>

#include "answers.h"
#include "app/decision_words.h"
#include "app/desk.h"
#include "app/fact_words.h"
#include "report/words.h"

namespace slipway::native::words {

using report::number;
using report::say;

namespace {

constexpr std::size_t kPage = 80;  // columns of a printed page

// A paragraph that begins at `indent` and goes on four columns further in.
std::string paragraph(const std::string& words, std::size_t indent) {
  constexpr std::size_t kHanging = 4;
  std::string out, row(indent, ' '), word;
  bool begins = true;
  const auto columns = [](const std::string& text) {
    std::size_t count = 0;
    for (const char sign : text) count += (static_cast<unsigned char>(sign) & 0xC0U) != 0x80U ? 1 : 0;
    return count;
  };
  const auto put = [&] {
    if (word.empty()) return;
    if (!begins && columns(row) + 1 + columns(word) > kPage) {
      out += row + "\n";
      row = std::string(indent + kHanging, ' ') + word;
    } else {
      row += (begins ? "" : " ") + word;
    }
    word.clear();
    begins = false;
  };
  for (const char sign : words) {
    if (sign == ' ') put();
    else word += sign;
  }
  put();
  return out + row + "\n";
}

std::string heading(const char* text_id) { return "\n" + say(text_id) + "\n"; }

std::string with_row(const std::string& sentence, const std::string& row) {
  if (sentence.empty()) return row;
  return row.empty() ? sentence : say("cli.with_row", {sentence, row});
}

std::string row_text(const Coming& coming, const app::PlanRow& row) {
  const model::Athlete& athlete = *coming.athlete;
  const std::string name = app::capital(row.rung->name);
  std::string what = row.trains() ? app::dose_words(athlete, row.decision.dose) : say(row.because().action == rules::Action::leave_out ? "cli.next_left_out" : "cli.next_stopped");
  if (row.trains() && row.decision.dose.ask_rir) what = say("cli.next_reserve", {what, number(row.decision.dose.rir)});
  std::string out = paragraph(say("cli.next_row", {row.code, name, what}), 0);
  out += paragraph(with_row(report::sentence(row.because(), app::speaking_of(athlete)), report::told(row.because()).row), 4);
  for (const rules::Reason& modifier : row.because().modifiers)
    if (const std::string words = report::sentence(modifier, app::speaking_of(athlete)); &modifier != &report::told(row.because()) && !words.empty()) out += paragraph(with_row(words, modifier.row), 4);
  for (const std::string& entry : app::entries_behind(coming.plan, report::told(row.because()), row.decision.line, coming.plan.today)) out += paragraph(entry, 4);
  return out;
}

std::string coming_text(const Coming& coming) {
  const app::DayPlan& plan = coming.plan;
  const report::Speaking speaking = app::speaking_of(*coming.athlete);
  std::string out = paragraph(say("cli.next_head", {model::weekday_date(plan.today), plan.programme_day == 2 ? "B" : "A"}), 0);
  if (!plan.may_train()) return out + paragraph(with_row(say("cli.next_none", {report::sentence(plan.decision.gate, speaking)}), plan.decision.gate.row), 4);
  if (plan.decision.when != rules::When::today)
    out += paragraph(with_row(say("cli.next_moves", {report::sentence(plan.decision.when_row, speaking)}), plan.decision.when_row.row), 4);
  if (said_no(*coming.athlete, model::ConsentThing::training_log, plan.today))
    out += paragraph(say("state.consent_no_title") + ". " + say("state.consent_no_words"), 4);
  for (const app::PlanRow& row : plan.rows) out += row_text(coming, row);
  return out;
}

std::string set_text(const model::SetDone& set) {
  if (set.left_out) return say("cli.report_left_out", {number(set.round)});
  std::string dose = app::set_words(set.exercise, set.reps.value_or(0), set.load.empty() ? std::nullopt : std::optional(*set.load.first()), set.band);
  if (!set.rir.empty()) dose = say("cli.set_reserve", {dose, number(*set.rir.first())});
  if (set.warm_up) dose = say("cli.report_warm_up", {dose});
  return set.corrected ? say("cli.report_corrected", {dose}) : dose;
}

// The decision that stood on the board for an exercise; the newest if it was shown anew.
const model::Decision* shown_for(const model::Athlete& athlete, const model::Session& session, const std::string& exercise) {
  const model::Decision* found = nullptr;
  for (const model::Decision& shown : athlete.decisions)
    if (shown.session == session.id && shown.exercise == exercise) found = &shown;
  return found;
}

std::string session_text(const model::Athlete& athlete, const model::Session& session) {
  std::string head = say("cli.report_session", {model::weekday_date(app::day_of_session(session)), session.programme_day == 2U ? "B" : "A"});
  if (!session.finish.empty()) {
    const model::Finish& finish = *session.finish.first();
    const auto add = [&head](const std::string& more) { head = say("dose.and", {head, more}); };
    add(say("cli.report_finished"));
    if (finish.minutes) add(say("cli.report_minutes", {number(*finish.minutes)}));
    if (finish.effort_tenths) add(say("cli.report_effort", {number(app::effort_of(finish))}));
    if (finish.short_reason) add(app::short_words(*finish.short_reason));
  }
  std::string out = paragraph(head, 0);
  if (session.sets.empty()) out += paragraph(say("cli.report_no_sets"), 4);
  std::vector<std::string> order;
  for (const model::SetDone& set : session.sets)
    if (std::find(order.begin(), order.end(), set.exercise) == order.end()) order.push_back(set.exercise);
  for (const std::string& exercise : order) {
    std::string sets;
    for (const model::SetDone& set : session.sets)
      if (set.exercise == exercise) sets += (sets.empty() ? "" : "; ") + set_text(set);
    out += paragraph(say("cli.report_sets", {app::capital(app::movement_name(exercise)), sets}), 4);
    if (const model::Decision* shown = shown_for(athlete, session, exercise)) out += paragraph(with_row(app::reason_shown(athlete, *shown), shown->row), 8);
  }
  return out;
}

std::string body_text(const Report& report) {
  const model::Athlete& athlete = *report.coming.athlete;
  std::string out;
  for (const model::RedFlag& flag : athlete.red_flags)
    if (report.shows(flag.day))
      out += paragraph(say(model::is_cleared(athlete, flag.id) ? "cli.report_flag_cleared" : "cli.report_flag", {model::weekday_date(flag.day), app::flag_words(flag.flag)}), 0);
  for (const model::Pain& pain : athlete.pains) {
    const model::Day day = model::day_of(pain.by.claimed);
    if (!report.shows(day)) continue;
    const std::string words = say("cli.report_pain", {model::weekday_date(day), pain_place(pain), number(pain.worst())});
    out += paragraph(pain.resolved || pain.withdrawn ? say("cli.report_over", {words}) : words, 0);
  }
  for (const model::Soreness& sore : athlete.soreness)
    if (report.shows(sore.day) && sore.level > 0)
      out += paragraph(say("cli.report_sore", {model::weekday_date(sore.day), app::sore_words(sore.region), app::sore_since(sore)}), 0);
  for (const model::Illness& ill : athlete.illnesses)
    if (report.shows(ill.day))
      out += paragraph(say(ill.state == model::IllnessState::well ? "cli.report_well" : ill.state == model::IllnessState::head_cold ? "cli.report_cold" : "cli.report_ill",
                           {model::weekday_date(ill.day)}), 0);
  std::string fine;
  for (const model::Check& check : athlete.checks)
    if (report.shows(check.day)) fine = fine.empty() ? model::weekday_date(check.day) : say("dose.and", {fine, model::weekday_date(check.day)});
  if (!fine.empty()) out += paragraph(say("cli.report_checks", {fine}), 0);
  for (const model::BodyMass& mass : athlete.body_masses)
    if (report.shows(mass.day)) out += paragraph(say("cli.report_mass", {model::weekday_date(mass.day), model::to_text(mass.mass)}), 0);
  return out;
}

// Group, limits, the days of the week, kits.
std::string who_text(const model::Athlete& athlete) {
  std::string out;
  if (!athlete.birth_year.empty()) out += paragraph(say("cli.athlete_born", {number(*athlete.birth_year.first())}), 0);
  if (!athlete.group.empty()) out += paragraph(say("cli.report_group", {app::words_of(app::known_groups(), *athlete.group.first())}), 0);
  std::string limits;
  for (const std::string& one : athlete.limitations) {
    const std::string limit = app::words_of(app::known_limits(), one);
    limits = limits.empty() ? limit : say("dose.and", {limits, limit});
  }
  if (!limits.empty()) out += paragraph(say("cli.report_limits", {limits}), 0);
  std::string days;
  for (std::size_t i = 0; i < athlete.training_days.size(); ++i)
    if (athlete.training_days[i]) days = days.empty() ? say(app::week_texts()[i]) : say("dose.and", {days, say(app::week_texts()[i])});
  if (!days.empty()) out += paragraph(say("cli.report_days", {days}), 0);
  for (const model::Kit& kit : athlete.kits) {
    std::string has;
    const auto add = [&has](const std::string& one) { has = has.empty() ? one : say("dose.and", {has, one}); };
    for (const model::Quantity& load : kit.loads) add(model::to_text(load));
    for (const std::string& band : kit.bands) add(say("dose.band", {app::words_of(app::known_bands(), band)}));
    for (const std::string& thing : kit.equipment) add(app::words_of(app::known_equipment(), thing));
    out += paragraph(say(kit.name.empty() ? "cli.report_kit_only" : "cli.report_kit", {kit.name, has.empty() ? say("cli.report_kit_unsaid") : has}), 0);
  }
  return out;
}

std::string adults_text(const Report& report) {
  const model::Athlete& athlete = *report.coming.athlete;
  std::string out;
  const auto note = [](const std::string& words) { return words.empty() ? words : say("swimmer.note", {words}); };
  for (const model::SignOff& seen : athlete.sign_offs) {
    if (!report.shows(seen.day)) continue;
    const char* level = seen.level == model::SignOffLevel::loaded ? "cli.report_loaded" : seen.level == model::SignOffLevel::sound ? "cli.report_sound"
                        : seen.level == model::SignOffLevel::withdrawn ? "cli.report_withdrawn" : "cli.report_not_yet";
    out += paragraph(say(level, {model::weekday_date(seen.day), app::capital(app::movement_name(seen.exercise)), note(seen.note)}), 0);
  }
  for (const model::Overrule& overrule : athlete.overrules)
    if (report.shows(overrule.day)) out += paragraph(say("cli.report_overruled", {model::weekday_date(overrule.day), overrule.row, note(overrule.note)}), 0);
  for (const model::Clearance& clearance : athlete.clearances)
    if (report.shows(clearance.day)) out += paragraph(say("cli.report_cleared", {model::weekday_date(clearance.day), app::region_words(clearance.covers), note(clearance.note)}), 0);
  for (const model::TickIn& tick : athlete.tick_ins) {
    if (!report.shows(tick.day) || tick.withdrawn) continue;
    const std::string line = say("cli.report_tick_in", {model::weekday_date(tick.day), app::adult_words(tick.role)});
    out += paragraph(tick.second_adult ? say("dose.and", {line, say("cli.report_second")}) : line, 0);
  }
  for (const model::Consent& consent : athlete.consents)
    if (report.shows(consent.day))
      out += paragraph(say(consent.given ? "cli.report_consent" : "cli.report_no_consent",
                           {model::weekday_date(consent.day), app::thing_words(consent.thing),
                            say(consent.from == model::ConsentBy::guardian ? "cli.from_guardian" : consent.from == model::ConsentBy::young_person ? "cli.from_young" : "cli.from_unsaid")}), 0);
  return out;
}

}  // namespace

std::string fact_set(const Person& who, const std::string& fact) { return say("cli.said_plan_set", {who.name, fact}) + "\n"; }

std::string pain_place(const model::Pain& pain) {
  const std::string region = app::region_words(pain.region), side = app::side_words(pain);
  return side.empty() ? region : region + ", " + side;
}

std::string noted(const NotedFact& fact) {
  return say("cli.said_noted", {fact.what, fact.who.name, model::iso(fact.day), short_entry(fact.entry)}) + "\n" + (fact.care.empty() ? "" : paragraph(fact.care, 0));
}

std::string coming(const Coming& coming) { return say("cli.athlete_head", {coming.who.name, short_id(coming.who.id)}) + "\n" + coming_text(coming); }

std::string squad(const SquadList& list) {
  std::string sealed;
  for (const std::string& name : list.sealed) sealed += say("cli.squad_sealed", {name}) + "\n";
  if (list.lines.empty()) return (sealed.empty() ? say("squad.needs_none") + "\n" : "") + sealed;
  std::string out = sealed + say("cli.squad_head", {number(list.lines.size()), number(list.athletes)}) + "\n";
  for (std::size_t i = 0; i < list.lines.size(); ++i) {
    const SquadList::Line& line = list.lines[i];
    const app::NeedFact& first = line.facts.front();
    out += paragraph(say("cli.squad_line", {number(i + 1), line.who.name, with_row(first.sentence, first.row)}), 0);
    for (std::size_t more = 1; more < line.facts.size(); ++more) out += paragraph(with_row(line.facts[more].sentence, line.facts[more].row), 4);
  }
  return out;
}

std::string report(const Report& report) {
  const model::Athlete& athlete = *report.coming.athlete;
  std::string out = say("cli.report_head", {report.coming.who.name, model::weekday_date(report.day)}) + "\n";
  out += who_text(athlete);
  if (!report.needs.empty()) {
    out += heading("cli.report_needs");
    for (const app::NeedFact& fact : report.needs) out += paragraph(with_row(fact.sentence, fact.row), 0);
  }
  out += heading("cli.report_next");
  out += athlete.prescriptions.empty() ? paragraph(say("plan.none", {report.coming.who.name}), 0) : coming_text(report.coming);
  if (!athlete.prescriptions.empty()) out += heading("cli.report_plan");
  for (const std::string& line : plan_lines(athlete)) out += paragraph(line, 0);
  std::string sessions;
  for (auto session = athlete.sessions.rbegin(); session != athlete.sessions.rend(); ++session)
    if (report.shows(app::day_of_session(*session))) sessions += session_text(athlete, *session);
  if (!sessions.empty()) out += heading("cli.report_sessions") + sessions;
  if (const std::string body = body_text(report); !body.empty()) out += heading("cli.report_body") + body;
  if (const std::string adults = adults_text(report); !adults.empty()) out += heading("cli.report_adults") + adults;
  if (const std::uint64_t twice = app::contradictions_of(athlete); twice > 0) out += "\n" + paragraph(app::count_words(twice, "squad.twice_one", "squad.twice_many"), 0);
  if (!report.missing.empty()) {
    std::uint64_t entries = 0;
    for (const app::MissingStretch& gap : report.missing) entries += gap.last - gap.first + 1;
    out += "\n" + paragraph(app::count_words(entries, "squad.missing_one", "squad.missing_many"), 0);
  }
  return out;
}

}  // namespace slipway::native::words
