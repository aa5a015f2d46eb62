#include <algorithm>
#include <array>
#include <charconv>

#include "answers.h"
#include "app/demo.h"
#include "commands.h"
#include "plans.h"
#include "report/words.h"

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
  if (!desk.book().scopes().empty() || !desk.book().sealed_profiles().empty()) return desk.refuse(model::error(model::ErrorKind::invalid, "cli.demo_not_empty", {desk.folder()}));
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
  std::size_t twins = 0;
  for (const model::Athlete* athlete : by_name(desk.book())) twins += athlete->name.value_or("") == who.name ? 1 : 0;
  for (const app::Book::SealedProfile& one : desk.book().sealed_profiles()) twins += !one.open && one.name == who.name ? 1 : 0;
  return desk.answer(json::added(who), words::added(who) + (twins > 1 ? report::say("cli.said_twin", {who.name, short_id(who.id)}) + "\n" : std::string()));
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

namespace {

constexpr std::array<std::string_view, 7> kDays{"mon", "tue", "wed", "thu", "fri", "sat", "sun"};

std::vector<std::string> parts_of(const std::string& list) {
  std::vector<std::string> out;
  std::string part;
  for (const char sign : list + ",") {
    if (sign != ',') {
      part += sign;
      continue;
    }
    while (!part.empty() && part.front() == ' ') part.erase(0, 1);
    while (!part.empty() && part.back() == ' ') part.pop_back();
    if (!part.empty()) out.push_back(part);
    part.clear();
  }
  return out;
}

model::Result<std::uint64_t> whole_number(const std::string& fact, const std::string& text) {
  std::uint64_t value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || read.ec != std::errc{} || read.ptr != text.data() + text.size()) return model::error(model::ErrorKind::invalid, "cli.not_whole", {fact, text});
  return value;
}

model::Result<std::vector<bool>> week(const std::string& text) {
  std::vector<bool> days(kDays.size(), false);
  for (const std::string& word : parts_of(text)) {
    const auto found = std::find(kDays.begin(), kDays.end(), word);
    if (found == kDays.end()) return model::error(model::ErrorKind::invalid, "cli.choice", {"training_days", word, "mon, tue, wed, thu, fri, sat, sun"});
    days[static_cast<std::size_t>(found - kDays.begin())] = true;
  }
  return days;
}

model::Result<app::KitEntry> kit_of(const Request& asked) {
  app::KitEntry entry;
  if (asked.bands) entry.bands = parts_of(*asked.bands);
  if (asked.equipment) entry.equipment = parts_of(*asked.equipment);
  if (!asked.loads) return entry;
  entry.loads.emplace();
  for (const std::string& one : parts_of(*asked.loads)) {
    const auto load = model::read_quantity(one, model::Unit::kg);
    if (!load) return load.error();
    entry.loads->push_back(*load);
  }
  return entry;
}

model::Result<app::AthleteChange> athlete_fact(const std::string& fact, const std::string& text) {
  app::AthleteChange change;
  if (fact == "name") change.name = text;
  else if (fact == "group") change.group = text;
  else if (fact == "limitations") change.limitations = parts_of(text);
  else if (fact == "born" || fact == "born_month") {
    const auto value = whole_number(fact, text);
    if (!value) return value.error();
    (fact == "born" ? change.birth_year : change.birth_month) = *value;
  } else if (fact == "training_days") {
    const auto days = week(text);
    if (!days) return days.error();
    change.training_days = *days;
  } else if (fact == "form_gate") {
    if (text != "yes" && text != "no") return model::error(model::ErrorKind::invalid, "cli.choice", {fact, text, "yes, no"});
    change.sign_off_gate = text == "yes";
  } else if (fact == "kit" || fact == "mass" || fact == "body_mass") {
    return model::error(model::ErrorKind::invalid, fact == "kit" ? "cli.fact_kit" : "cli.fact_mass");
  } else {
    return model::error(model::ErrorKind::invalid, "cli.choice",
                        {"FACT", fact, "name, born, born_month, group, limitations, training_days, form_gate"});
  }
  return change;
}

// A kit is named; of one that is here only what is said changes.
model::Result<model::Done> set_kit(app::Book& book, const model::ScopeId& who, const Request& asked) {
  auto entry = kit_of(asked);
  if (!entry) return entry.error();
  std::vector<model::RecordId> found;  // two devices may have named one each
  for (const model::Kit& kit : book.athlete(who).kits)
    if (kit.name == asked.kit) found.push_back(kit.id);
  if (found.size() > 1) return model::error(model::ErrorKind::invalid, "cli.kit_ambiguous", {asked.kit, std::to_string(found.size())});
  const auto known = found.empty() ? std::optional<model::RecordId>() : std::optional(found.front());
  if (!known) {
    entry->name = asked.kit;
    if (!entry->loads) entry->loads.emplace();
  }
  const auto set = book.set_kit(who, known, *entry, asked.author);
  return set ? model::Result<model::Done>(model::Done{}) : set.error();
}

model::Result<model::Done> set_fact(app::Book& book, const model::ScopeId& who, const Request& asked) {
  const auto change = athlete_fact(asked.field, asked.value);
  if (!change) return change.error();
  return book.set_athlete(who, *change, asked.author);
}

