// What comes next, who needs the coach, one athlete's report. Asking writes nothing.
#include <algorithm>

#include "answers.h"
#include "app/decision_words.h"
#include "commands.h"

namespace slipway::native {

namespace {

using model::ErrorKind;

Person person(app::Book& book, const model::ScopeId& id) { return {id, book.athlete(id).name.value_or("")}; }

model::Result<Coming> coming_for(Desk& desk, const model::ScopeId& who, model::Day day) {
  const model::Athlete& athlete = desk.book().athlete(who);
  const auto kit = kit_named(athlete, desk.request().kit);
  if (!kit) return kit.error();
  const app::DayAsked asked{.today = day, .now_ms = desk.book().now().local_ms, .kit = *kit, .train_now = {}, .programme_day = {}};
  return Coming{person(desk.book(), who), &athlete, app::coming_plan(athlete, asked)};
}

}  // namespace

model::Result<std::optional<model::RecordId>> kit_named(const model::Athlete& athlete, const std::string& name) {
  if (name.empty()) return std::optional<model::RecordId>();
  std::string all;
  std::vector<model::RecordId> found;
  for (const model::Kit& kit : athlete.kits) {
    if (kit.name == name) found.push_back(kit.id);
    all += (all.empty() ? "" : ", ") + kit.name;
  }
  if (found.size() > 1) return model::error(ErrorKind::invalid, "cli.kit_ambiguous", {name, std::to_string(found.size())});
  if (found.size() == 1) return std::optional(found.front());
  return model::error(ErrorKind::not_found, "cli.no_kit", {athlete.name.value_or(""), name, all});
}

int run_next(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = desk.book().find_athlete(desk.request().who);
  if (!who) return desk.refuse(who.error());
  const auto day = desk.day();
  if (!day) return desk.refuse(day.error());
  if (desk.book().athlete(*who).prescriptions.empty())
    return desk.refuse(model::error(ErrorKind::not_found, "plan.none", {desk.book().athlete(*who).name.value_or("")}));
  const auto coming = coming_for(desk, *who, *day);
  if (!coming) return desk.refuse(coming.error());
  return desk.answer(json::coming(*coming), words::coming(*coming));
}

int run_squad(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto day = desk.day();
  if (!day) return desk.refuse(day.error());
  const auto scopes = desk.book().scopes();
  SquadList list;
  list.day = *day;
  list.athletes = scopes.size();
  for (app::Need& need : app::who_needs_the_coach(desk.book(), scopes, {*day, desk.book().now().local_ms}))
    list.lines.push_back({person(desk.book(), need.scope), std::move(need.facts)});
  for (const app::Book::SealedProfile& one : desk.book().sealed_profiles())
    if (!one.open) list.sealed.push_back(one.name);
  return desk.answer(json::squad(list), words::squad(list));
}

int run_report(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = desk.book().find_athlete(desk.request().who);
  if (!who) return desk.refuse(who.error());
  const auto day = desk.day();
  if (!day) return desk.refuse(day.error());
  Report report;
  report.day = *day;
  if (!desk.request().since.empty()) {
    const auto since = model::read_day(desk.request().since);
    if (!since) return desk.refuse(since.error());
    report.since = *since;
  }
  for (app::Need& need : app::who_needs_the_coach(desk.book(), {*who}, {*day, desk.book().now().local_ms})) report.needs = std::move(need.facts);
  for (const app::MissingStretch& gap : desk.book().missing())
    if (gap.scope == *who) report.missing.push_back(gap);
  auto coming = coming_for(desk, *who, *day);
  if (!coming) return desk.refuse(coming.error());
  report.coming = std::move(*coming);
  return desk.answer(json::report(report), words::report(report));
}

}  // namespace slipway::native
