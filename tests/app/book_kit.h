// What the tests of the book's verbs share: one swimmer on one device, with a session begun.
#pragma once

#include <doctest/doctest.h>

#include <functional>
#include <string>

#include "kit/device.h"
#include "model/ladder.h"

namespace slipway::kit {

using app::Author;

inline constexpr model::Quantity kEightKg{8, 0, model::Unit::kg};

struct Squad {
  explicit Squad(std::uint64_t born = 1990) {
    const auto made = phone.book().add_athlete({.name = "Wren", .birth_year = born}, Author::coach);
    REQUIRE(made.ok());
    who = *made;
    const auto begun = book().begin_session(who, today(), 1, {}, Author::swimmer);
    REQUIRE(begun.ok());
    session = *begun;
  }
  app::Book& book() { return phone.book(); }
  const model::Athlete& athlete() { return book().athlete(who); }
  model::Day today() { return model::day_of(phone.clock.now()); }

  SquadDevice phone{1};
  model::ScopeId who;
  model::RecordId session;
};

inline app::SetEntry entry_of(std::string exercise, std::uint64_t reps) {
  app::SetEntry entry;
  entry.exercise = std::move(exercise);
  entry.reps = reps;
  return entry;
}

template <class T>
inline std::string refused(const model::Result<T>& result) {
  return result.ok() ? "kept" : result.error().text;
}

// Sends everything of one device to the other.
inline void carry(app::Book& from, app::Book& to) {
  const auto bundle = from.make_bundle({});
  REQUIRE(bundle.ok());
  REQUIRE(to.take_in("a.slip", *bundle).ok());
}

inline const model::Prescription* line_of(const model::Athlete& athlete, std::string_view exercise, std::uint64_t day) {
  for (const model::Prescription& line : athlete.prescriptions)
    if (line.exercise.value_or("") == exercise && line.programme_day.value_or(0) == day) return &line;
  return nullptr;
}

inline std::string plan_of(const app::NewAthlete& who) {
  SquadDevice phone(3);
  const auto made = phone.book().add_athlete(who, Author::coach);
  REQUIRE(made.ok());
  std::string text;
  for (const model::Prescription& line : phone.book().athlete(*made).prescriptions)
    text += (text.empty() ? "" : " ") + line.exercise.value_or("?") + (line.load.empty() ? "" : "@" + model::number_text(*line.load.first()));
  return text;
}

}  // namespace slipway::kit
