// What a swimmer's page shows. What the coach does there: swimmer_acts.cpp.
#include "app/swimmer_desk.h"

#include <algorithm>

#include "app/situation.h"
#include "report/reasons.h"
#include "report/words.h"
#include "rules/sign_off.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

constexpr std::int32_t kSignOffDays = 84;   // [handbook 6.8]
constexpr std::int32_t kWordsDays = 14;     // what was said this long ago is shown
constexpr std::size_t kWordsShown = 4, kOverrulingsShown = 3, kSessionsShown = 4, kNotesShown = 5;
constexpr std::uint64_t kHurts = 3;         // from here a clearance may be asked for [2.6]

std::string phase_words(const model::Athlete& athlete, model::Day today) {
  const auto programme = programme_in_use(athlete);
  if (!programme) return {};
  const std::string phase = phase_word(programme->phase);
  if (!programme->starts || today < *programme->starts) return phase;
  const auto week = static_cast<std::uint64_t>((today.since_1970 - programme->starts->since_1970) / 7 + 1);
  if (programme->weeks == 0) return say("swimmer.week", {phase, number(week)});
  return say("swimmer.week_of", {phase, number(std::min(week, programme->weeks)), number(programme->weeks)});
}

std::string who_line(const model::Athlete& athlete, model::Day today) {
  const auto ages = model::ages_on(athlete, today);
  const std::string age = !ages ? say("swimmer.age_unknown")
                          : ages->lowest == ages->highest ? say("swimmer.age", {std::to_string(ages->lowest)})
                                                          : say("swimmer.age_range", {std::to_string(ages->lowest), std::to_string(ages->highest)});
  const std::string phase = phase_words(athlete, today);
  return phase.empty() ? age : say("swimmer.line", {age, phase});
}

screens::Icon icon_of(const PlanRow& row) {
  if (!row.trains() || !row.swapped_from.empty()) return screens::Icon::pain;
  if (row.waits_for_sign_off) return screens::Icon::signoff;
  if (row.held) return screens::Icon::held;
  return row.decision.increase ? screens::Icon::up : screens::Icon::land;
}

std::string note_words(const std::string& note) { return note.empty() ? "" : say("swimmer.note", {note}); }

std::string overrule_choice(const std::string& choice) {
  if (choice == "hold") return say("swimmer.did_hold");
  if (choice == "lighter") return say("swimmer.did_lighter");
  if (choice == "as_planned") return say("swimmer.did_as_planned");
  if (choice == "own") return say("swimmer.did_own");
  return choice;
}

}  // namespace

model::SignOffLevel level_to_sign(const model::Athlete& athlete, std::string_view exercise, model::Day today) {
  const model::Rung* rung = model::find_rung(exercise);
  const model::SignOff* last = model::counting_sign_off(athlete, exercise);
  const bool looked_at_before = last != nullptr && last->day < today && (last->level == model::SignOffLevel::sound || last->level == model::SignOffLevel::loaded);
  return rung != nullptr && rung->loaded && looked_at_before ? model::SignOffLevel::loaded : model::SignOffLevel::sound;
}

void SwimmerDesk::open(const model::ScopeId& scope) {
  if (scope_ && *scope_ == scope) return;
  close();
  scope_ = scope;
}

void SwimmerDesk::close() {
  scope_.reset();
  plan_.reset();
  why_open_.clear();
  ask_.reset();
}

const DayPlan& SwimmerDesk::plan(Desk& desk) {
  const std::pair asked_for(desk.book.revision(), desk.today);
  if (!plan_ || planned_for_ != asked_for) {
    plan_ = coming_plan(desk.book.athlete(*scope_), {.today = desk.today, .now_ms = desk.now_ms, .kit = {}, .train_now = {}, .programme_day = {}});
    planned_for_ = asked_for;
  }
  return *plan_;
}

bool SwimmerDesk::session_decides(Desk& desk) {
  const rules::SessionDecision& decision = plan(desk).decision;
  return decision.whether != rules::Whether::normal || decision.when != rules::When::today;
}

const PlanRow* SwimmerDesk::row_at(Desk& desk, std::size_t decision) {
  const std::size_t first = session_decides(desk) ? 1 : 0;
  const auto& rows = plan(desk).rows;
  return decision < first || decision - first >= rows.size() ? nullptr : &rows[decision - first];
}

rules::StandingDose SwimmerDesk::standing_of(Desk& desk, const PlanRow& row) {
  const DayPlan& now = plan(desk);
  const auto lines = lines_of(desk.book.athlete(*scope_), now.programme_day);
  for (std::size_t i = 0; i < lines.size() && i < now.situation.lines.size(); ++i)
    if (lines[i]->id == row.line) return now.situation.lines[i].standing;
  return row.decision.standing;
}

