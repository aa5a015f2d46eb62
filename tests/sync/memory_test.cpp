#include <doctest/doctest.h>

#include "kit/bundle_kit.h"
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
  for (const auto from : {ScarceMemory::From::once, ScarceMemory::From::for_good}) {
    CHECK(refusals(from, [&] { return sync::read_bundle(file, name); }) > 100);
    CHECK(refusals(from, [&] { return sync::plan_taking(read, held, own, name); }) > 20);
    CHECK(refusals(from, [&] { return sync::write_bundle(read.bundle); }) > 100);
  }
  CHECK(sync::read_bundle(file, name));
}
