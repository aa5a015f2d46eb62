#include <doctest/doctest.h>

#include "kit/bundle_kit.h"
#include "kit/rows.h"
#include "kit/scarce_memory.h"

using namespace slipway;
using kit::ScarceMemory;

namespace {

// Runs a step with the 1st, 2nd, 3rd … allocation failing until it comes through whole;
// answers how often it was refused. Each refusal must be the one error for it.
template <class Step>
std::uint64_t refusals(ScarceMemory::From from, const Step& step) {
  for (std::uint64_t nth = 1;; ++nth) {
    bool ran_out = false, refused = false, by_name = false;
    {
      const ScarceMemory scarce(nth, from);
      const auto got = step();
      ran_out = scarce.ran_out();
      refused = !got;
      by_name = refused && got.error().kind == model::ErrorKind::too_large && got.error().text == "memory.out";
    }
    CHECK(refused == ran_out);
    CHECK(by_name == ran_out);
    if (!ran_out) return nth - 1;
  }
}

}  // namespace

TEST_CASE("when memory runs out while a bundle is read, taken in or made, that is an answer and not an end") {
  const model::Bytes file = kit::reference_files()[2].bytes;
  const std::string name = "from_the_coach_of_the_other_squad.slip";
  const sync::ReadBundle read = kit::read_of(file);
  const ops::Held held = kit::held_of({read.ops.front()});
  const auto own = kit::inc_named('c');
  std::uint64_t all = 0;
  for (const auto from : {ScarceMemory::From::once, ScarceMemory::From::for_good}) {
    const std::uint64_t reading = refusals(from, [&] { return sync::read_bundle(file, name); });
    const std::uint64_t taking = refusals(from, [&] { return sync::plan_taking(read, held, own, name); });
    const std::uint64_t writing = refusals(from, [&] { return sync::write_bundle(read.bundle); });
    CHECK(reading > 100);
    CHECK(taking > 20);
    CHECK(writing > 100);
    all += reading + taking + writing;
  }
  kit::row(6, all, "allocations failed, once and for good, in reading, taking in and making a bundle; each an answer");
  CHECK(sync::read_bundle(file, name));
}
