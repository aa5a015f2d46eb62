// The calm moment in which a device looks after its own store.
#include <algorithm>

#include <doctest/doctest.h>

#include "kit/bundle_kit.h"
#include "kit/device.h"
#include "kit/store_golden.h"
#include "store/schema_1.h"

using namespace slipway;

namespace {

namespace form_1 = stores::schema_1;

void put_old_store(kit::SquadDevice& device) {
  for (const auto& [name, bytes] : kit::disk_of_stretches(form_1::kSize, form_1::kStretches, form_1::kBytes).files)
    device.files.content[name] = bytes;
}

void next_day(kit::SquadDevice& device, int days) { device.clock.tick(std::int64_t{days} * 86'400'000); }

// A device with one swimmer and one set, its derived state saved.
model::ScopeId with_a_set(kit::SquadDevice& device) {
  app::NewAthlete who;
  who.name = "Wren";
  who.birth_year = 1991;
  const auto made = device.book().add_athlete(who, app::Author::coach);
  REQUIRE(made.ok());
  app::SetEntry entry;
  entry.exercise = "SQ4";
  entry.reps = 8;
  REQUIRE(device.book().log_set(*made, entry, model::day_of(device.clock.now()), app::Author::swimmer).ok());
  REQUIRE(device.book().tidy().ok());
  return *made;
}

// The cache of this device says something else than the entries: that there are none.
void spoil_cache(kit::SquadDevice& device, const model::ScopeId& scope) {
  device.close_book();
  auto store = store::Store::open(device.files, device.random, device.next_tokens());
  REQUIRE(store.ok());
  auto derived = (*store)->derived(scope);
  REQUIRE((derived.ok() && derived->has_value()));
  (*derived)->state = ops::Fold(scope).write_state();
  REQUIRE((*store)->save_derived(scope, **derived).ok());
}

}  // namespace

TEST_CASE("a cache that differs from the entries is found in a calm moment, the view is built anew, and a report is left") {
  kit::SquadDevice device(1);
  const auto scope = with_a_set(device);
  const auto digests = device.book().digests();
  spoil_cache(device, scope);
  CHECK_FALSE(device.book().digests().views == digests.views);
  const auto revision = device.book().revision();

  const auto checked = device.book().self_check();
  REQUIRE(checked.ok());
  CHECK(checked->rebuilt);
  REQUIRE(checked->findings.size() == 1);
  CHECK(checked->findings[0].text == "check.differs");
  CHECK(device.book().digests().views == digests.views);
  CHECK(device.book().digests().ops == digests.ops);
  CHECK_FALSE(device.book().revision() == revision);
  CHECK(device.book().athlete(scope).sessions.size() == 1);
  const auto report = device.book().last_report();
  REQUIRE(report);
  CHECK(report->find("check.differs") != std::string::npos);
  CHECK(report->find("Wren") == std::string::npos);

  device.close_book();
  CHECK(device.book().digests().views == digests.views);  // for good
  CHECK(device.book().self_check()->findings.empty());
}

TEST_CASE("a look by hand that finds the view differing makes the next calm moment build it anew, looked at this week or not") {
  kit::SquadDevice device(6);
  const auto scope = with_a_set(device);
  const auto digests = device.book().digests();
  REQUIRE(device.book().self_check().ok());
  spoil_cache(device, scope);
  CHECK_FALSE(device.book().self_check()->rebuilt);  // not due: looked at today
  REQUIRE(device.book().check()->findings.size() == 1);
  CHECK(device.book().self_check()->rebuilt);
  CHECK(device.book().digests().views == digests.views);
  CHECK(device.book().check()->findings.empty());
}

TEST_CASE("a cache that was changed on the disk shows nobody anything: the view is built from the entries") {
  kit::SquadDevice device(5);
  const auto scope = with_a_set(device);
  const auto digests = device.book().digests();
  device.close_book();
  const model::Bytes state = [&] {
    auto store = store::Store::open(device.files, device.random, device.next_tokens());
    REQUIRE(store.ok());
    const auto derived = (*store)->derived(scope);
    REQUIRE((derived.ok() && derived->has_value()));
    CHECK((*derived)->proven);
    return (*derived)->state;
  }();
  model::Bytes& database = device.files.content[std::string(store::kDatabaseName)];
  constexpr std::size_t kWindow = 24;
  std::size_t tried = 0;
  for (std::size_t at = 0; at + kWindow < state.size(); at += kWindow) {
    const auto find_from = [&](auto from) {
      return std::search(from, database.end(), state.begin() + static_cast<std::ptrdiff_t>(at), state.begin() + static_cast<std::ptrdiff_t>(at + kWindow));
    };
    const auto found = find_from(database.begin());
    if (found == database.end() || find_from(found + 1) != database.end()) continue;  // over the end of a page; also in an entry
    const auto place = static_cast<std::size_t>(found - database.begin());
    for (std::size_t byte = place; byte < place + kWindow; byte += 5) {
      const auto flip = static_cast<std::uint8_t>(1U << (tried % 8));
      database[byte] ^= flip;
      CHECK(device.book().digests().views == digests.views);
      device.close_book();
      database[byte] ^= flip;
      ++tried;
    }
  }
  CHECK(tried > 50);
}

TEST_CASE("a sound device is checked whole once a week, and after every import") {
  kit::SquadDevice device(2), other(3);
  const auto scope = with_a_set(device);
  REQUIRE(device.book().self_check()->findings.empty());
  spoil_cache(device, scope);
  next_day(device, 6);
  CHECK(device.book().self_check()->findings.empty());  // not due: only the file is looked at
  next_day(device, 1);
  CHECK(device.book().self_check()->rebuilt);

  spoil_cache(device, scope);
  CHECK_FALSE(device.book().self_check()->rebuilt);
  with_a_set(other);
  const auto bundle = other.book().make_bundle({});
  REQUIRE(bundle.ok());
  REQUIRE(device.book().take_in("other.slip", *bundle).ok());
  CHECK(device.book().self_check()->rebuilt);
}

TEST_CASE("after an older store was brought up to date the view is built from the entries, and its copy goes after 30 days") {
  kit::SquadDevice device(4);
  put_old_store(device);
  app::Book& book = device.book();
  CHECK(book.opening().rebuild_derived);
  REQUIRE(book.tidy().ok());
  CHECK_FALSE(book.opening().rebuild_derived);
  CHECK(book.self_check()->findings.empty());
  const std::string copy(store::kCopyName);
  next_day(device, 29);
  REQUIRE(book.self_check().ok());
  CHECK(device.files.exists(copy));
  next_day(device, 8);
  REQUIRE(book.self_check().ok());
  CHECK_FALSE(device.files.exists(copy));
}
