// Small scope, every order: three devices that share a plan line, a set and a pain report, each with a backup;
// then all sequences of a few deeds. After each of them everybody meets everybody, and nothing that anybody still
// held is missing, doubled or different anywhere. SLIPWAY_STEPS=<n> for more than three steps; SLIPWAY_LONG: four.
#include <algorithm>
#include <array>
#include <set>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "kit/ops_kit.h"
#include "kit/rows.h"
#include "ops/registry.h"
#include "ops/views.h"

using namespace slipway;
using kit::Device;

namespace {

constexpr std::size_t kDevices = 3;

enum class Deed : std::uint8_t { log, pain, edit, remove, keep_it, back_up, restore, restore_unnoticed, carry_next, carry_other };
constexpr std::size_t kDeeds = 10;
constexpr std::array<const char*, kDeeds> kNames{"log", "pain", "edit", "remove", "keep it", "back up", "restore", "restore unnoticed",
                                                 "carry to the next", "carry to the other"};

struct World {
  std::vector<Device> devices, backups;
  model::RecordId line;
  std::uint64_t seed = 100;
};

World beginning() {
  World world;
  Device first(kit::stream_named('s', 'a'), 1);
  world.line = first.begin(ops::kind::prescription, {{ops::prescription_tag::reps, 8}});
  first.begin(ops::kind::set, {{ops::set_tag::reps, 8}});
  first.begin(ops::kind::pain, {{ops::pain_tag::band, 2}});
  world.devices.push_back(first);
  for (const char name : {'b', 'c'}) {
    Device other(kit::stream_named('s', name), static_cast<std::uint64_t>(name));
    other.take_in(first.ops());
    world.devices.push_back(std::move(other));
  }
  world.backups = world.devices;
  // Since its backup the first has logged once more, and the second knows of it: set back unnoticed, it forks.
  world.devices[0].begin(ops::kind::set, {{ops::set_tag::reps, 9}});
  world.devices[1].take_in(world.devices[0].ops());
  return world;
}

model::IncarnationId fresh_inc(std::uint64_t seed) {
  model::IncarnationId inc;
  kit::FixedRandom(seed).fill(inc.bytes);
  return inc;
}

// False: nothing to do it with, so the sequence is one of fewer steps.
bool act(World& world, std::size_t at, Deed deed) {
  Device& device = world.devices[at];
  const ops::Record* line = device.fold().find(world.line);
  const std::int64_t value = static_cast<std::int64_t>(at) + 20;
  world.seed += 1;
  switch (deed) {
    case Deed::log: device.begin(ops::kind::set, {{ops::set_tag::reps, value}}); return true;
    case Deed::pain: device.begin(ops::kind::pain, {{ops::pain_tag::band, 3}}); return true;
    case Deed::edit: device.change(world.line, {{ops::prescription_tag::reps, value}}); return true;
    case Deed::remove: device.take_back(world.line); return true;
    case Deed::keep_it:
      if (line->acts->take_backs.empty()) return false;
      device.keep_it(world.line);
      return true;
    case Deed::back_up: world.backups[at] = device; return true;
    case Deed::restore: {
      const model::IncarnationId inc = fresh_inc(world.seed);
      device = world.backups[at];
      device.become(inc, world.seed);
      return true;
    }
    case Deed::restore_unnoticed:
      device = world.backups[at];
      device.reopen(world.seed);
      return true;
    case Deed::carry_next:
    case Deed::carry_other: {
      Device& to = world.devices[(at + (deed == Deed::carry_next ? 1 : 2)) % kDevices];
      return to.take_in(device.ops()) > 0;
    }
  }
  return false;
}

std::set<model::OpKey> keys_of(const Device& device) {
  std::set<model::OpKey> keys;
  for (const ops::ChainedOp& op : device.ops()) keys.insert(op.key());
  REQUIRE(keys.size() == device.ops().size());
  return keys;
}

void everybody_meets(World world) {
  std::set<model::OpKey> left;
  for (const Device& device : world.devices)
    for (const model::OpKey& key : keys_of(device)) left.insert(key);
  for (int round = 0; round < 2; ++round)
    for (const Device& from : world.devices)
      for (Device& to : world.devices)
        if (&to != &from) to.take_in(from.ops());
  std::size_t pains = 0;
  for (const ops::ChainedOp& op : world.devices[0].ops()) pains += op.op.kind == ops::kind::pain ? 1 : 0;
  for (const Device& device : world.devices) {
    REQUIRE(keys_of(device) == left);
    REQUIRE(device.held().op_count() == left.size());
    REQUIRE(device.held().digest() == world.devices[0].held().digest());
    REQUIRE(device.fold() == world.devices[0].fold());
    REQUIRE(ops::read_athlete(device.fold()).pains.size() == pains);
  }
}

class Search {
 public:
  explicit Search(std::size_t steps) : steps_(steps) {}

  void run(const World& world, std::size_t depth) {
    for (std::size_t at = 0; at < kDevices; ++at)
      for (std::size_t deed = 0; deed < kDeeds; ++deed) {
        World next = world;
        if (!act(next, at, static_cast<Deed>(deed))) continue;
        path_.push_back({at, deed});
        INFO(told());
        ++sequences_;
        for (const auto& [stream, holding] : next.devices[0].held().holdings()) forks_ += holding.forked ? 1 : 0;
        if (depth + 1 == steps_) everybody_meets(std::move(next));
        else run(next, depth + 1);
        path_.pop_back();
      }
  }
  std::size_t sequences() const { return sequences_; }
  std::size_t forks() const { return forks_; }

 private:
  std::string told() const {
    std::string text;
    for (const auto& [at, deed] : path_) text += "device " + std::to_string(at) + ": " + kNames[deed] + "; ";
    return text;
  }

  std::size_t steps_;
  std::size_t sequences_ = 0, forks_ = 0;
  std::vector<std::pair<std::size_t, std::size_t>> path_;
};

std::size_t steps_asked() {
  return static_cast<std::size_t>(kit::number_from_outside("SLIPWAY_STEPS", kit::times(3, 4)));
}

}  // namespace

TEST_CASE("every order of a few deeds on three devices ends the same everywhere, with everything that anybody held") {
  const std::size_t steps = std::max<std::size_t>(steps_asked(), 1);
  Search search(steps);
  search.run(beginning(), 0);
  kit::row(3, search.sequences(), "orders of up to " + std::to_string(steps) + " deeds on three devices, " + std::to_string(search.forks()) + " forks on the way; 0 lost");
  CHECK(search.sequences() > 20 * steps);
  if (steps >= 3) CHECK(search.forks() > 0);  // a restore that nobody noticed, and a file carried back
}
