#include "app/squad_desk.h"

#include <algorithm>

#include "app/overloaded.h"
#include "app/situation.h"
#include "app/who.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

screens::Icon icon_of(const Need& need) {
  const std::string& row = need.facts.front().row;
  if (row == "W01" || row == "W03") return screens::Icon::caution;
  if (row == "W02" || row == "W04") return screens::Icon::pain;
  if (row == "W05") return screens::Icon::sore;
  if (row == "W07") return screens::Icon::signoff;
  if (row == "W08") return screens::Icon::held;
  if (row == "W09") return screens::Icon::missing;
  if (row == "W14") return screens::Icon::up;
  if (need.wants() == Wants::choose) return screens::Icon::conflict;
  if (need.wants() == Wants::ask_for_it) return screens::Icon::missing;
  return screens::Icon::why;
}

bool is_urgent(const std::string& row) { return row == "W01" || row == "W02"; }

enum class Column : std::uint8_t { squat, pull, push };
bool stands_in(Column column, model::Pattern pattern) {
  switch (column) {
    case Column::squat: return pattern == model::Pattern::squat;
    case Column::pull: return pattern == model::Pattern::vertical_pull || pattern == model::Pattern::horizontal_pull;
    default: return pattern == model::Pattern::push;
  }
}

screens::RungCell rung_cell(const model::Athlete& athlete, const rules::SessionSituation& situation, const rules::SessionDecision& decision, Column column) {
  for (std::size_t i = 0; i < situation.lines.size(); ++i) {
    const rules::StandingDose& standing = situation.lines[i].standing;
    const model::Rung* rung = model::find_rung(standing.exercise);
    if (rung == nullptr || !stands_in(column, rung->pattern)) continue;
    const bool stopped = decision.whether == rules::Whether::stop || (i < decision.exercises.size() && decision.exercises[i].action == rules::Action::stop);
    if (stopped) return {say("squad.stopped"), true};
    if (standing.load_g) {  // a column of kilograms; what is not says so
      const model::Quantity load = load_as_here(athlete, *standing.load_g);
      return {say("squad.rung_load", {rung->short_name, load.unit == model::Unit::kg ? model::number_text(load) : model::to_text(load)})};
    }
    return {standing.band.empty() ? rung->short_name : say("squad.rung_load", {rung->short_name, standing.band})};
  }
  return {say("squad.none")};
}

// The last thing that came from the swimmer, as claimed.
std::optional<model::ClaimedTime> last_seen(const model::Athlete& athlete) {
  std::optional<model::ClaimedTime> out;
  const auto take = [&out](const model::Writer& by) {
    if (by.author != static_cast<std::uint64_t>(Author::coach) && (!out || out->local_ms < by.claimed.local_ms)) out = by.claimed;
  };
  for (const model::Session& session : athlete.sessions)
    for (const model::SetDone& set : session.sets) take(set.by);
  for (const model::Pain& pain : athlete.pains) take(pain.by);
  for (const model::Soreness& sore : athlete.soreness) take(sore.by);
  for (const model::Check& check : athlete.checks) take(check.by);
  return out;
}

bool trained_on(const model::Athlete& athlete, model::Day day) {
  return std::any_of(athlete.sessions.begin(), athlete.sessions.end(), [day](const model::Session& session) {
    return day_of_session(session) == day && std::any_of(session.sets.begin(), session.sets.end(), [](const model::SetDone& set) { return !set.left_out; });
  });
}

}  // namespace

// ---- what the record says -------------------------------------------------------------------------------

