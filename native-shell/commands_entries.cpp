#include <algorithm>

#include "answers.h"
#include "app/day_plan.h"
#include "app/decision_words.h"
#include "app/sides.h"
#include "commands.h"
#include "report/reasons.h"
#include "report/words.h"

namespace slipway::native {

namespace {

using model::ErrorKind;

struct Found {  // an entry and where it is
  model::ScopeId scope;
  const model::SetDone* set = nullptr;
  model::Day day;
  bool taken_back = false;
};

model::Day day_of_session(const model::Athlete& athlete, const model::RecordId& session) {
  for (const model::Session& known : athlete.sessions)
    if (known.id == session) return known.training_day.value_or(model::Day{});
  return {};
}

template <class Visit>
void each_entry(app::Book& book, Visit visit) {
  for (const model::ScopeId& scope : book.scopes()) {
    const model::Athlete& athlete = book.athlete(scope);
    for (const model::Session& session : athlete.sessions)
      for (const model::SetDone& set : session.sets) visit(Found{scope, &set, session.training_day.value_or(model::Day{}), false});
    for (const model::SetDone& set : athlete.taken_back) visit(Found{scope, &set, day_of_session(athlete, set.session), true});
  }
}

// By the whole id, or by the first signs of its hash, as the lists print them.
model::Result<Found> find_entry(app::Book& book, const std::string& named) {
  constexpr std::size_t kLeastSigns = 4;
  std::vector<Found> found;
  each_entry(book, [&](const Found& entry) {
    const bool whole = model::to_text(entry.set->id) == named;
    if (whole || (named.size() >= kLeastSigns && entry.set->id.hash.hex().starts_with(named))) found.push_back(entry);
  });
  if (found.empty()) return model::error(ErrorKind::not_found, "record.unknown", {named});
  if (found.size() > 1) return model::error(ErrorKind::invalid, "cli.entry_ambiguous", {named, std::to_string(found.size())});
  return found.front();
}

int answer_kept(Desk& desk, const model::ScopeId& scope, const model::RecordId& entry) {
  if (const auto kept = desk.kept(); !kept) return desk.refuse(kept.error());
  const auto found = find_entry(desk.book(), model::to_text(entry));
  if (!found) return desk.refuse(found.error());
  const Person who{scope, desk.book().athlete(scope).name.value_or("")};
  const Kept kept{who, entry, found->day, found->taken_back, *found->set};
  const bool to_come = model::day_of(desk.book().now()) < found->day;
  return desk.answer(json::kept(kept), words::kept(kept) + (to_come ? report::say("cli.said_to_come", {model::iso(found->day)}) + "\n" : std::string()));
}

// Of "left" or "right"; "both" and nothing: one entry says both sides.
model::Result<std::optional<model::Side>> asked_side(const Request& asked) {
  if (asked.side.empty() || asked.side == "both") return std::optional<model::Side>();
  if (asked.side == "left") return std::optional(model::Side::left);
  if (asked.side == "right") return std::optional(model::Side::right);
  return model::error(ErrorKind::invalid, "cli.choice", {"--side", asked.side, "left, right, both"});
}

model::Result<std::optional<model::Quantity>> asked_load(const Request& asked) {
  if (!asked.load) return std::optional<model::Quantity>();
  const auto read = model::read_quantity(*asked.load, model::Unit::kg);
  if (!read) return read.error();
  return std::optional<model::Quantity>(*read);
}

// Why no set is next: stopped as a whole, everything taken out, or everything done.
model::Error nothing_next(const model::Athlete& athlete, const app::DayPlan& plan) {
  const std::string name = athlete.name.value_or("");
  if (athlete.prescriptions.empty()) return model::error(ErrorKind::not_found, "plan.none", {name});
  const report::Speaking speaking = app::speaking_of(athlete);
  if (!plan.may_train()) return model::error(ErrorKind::invalid, "cli.log_stopped", {name, report::sentence(plan.decision.gate, speaking), plan.decision.gate.row});
  const auto out = std::find_if(plan.rows.begin(), plan.rows.end(), [](const app::PlanRow& row) { return !row.trains(); });
  const bool none = std::none_of(plan.rows.begin(), plan.rows.end(), [](const app::PlanRow& row) { return row.trains(); });
  if (none && out != plan.rows.end())
    return model::error(ErrorKind::invalid, "cli.log_stopped", {name, report::sentence(out->because(), speaking), report::told(out->because()).row});
  return model::error(ErrorKind::invalid, "cli.all_done", {name});
}

// Why nothing is written for an exercise: it is left out today, or it is not in the plan.
model::Error not_written(const model::Athlete& athlete, const app::DayPlan& plan, const std::string& exercise) {
  if (!plan.may_train()) return nothing_next(athlete, plan);
  for (const app::PlanRow& row : plan.rows)
    if (!row.trains() && (row.rung->id == exercise || row.decision.line == exercise))
      return model::error(ErrorKind::invalid, "cli.log_left_out", {exercise, report::sentence(row.because(), app::speaking_of(athlete)), report::told(row.because()).row});
  return model::error(ErrorKind::invalid, "cli.reps_needed", {exercise});
}

// What is written stands wherever nothing else was asked for: today's doses as the board shows them, the
// next set of the exercise, or of the session if none is named.
model::Result<app::SetEntry> entry_of(Desk& desk, const model::ScopeId& scope, model::Day day, const std::optional<model::RecordId>& kit) {
  const Request& asked = desk.request();
  const model::Athlete& athlete = desk.book().athlete(scope);
  const app::DayPlan plan = app::plan_day(athlete, {.today = day, .now_ms = desk.book().now().local_ms, .kit = kit, .train_now = {}, .programme_day = {}});
  std::optional<app::Cell> cell = app::next_cell(plan);
  if (!asked.exercise.empty()) {
    cell.reset();
    for (std::size_t i = 0; i < plan.rows.size(); ++i)
      if (plan.rows[i].trains() && plan.rows[i].rung->id == asked.exercise) {
        const std::uint64_t round = app::next_round(plan, plan.rows[i]);
        cell = app::Cell{i, round, app::round_of(plan, asked.exercise, round).missing()};
      }
  }
  if (!cell && asked.exercise.empty()) return nothing_next(athlete, plan);
  if (!cell && !asked.reps && !asked.left_out) return not_written(athlete, plan, asked.exercise);
  const auto load = asked_load(asked);
  if (!load) return load.error();

  const auto side = asked_side(asked);
  if (!side) return side.error();
  app::SetEntry entry;
  entry.rir = asked.rir;  // what was not said is not claimed
  entry.warm_up = asked.warm_up;
  entry.form_broke = asked.form_broke;
  entry.two_more = asked.two_more;
  entry.left_out = asked.left_out;
  if (*load) entry.load = *load;
  if (!cell) {
    entry.exercise = asked.exercise;
    entry.round = asked.round.value_or(app::next_round(plan, asked.exercise));
    entry.side = *side ? *side : app::round_of(plan, asked.exercise, entry.round).missing();
    entry.reps = asked.reps.value_or(0);
    return entry;
  }
  const app::PlanRow& row = plan.rows[cell->row];
  entry.exercise = row.rung->id;
  entry.round = asked.round.value_or(cell->round);
  const app::WrittenSet written = app::written_now(athlete, plan, row, entry.round);
  entry.side = *side ? *side : app::round_of(plan, entry.exercise, entry.round).missing();
  entry.reps = asked.reps.value_or(asked.left_out ? 0 : written.reps);
  if (!*load && !asked.no_load && !asked.left_out) entry.load = written.load;
  entry.written_reps = written.reps;
  entry.written_load = written.load;
  entry.band = written.band;
  entry.grip = row.decision.dose.grip;
  return entry;
}

}  // namespace

int run_log(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto day = desk.day();
  if (!day) return desk.refuse(day.error());
  const auto who = desk.book().find_athlete(desk.request().who);
  if (!who) return desk.refuse(who.error());
  if (const auto may = may_write(desk.book().athlete(*who), model::ConsentThing::training_log, *day); !may) return desk.refuse(may.error());
  const auto kit = kit_named(desk.book().athlete(*who), desk.request().kit);
  if (!kit) return desk.refuse(kit.error());
  const auto entry = entry_of(desk, *who, *day, *kit);
  if (!entry) return desk.refuse(entry.error());
  if (const auto may = desk.book().may_log(*entry); !may) return desk.refuse(may.error());  // before a session is begun for it
  // The doses shown stay on record with the session, as they do when the board is used.
  if (const auto begun = app::begin_day(desk.book(), *who, *day, *kit, {}, desk.request().author); !begun) return desk.refuse(begun.error());
  const auto logged = desk.book().log_set(*who, *entry, *day, desk.request().author);
  if (!logged) return desk.refuse(logged.error());
  return answer_kept(desk, *who, *logged);
}

int run_log_change(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto found = find_entry(desk.book(), asked.entry);
  if (!found) return desk.refuse(found.error());
  const auto load = asked_load(asked);
  if (!load) return desk.refuse(load.error());
  app::SetChange change{.reps = asked.reps, .load = *load, .rir = asked.rir, .left_out = std::nullopt};
  if (asked.left_out) change.left_out = true;
  if (asked.form_broke) change.form_broke = true;
  if (asked.two_more) change.two_more = true;
  const auto side = asked_side(asked);
  if (!side) return desk.refuse(side.error());
  if (!asked.side.empty()) change.side = *side ? static_cast<std::uint64_t>(**side) : app::kBothSides;
  const model::RecordId entry = found->set->id;
  const model::ScopeId scope = found->scope;
  if (found->taken_back) return desk.refuse(model::error(ErrorKind::invalid, "cli.change_back", {short_entry(entry)}));
  if (const auto may = may_write(desk.book().athlete(scope), model::ConsentThing::training_log, found->day); !may) return desk.refuse(may.error());
  const auto changed = desk.book().change_set(scope, entry, change, asked.author);
  if (!changed) return desk.refuse(changed.error());
  return answer_kept(desk, scope, entry);
}

int run_log_back(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto found = find_entry(desk.book(), desk.request().entry);
  if (!found) return desk.refuse(found.error());
  const model::RecordId entry = found->set->id;
  const model::ScopeId scope = found->scope;
  if (found->taken_back) return desk.refuse(model::error(ErrorKind::invalid, "cli.already_back", {short_entry(entry)}));
  const auto taken = desk.book().take_back(scope, entry, desk.request().author);
  if (!taken) return desk.refuse(taken.error());
  return answer_kept(desk, scope, entry);
}

}  // namespace slipway::native
