// Figures of the core, not promises: what hashing costs and how long a set takes to be kept.
// Prints "figure NAME VALUE UNIT"; medians, so that a busy machine says little less.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <string>
#include <vector>

#include "app/app.h"
#include "kit/device.h"
#include "kit/fixed_clock.h"
#include "kit/fixed_random.h"
#include "kit/plain_files.h"
#include "app/book.h"
#include "ops/chain.h"
#include "ops/fold.h"
#include "screens/app_screen.h"
#include "screens/stage.h"
#ifdef SLIPWAY_BENCH_FOLDER
#include "posix_files.h"
#endif

using namespace slipway;
using Clock = std::chrono::steady_clock;

namespace {

double us_since(Clock::time_point start) { return std::chrono::duration<double, std::micro>(Clock::now() - start).count(); }

double at(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

// An ordinary op stays within one 128-byte block together with the 32 bytes in front.
void hash_cost() {
  constexpr int kRounds = 9, kOps = 20'000;
  constexpr std::size_t kOpBytes = 90;
  const model::Bytes op(kOpBytes, 0x5A);
  std::vector<double> rounds;
  for (int round = 0; round < kRounds; ++round) {
    model::Hash32 hash;
    const auto start = Clock::now();
    for (int i = 0; i < kOps; ++i) hash = ops::chain(hash, op);
    rounds.push_back(us_since(start) / kOps * 1000);
    if (hash.is_zero()) std::puts("never");
  }
  std::printf("figure hash_of_one_op %.0f ns\n", at(rounds, 0.5));
}

// Every set through the whole book: ops written, hashed, one transaction, kept.
void sets_kept(const char* name, host::Files& files) {
  constexpr int kSessions = 20, kSets = 10;
  kit::FixedClock clock;
  kit::FixedRandom random(7);
  auto book = app::Book::open({files, clock, random}, {std::nullopt, model::Token16{}});
  if (!book) {
    std::printf("figure %s failed: %s\n", name, book.error().text.c_str());
    return;
  }
  const auto who = (*book)->add_athlete({"Wren", std::nullopt}, app::Author::swimmer);
  std::vector<double> each;
  const model::Quantity load{8, 0, model::Unit::kg};
  for (int session = 0; session < kSessions; ++session)
    for (int set = 1; set <= kSets; ++set) {
      const app::SetEntry entry{.exercise = "SQ4", .round = static_cast<std::uint64_t>(set), .reps = 8, .load = load, .rir = std::nullopt, .written_reps = 8, .written_load = load};
      const auto start = Clock::now();
      const auto kept = (*book)->log_set(*who, entry, model::Day{20'000 + session}, app::Author::swimmer);
      each.push_back(us_since(start) / 1000);
      if (!kept || (*book)->waiting() > 0) std::puts("figure: a set was not kept");
    }
  std::printf("figure %s p50 %.2f ms, p95 %.2f ms\n", name, at(each, 0.5), at(each, 0.95));
}

// One pass over a page of the made-up squad: widgets, layout, the tree; no picture. The bar: 1 ms.
void ui_pass(const char* name, screens::Place place, float width, float height) {
  constexpr int kPasses = 300;
  kit::SquadDevice device(9);
  device.open_app({.demo = true, .author = app::Author::coach});
  device.app.act(screens::Intent{screens::GoTo{place}});
  const screens::AppView& view = device.app.view();
  screens::Stage stage;
  screens::FrameInput input;
  input.width = width;
  input.height = height;
  std::vector<double> each;
  std::size_t nodes = 0;
  for (int pass = 0; pass < kPasses; ++pass) {
    const auto start = Clock::now();
    const model::Tree tree = stage.frame(input, [&view](screens::Ui& ui) { screens::draw_app_screen(ui, view); });
    each.push_back(us_since(start) / 1000);
    nodes = tree.nodes.size();
  }
  std::printf("figure ui_pass_%s p50 %.2f ms, p95 %.2f ms, %zu nodes\n", name, at(each, 0.5), at(each, 0.95), nodes);
}

}  // namespace

int main() {
  hash_cost();
  ui_pass("session_390x844", screens::Place::session, 390, 844);
  ui_pass("squad_1440x900", screens::Place::squad, 1440, 900);
  kit::PlainFiles memory;
  sets_kept("set_kept_in_memory", memory);
#ifdef SLIPWAY_BENCH_FOLDER
  const auto files = native::PosixFiles::open_folder(SLIPWAY_BENCH_FOLDER);
  if (files) sets_kept("set_kept_on_this_disk", **files);
#endif
  return 0;
}