SquadDesk::Line SquadDesk::board_line(Desk& desk, const model::ScopeId& scope) {
  const model::Athlete& athlete = desk.book.athlete(scope);
  Line line{scope, {}};
  screens::SquadRow& row = line.row;
  row.name = name_apart(desk, scope);
  const auto seen = last_seen(athlete);
  row.last_seen = !seen ? say("squad.never") : model::day_of(*seen) == desk.today ? moment_words(*seen, desk.today) : day_words(model::day_of(*seen), desk.today);
  const auto planned_here = planned_days(athlete, desk.today);
  const model::Day monday = monday_of(desk.today);
  std::string week;
  for (std::int32_t i = 0; i < 7; ++i) {
    const model::Day day{monday.since_1970 + i};
    screens::DayBox box;
    box.land = trained_on(athlete, day);
    // Only days that were said to be training days: a number a week names none of them.
    const bool due = athlete.training_days.size() == 7 && std::any_of(planned_here.begin(), planned_here.end(), [day](const rules::PlannedDay& planned) { return planned.day == day; });
    box.missing = due && !box.land;
    if (box.land || box.missing) week += (week.empty() ? "" : ", ") + say(box.land ? "squad.day_trained" : "squad.day_missing", {model::weekday_date(day)});
    row.days.push_back(box);
  }
  const rules::SessionSituation situation = situation_of(athlete, {.today = desk.today, .now_ms = desk.now_ms, .programme_day = 0, .kit = {}, .train_now = {}});
  const rules::SessionDecision decision = rules::decide(situation);
  std::string rungs;
  for (const Column column : {Column::squat, Column::pull, Column::push}) {
    row.rungs.push_back(rung_cell(athlete, situation, decision, column));
    rungs += (rungs.empty() ? "" : ", ") + row.rungs.back().words;
  }
  row.spoken = say("squad.row_spoken", {row.name, row.last_seen, week.empty() ? say("squad.week_empty") : week, rungs});
  return line;
}

void SquadDesk::read(Desk& desk) {
  const auto scopes = shown_scopes(desk);
  if (page_.scope() && std::find(scopes.begin(), scopes.end(), *page_.scope()) == scopes.end()) page_.close();  // erased, out of sight or shut meanwhile
  const std::pair now(desk.book.revision(), desk.today);
  if (read_for_ && *read_for_ == now && read_athletes_ == scopes.size()) return;
  read_for_ = now;
  read_athletes_ = scopes.size();
  needs_ = who_needs_the_coach(desk.book, scopes, {desk.today, desk.now_ms});
  lines_.clear();
  for (const model::ScopeId& scope : scopes) {
    lines_.push_back(board_line(desk, scope));
    const auto need = std::find_if(needs_.begin(), needs_.end(), [&scope](const Need& one) { return one.scope == scope; });
    if (need == needs_.end()) continue;
    lines_.back().row.icon = icon_of(*need);
    lines_.back().row.urgent = is_urgent(need->facts.front().row);
  }
}

std::size_t SquadDesk::waiting(Desk& desk) {
  if (!desk.settings.is_coach()) return 0;
  read(desk);
  return needs_.size();
}

// ---- the page ---------------------------------------------------------------------------------------------

screens::NeedRow SquadDesk::need_row(Desk& desk, std::size_t index) {
  const Need& need = needs_[index];
  const NeedFact& first = need.facts.front();
  screens::NeedRow row;
  row.order = number(index + 1);
  row.icon = icon_of(need);
  row.urgent = is_urgent(first.row);
  row.name = name_apart(desk, need.scope);
  row.sentence = need.facts.size() == 1 ? first.sentence
                                        : say("squad.and_more", {first.sentence, count_words(need.facts.size() - 1, "squad.more_one", "squad.more_many")});
  row.rule = need.wants() == Wants::choose ? say("squad.rule_twice") : first.row.empty() ? say("squad.rule_missing") : first.row;
  switch (need.wants()) {
    case Wants::clearance: row.key_words = say("squad.key_see"); break;
    case Wants::sign_off: row.key_words = say("squad.key_sign_off"); break;
    case Wants::choose: row.key_words = say("squad.key_choose"); break;
    case Wants::ask_for_it: row.key_words = say("squad.key_ask"); break;
    case Wants::tick_in: row.key_words = say("squad.key_tick_in"); break;
    case Wants::look: row.key_words = say("squad.key_look"); break;
  }
  row.key_spoken = say("squad.key_spoken", {row.key_words, row.name});
  row.spoken = say("squad.need_spoken", {row.order, number(needs_.size()), row.name, row.sentence, row.rule});
  return row;
}

