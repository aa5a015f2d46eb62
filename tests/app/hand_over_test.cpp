// What goes out to whom: everything, or what that device lacks by its own word; and what is shown before.
#include <algorithm>

#include "book_kit.h"

using namespace slipway;
using namespace slipway::kit;

namespace {

std::uint64_t ops_in(const model::Result<model::Bytes>& file) {
  REQUIRE(file.ok());
  const auto read = sync::read_bundle(*file, "a.slip");
  REQUIRE(read.ok());
  return read->ops.size();
}

void log_sets(app::Book& book, const model::ScopeId& who, model::Day day, int sets) {
  for (int i = 0; i < sets; ++i) REQUIRE(book.log_set(who, entry_of("SQ2", static_cast<std::uint64_t>(5 + i)), day, Author::swimmer).ok());
}

}  // namespace

TEST_CASE("having handed a file out proves nothing: only a bundle from there makes the next one smaller") {
  Squad squad;
  SquadDevice coach(2);
  log_sets(squad.book(), squad.who, squad.today(), 5);
  const model::DeviceId there = coach.book().opening().device;
  const auto first = squad.book().make_bundle({.to = there});
  REQUIRE(coach.book().take_in("1.slip", *first).ok());
  CHECK(ops_in(squad.book().make_bundle({.to = there})) == ops_in(first));

  const auto answer = coach.book().make_bundle({});
  REQUIRE(squad.book().take_in("2.slip", *answer).ok());
  CHECK(ops_in(squad.book().make_bundle({.to = there})) == 0);
  log_sets(squad.book(), squad.who, squad.today(), 2);
  CHECK(ops_in(squad.book().make_bundle({.to = there})) == 2);
  CHECK(ops_in(squad.book().make_bundle({})) > 2);
  const auto peers = squad.book().peers();
  REQUIRE(peers.ok());
  REQUIRE(peers->size() == 1);
  CHECK(peers->front().device == there);
  CHECK(peers->front().lacks == 2);
}

TEST_CASE("a lost bundle leaves a hole that is named, asked for by the next bundle and filled by the one after") {
  Squad squad;
  SquadDevice coach(2);
  const model::DeviceId there = coach.book().opening().device;
  const auto begun = squad.book().make_bundle({.to = there});
  REQUIRE(coach.book().take_in("1.slip", *begun).ok());
  REQUIRE(squad.book().take_in("back.slip", *coach.book().make_bundle({})).ok());

  log_sets(squad.book(), squad.who, squad.today(), 3);
  const auto lost = squad.book().make_bundle({.to = there});
  CHECK(ops_in(lost) == 3);
  // The swimmer's phone is told, wrongly, that the coach has them: a bundle of the coach's other device that had read the lost one.
  SquadDevice assistant(3);
  REQUIRE(assistant.book().take_in("1.slip", *begun).ok());
  REQUIRE(assistant.book().take_in("lost.slip", *lost).ok());
  REQUIRE(squad.book().take_in("a.slip", *assistant.book().make_bundle({})).ok());
  log_sets(squad.book(), squad.who, squad.today(), 2);
  const auto later = squad.book().make_bundle({.to = assistant.book().opening().device});
  CHECK(ops_in(later) == 2);
  const auto taken = coach.book().take_in("later.slip", *later);
  REQUIRE(taken.ok());
  CHECK(taken->missing.size() == 1);
  REQUIRE(coach.book().missing().size() == 1);
  CHECK(coach.book().missing()[0].last - coach.book().missing()[0].first + 1 == 3);

  // The coach's next bundle says what it holds, hole and all; the answer fills it.
  REQUIRE(squad.book().take_in("asks.slip", *coach.book().make_bundle({})).ok());
  const auto fills = squad.book().make_bundle({.to = there});
  CHECK(ops_in(fills) == 3);
  REQUIRE(coach.book().take_in("fills.slip", *fills).ok());
  CHECK(coach.book().missing().empty());
  CHECK(coach.book().digests().ops == squad.book().digests().ops);
}

TEST_CASE("where keys are in use a stranger's file that brings nothing new cannot say what a device holds") {
  for (const bool in_use : {false, true}) {
    CAPTURE(in_use);
    Squad squad;
    SquadDevice other(2);
    REQUIRE(other.book().take_in("1.slip", *squad.book().make_bundle({})).ok());
    if (in_use) REQUIRE(squad.book().keys().make_coach_key("Heron", "", false).ok());
    const auto claims = other.book().make_bundle({});
    REQUIRE(squad.book().take_in("claims.slip", *claims).ok());
    CHECK(squad.book().peers()->size() == (in_use ? 0 : 1));
    REQUIRE(squad.book().take_in("claims.slip", *claims, {.confirmed = true}).ok());
    CHECK(squad.book().peers()->size() == 1);
  }
}

TEST_CASE("a coach's old bundle read late does not take away what is sent") {
  Squad squad;
  SquadDevice coach(2);
  const model::DeviceId there = coach.book().opening().device;
  REQUIRE(coach.book().take_in("1.slip", *squad.book().make_bundle({})).ok());
  const auto early = coach.book().make_bundle({});
  log_sets(squad.book(), squad.who, squad.today(), 4);
  REQUIRE(coach.book().take_in("2.slip", *squad.book().make_bundle({})).ok());
  const auto late = coach.book().make_bundle({});
  REQUIRE(squad.book().take_in("late.slip", *late).ok());
  CHECK(ops_in(squad.book().make_bundle({.to = there})) == 0);
  REQUIRE(squad.book().take_in("early.slip", *early).ok());
  CHECK(ops_in(squad.book().make_bundle({.to = there})) == 0);
}

TEST_CASE("before a bundle goes out it is said who, how much, and which typed texts leave for the first time") {
  Squad squad;
  REQUIRE(squad.book().add_note(squad.who, {.text = "ask the other coach"}, Author::coach).ok());
  const auto before = squad.book().preview({});
  REQUIRE(before.ok());
  CHECK(before->athletes == std::vector<model::ScopeId>{squad.who});
  CHECK(before->entries == squad.book().op_count());
  const auto says = [](const app::Book::GoesOut& out, std::string_view text) {
    return std::any_of(out.first_time.begin(), out.first_time.end(), [&](const auto& one) { return one.text == text; });
  };
  CHECK(says(*before, "Wren"));
  CHECK(says(*before, "ask the other coach"));

  const auto gone = squad.book().make_bundle({});
  REQUIRE(gone.ok());
  CHECK(before->entries == ops_in(gone));
  const auto after = squad.book().preview({});
  REQUIRE(after.ok());
  CHECK(after->first_time.empty());
  const auto note = squad.book().notes(squad.who).front().note.id;
  REQUIRE(squad.book().change_note(squad.who, note, "ask nobody", Author::coach).ok());
  const auto again = squad.book().preview({});
  REQUIRE(again->first_time.size() == 1);
  CHECK(again->first_time[0].kind == "note");
  CHECK(again->first_time[0].field == "text");
  CHECK(again->first_time[0].text == "ask nobody");
}
