// Row 5 of the table of tests: an I/O error, a short read and a full storage at the n-th
// call, once and for good, for every n of opening, logging, folding, taking in and erasing.
#include <doctest/doctest.h>

#include "kit/faulty_files.h"
#include "kit/rows.h"
#include "kit/store_kit.h"

using namespace slipway;

namespace {

struct Story {
  std::string name;
  kit::Steps steps;
  std::size_t done_before = 0;  // steps that the storage holds at the beginning
  kit::MemoryDisk before;
};

// Entries of the long training that are enough to meet every kind of call, and the folding at its end.
Story first_training() {
  const kit::Steps all = kit::log_steps();
  return {"log", {all[0], all[1], all[2], all[3], all[12]}, 0, {}};
}

// The program was killed while it wrote the third entry: it is started again and the training goes on.
Story training_after_a_kill() {
  Story story = first_training();
  story.name = "log_after_kill";
  story.done_before = 2;
  story.before = kit::killed_during(story.steps, 2);
  return story;
}

Story import() { return {"import", kit::import_steps(), 0, {}}; }
Story erasing() { return {"erase", kit::erase_steps(), 0, {}}; }
Story sealing() { return {"seal", kit::seal_steps(), 0, {}}; }

// Refused because of what came after it, such a step may be there, whole.
bool may_be_there(const kit::Step& step) { return step.kind != kit::Step::Kind::append && step.kind != kit::Step::Kind::fold; }

struct Outcome {
  bool struck = false, open_refused = false;
  std::size_t steps_refused = 0;
  std::string trouble;  // empty: every promise was kept
};

std::string compare(const kit::State& wanted, const model::Result<kit::State>& found, const char* when) {
  if (!found) return std::string(when) + ": " + kit::words(found.error());
  if (*found == wanted) return {};
  return std::string(when) + ": " + std::to_string(found->ops.size()) + " ops for " + std::to_string(wanted.ops.size()) + ", " +
         std::to_string(found->imports.size()) + " imports for " + std::to_string(wanted.imports.size());
}

// The program is killed now and started again on good storage: what was called kept is there, and of the
// refused step everything or nothing.
std::string killed_and_started_again(const kit::FaultyFiles& files, const kit::Steps& steps, std::size_t acknowledged) {
  kit::PlainFiles good;
  good.content = files.plain.content;
  const auto finding = kit::judge(good, steps, acknowledged, acknowledged + 1);
  return finding.kind == kit::Finding::Kind::sound ? std::string{} : "started again: " + finding.facts;
}

std::string refused_with_a_reason(const model::Error& error, kit::Fault fault) {
  const auto wanted = fault == kit::Fault::full ? model::ErrorKind::full : model::ErrorKind::io;
  const bool names_file = !error.args.empty() && (error.args.front() == store::kDatabaseName || error.args.front() == store::kCopyName);
  return error.kind == wanted && names_file ? std::string{} : "an odd reason: " + kit::words(error);
}

// A refused entry has left nothing behind for the running program; a refused bundle is whole or not there.
std::string nothing_half(kit::Opened& opened, const kit::Steps& steps, std::size_t done) {
  const auto now = kit::state_of(opened.store());
  const auto nothing = compare(kit::state_after(steps, done), now, "after a refusal");
  if (nothing.empty() || !may_be_there(steps[done])) return nothing;
  return compare(kit::state_after(steps, done + 1), now, "after a refused import or erasing");
}

// While the storage stays bad, trying again is refused again.
std::string refused_for_as_long(kit::Opened& opened, const kit::Step& step, kit::Fault fault) {
  if (opened.perform(step)) return "kept on a storage that refuses everything";
  return refused_with_a_reason(opened.refusal(), fault);
}

std::string after_refusal(kit::Opened& opened, kit::FaultyFiles& files, const kit::Steps& steps, std::size_t done, kit::Fault fault,
                          kit::Lasting lasting) {
  if (!files.struck()) return "refused on good storage: " + kit::words(opened.refusal());
  if (auto odd = refused_with_a_reason(opened.refusal(), fault); !odd.empty()) return odd;
  if (auto lost = killed_and_started_again(files, steps, done); !lost.empty()) return lost;
  if (lasting == kit::Lasting::once)
    if (auto half = nothing_half(opened, steps, done); !half.empty()) return half;
  if (lasting == kit::Lasting::sticky && fault != kit::Fault::short_read)
    if (auto odd = refused_for_as_long(opened, steps[done], fault); !odd.empty()) return odd;
  files.repair();
  const auto before = kit::state_of(opened.store());
  const bool was_there = may_be_there(steps[done]) && before && *before == kit::state_after(steps, done + 1);
  if (was_there || opened.perform(steps[done])) return {};
  return "refused again on good storage: " + kit::words(opened.refusal());
}

Outcome run_with_fault(const Story& story, std::uint64_t nth, kit::Fault fault, kit::Lasting lasting) {
  Outcome outcome;
  const kit::Steps& steps = story.steps;
  kit::FaultyFiles files;
  files.plain.content = story.before.files;
  files.break_at(nth, fault, lasting);
  kit::Opened opened(files);
  if (!opened.open()) {
    outcome.open_refused = true;
    outcome.trouble = refused_with_a_reason(opened.error(), fault);
    files.repair();
    if (!opened.open()) outcome.trouble = "does not open on good storage: " + kit::words(opened.error());
  }
  for (std::size_t i = story.done_before; i < steps.size() && outcome.trouble.empty(); ++i) {
    if (opened.perform(steps[i])) continue;
    outcome.steps_refused += 1;
    outcome.trouble = after_refusal(opened, files, steps, i, fault, lasting);
  }
  outcome.struck = files.struck();
  files.repair();
  if (outcome.trouble.empty())
    outcome.trouble = compare(kit::state_after(steps, steps.size()), kit::state_of(opened.store()), "at the end");
  opened.close();
  if (outcome.trouble.empty()) {
    const auto finding = kit::judge(files, steps, steps.size(), steps.size());
    if (finding.kind != kit::Finding::Kind::sound) outcome.trouble = "reopened at the end: " + finding.facts;
  }
  return outcome;
}

struct Counts {
  std::uint64_t runs = 0, openings_refused = 0, steps_refused = 0;
  void print(const std::string& name) const {
    kit::row(5, runs, name + ": " + std::to_string(openings_refused) + " openings and " + std::to_string(steps_refused) + " steps refused, nothing kept was lost");
  }
};

Counts fail_everywhere(const Story& story, kit::Fault fault, kit::Lasting lasting) {
  Counts counts;
  for (std::uint64_t nth = 1;; ++nth) {
    const Outcome outcome = run_with_fault(story, nth, fault, lasting);
    CAPTURE(nth);
    REQUIRE(outcome.trouble == "");
    if (!outcome.struck) return counts;  // beyond the last call
    counts.runs += 1;
    counts.openings_refused += outcome.open_refused ? 1 : 0;
    counts.steps_refused += outcome.steps_refused;
  }
}

void fail_in_every_way(kit::Fault fault, const std::string& name) {
  for (const Story& story : {first_training(), training_after_a_kill(), import(), erasing(), sealing()}) {
    for (const auto lasting : {kit::Lasting::once, kit::Lasting::sticky}) {
      const auto counts = fail_everywhere(story, fault, lasting);
      counts.print(name + "_" + story.name + (lasting == kit::Lasting::once ? "_once" : "_sticky"));
      CHECK(counts.runs > 0);
      const auto refusals = counts.openings_refused + counts.steps_refused;
      if (fault != kit::Fault::short_read) CHECK(refusals >= counts.runs - 1);                  // the last may strike while closing
      if (fault == kit::Fault::short_read && story.before.files.empty()) CHECK(refusals == 0);  // nothing to read yet
      // One short read is made good by asking again; only of the one byte that tells a hot journal half is nothing.
      if (fault == kit::Fault::short_read && lasting == kit::Lasting::once) CHECK(refusals <= 1);
      if (fault == kit::Fault::short_read && lasting == kit::Lasting::sticky) CHECK((refusals > 0) == !story.before.files.empty());
    }
  }
}

}  // namespace

TEST_CASE("a storage that fails at any call refuses in words, loses nothing that was kept, and works again afterwards") {
  fail_in_every_way(kit::Fault::failed, "io_error");
}

TEST_CASE("a storage that reads half at any call never passes for the end of the file") {
  fail_in_every_way(kit::Fault::short_read, "short_read");
}

TEST_CASE("a storage that is full at any call refuses the entry, keeps all others, and takes it once there is room") {
  fail_in_every_way(kit::Fault::full, "full");
}

TEST_CASE("writes that are lost in silence are noticed by the same checks") {
  const Story story = first_training();
  std::uint64_t runs = 0, noticed = 0;
  for (std::uint64_t nth = 1;; ++nth) {
    const Outcome outcome = run_with_fault(story, nth, kit::Fault::silent_loss, kit::Lasting::sticky);
    if (!outcome.struck) break;
    runs += 1;
    noticed += outcome.trouble.empty() ? 0 : 1;
  }
  kit::row(5, runs, "writes lost in silence, noticed: " + std::to_string(noticed));
  CHECK(noticed > runs / 2);
}
