// A killed program may leave a journal beside a database that is half written. Our VFS answers
// "nobody holds a reserved lock", so the next opening takes the half transaction back.
#include <doctest/doctest.h>

#include "kit/memory_files.h"
#include "kit/store_kit.h"

using namespace slipway;

namespace {

constexpr std::string_view kJournal = "slipway.db-journal";
constexpr std::size_t kKilledIn = 5;

kit::State opened_on(const kit::MemoryDisk& disk) {
  kit::MemoryDisk copy = disk;
  kit::MemoryFiles files(copy);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  const auto state = kit::state_of(opened.store());
  REQUIRE(state.ok());
  CHECK(opened.store().check()->findings.empty());
  return *state;
}

}  // namespace

TEST_CASE("an entry that was half written when the program was killed is taken back at the next start") {
  const auto steps = kit::log_steps();
  const kit::MemoryDisk killed = kit::killed_during(steps, kKilledIn);
  REQUIRE(killed.files.at(std::string(kJournal)).size() > 512);  // a journal with pages to put back
  CHECK(opened_on(killed) == kit::state_after(steps, kKilledIn));
}

TEST_CASE("the journal of a killed program is needed: without it the same database is not what it was") {
  const auto steps = kit::log_steps();
  kit::MemoryDisk killed = kit::killed_during(steps, kKilledIn);
  killed.files.erase(std::string(kJournal));
  kit::MemoryFiles files(killed);
  const auto finding = kit::judge(files, steps, kKilledIn, kKilledIn);
  CHECK(finding.kind != kit::Finding::Kind::sound);
}

TEST_CASE("after a killed start the training goes on in the same store") {
  const auto steps = kit::log_steps();
  kit::MemoryDisk killed = kit::killed_during(steps, kKilledIn);
  kit::MemoryFiles files(killed);
  kit::Opened opened(files);
  REQUIRE(opened.open());
  CHECK(files.exists(store::kDatabaseName));
  CHECK_FALSE(files.exists(kJournal));  // emptied: nothing is left to take back
  for (std::size_t i = kKilledIn; i < steps.size(); ++i) {
    const bool kept = opened.perform(steps[i]);
    CHECK(kept);
  }
  const auto state = kit::state_of(opened.store());
  REQUIRE(state.ok());
  CHECK(*state == kit::state_after(steps, steps.size()));
}