std::string SwimmerDesk::row_overruled(Desk& desk, std::size_t decision) {
  if (const PlanRow* row = row_at(desk, decision)) return row->decision.row.row;
  const rules::SessionDecision& session = plan(desk).decision;
  return session.whether != rules::Whether::normal ? session.gate.row : session.when_row.row;
}

std::vector<std::string> SwimmerDesk::exercises(Desk& desk) {
  const model::Athlete& athlete = desk.book.athlete(*scope_);
  std::vector<std::string> out;
  const auto add = [&out](const std::string& exercise) {
    if (!exercise.empty() && std::find(out.begin(), out.end(), exercise) == out.end()) out.push_back(exercise);
  };
  for (const PlanRow& row : plan(desk).rows) add(row.decision.standing.exercise.empty() ? row.decision.line : row.decision.standing.exercise);
  for (const model::Prescription* line : lines_of(athlete, 0)) add(line->exercise.value_or(""));
  for (const model::SignOff& sign_off : athlete.counting_sign_offs) add(sign_off.exercise);
  return out;
}

std::vector<SwimmerDesk::Reported> SwimmerDesk::reported(Desk& desk) {
  const model::Athlete& athlete = desk.book.athlete(*scope_);
  std::vector<Reported> out;
  const auto add = [&out](const std::string& covers, const model::RecordId& report, model::Day day) {
    for (Reported& part : out)
      if (part.covers == covers) {
        part.reports.push_back(report);
        if (day < part.since) part.since = day;
        return;
      }
    out.push_back({covers, {report}, day});
  };
  for (const model::RedFlag& flag : athlete.red_flags)
    if (!model::is_cleared(athlete, flag.id)) add(flag.group == model::FlagGroup::local ? flag.region : "general", flag.id, flag.day);
  for (const model::Pain& pain : athlete.pains)
    if (pain.worst() >= kHurts && !pain.withdrawn && !model::is_cleared(athlete, pain.id)) add(pain.region, pain.id, model::day_of(pain.by.claimed));
  return out;
}

// ---- decisions -------------------------------------------------------------------------------------------

screens::Decision SwimmerDesk::session_decision(Desk& desk) {
  const DayPlan& now = plan(desk);
  const bool stops = now.decision.whether != rules::Whether::normal;
  const rules::Reason& reason = stops ? now.decision.gate : now.decision.when_row;
  screens::Decision out;
  out.icon = stops ? screens::Icon::caution : screens::Icon::held;
  out.urgent = now.decision.whether == rules::Whether::stop;
  out.title = say(stops ? (out.urgent ? "swimmer.session_stopped" : "swimmer.session_waits") : "swimmer.session_moves");
  out.sentence = report::sentence(reason, speaking_of(desk.book.athlete(*scope_)));
  out.rule = reason.row;
  out.why = entries_behind(now, reason, {}, desk.today);
  out.spoken = out.title;
  return out;
}

screens::Decision SwimmerDesk::row_decision(Desk& desk, std::size_t, const PlanRow& row) {
  const model::Athlete& athlete = desk.book.athlete(*scope_);
  const DayPlan& now = plan(desk);
  const rules::StandingDose standing = standing_of(desk, row);
  const rules::Dose& dose = row.decision.dose;
  screens::Decision out;
  out.icon = icon_of(row);
  out.urgent = !row.trains() || !row.swapped_from.empty();
  const std::string name = capital(row.rung->name);
  if (!row.trains()) {
    out.title = say(row.because().action == rules::Action::leave_out ? "swimmer.left_out" : "swimmer.stopped", {name});
  } else if (dose.load_g && standing.load_g && *dose.load_g != *standing.load_g && standing.exercise == dose.exercise) {
    out.title = say("swimmer.from_to", {name, model::number_text(load_as_here(athlete, *standing.load_g)), dose_words(athlete, dose)});
  } else {
    out.title = say("swimmer.title", {name, dose_words(athlete, dose)});
  }
  const report::Speaking speaking = speaking_of(athlete);
  out.sentence = report::sentence(row.because(), speaking);
  out.rule = report::told(row.because()).row;
  out.why = entries_behind(now, report::told(row.because()), row.decision.line, desk.today);
  for (const rules::Reason& modifier : row.because().modifiers)
    if (std::string words = report::sentence(modifier, speaking); &modifier != &report::told(row.because()) && !words.empty()) out.why.push_back(say("swimmer.why_rule", {words, modifier.row}));
  out.spoken = out.title;
  return out;
}

// ---- the page ----------------------------------------------------------------------------------------------

