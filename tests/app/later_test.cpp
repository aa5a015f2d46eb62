// The app over a storage that answers later: "kept" is shown and said when it has answered, never before.
#include <doctest/doctest.h>

#include "kit/device.h"
#include "kit/late_files.h"

using namespace slipway;
using screens::CellState;

namespace {

struct Phone {
  kit::LateFiles files;
  kit::FixedClock clock;
  kit::FixedRandom random{7};
  kit::NotedExchange exchange;
  app::App app{clock, random, exchange};
  std::optional<model::Token16> token_outside;

  void open() {
    store::OpenTokens tokens;
    tokens.found_outside = token_outside;
    random.fill(tokens.fresh.bytes);
    token_outside = tokens.fresh;
    app.open(files, tokens, {});
  }
  void start() {
    open();
    app.act(screens::Intent{screens::StartIntent{screens::SetDraftName{"Wren"}}});
    app.act(screens::Intent{screens::StartIntent{screens::Start{}}});
    REQUIRE(app.book()->set_athlete(app.book()->scopes().at(0), {.birth_year = 1991}, app::Author::swimmer).ok());
    answer();
  }
  void answer() {
    files.arrive();
    app.settled();
  }
  void refuse(host::IoStatus why) {
    files.refuse(why);
    app.settled();
  }
  void log() {
    app.act(screens::Intent{screens::SessionIntent{screens::LogAsWritten{}}});
    clock.tick(app::kDeafMs);
    app.tick();
  }
  const screens::SessionView& session() { return std::get<screens::SessionView>(app.view().page); }
  CellState cell(std::size_t row) { return session().board.rows.at(row).cells.at(0).state; }
  std::string last_said() {
    const auto& said = app.view().announcements;
    return said.empty() ? "" : said.back().text;
  }
};

}  // namespace

TEST_CASE("a set shows keeping until the storage has answered, and only then is it said to be kept") {
  Phone phone;
  phone.start();
  const std::string before = phone.last_said();
  phone.log();
  CHECK(phone.cell(0) == CellState::keeping);
  CHECK(phone.session().kept_state == CellState::keeping);
  CHECK(phone.session().troubles.empty());
  CHECK(phone.last_said() == before);
  phone.log();
  CHECK(phone.cell(1) == CellState::keeping);
  phone.answer();
  CHECK(phone.cell(0) == CellState::kept);
  CHECK(phone.cell(1) == CellState::kept);
  CHECK(phone.session().kept_state == CellState::kept);
  CHECK(phone.last_said().find("Kept. A2 round 1") == 0);
}

TEST_CASE("a set that the storage refuses later is not kept, is never said to be, and is kept by trying again") {
  Phone phone;
  phone.start();
  phone.log();
  phone.refuse(host::IoStatus::full);
  CHECK(phone.cell(0) == CellState::not_kept);
  CHECK(phone.session().kept_words == "1 set not kept");
  REQUIRE(phone.session().troubles.size() == 1);
  CHECK(phone.session().troubles[0].title == "Not kept: the storage is full");
  CHECK(phone.last_said() == "1 set not kept");
  for (const auto& said : phone.app.view().announcements) CHECK(said.text.find("Kept. A1") == std::string::npos);

  phone.app.act(screens::Intent{screens::SessionIntent{screens::TryAgain{}}});
  CHECK(phone.cell(0) == CellState::keeping);
  phone.refuse(host::IoStatus::full);
  CHECK(phone.cell(0) == CellState::not_kept);
  phone.log();
  CHECK(phone.cell(0) == CellState::keeping);
  CHECK(phone.cell(1) == CellState::keeping);
  phone.answer();
  CHECK(phone.cell(0) == CellState::kept);
  CHECK(phone.cell(1) == CellState::kept);
  CHECK(phone.session().troubles.empty());
}

TEST_CASE("what was not kept is not there at the next start, and everything that was called kept is") {
  Phone phone;
  phone.start();
  phone.log();
  phone.answer();
  phone.log();
  phone.refuse(host::IoStatus::failed);
  phone.app.close();
  phone.files.image.content = phone.files.durable.content;
  phone.open();
  CHECK(phone.cell(0) == CellState::kept);
  CHECK(phone.cell(1) != CellState::kept);
  CHECK(phone.session().troubles.empty());
}

TEST_CASE("a bundle taken in is shown as being kept until the storage has answered") {
  kit::SquadDevice other(3);
  app::NewAthlete who;
  who.name = "Otter";
  REQUIRE(other.book().add_athlete(who, app::Author::coach).ok());
  const auto bundle = other.book().make_bundle({});
  REQUIRE(bundle.ok());

  Phone phone;
  phone.start();
  phone.app.take_in("otter.slip", *bundle);
  const auto& asks = std::get<screens::ExchangeView>(phone.app.view().page).waiting;  // it brings somebody else
  REQUIRE(!asks.empty());
  phone.app.act(screens::Intent{screens::ExchangeAnswer{asks.back().id, 0}});
  const auto word = [&] { return std::get<screens::ExchangeView>(phone.app.view().page).results.at(0).word; };
  CHECK(word() == "Keeping");
  phone.refuse(host::IoStatus::full);
  CHECK(word() == "not kept yet");
  REQUIRE_FALSE(phone.app.book()->try_again());
  phone.answer();
  CHECK(word() == "new");
}
