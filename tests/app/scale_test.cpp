// Row 12 of the design's table of tests: a coach's desk takes in a club, and every entry of it is there.
#include <doctest/doctest.h>

#include <algorithm>

#include "book_kit.h"
#include "kit/bundle_kit.h"
#include "kit/club.h"
#include "kit/rows.h"

using namespace slipway;

namespace {

// What one athlete's three devices wrote, as one file of one of them.
model::Bytes season_of(const kit::ClubAthlete& athlete, ops::Held& all) {
  kit::ClubPens pens(athlete.number);
  pens.write(athlete);
  std::vector<std::vector<ops::ChainedOp>> parts;
  for (std::uint64_t device = 0; device < kit::kClubDevices; ++device) parts.push_back(pens.ops(device));
  const auto ops = kit::together(std::move(parts));
  for (const ops::ChainedOp& op : ops) all.add(op);
  return kit::file_of(kit::bundle_of(ops, 'a'), sync::Packing::packed);
}

}  // namespace

TEST_CASE("a squad that is more than a desk keeps awake: whoever is asked for answers, is written to, and comes out as it was") {
  constexpr std::size_t kSquad = 21;
  kit::SquadDevice desk(13);
  std::vector<model::ScopeId> squad;
  for (std::size_t i = 0; i < kSquad; ++i) squad.push_back(*desk.book().add_athlete({.name = "Lane " + std::to_string(i)}, app::Author::coach));
  const model::Day day = model::day_of(desk.book().now());
  std::vector<std::vector<model::RecordId>> sets(kSquad);
  for (std::uint64_t round = 1; round <= 3; ++round) {
    for (std::size_t i = 0; i < kSquad; ++i) {
      app::SetEntry entry;
      entry.exercise = "SQ4";
      entry.round = round;
      entry.reps = 5 + i % 7;
      const auto logged = desk.book().log_set(squad[i], entry, day, app::Author::swimmer);
      REQUIRE(logged.ok());
      sets[i].push_back(*logged);
      if (i % 5 == round) REQUIRE(desk.book().tidy().ok());  // a moment in which folds go to rest
    }
    CHECK(desk.book().check()->findings.empty());
  }
  REQUIRE(desk.book().tidy().ok());
  for (std::size_t i = 0; i < kSquad; ++i) {
    REQUIRE(desk.book().change_set(squad[i], sets[i][1], {.reps = 9, .load = {}, .rir = {}, .left_out = {}}, app::Author::swimmer).ok());
    CHECK(desk.book().set_history(squad[i], sets[i][1]).size() == 2);
    CHECK(desk.book().athlete(squad[i]).sessions.at(0).sets.size() == 3);
  }
  const auto before = desk.book().digests();
  REQUIRE(desk.book().tidy().ok());
  CHECK_MESSAGE(desk.book().folds_awake() <= 8, "the others rest");
  CHECK(desk.book().digests().views == before.views);
  // The whole squad in one file.
  kit::SquadDevice other(14);
  const auto file = desk.book().make_bundle({}, {});
  REQUIRE(file.ok());
  REQUIRE(other.book().take_in("squad.slip", *file).ok());
  CHECK(other.book().folds_awake() <= 9);
  CHECK(other.book().digests().views == before.views);
  for (std::size_t i = 0; i < kSquad; ++i) CHECK(other.book().athlete(squad[i]).sessions.at(0).sets.size() == 3);
  CHECK(other.book().folds_awake() <= 9);  // who is only looked at rests on
  desk.close_book();
  CHECK(desk.book().digests().ops == before.ops);
  CHECK(desk.book().digests().views == before.views);
  CHECK(desk.book().folds_awake() <= 8);
  CHECK(desk.book().check()->findings.empty());
  for (std::size_t i = 0; i < kSquad; ++i) {
    const model::Athlete& athlete = desk.book().athlete(squad[i]);
    CHECK(athlete.name.value_or("") == "Lane " + std::to_string(i));
    CHECK(athlete.sessions.at(0).sets.at(1).reps.value_or(0) == 9);
  }
}

TEST_CASE("a hundred thousand entries of a club are taken in, and all are there, also after the next start") {
  const std::uint64_t wanted = kit::kWasm ? 10'000 : kit::times(100'000, 1'000'000);
  kit::SquadDevice desk(12);
  kit::Club club;
  ops::Held all;
  std::uint64_t sets = 0, removed = 0, longest_file = 0;
  for (std::uint64_t files = 0; all.op_count() < wanted; ++files) {
    const kit::ClubAthlete athlete = club.next();
    const std::uint64_t before = all.op_count();
    const model::Bytes file = season_of(athlete, all);
    longest_file = std::max<std::uint64_t>(longest_file, file.size());
    const auto taken = desk.book().take_in("season.slip", file);
    REQUIRE_MESSAGE(taken.ok(), taken.error().text);
    REQUIRE(taken->fresh == all.op_count() - before);
    CHECK(taken->missing.empty());
    sets += athlete.sets.size();
    removed += athlete.removals.size();
    // Once more: nothing of it is doubled.
    if (files % 8 == 0) CHECK(desk.book().take_in("again.slip", file)->fresh == 0);
  }
  CHECK(desk.book().op_count() == all.op_count());
  CHECK(desk.book().digests().ops == all.digest());
  const auto views = desk.book().digests().views;
  REQUIRE(desk.book().tidy().ok());
  desk.close_book();
  CHECK(desk.book().digests().ops == all.digest());
  CHECK(desk.book().digests().views == views);
  CHECK(desk.book().check()->findings.empty());
  std::uint64_t shown = 0;
  for (const model::ScopeId& scope : desk.book().scopes())
    for (const model::Session& session : desk.book().athlete(scope).sessions) shown += session.sets.size();
  CHECK(shown == sets - removed);
  kit::row(12, all.op_count(), "entries taken in, " + std::to_string(sets) + " sets of " + std::to_string(desk.book().scopes().size()) + " athletes, all there after a start");
  CHECK(longest_file < (1U << 20));
}
