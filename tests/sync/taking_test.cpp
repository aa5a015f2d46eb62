#include <doctest/doctest.h>

#include "kit/bundle_kit.h"
#include "ops/registry.h"

using namespace slipway;

namespace {

const ops::StreamId kSwimmer{kit::scope_named('A'), kit::inc_named('s')};

kit::Log swimmer_with(int sets) {
  kit::Log log('A', 's');
  log.session();
  for (int i = 0; i < sets; ++i) log.set(8);
  return log;
}

std::string gaps(const sync::Taking& taking) {
  std::string text;
  for (const sync::Gap& gap : taking.missing) {
    if (!text.empty()) text += ", ";
    text += static_cast<char>(gap.stream.inc.bytes[0]);
    text += std::to_string(gap.range.first) + ".." + std::to_string(gap.range.last);
  }
  return text;
}

}  // namespace

TEST_CASE("a first bundle is all new, and its second reading is all known") {
  const kit::Log log = swimmer_with(4);
  const sync::Bundle bundle = kit::bundle_of(log.ops(), 's');
  const sync::Taking first = kit::taking_of(bundle, {}, 'c');
  CHECK(first.fresh.size() == 5);
  CHECK(first.known == 0);
  CHECK(first.missing.empty());
  CHECK(first.forks.empty());
  CHECK(!first.own_past);
  const sync::Taking second = kit::taking_of(bundle, kit::held_of(first.fresh), 'c');
  CHECK(second.fresh.empty());
  CHECK(second.known == 5);
}

TEST_CASE("another export of the same log says nothing new, one more set says one new") {
  kit::Log log = swimmer_with(9);
  kit::Log coach('A', 'c');
  coach.has_seen(log.ops());
  coach.session();
  const auto all = kit::together({log.ops(), coach.ops()});
  const ops::Held held = kit::held_of(all);
  sync::Bundle from_coach = kit::bundle_of(kit::together({coach.ops(), log.ops(4, 10), log.ops(1, 3)}), 'c');
  from_coach.chunks = kit::chunks_of(kit::together({coach.ops(), log.ops(4, 10), log.ops(1, 3)}), 2);
  from_coach.export_counter = 900;
  const sync::Bundle part = kit::bundle_of(log.ops(3, 7), 's', all);
  for (const sync::Bundle& bundle : {from_coach, part}) {
    const sync::Taking taking = kit::taking_of(bundle, held, 'x');
    CHECK(taking.fresh.empty());
    CHECK(taking.missing.empty());
    CHECK(taking.forks.empty());
  }
  log.set(7);
  const sync::Taking taking = kit::taking_of(kit::bundle_of(log.ops(), 's'), held, 'x');
  REQUIRE(taking.fresh.size() == 1);
  CHECK(taking.fresh.front().hash == log.ops().back().hash);
  CHECK(taking.known == 10);
}

TEST_CASE("a lost bundle leaves a gap with a name, and its late arrival closes it") {
  const kit::Log log = swimmer_with(11);
  const auto held = kit::held_of(log.ops(1, 4));
  const sync::Bundle third = kit::bundle_of(log.ops(9, 12), 's', log.ops(1, 8));
  const sync::Taking taking = kit::taking_of(third, held, 'c');
  CHECK(taking.fresh.size() == 4);
  CHECK(gaps(taking) == "s5..8");
  CHECK(taking.forks.empty());
  const sync::Bundle second = kit::bundle_of(log.ops(5, 8), 's', log.ops(1, 4));
  CHECK(kit::taking_of(second, kit::held_of(kit::together({log.ops(1, 4), log.ops(9, 12)})), 'c').missing.empty());
}

TEST_CASE("what the chain proves to exist is missing even if the sender does not announce it") {
  const kit::Log log = swimmer_with(11);
  sync::Bundle bundle = kit::bundle_of(log.ops(9, 12), 's');
  bundle.holdings.clear();
  CHECK(gaps(kit::taking_of(bundle, {}, 'c')) == "s1..8");
}

TEST_CASE("what a sender holds and does not send is named as missing, per writer") {
  const kit::Log log = swimmer_with(5);
  kit::Log coach('A', 'c');
  coach.has_seen(log.ops());
  coach.session();
  coach.set(5);
  const sync::Bundle only_coach = kit::bundle_of(coach.ops(), 'c', log.ops());
  CHECK(gaps(kit::taking_of(only_coach, {}, 'x')) == "s1..6");
  CHECK(gaps(kit::taking_of(only_coach, kit::held_of(log.ops(2, 3)), 'x')) == "s1..1, s4..6");
}

TEST_CASE("two writers under one name are a fork: reported, both kept, once") {
  kit::Log tablet = swimmer_with(3);
  kit::Log copy = tablet;
  tablet.set(6);
  copy.set(4);
  const sync::Bundle from_copy = kit::bundle_of(copy.ops(), 's');
  const sync::Taking taking = kit::taking_of(from_copy, kit::held_of(tablet.ops()), 'c');
  REQUIRE(taking.fresh.size() == 1);
  CHECK(taking.fresh.front().hash == copy.ops().back().hash);
  CHECK(taking.forks == std::vector<ops::StreamId>{kSwimmer});
  CHECK(taking.missing.empty());

  const auto both = kit::together({tablet.ops(), copy.ops(5, 5)});
  CHECK(kit::taking_of(from_copy, kit::held_of(both), 'c').forks.empty());  // nothing new to say
  const sync::Bundle from_coach = kit::bundle_of(both, 'c');
  const sync::Taking whole = kit::taking_of(from_coach, {}, 'x');
  CHECK(whole.fresh.size() == 6);
  CHECK(whole.forks == std::vector<ops::StreamId>{kSwimmer});
}

