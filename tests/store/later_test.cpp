// A storage that answers later: saving is not kept, a refusal is told, and what was called kept is there for
// another start at any moment.
#include <doctest/doctest.h>

#include "kit/bundle_kit.h"
#include "kit/late_files.h"
#include "kit/store_kit.h"

using namespace slipway;
using store::Durability;

namespace {

std::vector<ops::Chunk> sets(std::uint64_t count) {
  kit::Log log('w', 'p');
  log.session();
  for (std::uint64_t set = 1; set < count; ++set) log.set(5);
  return kit::chunks_of(log.ops(), 1);
}

std::size_t ops_in(kit::PlainFiles& files) {
  kit::PlainFiles copy;
  copy.content = files.content;
  kit::Opened opened(copy, 50);
  REQUIRE(opened.open());
  CHECK(opened.store().check()->findings.empty());
  return kit::state_of(opened.store())->ops.size();
}

}  // namespace

TEST_CASE("an entry is saving until the storage has answered, then kept; entries after it wait for it") {
  kit::LateFiles files;
  kit::Opened opened(files);
  REQUIRE(opened.open());
  files.arrive();
  const auto chunks = sets(3);
  const auto first = opened.store().append(std::span(chunks).subspan(0, 1));
  CHECK(first.state == Durability::saving);
  CHECK(ops_in(files.durable) == 0);
  const auto second = opened.store().append(std::span(chunks).subspan(1, 1));
  CHECK(second.state == Durability::saving);
  CHECK(opened.store().ticket(first.batch).state == Durability::saving);
  files.arrive();
  CHECK(opened.store().ticket(first.batch).state == Durability::kept);
  CHECK(opened.store().ticket(second.batch).state == Durability::kept);
  CHECK(opened.store().ticket().state == Durability::kept);
  CHECK(ops_in(files.durable) == 2);
}

TEST_CASE("what the storage refuses later is not kept, with its reason, and goes with the next entry or when it is asked again") {
  struct Reason {
    host::IoStatus why;
    model::ErrorKind kind;
  };
  for (const Reason reason : {Reason{host::IoStatus::full, model::ErrorKind::full}, Reason{host::IoStatus::busy, model::ErrorKind::busy},
                              Reason{host::IoStatus::failed, model::ErrorKind::io}}) {
    kit::LateFiles files;
    kit::Opened opened(files);
    REQUIRE(opened.open());
    files.arrive();
    const auto chunks = sets(3);
    const auto first = opened.store().append(std::span(chunks).subspan(0, 1));
    files.refuse(reason.why);
    CHECK(opened.store().ticket(first.batch).state == Durability::not_kept);
    CHECK(opened.store().ticket(first.batch).why.kind == reason.kind);
    CHECK(ops_in(files.durable) == 0);
    CHECK(opened.store().hand_again().state == Durability::saving);
    files.refuse(reason.why);
    CHECK(opened.store().ticket(first.batch).state == Durability::not_kept);
    const auto second = opened.store().append(std::span(chunks).subspan(1, 1));
    CHECK(second.state == Durability::saving);
    CHECK(opened.store().ticket(first.batch).state == Durability::saving);
    files.arrive();
    CHECK(opened.store().ticket(first.batch).state == Durability::kept);
    CHECK(opened.store().ticket(second.batch).state == Durability::kept);
    CHECK(ops_in(files.durable) == 2);
  }
}

TEST_CASE("whenever the program ends, another start finds what was called kept, and of the rest a whole beginning") {
  for (const kit::Steps& steps : {kit::log_steps(), kit::import_steps()}) {
    for (std::size_t every = 1; every <= steps.size(); ++every) {  // batches of so many steps
      kit::LateFiles files;
      kit::Opened opened(files);
      REQUIRE(opened.open());
      files.arrive();
      std::size_t acknowledged = 0;
      for (std::size_t i = 0; i < steps.size(); ++i) {
        const auto last = files.lasting().lasts;
        opened.perform(steps[i]);
        CHECK(files.lasting().lasts == last);
        if ((i + 1) % every == 0) {
          files.arrive();
          acknowledged = i + 1;
        }
        kit::PlainFiles found;
        found.content = files.durable.content;
        const auto finding = kit::judge(found, steps, acknowledged, i + 1);
        CAPTURE(finding.facts);
        CHECK(finding.kind == kit::Finding::Kind::sound);
      }
    }
  }
}
