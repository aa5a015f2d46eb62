#include <algorithm>
#include <tuple>

#include "answers.h"
#include "commands.h"
#include "plans.h"

namespace slipway::native {

using model::ErrorKind;

namespace {

constexpr std::size_t kLeastSigns = 4;  // of an id

}  // namespace

bool is_library(app::Book& book, const model::ScopeId& scope) {
  const auto all = book.libraries();
  return std::find(all.begin(), all.end(), scope) != all.end();
}

model::Result<model::ScopeId> find_plan(app::Book& book, const std::string& name_or_id) {
  std::vector<model::ScopeId> found;
  for (const model::ScopeId& id : book.libraries())
    if (book.library(id).name.value_or("") == name_or_id || (name_or_id.size() >= kLeastSigns && id.hex().starts_with(name_or_id))) found.push_back(id);
  const auto athlete = book.find_athlete(name_or_id);
  if (found.empty()) return athlete;
  // Of one name a library and an athlete: neither is meant more than the other.
  if (athlete && book.athlete(*athlete).name.value_or("") == name_or_id) found.push_back(*athlete);
  if (found.size() > 1) return model::error(ErrorKind::invalid, "cli.library_ambiguous", {name_or_id, std::to_string(found.size())});
  return found.front();
}

model::Result<model::RecordId> entry_named(const std::vector<model::RecordId>& all, const std::string& named) {
  std::vector<model::RecordId> found;
  for (const model::RecordId& id : all)
    if (model::to_text(id) == named || (named.size() >= kLeastSigns && id.hash.hex().starts_with(named))) found.push_back(id);
  if (found.empty()) return model::error(ErrorKind::not_found, "record.unknown", {named});
  if (found.size() > 1) return model::error(ErrorKind::invalid, "cli.entry_ambiguous", {named, std::to_string(found.size())});
  return found.front();
}

std::vector<model::Prescription> lines_of_plan(app::Book& book, const model::ScopeId& scope) {
  return is_library(book, scope) ? book.library(scope).prescriptions : book.athlete(scope).prescriptions;
}

model::Result<model::RecordId> line_named(const std::vector<model::Prescription>& lines, const std::string& named) {
  std::vector<model::RecordId> all, of_rung;
  for (const model::Prescription& line : lines) {
    all.push_back(line.id);
    if (line.exercise.value_or("") == named) of_rung.push_back(line.id);
  }
  if (of_rung.size() == 1) return of_rung.front();
  if (of_rung.size() > 1) return model::error(ErrorKind::invalid, "cli.entry_ambiguous", {named, std::to_string(of_rung.size())});
  return entry_named(all, named);
}

model::Athlete plan_shown(app::Book& book, const model::ScopeId& scope) {
  model::Athlete shown;
  if (is_library(book, scope)) {
    const model::Library& library = book.library(scope);
    shown.scope = library.scope;
    shown.id = library.id;
    shown.name = library.name;
    shown.prescriptions = library.prescriptions;
  } else {
    shown = book.athlete(scope);
  }
  std::stable_sort(shown.prescriptions.begin(), shown.prescriptions.end(), [](const model::Prescription& a, const model::Prescription& b) {
    const auto day = [](const model::Prescription& line) { return line.programme_day.value_or(0); };
    const auto block = [](const model::Prescription& line) { return line.block.value_or(1); };
    return std::tuple(day(a), block(a), a.position) < std::tuple(day(b), block(b), b.position);
  });
  return shown;
}

int run_plan_move(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto scope = find_plan(desk.book(), asked.who);
  if (!scope) return desk.refuse(scope.error());
  const auto lines = lines_of_plan(desk.book(), *scope);
  const auto line = line_named(lines, asked.entry);
  if (!line) return desk.refuse(line.error());
  std::optional<model::RecordId> after;
  if (!asked.to.empty()) {
    const auto found = line_named(lines, asked.to);
    if (!found) return desk.refuse(found.error());
    after = *found;
  }
  const auto moved = desk.book().move_plan_line(*scope, *line, after, asked.author);
  if (!moved) return desk.refuse(moved.error());
  if (const auto kept = desk.kept(); !kept) return desk.refuse(kept.error());
  const model::Athlete plan = plan_shown(desk.book(), *scope);
  const PlanSet done{{*scope, plan.name.value_or("")}, asked.entry};
  return desk.answer(json::plan_set(done, plan), words::plan_set(done, plan));
}

int run_plan_copy(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto from = find_plan(desk.book(), asked.from);
  if (!from) return desk.refuse(from.error());
  const auto to = find_plan(desk.book(), asked.to);
  if (!to) return desk.refuse(to.error());
  const auto copied = desk.book().copy_plan(*from, *to, !asked.beside, asked.author);
  if (!copied) return desk.refuse(copied.error());
  if (const auto kept = desk.kept(); !kept) return desk.refuse(kept.error());
  const model::Athlete plan = plan_shown(desk.book(), *to);
  const PlanSet done{{*to, plan.name.value_or("")}, asked.from};
  return desk.answer(json::plan_set(done, plan), words::plan_set(done, plan));
}

int run_library_add(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::begin_one); !opened) return desk.refuse(opened.error());
  const auto added = desk.book().add_library(desk.request().name, desk.request().author);
  if (!added) return desk.refuse(added.error());
  if (const auto kept = desk.kept(); !kept) return desk.refuse(kept.error());
  const std::vector<Person> one{{*added, desk.request().name}};
  return desk.answer(json::libraries(one), words::libraries(one));
}

int run_library_list(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  std::vector<Person> all;
  for (const model::ScopeId& id : desk.book().libraries()) all.push_back({id, desk.book().library(id).name.value_or("")});
  return desk.answer(json::libraries(all), words::libraries(all));
}

}  // namespace slipway::native
