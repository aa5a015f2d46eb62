// Profiles that a passphrase seals at rest, by the book's verbs [sync-and-storage 10.1].
#include <algorithm>

#include "app/archive.h"
#include "app/profile_seals.h"
#include "book_kit.h"

using namespace slipway;
using namespace slipway::kit;

namespace {

constexpr sync::PassphraseCost kCheap{8, 1};
const std::string kPassphrase = "three wet towels";

bool stands_in(const PlainFiles& files, std::string_view text) {
  return std::any_of(files.content.begin(), files.content.end(), [&](const auto& file) {
    return std::search(file.second.begin(), file.second.end(), text.begin(), text.end()) != file.second.end();
  });
}

// Wren has trained, hurts, and a coach has written about it; Robin is beside her.
struct SealedSquad : Squad {
  SealedSquad() {
    REQUIRE(book().log_set(who, entry_of("SQ4", 8), today(), Author::swimmer).ok());
    REQUIRE(book().note_pain(who, "shoulder", 3, Author::swimmer).ok());
    REQUIRE(book().add_note(who, {.text = "ask about the elbow"}, Author::swimmer).ok());
    REQUIRE(book().add_note(who, {.text = "watch her left arm", .coach_only = true}, Author::coach).ok());
    const auto made = book().add_athlete({.name = "Robin"}, Author::coach);
    REQUIRE(made.ok());
    robin = *made;
    REQUIRE(book().tidy().ok());
    before = book().digests();
    REQUIRE(book().seal_profile(who, kPassphrase, kCheap).ok());
  }
  void start_again() { phone.close_book(); }

  model::ScopeId robin;
  app::Digests before;
};

}  // namespace

TEST_CASE("a profile that is sealed goes on as before, and nothing of it but the name can be read on the storage") {
  SealedSquad squad;
  CHECK(squad.book().digests().ops == squad.before.ops);
  CHECK(squad.book().digests().views == squad.before.views);
  REQUIRE(squad.book().log_set(squad.who, entry_of("SQ4", 7), squad.today(), Author::swimmer).ok());
  REQUIRE(squad.book().add_note(squad.who, {.text = "watch her right arm", .coach_only = true}, Author::coach).ok());
  REQUIRE(squad.book().tidy().ok());
  for (const char* text : {"ask about the elbow", "watch her left arm", "watch her right arm", "shoulder"}) CHECK_FALSE(stands_in(squad.phone.files, text));
  CHECK(stands_in(squad.phone.files, "Wren"));  // said on the page: the name stays readable
  CHECK(stands_in(squad.phone.files, "Robin"));
  CHECK(squad.book().check()->findings.empty());
  const auto profiles = squad.book().sealed_profiles();
  REQUIRE(profiles.size() == 1);
  CHECK(profiles[0].name == "Wren");
  CHECK(profiles[0].open);
}

TEST_CASE("opened again the book has everybody but the sealed one, who comes back whole with the passphrase and goes again when shut") {
  SealedSquad squad;
  squad.start_again();
  app::Book& book = squad.book();
  CHECK(book.scopes() == std::vector{squad.robin});
  CHECK(book.coach_notes().empty());
  CHECK(refused(book.find_athlete("Wren")) == "profile.shut");
  CHECK(refused(book.log_set(squad.who, entry_of("SQ4", 7), squad.today(), Author::swimmer)) != "kept");
  CHECK(refused(book.open_profile(squad.who, "three dry towels")) == "key.passphrase_wrong");
  CHECK(refused(book.open_profile(squad.robin, kPassphrase)) == "profile.not_sealed");
  CHECK(book.scopes() == std::vector{squad.robin});
  const std::uint64_t revision = book.revision();
  REQUIRE(book.open_profile(squad.who, kPassphrase).ok());
  CHECK(book.revision() > revision);
  CHECK(book.scopes().size() == 2);
  CHECK(book.digests().ops == squad.before.ops);
  CHECK(book.digests().views == squad.before.views);
  CHECK(book.notes(squad.who).size() == 2);
  REQUIRE(book.log_set(squad.who, entry_of("SQ4", 7), squad.today(), Author::swimmer).ok());
  CHECK(book.check()->findings.empty());
  CHECK(squad.athlete().sessions.size() == 1);  // the day's own, no second one
  REQUIRE(book.shut_profile(squad.who).ok());
  CHECK(book.scopes() == std::vector{squad.robin});
  CHECK(book.check()->findings.empty());
  REQUIRE(book.open_profile(squad.who, kPassphrase).ok());
  CHECK(squad.athlete().sessions.at(0).sets.size() == 2);
}