void SwimmerDesk::add_sign_offs(Desk& desk, screens::SwimmerView& view) {
  const model::Athlete& athlete = desk.book.athlete(*scope_);
  const bool may = desk.settings.is_coach() && desk.may_write();
  view.sign_offs_title = say("swimmer.sign_offs");
  for (const std::string& exercise : exercises(desk)) {
    const model::SignOff* last = model::counting_sign_off(athlete, exercise);
    const rules::Form form = rules::form_of(exercise, plan(desk).situation);
    screens::SignOffRow row;
    row.movement = capital(movement_name(exercise));
    const bool signed_off = last != nullptr && (last->level == model::SignOffLevel::sound || last->level == model::SignOffLevel::loaded);
    if (signed_off) {
      const std::string level = say(last->level == model::SignOffLevel::loaded ? "swimmer.loaded" : "swimmer.sound");
      const std::string till = model::weekday_date(model::Day{last->day.since_1970 + kSignOffDays});
      row.state = form.open() ? say("swimmer.signed_till", {level, model::weekday_date(last->day), till}) : say("swimmer.signed_ended", {level, model::weekday_date(last->day)});
      row.icon = form.open() ? screens::Icon::kept : screens::Icon::off;
    } else if (last != nullptr && last->level == model::SignOffLevel::withdrawn) {
      row.state = say("swimmer.withdrawn", {model::weekday_date(last->day), note_words(last->note)});
      row.icon = screens::Icon::off;
    } else {
      row.state = say("swimmer.not_signed");
    }
    for (const PlanRow& planned : plan(desk).rows)
      if (planned.waits_for_sign_off && planned.decision.line == exercise) row.icon = screens::Icon::signoff;
    if (may) {
      // SOUND after LOADED would take the load away again: whoever wants that withdraws.
      const bool loaded = signed_off && form.open() && last->level == model::SignOffLevel::loaded;
      if (!loaded) row.sound_words = say(signed_off && form.open() ? "swimmer.sound_again" : "swimmer.sound");
      if (level_to_sign(athlete, exercise, desk.today) == model::SignOffLevel::loaded) row.loaded_words = say(loaded ? "swimmer.loaded_again" : "swimmer.loaded");
      if (signed_off) row.withdraw_words = say("swimmer.withdraw");
    }
    row.spoken = say("swimmer.sign_off_spoken", {row.movement, row.state});
    view.sign_offs.push_back(std::move(row));
  }
}

void SwimmerDesk::add_clearance(Desk& desk, screens::SwimmerView& view) {
  const auto parts = reported(desk);
  if (parts.empty()) return;
  std::string words;
  model::Day since = parts.front().since;
  for (const Reported& part : parts) {
    words += (words.empty() ? "" : ", ") + (part.covers == "general" ? say("swimmer.general") : region_words(part.covers));
    if (part.since < since) since = part.since;
  }
  view.clearance_line = say("swimmer.reported_since", {model::weekday_date(since), words});
  if (desk.settings.is_coach() && desk.may_write()) view.clearance_words = say("swimmer.note_clearance");
}

