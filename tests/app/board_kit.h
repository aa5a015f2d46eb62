// A swimmer's phone at its Session: started once, sets logged as written, and what the board then says.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "kit/device.h"

namespace slipway::kit {

inline const screens::SessionView& session(SquadDevice& phone) {
  const auto& page = phone.app.view().page;
  REQUIRE(std::holds_alternative<screens::SessionView>(page));
  return std::get<screens::SessionView>(page);
}

// A1 is row 0.
inline const screens::BoardCell& cell(SquadDevice& phone, std::size_t round, std::size_t row = 0) {
  return session(phone).board.rows.at(row).cells.at(round - 1);
}

template <class What>
inline void act(SquadDevice& phone, What what) {
  phone.app.act(screens::Intent{screens::SessionIntent{what}});
}

inline void log_one(SquadDevice& phone) {
  act(phone, screens::LogAsWritten{});
  phone.clock.tick(app::kDeafMs);
  phone.app.tick();
}

inline void start(SquadDevice& phone, const app::OpenFacts& facts = {}) {
  phone.open_app(facts);
  phone.app.act(screens::Intent{screens::StartIntent{screens::SetDraftName{"Wren"}}});
  phone.app.act(screens::Intent{screens::StartIntent{screens::Start{}}});
  app::Book& book = *phone.app.book();
  REQUIRE(book.set_athlete(book.scopes().at(0), {.birth_year = 1991}, app::Author::swimmer).ok());
}

// A session of the first programme is three movements in a circuit: A1, A2, A3, then A1 again.
inline void log_round(SquadDevice& phone) {
  for (int i = 0; i < 3; ++i) log_one(phone);
}

inline std::string last_said(SquadDevice& phone) {
  const auto& said = phone.app.view().announcements;
  return said.empty() ? "" : said.back().text;
}

}  // namespace slipway::kit
