// One set, logged on one device, carried by a bundle, merged on another: the same bytes.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdio>

#include "app/demo.h"
#include "kit/device.h"
#include "ops/registry.h"
#include "report/words.h"

using namespace slipway;

namespace {

constexpr std::size_t kFirstLines = 10;                  // two sessions of five
constexpr std::uint64_t kFirstEntries = 3 + kFirstLines;  // of somebody new: athlete, kit, programme, plan lines

const model::Quantity k8kg{8, 0, model::Unit::kg};

app::SetEntry as_written(std::uint64_t round, std::uint64_t reps = 8) {
  return {.exercise = "SQ4", .round = round, .reps = reps, .load = k8kg, .rir = std::nullopt, .written_reps = 8, .written_load = k8kg};
}

model::Day today(kit::SquadDevice& device) { return model::day_of(device.clock.now()); }

model::ScopeId add(kit::SquadDevice& device, const std::string& name) {
  const auto made = device.book().add_athlete({name, 1991}, app::Author::swimmer);
  REQUIRE(made.ok());
  return *made;
}

model::Bytes bundle_of(kit::SquadDevice& device) {
  auto bytes = device.book().make_bundle({});
  REQUIRE(bytes.ok());
  return *bytes;
}

app::TakenIn take_in(kit::SquadDevice& device, const model::Bytes& bundle) {
  const auto taken = device.book().take_in("test.slip", bundle);
  if (!taken) FAIL(report::say(taken.error()));
  return *taken;
}

bool same(const app::Digests& a, const app::Digests& b) { return a.ops == b.ops && a.views == b.views; }

void print(const char* name, const app::Digests& digests) {
  std::printf("digest journeys.%s.ops %s\n", name, digests.ops.hex().c_str());
  std::printf("digest journeys.%s.views %s\n", name, digests.views.hex().c_str());
}

}  // namespace

TEST_CASE("a set is there after the program was killed, and the coach's device shows the same bytes") {
  kit::SquadDevice phone(1);
  const auto wren = add(phone, "Wren");
  REQUIRE(phone.book().log_set(wren, as_written(1), today(phone), app::Author::swimmer).ok());
  phone.close_book();

  REQUIRE(phone.book().athlete(wren).sessions.size() == 1);
  CHECK(phone.book().athlete(wren).sessions[0].sets.size() == 1);

  kit::SquadDevice desk(2);
  const auto taken = take_in(desk, bundle_of(phone));
  CHECK(taken.fresh == kFirstEntries + 2);  // and session, set
  CHECK(taken.fresh_sets == 1);
  CHECK(desk.book().athlete(wren).sessions[0].sets[0].as_written());
  CHECK(same(phone.book().digests(), desk.book().digests()));
  print("one_set", desk.book().digests());
}

TEST_CASE("the same bundle twice brings nothing, a different export of the same log neither, one more set brings one") {
  kit::SquadDevice phone(3);
  kit::SquadDevice desk(4);
  const auto wren = add(phone, "Wren");
  REQUIRE(phone.book().log_set(wren, as_written(1), today(phone), app::Author::swimmer).ok());
  const auto first = bundle_of(phone);
  take_in(desk, first);
  CHECK(take_in(desk, first).fresh == 0);

  REQUIRE(phone.book().tidy().ok());  // chunks folded: other rows, the same log
  const auto other = bundle_of(phone);
  CHECK(take_in(desk, other).fresh == 0);

  REQUIRE(phone.book().log_set(wren, as_written(2), today(phone), app::Author::swimmer).ok());
  const auto more = take_in(desk, bundle_of(phone));
  CHECK(more.fresh == 1);
  CHECK(more.known == kFirstEntries + 2);
}

