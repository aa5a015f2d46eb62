// The reserve of a storage that fills up: sets go on being kept, and the rest waits for room.
#include <doctest/doctest.h>

#include "book_kit.h"
#include "store/store.h"

using namespace slipway;
using kit::Author;
using kit::entry_of;

namespace {

bool has_ballast(const kit::SquadDevice& device) { return device.files.content.count(store::kBallastName) != 0; }

bool log_one(kit::Squad& squad) {
  REQUIRE(squad.book().log_set(squad.who, entry_of("SQ4", 8), squad.today(), Author::swimmer).ok());
  return squad.book().waiting() == 0;
}

}  // namespace

TEST_CASE("the first entry that the storage is too full for is kept from the reserve, and the next hundred too") {
  kit::Squad squad;
  REQUIRE(squad.book().self_check().ok());
  REQUIRE(has_ballast(squad.phone));
  CHECK_FALSE(squad.book().nearly_full());
  squad.phone.files.room = squad.phone.files.used();
  int sets = 0;
  while (has_ballast(squad.phone) && sets < 1000) {
    REQUIRE(log_one(squad));
    sets += 1;
  }
  CHECK(sets > 0);
  CHECK(squad.book().nearly_full());
  for (int more = 0; more < 100; ++more) REQUIRE(log_one(squad));
  squad.phone.close_book();
  CHECK(squad.athlete().sessions.at(0).sets.size() == static_cast<std::size_t>(sets) + 100);
  CHECK(squad.book().check()->findings.empty());
}

TEST_CASE("while it is nearly full files wait and sets are kept, and with room again all is as before") {
  kit::Squad squad;
  kit::SquadDevice other(2);
  REQUIRE(other.book().add_athlete({.name = "Heron"}, Author::coach).ok());
  REQUIRE(squad.book().self_check().ok());
  const auto file = other.book().make_bundle({});
  squad.phone.files.room = squad.phone.files.used();
  while (has_ballast(squad.phone)) REQUIRE(log_one(squad));
  const auto before = squad.book().digests();
  const auto refused = squad.book().take_in("other.slip", *file);
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.error().text == "store.nearly_full");
  CHECK(refused.error().args.at(0) == "other.slip");
  CHECK(squad.book().digests().ops == before.ops);
  CHECK(squad.book().make_bundle({}).ok());
  squad.phone.files.room = squad.phone.files.used() + 500'000;
  REQUIRE(squad.book().self_check().ok());
  CHECK(squad.book().nearly_full());  // half a reserve is none
  squad.phone.files.room.reset();
  REQUIRE(squad.book().self_check().ok());
  CHECK_FALSE(squad.book().nearly_full());
  CHECK(has_ballast(squad.phone));
  CHECK(squad.book().take_in("other.slip", *file).ok());
}

TEST_CASE("without any room left an entry waits in memory, in words, and is kept once there is some") {
  kit::Squad squad;
  squad.phone.files.room = squad.phone.files.used();
  while (log_one(squad)) {
  }
  REQUIRE(squad.book().trouble().has_value());
  CHECK(squad.book().trouble()->text == "store.full");
  CHECK_FALSE(squad.book().try_again());
  squad.phone.files.room.reset();
  CHECK(squad.book().try_again());
  CHECK(squad.book().waiting() == 0);
}

TEST_CASE("the reserve is not put where nothing may be written, and takes the place of nothing") {
  kit::Squad squad;
  squad.phone.files.room = squad.phone.files.used() + 100'000;
  REQUIRE(squad.book().self_check().ok());
  CHECK_FALSE(has_ballast(squad.phone));  // half a reserve is none
  CHECK(squad.book().nearly_full());
  CHECK(log_one(squad));
}

TEST_CASE("under 20 MiB of room it is said how much there is, and with more it is not") {
  kit::SquadDevice phone(6);
  phone.open_app();
  REQUIRE(phone.app.book()->add_athlete({.name = "Wren", .birth_year = 1990}, Author::coach).ok());
  phone.app.close();
  phone.open_app();
  const auto titles = [&] {
    std::string all;
    for (const auto& trouble : std::get<screens::SessionView>(phone.app.view().page).troubles) all += trouble.title + ";";
    return all;
  };
  CHECK(titles().empty());
  phone.app.room_left(std::uint64_t{20} << 20);
  CHECK(titles().empty());
  phone.app.room_left((std::uint64_t{20} << 20) - 1);
  CHECK(titles() == "19 MB of room left;");
  phone.app.room_left(std::uint64_t{1} << 30);
  CHECK(titles().empty());
}