TEST_CASE("while a profile is shut nothing of it goes out, and a file with something of it is refused with nothing changed") {
  SealedSquad squad;
  SquadDevice coach(2);
  carry(squad.book(), coach.book());
  REQUIRE(coach.book().add_note(squad.who, {.text = "good week"}, Author::coach).ok());
  const auto from_coach = coach.book().make_bundle({});
  REQUIRE(from_coach.ok());
  squad.start_again();
  const auto bundle = squad.book().make_bundle({.libraries = true, .coach_notes = true});
  REQUIRE(bundle.ok());
  const auto read = sync::read_bundle(*bundle, "a.slip");
  REQUIRE(read.ok());
  CHECK(read->bundle.scopes == std::vector{squad.robin});
  const auto before = squad.book().digests();
  const auto taken = squad.book().take_in("coach.slip", *from_coach);
  CHECK(refused(taken) == "profile.shut_file");
  CHECK(taken.error().args == std::vector<std::string>{"coach.slip", "Wren"});
  CHECK(squad.book().digests().ops == before.ops);
  REQUIRE(squad.book().open_profile(squad.who, kPassphrase).ok());
  REQUIRE(squad.book().take_in("coach.slip", *from_coach).ok());
  CHECK(squad.book().notes(squad.who).size() == 3);
  CHECK_FALSE(stands_in(squad.phone.files, "good week"));
}

TEST_CASE("notes that another coach holds about a sealed swimmer are sealed when they come in") {
  SealedSquad squad;
  SquadDevice coach(2);
  carry(squad.book(), coach.book());
  REQUIRE(coach.book().add_note(squad.who, {.text = "second opinion", .coach_only = true}, Author::coach).ok());
  const auto from_coach = coach.book().make_bundle({.coach_notes = true});
  REQUIRE(from_coach.ok());
  REQUIRE(squad.book().take_in("coach.slip", *from_coach).ok());
  CHECK_FALSE(stands_in(squad.phone.files, "second opinion"));
  squad.start_again();
  CHECK(squad.book().coach_notes().empty());
  REQUIRE(squad.book().open_profile(squad.who, kPassphrase).ok());
  CHECK(squad.book().coach_notes().size() == 2);
}

TEST_CASE("a seal is taken away by whoever has opened it, and then all of it opens by itself again") {
  SealedSquad squad;
  squad.start_again();
  CHECK(refused(squad.book().unseal_profile(squad.who)) == "profile.shut");
  REQUIRE(squad.book().open_profile(squad.who, kPassphrase).ok());
  REQUIRE(squad.book().unseal_profile(squad.who).ok());
  CHECK(squad.book().sealed_profiles().empty());
  squad.start_again();
  CHECK(squad.book().digests().ops == squad.before.ops);
  CHECK(squad.book().notes(squad.who).size() == 2);
}

TEST_CASE("a passphrase that is lost loses what is here alone: dropped by name, the swimmer comes back from another device and logs on") {
  SealedSquad squad;
  SquadDevice coach(2);
  carry(squad.book(), coach.book());
  REQUIRE(squad.book().log_set(squad.who, entry_of("SQ4", 5), squad.today(), Author::swimmer).ok());  // the coach has not this one
  squad.start_again();
  app::Book& book = squad.book();
  CHECK(refused(book.drop_profile(squad.who, "Robin")) == "profile.other_name");
  CHECK(refused(book.drop_profile(squad.who, "")) == "profile.other_name");
  CHECK(book.sealed_profiles().size() == 1);
  REQUIRE(book.drop_profile(squad.who, "Wren").ok());
  CHECK(book.sealed_profiles().empty());
  CHECK(book.erased().empty());
  CHECK(book.scopes() == std::vector{squad.robin});
  carry(coach.book(), book);
  REQUIRE(book.scopes().size() == 2);
  CHECK(squad.athlete().sessions.at(0).sets.size() == 1);
  REQUIRE(book.log_set(squad.who, entry_of("SQ4", 9), squad.today(), Author::swimmer).ok());
  carry(book, coach.book());
  CHECK(coach.book().athlete(squad.who).sessions.at(0).sets.size() == 2);
  CHECK(coach.book().forks(squad.who).empty());
  CHECK(book.check()->findings.empty());
}

TEST_CASE("sealing refuses a short passphrase, a stranger, a second time, and what is not kept yet; nothing changes by it") {
  Squad squad;
  CHECK(refused(squad.book().seal_profile(squad.who, "short", kCheap)) == "key.passphrase_short");
  model::ScopeId nobody;
  nobody.bytes.fill(3);
  CHECK(refused(squad.book().seal_profile(nobody, kPassphrase, kCheap)) != "kept");
  CHECK(refused(squad.book().open_profile(squad.who, kPassphrase)) == "profile.not_sealed");
  CHECK(refused(squad.book().unseal_profile(squad.who)) == "profile.not_sealed");
  CHECK(refused(squad.book().shut_profile(squad.who)) == "profile.not_sealed");
  CHECK(squad.book().sealed_profiles().empty());
  REQUIRE(squad.book().seal_profile(squad.who, kPassphrase, kCheap).ok());
  CHECK(refused(squad.book().seal_profile(squad.who, kPassphrase, kCheap)) == "profile.sealed_already");
}