TEST_CASE("a branch whose root is elsewhere is still seen as a fork, and its root as missing") {
  kit::Log tablet = swimmer_with(3);
  kit::Log copy = tablet;
  for (int i = 0; i < 3; ++i) tablet.set(6);
  for (int i = 0; i < 5; ++i) copy.set(4);
  const sync::Bundle tip = kit::bundle_of(copy.ops(9, 9), 's');
  const sync::Taking taking = kit::taking_of(tip, kit::held_of(kit::together({tablet.ops(1, 7), copy.ops(8, 8)})), 'c');
  CHECK(taking.fresh.size() == 1);
  CHECK(taking.forks.empty());  // its parent is here
  const sync::Taking rootless = kit::taking_of(kit::bundle_of(copy.ops(7, 7), 's'), kit::held_of(tablet.ops()), 'c');
  CHECK(rootless.forks == std::vector<ops::StreamId>{kSwimmer});
  CHECK(gaps(rootless) == "s6..6");
}

TEST_CASE("a head that is not ours at the same place is a fork, though no entry came") {
  kit::Log tablet = swimmer_with(3);
  kit::Log copy = tablet;
  tablet.set(6);
  copy.set(4);
  const sync::Taking taking = kit::taking_of(kit::bundle_of({}, 's', copy.ops()), kit::held_of(tablet.ops()), 'c');
  CHECK(taking.fresh.empty());
  CHECK(taking.forks == std::vector<ops::StreamId>{kSwimmer});
  CHECK(gaps(taking) == "s5..5");
}

TEST_CASE("entries of our own that we do not hold mean that this store went back in time") {
  const kit::Log log = swimmer_with(6);
  const auto restored = kit::held_of(log.ops(1, 3));
  const sync::Taking brought = kit::taking_of(kit::bundle_of(log.ops(), 'c'), restored, 's');
  CHECK(brought.own_past);
  CHECK(brought.fresh.size() == 4);
  const sync::Taking told = kit::taking_of(kit::bundle_of({}, 'c', log.ops()), restored, 's');
  sync::Bundle unannounced = kit::bundle_of(log.ops(), 'c');
  unannounced.holdings.clear();
  CHECK(kit::taking_of(unannounced, restored, 's').own_past);
  CHECK(told.own_past);  // somebody holds them, which proves that they were written
  CHECK(gaps(told) == "s4..7");
  CHECK(!kit::taking_of(kit::bundle_of(log.ops(), 'c'), kit::held_of(log.ops()), 's').own_past);
  CHECK(!kit::taking_of(kit::bundle_of(log.ops(), 'c'), restored, 'c').own_past);
}

TEST_CASE("entries of a kind, or with a field, from a later version are counted and kept") {
  kit::Log log = swimmer_with(1);
  log.write(998, {ops::unsigned_field(16, 3)});
  log.write(999, {});
  log.write(0, {});
  log.write(ops::kind::set, {ops::unsigned_field(ops::set_tag::reps, 3), ops::unsigned_field(63, 1)});
  log.write(ops::kind::set, {ops::unsigned_field(64, 1)});
  log.write(ops::kind::set, {ops::unsigned_field(8, 1)});     // a common tag that there is not
  log.write(ops::kind::change, {ops::unsigned_field(63, 1)});
  log.write(ops::kind::change, {ops::unsigned_field(ops::set_tag::reps, 3)});  // is understood, as are the two of the swimmer
  const sync::Taking taking = kit::taking_of(kit::bundle_of(log.ops(), 's'), {}, 'c');
  CHECK(taking.fresh.size() == 10);
  CHECK(taking.not_understood == 7);
}

TEST_CASE("a counter that no honest past can explain is refused") {
  kit::Log log = swimmer_with(4);
  log.write_with_lam(6);  // lam 7 with five entries before it
  const auto plan = [&](const sync::Bundle& bundle, const ops::Held& held) {
    return sync::plan_taking(kit::read_of(kit::file_of(bundle)), held, kit::inc_named('c'), "forged.slip");
  };
  REQUIRE(log.ops().back().op.lam == 7);
  CHECK(plan(kit::bundle_of(log.ops(), 's'), {}));  // six here and one: just possible
  log.write_with_lam(8);                            // lam 9 with six before it
  const auto refused = plan(kit::bundle_of(log.ops(), 's'), {});
  REQUIRE(!refused);
  CHECK(refused.error() == model::error(model::ErrorKind::damaged, "bundle.lam", {"forged.slip", "73737373:7", "9", "8"}));

  kit::Log coach('A', 'c');
  coach.session();
  CHECK(plan(kit::bundle_of(log.ops(), 's'), kit::held_of(coach.ops())));           // one more entry is held
  CHECK(plan(kit::bundle_of(log.ops(), 's', coach.ops()), {}));                     // or announced as missing
  kit::Log other('B', 'c');
  other.session();
  CHECK(!plan(kit::bundle_of(log.ops(), 's', other.ops()), kit::held_of(other.ops())));  // another athlete's do not count
}
