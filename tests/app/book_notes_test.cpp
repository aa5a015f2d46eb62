// What is not a number, and what belongs to nobody: notes, words of lists, preferences, plan libraries, order.
#include <algorithm>

#include "app/needs.h"
#include "book_kit.h"

using namespace slipway;
using namespace slipway::kit;

namespace {

std::string words_of(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

std::string rungs_of(const std::vector<model::Prescription>& lines) {
  std::vector<const model::Prescription*> order;
  for (const model::Prescription& line : lines) order.push_back(&line);
  std::stable_sort(order.begin(), order.end(), [](const auto* a, const auto* b) { return a->position < b->position; });
  std::string text;
  for (const auto* line : order) text += (text.empty() ? "" : " ") + line->exercise.value_or("?");
  return text;
}

model::RecordId add_line(app::Book& book, const model::ScopeId& scope, const std::string& exercise, std::uint64_t place) {
  const auto added = book.add_plan_line(scope, {.exercise = exercise, .sets = 3, .reps = 8, .place = place}, Author::coach);
  REQUIRE(added.ok());
  return *added;
}

// Every byte of what a bundle holds, as it travels.
model::Bytes raw_of(const model::Bytes& file) {
  const auto read = sync::read_bundle(file, "a.slip");
  REQUIRE(read.ok());
  model::Bytes all;
  for (const model::ScopeId& scope : read->bundle.scopes) model::append(all, scope.view());
  for (const ops::ChainedOp& op : read->ops) {
    model::append(all, op.stream.inc.view());
    model::append(all, op.bytes);
  }
  return all;
}

bool holds(const model::Bytes& bytes, std::string_view text) { return std::string(model::as_text(bytes)).find(text) != std::string::npos; }

}  // namespace

TEST_CASE("a note is kept, written anew in knowledge of what it said, and taken back into the history") {
  Squad squad;
  const auto note = squad.book().add_note(squad.who, {.text = "Heels stay down.\nGood depth.", .about = squad.session}, Author::coach);
  REQUIRE(note.ok());
  REQUIRE(squad.athlete().notes.size() == 1);
  CHECK(squad.athlete().notes[0].about == squad.session);
  REQUIRE(squad.book().change_note(squad.who, *note, "Heels stay down.", Author::coach).ok());
  CHECK(squad.athlete().notes[0].text.all.size() == 1);
  CHECK(squad.athlete().notes[0].text.value_or("") == "Heels stay down.");
  REQUIRE(squad.book().take_back_note(squad.who, *note, Author::coach).ok());
  CHECK(squad.athlete().notes.empty());

  CHECK(refused(squad.book().add_note(squad.who, {.text = ""}, Author::coach)) == "value.note_empty");
  CHECK(refused(squad.book().add_note(squad.who, {.text = std::string(1001, 'x')}, Author::coach)) == "value.comment");
  CHECK(refused(squad.book().add_note(squad.who, {.text = "x", .coach_only = true}, Author::swimmer)) == "value.coach_only");
  CHECK(refused(squad.book().add_note(squad.who, {.text = "x", .about = squad.session, .coach_only = true}, Author::coach)) ==
        "value.coach_only_about");
}

TEST_CASE("two who write one note anew without knowing of each other are both heard") {
  Squad squad;
  const auto note = squad.book().add_note(squad.who, {.text = "first"}, Author::coach);
  REQUIRE(note.ok());
  SquadDevice other(2);
  carry(squad.book(), other.book());
  REQUIRE(squad.book().change_note(squad.who, *note, "by one", Author::coach).ok());
  REQUIRE(other.book().change_note(squad.who, *note, "by the other", Author::helper).ok());
  carry(other.book(), squad.book());
  CHECK(squad.athlete().notes[0].text.all.size() == 2);
  CHECK(app::contradictions_of(squad.athlete()) == 1);
}

TEST_CASE("what only coaches hold is in no bundle for a swimmer, not one byte of it, and reaches another coach whole") {
  Squad squad;
  app::Book& coach = squad.book();
  REQUIRE(coach.add_note(squad.who, {.text = "for all to read"}, Author::coach).ok());
  REQUIRE(coach.add_note(squad.who, {.text = "only for coaches", .coach_only = true}, Author::coach).ok());
  REQUIRE(coach.add_note(squad.who, {.text = "and one more", .coach_only = true}, Author::coach).ok());
  CHECK(coach.notes(squad.who).size() == 3);
  CHECK(coach.scopes().size() == 1);
  REQUIRE(coach.coach_notes().size() == 1);

  for (const app::Book::HandOver& asked : {app::Book::HandOver{.athletes = {squad.who}}, app::Book::HandOver{}}) {
    const auto bundle = coach.make_bundle(asked);
    REQUIRE(bundle.ok());
    CHECK(holds(raw_of(*bundle), "for all to read"));
    CHECK_FALSE(holds(raw_of(*bundle), "only for coaches"));
    CHECK_FALSE(holds(raw_of(*bundle), model::as_text(coach.coach_notes()[0].view())));
  }
  const auto whole = coach.make_bundle({.coach_notes = true});
  REQUIRE(whole.ok());
  SquadDevice other(2);
  REQUIRE(other.book().take_in("b.slip", *whole).ok());
  CHECK(other.book().scopes().size() == 1);
  const auto there = other.book().notes(squad.who);
  REQUIRE(there.size() == 3);
  CHECK(std::count_if(there.begin(), there.end(), [](const auto& one) { return one.coach_only; }) == 2);
  REQUIRE(other.book().change_note(squad.who, there[1].note.id, "changed there", Author::coach).ok());
}

TEST_CASE("two adults who each add a limitation both count, and taking one away takes only what was seen") {
  Squad squad;
  SquadDevice other(2);
  REQUIRE(squad.book().set_athlete(squad.who, {.limitations = {{"heart"}}}, Author::coach).ok());
  carry(squad.book(), other.book());
  REQUIRE(squad.book().set_athlete(squad.who, {.limitations = {{"heart", "loose_joints"}}}, Author::coach).ok());
  REQUIRE(other.book().set_athlete(squad.who, {.limitations = {{"shoulder_slipped"}}}, Author::helper).ok());
  carry(other.book(), squad.book());
  CHECK(words_of(squad.athlete().limitations) == "loose_joints shoulder_slipped");
  CHECK(app::contradictions_of(squad.athlete()) == 0);

  // One takes it away, the other, not knowing, says it again: it stays.
  carry(squad.book(), other.book());
  REQUIRE(squad.book().set_athlete(squad.who, {.limitations = {std::vector<std::string>{}}}, Author::coach).ok());
  CHECK(squad.athlete().limitations.empty());
  REQUIRE(other.book().set_athlete(squad.who, {.limitations = {std::vector<std::string>{}}}, Author::helper).ok());
  REQUIRE(other.book().set_athlete(squad.who, {.limitations = {{"loose_joints"}}}, Author::helper).ok());
  carry(other.book(), squad.book());
  CHECK(words_of(squad.athlete().limitations) == "loose_joints");
}

TEST_CASE("the last preference counts, and saying it again writes nothing") {
  Squad squad;
  REQUIRE(squad.book().prefer(squad.who, "unit", "lb", Author::swimmer).ok());
  REQUIRE(squad.book().prefer(squad.who, "unit", "kg", Author::swimmer).ok());
  const std::uint64_t before = squad.book().revision();
  REQUIRE(squad.book().prefer(squad.who, "unit", "kg", Author::swimmer).ok());
  CHECK(squad.book().revision() == before);
  REQUIRE(squad.athlete().preferences.size() == 1);
  CHECK(squad.athlete().preferences[0].value == "kg");
  CHECK(refused(squad.book().prefer(squad.who, "unit", "LB", Author::swimmer)) == "value.word");
}

TEST_CASE("a line is moved by writing that line alone, and two who move different lines agree") {
  Squad squad;
  const auto library = squad.book().add_library("Early season", Author::coach);
  REQUIRE(library.ok());
  const auto a = add_line(squad.book(), *library, "SQ2", 1), b = add_line(squad.book(), *library, "VP4", 2);
  const auto c = add_line(squad.book(), *library, "PU3", 3);
  const auto lines = [&] { return rungs_of(squad.book().library(*library).prescriptions); };
  CHECK(lines() == "SQ2 VP4 PU3");
  const std::uint64_t before = squad.book().revision();
  REQUIRE(squad.book().move_plan_line(*library, c, std::nullopt, Author::coach).ok());
  CHECK(lines() == "PU3 SQ2 VP4");
  REQUIRE(squad.book().move_plan_line(*library, c, a, Author::coach).ok());
  CHECK(lines() == "SQ2 PU3 VP4");
  REQUIRE(squad.book().move_plan_line(*library, a, b, Author::coach).ok());
  CHECK(lines() == "PU3 VP4 SQ2");
  CHECK(squad.book().revision() == before + 3);
  CHECK(refused(squad.book().move_plan_line(*library, a, squad.session, Author::coach)) == "record.unknown");

  SquadDevice other(2);
  const auto whole = squad.book().make_bundle({.libraries = true});
  REQUIRE(other.book().take_in("a.slip", *whole).ok());
  REQUIRE(squad.book().move_plan_line(*library, a, std::nullopt, Author::coach).ok());
  REQUIRE(other.book().move_plan_line(*library, c, b, Author::coach).ok());
  const auto back = other.book().make_bundle({.libraries = true});
  REQUIRE(squad.book().take_in("b.slip", *back).ok());
  CHECK(lines() == "SQ2 VP4 PU3");
}

TEST_CASE("a plan is copied by value: the swimmer's bundle shows it all and names nothing of the library") {
  Squad squad;
  const auto library = squad.book().add_library("Secret plan", Author::coach);
  REQUIRE(library.ok());
  add_line(squad.book(), *library, "SQ2", 1);
  const auto moved = add_line(squad.book(), *library, "VP4", 2);
  REQUIRE(squad.book().move_plan_line(*library, moved, std::nullopt, Author::coach).ok());
  const auto copied = squad.book().copy_plan(*library, squad.who, true, Author::coach);
  REQUIRE(copied.ok());
  CHECK(*copied == 2);
  CHECK(rungs_of(squad.athlete().prescriptions) == "VP4 SQ2");
  const auto bundle = squad.book().make_bundle({.athletes = {squad.who}});
  CHECK_FALSE(holds(raw_of(*bundle), "Secret plan"));
  CHECK_FALSE(holds(raw_of(*bundle), model::as_text(library->view())));

  // What becomes of the library later is the library's affair.
  add_line(squad.book(), *library, "PU3", 3);
  CHECK(rungs_of(squad.athlete().prescriptions) == "VP4 SQ2");
  REQUIRE(squad.book().copy_plan(*library, squad.who, false, Author::coach).ok());
  CHECK(squad.athlete().prescriptions.size() == 5);
  CHECK(refused(squad.book().copy_plan(*library, *library, true, Author::coach)) == "plan.copy_to_itself");
  CHECK(refused(squad.book().copy_plan(*squad.book().add_library("Empty", Author::coach), squad.who, true, Author::coach)) ==
        "plan.nothing_to_copy");
  CHECK_FALSE(squad.athlete().prescriptions.empty());
}

TEST_CASE("a line changed by one and taken away by another comes back, said so until somebody keeps it") {
  Squad squad;
  SquadDevice other(2);
  carry(squad.book(), other.book());
  const model::RecordId line = squad.athlete().prescriptions.front().id;
  REQUIRE(squad.book().take_back(squad.who, line, Author::coach).ok());
  REQUIRE(other.book().change_plan_line(squad.who, line, {.sets = 4}, Author::helper).ok());
  carry(other.book(), squad.book());
  REQUIRE(squad.athlete().came_back.size() == 1);
  CHECK(squad.athlete().came_back[0].id == line);
  CHECK(squad.athlete().came_back[0].kind == "prescription");
  CHECK(squad.athlete().came_back[0].changed.op.inc == other.book().opening().inc);
  CHECK(squad.athlete().came_back[0].taken_away.op.inc == squad.book().opening().inc);
  REQUIRE(squad.book().keep_it(squad.who, line, Author::coach).ok());
  CHECK(squad.athlete().came_back.empty());
  CHECK(refused(squad.book().keep_it(squad.who, line, Author::coach)) == "record.unknown");
  CHECK(squad.athlete().prescriptions.front().sets.value_or(0) == 4);
}