void SwimmerDesk::add_sections(Desk& desk, const std::vector<std::string>& also, screens::SwimmerView& view) {
  const model::Athlete& athlete = desk.book.athlete(*scope_);
  if (!also.empty()) {
    screens::PageSection section{say("swimmer.also"), {}};
    for (const std::string& words : also) section.lines.push_back({"", words});
    view.sections.push_back(std::move(section));
  }
  screens::PageSection words{say("swimmer.last_words"), {}};
  std::vector<std::pair<model::ClaimedTime, std::string>> said;
  for (const model::Pain& pain : athlete.pains)
    said.emplace_back(pain.by.claimed, say(pain.withdrawn ? "swimmer.word_pain_withdrawn" : "swimmer.word_pain", {capital(region_words(pain.region)), band_words(pain.band)}));
  for (const model::Soreness& sore : athlete.soreness)
    if (sore.level > 0) said.emplace_back(sore.by.claimed, say("swimmer.word_sore", {sore_words(sore.region), sore_since(sore)}));
  for (const model::Check& check : athlete.checks) said.emplace_back(check.by.claimed, say("swimmer.word_fine"));
  for (const model::RedFlag& flag : athlete.red_flags) said.emplace_back(flag.by.claimed, say("swimmer.word_flag", {flag_words(flag.flag)}));
  for (const model::Session& session : athlete.sessions)
    if (!session.finish.empty() && session.finish.first()->effort_tenths)
      said.emplace_back(session.finish.all.front().by.claimed,
                        say("swimmer.word_effort", {number(effort_of(*session.finish.first())), number(session.finish.first()->minutes.value_or(0))}));
  std::stable_sort(said.begin(), said.end(), [](const auto& a, const auto& b) { return a.first.local_ms > b.first.local_ms; });
  for (const auto& [claimed, text] : said) {
    if (words.lines.size() == kWordsShown || desk.today.since_1970 - model::day_of(claimed).since_1970 > kWordsDays) break;
    words.lines.push_back({day_words(model::day_of(claimed), desk.today), text});
  }
  if (!words.lines.empty()) view.sections.push_back(std::move(words));

  screens::PageSection notes{say("swimmer.notes"), {}};
  const auto all_notes = desk.book.notes(*scope_);
  for (auto one = all_notes.rbegin(); one != all_notes.rend() && notes.lines.size() < kNotesShown; ++one) {
    const std::string text = wordings_of(one->note);
    if (text.empty()) continue;
    const std::string who = one->coach_only ? say("swimmer.note_coaches") : writer_words(one->note.by);
    notes.lines.push_back({say("swimmer.note_label_line", {day_words(one->note.day.value_or(model::day_of(one->note.by.claimed)), desk.today), who}), text});
  }
  if (!notes.lines.empty()) view.sections.push_back(std::move(notes));

  screens::PageSection overruled{say("swimmer.overruled"), {}};
  for (auto one = athlete.overrules.rbegin(); one != athlete.overrules.rend() && overruled.lines.size() < kOverrulingsShown; ++one)
    overruled.lines.push_back({day_words(one->day, desk.today),
                               say("swimmer.overruled_line", {one->exercise.empty() ? say("swimmer.whole_session") : movement_name(one->exercise), overrule_choice(one->choice),
                                                              one->row, note_words(one->note)})});
  if (!overruled.lines.empty()) view.sections.push_back(std::move(overruled));

  screens::PageSection sessions{say("swimmer.last_sessions"), {}};
  for (auto session = athlete.sessions.rbegin(); session != athlete.sessions.rend() && sessions.lines.size() < kSessionsShown; ++session) {
    if (session->sets.empty()) continue;
    const auto left_out = static_cast<std::uint64_t>(std::count_if(session->sets.begin(), session->sets.end(), [](const model::SetDone& set) { return set.left_out; }));
    const std::string sets = count_words(session->sets.size() - left_out, "exchange.set_one", "exchange.set_many");
    sessions.lines.push_back({day_words(day_of_session(*session), desk.today), left_out == 0 ? sets : say("swimmer.sets_left_out", {sets, number(left_out)})});
  }
  if (!sessions.lines.empty()) view.sections.push_back(std::move(sessions));
}

screens::SwimmerView SwimmerDesk::view(Desk& desk, const std::vector<std::string>& also) {
  const model::Athlete& athlete = desk.book.athlete(*scope_);
  const DayPlan& now = plan(desk);
  screens::SwimmerView view;
  view.name = name_apart(desk, *scope_);
  view.line = who_line(athlete, desk.today);
  view.back_words = say("swimmer.back");
  view.decisions_title = say("swimmer.next_session", {day_words(now.today, desk.today), say(now.programme_day == 2 ? "swimmer.programme_b" : "swimmer.programme_a")});
  const bool may = desk.settings.is_coach() && desk.may_write();
  if (session_decides(desk)) view.decisions.push_back(session_decision(desk));
  for (const PlanRow& row : now.rows) view.decisions.push_back(row_decision(desk, view.decisions.size(), row));
  for (std::size_t i = 0; i < view.decisions.size(); ++i) {
    screens::Decision& decision = view.decisions[i];
    const PlanRow* row = row_at(desk, i);
    const std::string exercise = row == nullptr ? "" : row->decision.line;
    for (const model::Overrule& one : athlete.overrules)
      if (one.day == now.today && one.exercise == exercise)
        decision.overruled = say("swimmer.overruled_now", {writer_words(one.by), overrule_choice(one.choice), note_words(one.note)});
    const bool signs = row != nullptr && (row->waits_for_sign_off || std::find(row->decision.asks.begin(), row->decision.asks.end(), rules::Ask::sign_off) != row->decision.asks.end());
    if (may && signs) decision.sign_off_words = say("squad.key_sign_off");
    if (may && !choices_of(desk, i).empty()) decision.overrule_words = say("swimmer.overrule");
    const bool open = std::find(why_open_.begin(), why_open_.end(), i) != why_open_.end();
    if (!decision.why.empty()) decision.why_words = say(open ? "swimmer.fold" : "swimmer.why");
    if (!open) decision.why.clear();
  }
  if (view.decisions.empty()) view.decisions_none = say("swimmer.no_plan");
  add_sign_offs(desk, view);
  add_clearance(desk, view);
  add_sections(desk, also, view);
  if (ask_) view.ask.push_back(ask_panel(desk));
  view.keys = {{.label = say("swimmer.open_session"), .icon = screens::Icon::session}, {.label = say("swimmer.facts"), .icon = screens::Icon::setup}};
  if (may) view.keys.push_back({.label = say("swimmer.write_note"), .icon = screens::Icon::pencil});
  return view;
}

}  // namespace slipway::app
