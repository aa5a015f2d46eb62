#include <algorithm>

#include "answers.h"
#include "app/demo.h"
#include "commands.h"
#include "contradictions.h"

namespace slipway::native {

namespace {

Person person(app::Book& book, const model::ScopeId& id) { return {id, book.athlete(id).name.value_or("")}; }

std::vector<const model::Athlete*> by_name(app::Book& book) {
  std::vector<const model::Athlete*> all;
  for (const model::ScopeId& id : book.scopes()) all.push_back(&book.athlete(id));
  std::sort(all.begin(), all.end(), [](const model::Athlete* a, const model::Athlete* b) {
    const std::string left = a->name.value_or(""), right = b->name.value_or("");
    return left != right ? left < right : a->scope < b->scope;
  });
  return all;
}

}  // namespace

int run_demo(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::begin_one); !opened) return desk.refuse(opened.error());
  const auto today = desk.day();
  if (!today) return desk.refuse(today.error());
  // People who exist and people who do not are never mixed.
  if (!desk.book().scopes().empty()) return desk.refuse(model::error(model::ErrorKind::invalid, "cli.demo_not_empty", {desk.folder()}));
  const auto bundle = app::demo_bundle(app::kDemoSeed, *today);
  if (!bundle) return desk.refuse(bundle.error());
  if (const auto taken = desk.book().take_in("demo", *bundle); !taken) return desk.refuse(taken.error());
  if (const auto tidied = desk.book().tidy(); !tidied) return desk.refuse(tidied.error());
  std::vector<Person> who;
  for (const model::Athlete* athlete : by_name(desk.book())) who.push_back(person(desk.book(), athlete->scope));
  return desk.answer(json::demo(who), words::demo(who));
}

int run_athlete_add(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::begin_one); !opened) return desk.refuse(opened.error());
  const auto added = desk.book().add_athlete({desk.request().name, desk.request().born}, desk.request().author);
  if (!added) return desk.refuse(added.error());
  if (const auto kept = desk.kept(); !kept) return desk.refuse(kept.error());
  const Person who = person(desk.book(), *added);
  return desk.answer(json::added(who), words::added(who));
}

int run_athlete_list(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto athletes = by_name(desk.book());
  return desk.answer(json::listed(athletes), words::listed(athletes));
}

int run_athlete_show(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = desk.book().find_athlete(desk.request().who);
  if (!who) return desk.refuse(who.error());
  const model::Athlete& athlete = desk.book().athlete(*who);
  return desk.answer(json::athlete(athlete), words::athlete(athlete));
}

int run_plan_show(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = desk.book().find_athlete(desk.request().who);
  if (!who) return desk.refuse(who.error());
  const model::Athlete& athlete = desk.book().athlete(*who);
  return desk.answer(json::plan(athlete), words::plan(athlete));
}

int run_plan_set(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = desk.book().find_athlete(asked.who);
  if (!who) return desk.refuse(who.error());
  const auto set = desk.book().set_plan(*who, asked.field, asked.value, asked.author);
  if (!set) return desk.refuse(set.error());
  if (const auto kept = desk.kept(); !kept) return desk.refuse(kept.error());
  const model::Athlete& athlete = desk.book().athlete(*who);
  const PlanSet done{person(desk.book(), *who), asked.field};
  return desk.answer(json::plan_set(done, athlete), words::plan_set(done, athlete));
}

int run_check(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto report = desk.book().check();
  if (!report) return desk.refuse(report.error());
  Checked checked{.report = *report, .athletes = 0, .contradictions = 0, .read_only = desk.book().opening().read_only,
                  .form = desk.book().opening().schema_found};
  for (const model::Athlete* athlete : by_name(desk.book())) {
    checked.athletes += 1;
    checked.contradictions += count_contradictions(*athlete);
  }
  return desk.answer(json::checked(checked), words::checked(checked), report->findings.empty() ? kDone : kAnswerIsNo);
}

}  // namespace slipway::native