model::Result<model::Done> add_line(app::Book& book, const model::ScopeId& who, const Request& asked) {
  app::PlanLineEntry line;
  line.exercise = asked.exercise;
  line.sets = asked.sets;
  line.reps = asked.reps;
  line.reps_high = asked.reps_high;
  line.rir = asked.rir;
  if (asked.rest_s) line.rest_ms = std::min<std::uint64_t>(*asked.rest_s, 1'000'000) * 1000;  // too much is refused, and does not wrap around
  if (!asked.session.empty()) line.programme_day = asked.session == "B" ? 2 : 1;
  line.block = asked.block;
  line.place = asked.place;
  if (!asked.band.empty()) line.band = asked.band;
  if (!asked.grip.empty()) line.grip = asked.grip;
  if (asked.load) {
    const auto load = model::read_quantity(*asked.load, model::Unit::kg);
    if (!load) return load.error();
    line.load = *load;
  }
  const auto added = book.add_plan_line(who, line, asked.author);
  return added ? model::Result<model::Done>(model::Done{}) : added.error();
}

// A line of the plan, by its exercise or the first signs of its entry.
model::Result<model::Done> drop_line(app::Book& book, const model::ScopeId& who, const Request& asked) {
  const auto line = line_named(lines_of_plan(book, who), asked.entry);
  if (!line) return line.error();
  return book.take_back(who, *line, asked.author);
}

using Finds = model::Result<model::ScopeId> (*)(app::Book&, const std::string&);
using Writes = model::Result<model::Done> (*)(app::Book&, const model::ScopeId&, const Request&);

// Opens, finds who, writes, and sees that it is kept.
model::Result<model::ScopeId> written(Desk& desk, Finds find, Writes write) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return opened.error();
  const auto who = find(desk.book(), desk.request().who);
  if (!who) return who.error();
  if (const auto done = write(desk.book(), *who, desk.request()); !done) return done.error();
  if (const auto kept = desk.kept(); !kept) return kept.error();
  return *who;
}

int answer_fact(Desk& desk, Writes write, const std::string& fact) {
  const Finds athlete = [](app::Book& book, const std::string& named) { return book.find_athlete(named); };
  const auto who = written(desk, athlete, write);
  if (!who) return desk.refuse(who.error());
  return desk.answer(json::athlete(desk.book().athlete(*who)), words::fact_set(person(desk.book(), *who), fact));
}

int answer_plan(Desk& desk, Writes write, const std::string& field) {
  const auto who = written(desk, find_plan, write);
  if (!who) return desk.refuse(who.error());
  const model::Athlete plan = plan_shown(desk.book(), *who);
  const PlanSet done{{*who, plan.name.value_or("")}, field};
  return desk.answer(json::plan_set(done, plan), words::plan_set(done, plan));
}

}  // namespace

int run_athlete_set(Desk& desk) { return answer_fact(desk, set_fact, desk.request().field); }
int run_athlete_kit(Desk& desk) { return answer_fact(desk, set_kit, desk.request().kit); }
int run_plan_add(Desk& desk) { return answer_plan(desk, add_line, desk.request().exercise); }
int run_plan_drop(Desk& desk) { return answer_plan(desk, drop_line, desk.request().entry); }

int run_plan_show(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = find_plan(desk.book(), desk.request().who);
  if (!who) return desk.refuse(who.error());
  const model::Athlete plan = plan_shown(desk.book(), *who);
  return desk.answer(json::plan(plan), words::plan(plan));
}

int run_plan_set(Desk& desk) {
  const Writes set = [](app::Book& book, const model::ScopeId& who, const Request& asked) {
    const auto lines = plan_shown(book, who).prescriptions;  // without a line named it is the first of those that are shown
    if (lines.empty()) return model::Result<model::Done>(model::error(model::ErrorKind::not_found, "plan.none", {asked.who}));
    const auto line = asked.exercise.empty() ? model::Result<model::RecordId>(lines.front().id) : line_named(lines, asked.exercise);
    if (!line) return model::Result<model::Done>(line.error());
    return book.set_plan(who, asked.field, asked.value, asked.author, *line);
  };
  return answer_plan(desk, set, desk.request().field);
}

int run_check(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto report = desk.book().check();
  if (!report) return desk.refuse(report.error());
  // A store that is damaged is not written to by looking at it.
  const auto& found = report->findings;
  if (std::all_of(found.begin(), found.end(), app::is_of_the_view)) desk.look_after();
  Checked checked{.report = *report, .missing = desk.book().missing(), .athletes = 0, .contradictions = 0, .read_only = desk.book().opening().read_only,
                  .form = desk.book().opening().schema_found, .last_report = desk.book().last_report()};
  // An empty store is a sound one, but here there was another before.
  if (desk.book().opening().cleared) checked.report.findings.push_back(model::error(model::ErrorKind::not_found, "cli.note_cleared", {desk.folder()}));
  for (const model::Athlete* athlete : by_name(desk.book())) {
    checked.athletes += 1;
    checked.contradictions += app::contradictions_of(desk.book(), athlete->scope);
  }
  return desk.answer(json::checked(checked), words::checked(checked), checked.report.findings.empty() ? kDone : kAnswerIsNo);
}

}  // namespace slipway::native