TEST_CASE("three devices, a plan field and sets edited apart: every order of merging gives the same two digests") {
  kit::SquadDevice phone(5);
  const auto wren = add(phone, "Wren");
  REQUIRE(phone.book().log_set(wren, as_written(1), today(phone), app::Author::swimmer).ok());
  const auto start = bundle_of(phone);

  kit::SquadDevice desk(6);
  kit::SquadDevice tablet(7);
  take_in(desk, start);
  take_in(tablet, start);
  const auto set = phone.book().athlete(wren).sessions[0].sets[0].id;
  REQUIRE(desk.book().set_plan(wren, "load", "10", app::Author::coach).ok());
  REQUIRE(tablet.book().set_plan(wren, "load", "12", app::Author::helper).ok());
  REQUIRE(phone.book().change_set(wren, set, {.reps = 7, .load = {}, .rir = {}, .left_out = {}}, app::Author::swimmer).ok());
  REQUIRE(desk.book().take_back(wren, set, app::Author::coach).ok());
  REQUIRE(tablet.book().log_set(wren, as_written(2), today(tablet), app::Author::helper).ok());

  std::vector<model::Bytes> bundles{bundle_of(phone), bundle_of(desk), bundle_of(tablet)};
  std::vector<std::size_t> order{0, 1, 2};
  std::optional<app::Digests> expected;
  std::uint64_t seed = 100;
  do {
    kit::SquadDevice fresh(++seed);
    for (std::size_t i : order) take_in(fresh, bundles[i]);
    if (!expected) expected = fresh.book().digests();
    CHECK(same(*expected, fresh.book().digests()));
    const auto& athlete = fresh.book().athlete(wren);
    REQUIRE(athlete.prescriptions.size() == kFirstLines);
    CHECK(athlete.prescriptions[0].load.all.size() == 2);  // both values, nobody's clock decided
    REQUIRE(athlete.sessions[0].sets.size() == 2);
    CHECK(athlete.sessions[0].sets[0].revived);  // changed while another took it back
  } while (std::next_permutation(order.begin(), order.end()));
  print("three_devices", *expected);

  // And one more: settled by a write that saw both, on every device.
  take_in(desk, bundles[0]);
  take_in(desk, bundles[2]);
  REQUIRE(desk.book().set_plan(wren, "load", "10", app::Author::coach).ok());
  CHECK(desk.book().athlete(wren).prescriptions[0].load.all.size() == 1);
  take_in(phone, bundle_of(desk));
  take_in(tablet, bundle_of(phone));
  CHECK(same(phone.book().digests(), tablet.book().digests()));
  CHECK(model::grams(*tablet.book().athlete(wren).prescriptions[0].load.first()) == 10'000);
}

TEST_CASE("while the storage is full a set waits in memory, travels in the bundle, and is kept once there is room") {
  kit::SquadDevice phone(8);
  const auto wren = add(phone, "Wren");
  phone.files.refuses = host::IoStatus::full;
  const auto set = phone.book().log_set(wren, as_written(1), today(phone), app::Author::swimmer);
  REQUIRE(set.ok());
  CHECK(phone.book().waits(*set));
  CHECK(phone.book().waiting_sets() == 1);
  REQUIRE(phone.book().trouble().has_value());
  CHECK(phone.book().trouble()->kind == model::ErrorKind::full);

  kit::SquadDevice desk(9);
  CHECK(take_in(desk, bundle_of(phone)).fresh_sets == 1);

  phone.files.refuses = host::IoStatus::ok;
  CHECK(phone.book().try_again());
  CHECK_FALSE(phone.book().waits(*set));
  phone.close_book();
  CHECK(phone.book().athlete(wren).sessions[0].sets.size() == 1);
}

TEST_CASE("a damaged bundle is refused and changes nothing; the untouched one is taken in by the same store") {
  kit::SquadDevice phone(10);
  const auto wren = add(phone, "Wren");
  REQUIRE(phone.book().log_set(wren, as_written(1), today(phone), app::Author::swimmer).ok());
  const auto bundle = bundle_of(phone);

  kit::SquadDevice desk(11);
  const auto before = desk.book().digests();
  for (std::size_t at = 0; at < bundle.size(); at += 7) {
    auto flipped = bundle;
    flipped[at] ^= 1;
    const auto taken = desk.book().take_in("flipped.slip", flipped);
    REQUIRE_FALSE(taken.ok());
    CHECK(report::say(taken.error()).find("flipped.slip") != std::string::npos);
    REQUIRE(same(before, desk.book().digests()));
  }
  CHECK(take_in(desk, bundle).fresh == kFirstEntries + 2);
  CHECK(desk.book().check()->findings.empty());
}

TEST_CASE("a copied store writes under a new mark, so that two devices never share one place") {
  kit::SquadDevice phone(12);
  const auto wren = add(phone, "Wren");
  kit::SquadDevice clone(13);
  phone.close_book();
  clone.files.content = phone.files.content;  // a copied folder, without the token kept outside it
  CHECK(clone.book().opening().why == store::WhyNewIncarnation::token_broken);
  CHECK_FALSE(clone.book().opening().inc == phone.book().opening().inc);
  REQUIRE(phone.book().log_set(wren, as_written(1), today(phone), app::Author::swimmer).ok());
  REQUIRE(clone.book().log_set(wren, as_written(1), today(clone), app::Author::swimmer).ok());
  const auto taken = take_in(phone, bundle_of(clone));
  CHECK(taken.forks == 0);
  CHECK(taken.fresh_sets == 1);
  CHECK(phone.book().athlete(wren).sessions.size() == 2);
}

TEST_CASE("a store that went back in time takes its own later entries in again and writes under a new mark") {
  kit::SquadDevice phone(14);
  const auto wren = add(phone, "Wren");
  phone.close_book();
  const auto backup = phone.files.content;
  REQUIRE(phone.book().log_set(wren, as_written(1), today(phone), app::Author::swimmer).ok());
  const auto later = bundle_of(phone);
  const auto old_mark = phone.book().opening().inc;

  phone.close_book();
  const auto kept_tokens = phone.files.content;
  phone.files.content = backup;  // restored behind the app's back
  phone.lose_token();
  const auto taken = take_in(phone, later);
  CHECK(taken.fresh_sets == 1);
  CHECK_FALSE(phone.book().opening().inc == old_mark);
  CHECK(phone.book().athlete(wren).sessions[0].sets.size() == 1);
}

TEST_CASE("a value out of range is refused with a sentence and nothing is stored") {
  kit::SquadDevice phone(15);
  const auto wren = add(phone, "Wren");
  const auto before = phone.book().digests();
  auto entry = as_written(1);
  entry.reps = 101;
  CHECK_FALSE(phone.book().log_set(wren, entry, today(phone), app::Author::swimmer).ok());
  entry = as_written(0);
  CHECK_FALSE(phone.book().log_set(wren, entry, today(phone), app::Author::swimmer).ok());
  entry = as_written(1);
  entry.load = model::Quantity{501, 0, model::Unit::kg};
  CHECK_FALSE(phone.book().log_set(wren, entry, today(phone), app::Author::swimmer).ok());
  entry = as_written(1);
  entry.exercise = "XX9";
  CHECK_FALSE(phone.book().log_set(wren, entry, today(phone), app::Author::swimmer).ok());
  CHECK_FALSE(phone.book().set_plan(wren, "sets", "0", app::Author::coach).ok());
  CHECK_FALSE(phone.book().set_plan(wren, "load", "heavy", app::Author::coach).ok());
  CHECK_FALSE(phone.book().add_athlete({"", std::nullopt}, app::Author::coach).ok());
  CHECK(same(before, phone.book().digests()));
}

TEST_CASE("the made-up squad is the same bytes for one day, and other ids on another") {
  const auto monday = app::demo_bundle(app::kDemoSeed, {20'514});
  REQUIRE(monday.ok());
  const auto again = app::demo_bundle(app::kDemoSeed, {20'514});
  REQUIRE(again.ok());
  CHECK(*monday == *again);
  const auto tuesday = app::demo_bundle(app::kDemoSeed, {20'515});
  REQUIRE(tuesday.ok());
  kit::SquadDevice desk(16), other(17);
  take_in(desk, *monday);
  take_in(other, *tuesday);
  REQUIRE(desk.book().scopes().size() == 12);
  CHECK_FALSE(desk.book().scopes() == other.book().scopes());
  for (const auto& scope : desk.book().scopes()) CHECK(desk.book().athlete(scope).sessions.size() >= 8);
  print("demo", desk.book().digests());
}

TEST_CASE("a load typed in pounds stays in pounds") {
  kit::SquadDevice phone(17);
  const auto wren = add(phone, "Wren");
  REQUIRE(phone.book().set_plan(wren, "load", "45 lb", app::Author::coach).ok());
  phone.close_book();
  const auto* load = phone.book().athlete(wren).prescriptions[0].load.first();
  REQUIRE(load != nullptr);
  CHECK(model::to_text(*load) == "45\xC2\xA0lb");
  CHECK(model::grams(*load) == 20'412);  // 45 × 453.59237 g = 20411.65665, half away from zero [handbook 0.4]
}