screens::SquadView SquadDesk::view(Desk& desk) {
  screens::SquadView view;
  view.title = say("squad.title");
  view.needs_title = say("squad.needs");
  view.needs_none = say("squad.needs_none");
  view.board_title = say("squad.board");
  view.board_none = say("squad.board_none");
  view.heads = {say("squad.head_athlete"), say("squad.head_seen"), say("squad.head_week"), say("squad.head_squat"), say("squad.head_pull"), say("squad.head_push")};
  if (!desk.settings.is_coach()) return view;  // nobody else sees another's load, pain or attendance [7.1]
  read(desk);
  if (!needs_.empty()) view.needs_line = say("squad.needs_line", {number(needs_.size()), number(lines_.size())});
  if (const std::size_t shut = shut_profiles(desk).size(); shut > 0)
    view.needs_line += (view.needs_line.empty() ? "" : " ") + count_words(shut, "sealed.squad_one", "sealed.squad_many");
  for (std::size_t i = 0; i < needs_.size(); ++i) view.needs.push_back(need_row(desk, i));
  view.board_line = say("squad.board_line", {count_words(lines_.size(), "squad.athlete_one", "squad.athlete_many"), model::weekday_date(monday_of(desk.today))});
  for (const Line& line : lines_) {
    view.rows.push_back(line.row);
    view.rows.back().open = page_.scope() && *page_.scope() == line.scope;
  }
  if (desk.may_write()) view.add_words = say("squad.add");
  view.choose_words = say("squad.choose");
  if (page_.scope()) {
    std::vector<std::string> also;
    for (const Need& need : needs_)
      if (need.scope == *page_.scope())
        for (const NeedFact& fact : need.facts) also.push_back(fact.sentence);
    view.swimmer.push_back(page_.view(desk, also));
  }
  return view;
}

void SquadDesk::open_page(Desk&, const model::ScopeId& scope) { page_.open(scope); }

// After the talk [W03]: the session counts, and who said so when stays on record.
void SquadDesk::tick_in_afterwards(Desk& desk, const Need& need) {
  if (!desk.may_write()) return;
  const model::RecordId id = need.facts.front().sessions.front();
  const model::Session* session = model::find_session(desk.book.athlete(need.scope), id);
  if (session == nullptr) return;
  model::TickIn tick;
  tick.session = id;
  tick.role = model::AdultRole::coach;
  tick.day = day_of_session(*session);
  told(desk, desk.book.tick_in(need.scope, tick, desk.author()), say("squad.said_ticked_in", {model::weekday_date(tick.day)}));
}

void SquadDesk::press_need(Desk& desk, std::size_t index) {
  const Need need = needs_[index];  // a copy: what is kept now makes the list anew
  switch (need.wants()) {
    case Wants::choose:
    case Wants::ask_for_it: desk.go(screens::Place::exchange); break;
    case Wants::sign_off: {
      if (!desk.may_write()) break;
      const std::string& exercise = need.facts.front().exercises.front();
      sign_off_now(desk, need.scope, exercise, level_to_sign(desk.book.athlete(need.scope), exercise, desk.today));
      break;
    }
    case Wants::clearance:
      open_page(desk, need.scope);
      if (desk.may_write()) page_.ask_clearance(desk);
      break;
    case Wants::tick_in: tick_in_afterwards(desk, need); break;
    case Wants::look: open_page(desk, need.scope); break;
  }
}

void SquadDesk::act(Desk& desk, const screens::SquadIntent& intent) {
  if (!desk.settings.is_coach()) return;
  read(desk);
  std::visit(Overloaded{[&](const screens::PressNeed& press) { if (press.need < needs_.size()) press_need(desk, press.need); },
                        [&](const screens::OpenSwimmer& open_it) { if (open_it.row < lines_.size()) open_page(desk, lines_[open_it.row].scope); },
                        [&](const screens::CloseSwimmer&) { page_.close(); },
                        [&](const screens::AddSwimmer&) {
                          if (!desk.may_write()) return;
                          desk.open_facts(std::nullopt);
                          desk.go(screens::Place::setup);
                        },
                        [&](const auto&) { page_.act(desk, intent); }},
             intent);
}

void SquadDesk::leave() {
  if (page_.scope()) {
    const model::ScopeId scope = *page_.scope();
    page_.close();
    page_.open(scope);
  }
}

}  // namespace slipway::app
