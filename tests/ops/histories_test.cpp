// Random histories against the oracle. The seed of a failing history is in the message:
// SLIPWAY_SEED=<seed> runs that one alone, SLIPWAY_HISTORIES=<count> runs so many.
#include <array>
#include <string>

#include <doctest/doctest.h>

#include "kit/history.h"
#include "kit/rows.h"

using namespace slipway;
using kit::Act;
using kit::History;

namespace {

constexpr std::uint64_t kHistories = 2'000, kHistoriesAtLength = 1'000'000;  // 2,000: ten seconds with sanitizers
constexpr std::uint64_t kFirstSeed = 1;

void everybody_sees_what_the_oracle_says(const History& history) {
  for (std::size_t place = 0; place < history.places(); ++place) {
    CAPTURE(place);
    REQUIRE(history.view(place) == history.expected(place));
    REQUIRE(history.counting(place) == history.expected_counting(place));
  }
}

void everybody_agrees(const History& history) {
  for (std::size_t place = 1; place < history.places(); ++place) {
    CAPTURE(place);
    REQUIRE(history.device(place).held().digest() == history.device(0).held().digest());
    REQUIRE(history.device(place).fold().write_state() == history.device(0).fold().write_state());
    REQUIRE(history.device(place).held().holdings() == history.device(0).held().holdings());
    REQUIRE(history.view(place) == history.view(0));
    REQUIRE(history.counting(place) == history.counting(0));
  }
}

kit::Toll nothing_is_missing(const History& history) {
  const kit::Toll toll = history.toll();
  REQUIRE(toll.lost == 0);
  REQUIRE(toll.unexpected == 0);
  REQUIRE(toll.duplicated == 0);
  REQUIRE(toll.pain_hidden == 0);
  return toll;
}

kit::Toll live_through(History& history) {
  history.run();
  everybody_sees_what_the_oracle_says(history);  // each on its own part of the log
  history.exchange_all();
  everybody_sees_what_the_oracle_says(history);
  everybody_agrees(history);
  return nothing_is_missing(history);
}

}  // namespace

TEST_CASE("whatever happens to the devices, all end up with the same log and nothing acknowledged is lost") {
  const std::uint64_t only = kit::number_from_outside("SLIPWAY_SEED", 0);
  const std::uint64_t asked = kit::number_from_outside("SLIPWAY_HISTORIES", kit::times(kit::kWasm ? kHistories / 10 : kHistories, kHistoriesAtLength));
  const std::uint64_t count = only != 0 ? 1 : asked, first = only != 0 ? only : kFirstSeed;
  std::uint64_t acknowledged = 0, gone = 0, forks = 0;
  std::array<std::uint64_t, kit::kActs> times{};
  for (std::uint64_t seed = first; seed < first + count; ++seed) {
    INFO("SLIPWAY_SEED=", seed);
    History history(seed);
    const kit::Toll toll = live_through(history);
    acknowledged += toll.acknowledged;
    gone += toll.gone;
    for (std::size_t act = 0; act < kit::kActs; ++act) times[act] += history.times(static_cast<Act>(act));
    for (const auto& [stream, holding] : history.device(0).held().holdings()) forks += holding.forked ? 1 : 0;
  }
  if (only != 0) return;
  kit::row(1, count, "random histories: " + std::to_string(acknowledged) + " entries acknowledged, 0 lost, 0 unexpected, 0 duplicated, " +
                         std::to_string(gone) + " gone with the only device that held them; " + std::to_string(forks) + " forks");
  // The test of the test: every act was really done, and set-back devices really forked.
  for (std::uint64_t done : times) CHECK(done > count / 20);
  CHECK(forks > count / 20);
  CHECK(gone * 10 < acknowledged);
}

TEST_CASE("the same history gives the same two digests on every build") {
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    History history(seed);
    history.run();
    history.exchange_all();
    const std::string name = "history_" + std::to_string(seed);
    kit::print_digest(name + ".ops", history.device(0).held().digest());
    kit::print_digest(name + ".views", ops::digest_of_views({&history.device(0).fold()}));
    CHECK(history.device(0).held().digest() == history.device(1).held().digest());
  }
}

TEST_CASE("a history is told by its seed alone") {
  History once(77), again(77), other(78);
  for (History* history : {&once, &again, &other}) history->run();
  CHECK(once.device(0).held().digest() == again.device(0).held().digest());
  CHECK_FALSE(once.device(0).held().digest() == other.device(0).held().digest());
}