TEST_CASE("that a sealed swimmer's pain came too late is told after a start, and stands nowhere in the clear meanwhile") {
  SealedSquad squad;
  SquadDevice phone(2);
  carry(squad.book(), phone.book());
  REQUIRE(phone.book().note_pain(squad.who, "elbow", 2, Author::swimmer).ok());
  const model::RecordId pain = phone.book().athlete(squad.who).pains.back().id;
  squad.phone.clock.tick(86'400'000);
  REQUIRE(squad.book().set_plan(squad.who, "reps", "6", Author::coach).ok());
  const auto bundle = phone.book().make_bundle({});
  REQUIRE(bundle.ok());
  REQUIRE(squad.book().take_in("late.slip", *bundle).ok());
  REQUIRE(squad.book().late_pains(squad.who).size() == 1);
  const std::string id = model::to_text(pain);
  CHECK_FALSE(stands_in(squad.phone.files, id));
  squad.start_again();
  REQUIRE(squad.book().open_profile(squad.who, kPassphrase).ok());
  CHECK(squad.book().late_pains(squad.who).size() == 1);
  REQUIRE(squad.book().unseal_profile(squad.who).ok());
  CHECK(stands_in(squad.phone.files, id));
  squad.start_again();
  CHECK(squad.book().late_pains(squad.who).size() == 1);
  REQUIRE(squad.book().seal_profile(squad.who, kPassphrase, kCheap).ok());
  CHECK_FALSE(stands_in(squad.phone.files, id));
  CHECK(squad.book().late_pains(squad.who).size() == 1);
}

TEST_CASE("an export of everybody says who is sealed and left out; with one damaged row the rest of a sealed swimmer is exported by the passphrase") {
  SealedSquad squad;
  squad.start_again();
  const auto archive = squad.book().export_everything({});
  REQUIRE(archive.ok());
  REQUIRE(archive->left_out.size() == 1);
  CHECK(archive->left_out[0].text == "profile.shut");
  CHECK(archive->athletes == 1);
  squad.phone.close_book();
  FixedRandom random(5);
  auto store = store::Store::open(squad.phone.files, random, {});
  REQUIRE(store.ok());
  CHECK(app::shut_names(**store) == std::vector<std::string>{"Wren"});
  REQUIRE(app::open_seals(**store, "three dry towels", random).ok());
  CHECK(app::shut_names(**store).size() == 1);
  REQUIRE(app::open_seals(**store, kPassphrase, random).ok());
  CHECK(app::shut_names(**store).empty());
  const auto whole = app::make_archive(**store, {}, {});
  REQUIRE(whole.ok());
  CHECK(whole->left_out.empty());
  CHECK(whole->athletes == 2);
}

TEST_CASE("of two of one name, one of them sealed, nobody chooses: both ids are named") {
  SealedSquad squad;
  squad.start_again();
  const auto twin = squad.book().add_athlete({.name = "Wren"}, Author::coach);
  REQUIRE(twin.ok());
  CHECK(refused(squad.book().find_athlete("Wren")) == "athlete.ambiguous");
  CHECK(squad.book().find_athlete(twin->hex()).ok());
  CHECK(refused(squad.book().find_athlete(squad.who.hex())) == "profile.shut");
  CHECK(squad.book().find_athlete("Robin").ok());
}

TEST_CASE("the first notes of another coach about a swimmer who is shut are refused like all else") {
  Squad squad;
  SquadDevice coach(2);
  carry(squad.book(), coach.book());
  REQUIRE(coach.book().add_note(squad.who, {.text = "second opinion", .coach_only = true}, Author::coach).ok());
  const auto before = coach.book().peers();
  const auto whole = coach.book().make_bundle({.coach_notes = true});
  REQUIRE(whole.ok());
  REQUIRE(squad.book().seal_profile(squad.who, kPassphrase, kCheap).ok());
  squad.phone.close_book();
  CHECK(refused(squad.book().take_in("notes.slip", *whole)) == "profile.shut_file");
  CHECK_FALSE(stands_in(squad.phone.files, "second opinion"));
}

TEST_CASE("an erased swimmer's seal goes with them") {
  SealedSquad squad;
  REQUIRE(squad.book().erase(squad.who, "Wren", app::EraseReason::asked).ok());
  CHECK(squad.book().sealed_profiles().empty());
  squad.start_again();
  CHECK(squad.book().scopes() == std::vector{squad.robin});
  CHECK(squad.book().check()->findings.empty());
}
