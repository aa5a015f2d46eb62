// A place of the app on a device of its own: the record, this device's settings, and what was
// said and asked for meanwhile.
#pragma once

#include <doctest/doctest.h>

#include <optional>
#include <string>
#include <vector>

#include "app/desk.h"
#include "kit/device.h"

namespace slipway::kit {

class DeskDevice {
 public:
  explicit DeskDevice(std::uint64_t seed) : device(seed) {}

  SquadDevice device;
  app::Settings settings;
  std::optional<model::ScopeId> here;
  std::vector<std::string> said, refused;      // announced calmly, and urgently
  std::vector<screens::Place> went;
  std::vector<std::optional<model::ScopeId>> facts_asked;
  bool left_demo = false;

  app::Book& book() { return device.book(); }
  model::Day today() { return model::day_of(device.clock.now()); }
  void next_day(int days = 1) { device.clock.tick(std::int64_t{days} * 86'400'000); }

  app::Desk desk() {
    app::Desk out{book(), settings, device.exchange, today(), device.clock.now().local_ms};
    out.here = here;
    out.announce = [this](bool urgent, const std::string& text) { (urgent ? refused : said).push_back(text); };
    out.go = [this](screens::Place place) { went.push_back(place); };
    out.be_here = [this](const model::ScopeId& scope) { here = scope; };
    out.open_facts = [this](const std::optional<model::ScopeId>& scope) { facts_asked.push_back(scope); };
    out.leave_demo = [this] { left_demo = true; };
    return out;
  }

  // An adult, unless born says otherwise.
  model::ScopeId add(const std::string& name, std::uint64_t born = 1990) {
    app::NewAthlete who;
    who.name = name;
    who.birth_year = born;
    const auto made = book().add_athlete(who, app::Author::coach);
    REQUIRE(made.ok());
    if (!here) here = *made;
    return *made;
  }
  model::RecordId log(const model::ScopeId& who, std::uint64_t round, std::uint64_t reps, std::int64_t load_kg, const std::string& exercise = "SQ4",
                      std::optional<std::uint64_t> rir = 2) {
    app::SetEntry entry;
    entry.exercise = exercise;
    entry.round = round;
    entry.reps = reps;
    if (load_kg > 0) entry.load = model::Quantity{load_kg, 0, model::Unit::kg};
    entry.rir = rir;
    const auto kept = book().log_set(who, entry, today(), app::Author::swimmer);
    REQUIRE(kept.ok());
    return *kept;
  }
  // What the other device has, taken in here.
  void take_from(DeskDevice& other) {
    const auto bundle = other.book().make_bundle({});
    REQUIRE(bundle.ok());
    REQUIRE(book().take_in("bundle", *bundle).ok());
  }
};

inline model::Quantity kilograms(std::int64_t kg) { return {kg, 0, model::Unit::kg}; }

}  // namespace slipway::kit
