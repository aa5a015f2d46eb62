// The made-up club is the one that others are held against, and its contradictions are all kept.
#include "kit/club.h"

#include <doctest/doctest.h>

#include "ops/fold.h"
#include "ops/registry.h"

using namespace slipway;

TEST_CASE("a tenth of the club gives the published answer") {
  // The figures that any program drawing in this order must find, published with the order of the draws.
  kit::Club club;
  kit::ClubAnswer answer;
  for (int athlete = 0; athlete < 6; ++athlete) answer.add(club.next());
  CHECK(answer.groups == 8'067);
  CHECK(answer.grams / 1'000 == 12'815'696);
  CHECK(answer.best == 18'065'212'000);
}

TEST_CASE("the whole club gives the published answer") {
  kit::Club club;
  kit::ClubAnswer answer;
  std::uint64_t sets = 0, pairs = 0;
  for (std::uint64_t athlete = 0; athlete < kit::kClubAthletes; ++athlete) {
    const kit::ClubAthlete drawn = club.next();
    sets += drawn.sets.size();
    pairs += drawn.pairs_at_once;
    answer.add(drawn);
  }
  CHECK(sets == 317'186);
  CHECK(pairs == 3'177);
  CHECK(answer == kit::ClubAnswer{80'639, answer.grams, 196'263'982'500});
  CHECK(answer.grams / 1'000 == 139'189'199);
}

TEST_CASE("of two edits at once on two devices of the club none is lost, in any order of arrival") {
  kit::Club club;
  const kit::ClubAthlete athlete = club.next();
  kit::ClubPens pens(0);
  pens.write(athlete);
  ops::Fold forwards(pens.scope()), backwards(pens.scope());
  for (std::uint64_t device = 0; device < kit::kClubDevices; ++device)
    for (const ops::ChainedOp& op : pens.ops(device)) forwards.add(op);
  for (std::uint64_t device = kit::kClubDevices; device-- > 0;)
    for (auto op = pens.ops(device).rbegin(); op != pens.ops(device).rend(); ++op) backwards.add(*op);
  CHECK(forwards.digest() == backwards.digest());
  std::size_t sets = 0, edits = 0, removed = 0;
  for (const auto& [id, record] : forwards.records()) {
    if (record.kind != ops::kind::set) continue;
    ++sets;
    removed += record.taken_back() ? 1 : 0;
    edits += record.touched_by().size() - 1;
  }
  CHECK(sets == athlete.sets.size());
  CHECK(edits == athlete.edits.size());
  CHECK(removed == athlete.removals.size());
  // Both values of one field stay side by side, unless they are equal.
  std::size_t side_by_side = 0, expected = 0;
  for (const auto& [id, record] : forwards.records())
    for (const std::uint32_t tag : record.tags()) side_by_side += record.kind == ops::kind::set && record.field(tag).in_conflict() ? 1 : 0;
  for (std::size_t i = 0; i + 1 < athlete.edits.size(); ++i) {
    const kit::ClubEdit &one = athlete.edits[i], &other = athlete.edits[i + 1];
    expected += one.set == other.set && one.field == other.field && one.value != other.value ? 1 : 0;
  }
  CHECK(expected > 0);
  CHECK(side_by_side == expected);
}
