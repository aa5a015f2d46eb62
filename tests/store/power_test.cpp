// Row 4 of the table of tests: power loss at every file operation, with eight patterns of
// what survives of the sectors that were not flushed.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "kit/memory_files.h"
#include "kit/power_files.h"
#include "kit/rows.h"
#include "kit/store_kit.h"

using namespace slipway;

namespace {

// The two that are cut: a second loss after one in four of the first, and lies at one operation in three.
std::size_t second_loss_every() { return kit::at_length() ? 1 : 4; }
std::size_t lie_every() { return kit::at_length() ? 1 : 3; }

struct Run {
  kit::Steps steps;
  kit::PowerFiles files;
  std::vector<std::size_t> answered;  // file operations that were done when step i was acknowledged

  explicit Run(kit::Steps todo);
  Run(const Run&) = delete;

  std::size_t acknowledged(std::size_t done) const {
    std::size_t count = 0;
    while (count < answered.size() && answered[count] <= done) ++count;
    return count;
  }
  std::size_t begun(std::size_t done) const { return std::min(acknowledged(done) + 1, steps.size()); }
};

Run::Run(kit::Steps todo) : steps(std::move(todo)) {
  kit::Opened opened(files);
  REQUIRE(opened.open());
  for (const kit::Step& step : steps) {
    const bool acknowledged = opened.perform(step);
    REQUIRE(acknowledged);
    answered.push_back(files.steps().size());
  }
}

struct Counts {
  std::uint64_t runs = 0, broken = 0, lost = 0, half = 0;
  std::string first;  // finding

  void add(const kit::Finding& finding, std::size_t done, kit::Survival survival) {
    using Kind = kit::Finding::Kind;
    runs += 1;
    broken += finding.kind == Kind::does_not_open || finding.kind == Kind::damaged ? 1 : 0;
    lost += finding.kind == Kind::lost ? 1 : 0;
    half += finding.kind == Kind::half_there ? 1 : 0;
    if (finding.kind != Kind::sound && first.empty())
      first = "loss in operation " + std::to_string(done) + ", survives " + std::string(kit::name_of(survival)) + ": " + finding.facts;
  }
  std::string findings() const { return std::to_string(broken) + " broken, " + std::to_string(lost) + " lost, " + std::to_string(half) + " half there"; }
  // What a storage does to a store that it lies to: findings are what is looked for.
  void print_noticed(const char* name) const { kit::row(4, runs, std::string(name) + ", noticed: " + findings()); }
  void print(const char* name) const {
    kit::row(4, runs, std::string(name) + ": " + findings());
  }
};

Counts lose_power_everywhere(const Run& run, std::size_t step, kit::FlushLie lie = kit::FlushLie::none) {
  Counts counts;
  kit::PowerLoss loss(run.files, lie);
  while (loss.next()) {
    const std::size_t done = loss.finished_steps();
    if (done % step != 0) continue;
    for (kit::Survival survival : kit::kSurvivals) {
      kit::MemoryDisk left = loss.survivors(survival);
      kit::MemoryFiles files(left);
      counts.add(kit::judge(files, run.steps, run.acknowledged(done), run.begun(done)), done, survival);
    }
  }
  return counts;
}

// The power goes again at every operation of the opening that finds these survivors.
void lose_power_in_recovery(const Run& run, std::size_t done, const kit::MemoryDisk& survivors, Counts& counts) {
  kit::PowerFiles recovering(survivors);
  kit::Opened opened(recovering, 5);
  REQUIRE(opened.open());
  opened.close();
  kit::PowerLoss again(recovering);
  while (again.next()) {
    for (kit::Survival survival : kit::kSurvivals) {
      kit::MemoryDisk left = again.survivors(survival);
      kit::MemoryFiles files(left);
      counts.add(kit::judge(files, run.steps, run.acknowledged(done), run.begun(done)), done, survival);
    }
  }
}

void check_sound(const Counts& counts, const Run& run, const char* name) {
  counts.print(name);
  INFO(counts.first);
  CHECK(counts.broken == 0);
  CHECK(counts.lost == 0);
  CHECK(counts.half == 0);
  CHECK(counts.runs >= run.files.steps().size() * kit::kSurvivals.size());
}

}  // namespace

TEST_CASE("power lost at any moment of a training loses no entry that was called kept, and leaves none by half") {
  const Run run(kit::log_steps());
  check_sound(lose_power_everywhere(run, 1), run, "losses of power while logging");
}

TEST_CASE("power lost at any moment of taking in bundles leaves each bundle wholly in or wholly out") {
  const Run run(kit::import_steps());
  check_sound(lose_power_everywhere(run, 1), run, "losses of power while taking in");
}

TEST_CASE("power lost at any moment of erasing leaves an athlete wholly there or wholly gone, and nobody else touched") {
  const Run run(kit::erase_steps());
  check_sound(lose_power_everywhere(run, 1), run, "losses of power while erasing");
}

TEST_CASE("power lost at any moment of sealing a swimmer, of going on and of unsealing loses nothing and leaves nothing by half") {
  const Run run(kit::seal_steps());
  check_sound(lose_power_everywhere(run, 1), run, "losses of power while sealing");
}

TEST_CASE("power lost again while the store recovers from a loss of power still loses nothing") {
  const Run run(kit::import_steps());
  Counts counts;
  kit::PowerLoss loss(run.files);
  while (loss.next())
    if (loss.finished_steps() % second_loss_every() == 0)
      lose_power_in_recovery(run, loss.finished_steps(), loss.survivors(kit::kSurvivals[loss.finished_steps() % kit::kSurvivals.size()]),
                             counts);
  counts.print("second losses of power, while recovering");
  INFO(counts.first);
  CHECK(counts.broken + counts.lost + counts.half == 0);
  CHECK(counts.runs > 2000);
}

TEST_CASE("the same losses are noticed when the storage only says that it has flushed") {
  const Run run(kit::log_steps());
  const auto lied = lose_power_everywhere(run, lie_every(), kit::FlushLie::about_all);
  lied.print_noticed("losses where flushing is a lie");
  CHECK(lied.lost > 0);
  const auto database = lose_power_everywhere(run, lie_every(), kit::FlushLie::about_database);
  database.print_noticed("losses where flushing the database is a lie");
  CHECK(database.lost > 0);
  const auto journal = lose_power_everywhere(run, lie_every(), kit::FlushLie::about_journal);
  journal.print_noticed("losses where flushing the journal is a lie");
  CHECK(journal.broken + journal.lost + journal.half > 0);
}
