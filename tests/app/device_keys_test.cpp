// Pairing a swimmer's device with a coach's by files, and what becomes of it when keys are lost, devices restored and
// strangers come. Whatever is refused leaves the store as it was.
#include "app/device_keys.h"

#include "book_kit.h"
#include "kit/seal_kit.h"

using namespace slipway;
using kit::refused;
using How = sync::Envelope::How;
using State = app::Sender::State;

namespace {

const std::string kPassphrase = "starting blocks at dawn";

struct Pair {
  Pair() {
    REQUIRE(coach.book().keys().make_coach_key("Heron", kPassphrase, false, kit::kCheapCost).ok());
    squad_file = *coach.book().keys().squad_file();
  }
  model::Bytes squad_file;
  kit::Squad swimmer;               // with one athlete
  kit::SquadDevice coach{2};

  void join() { REQUIRE(swimmer.book().take_in("squad.slip", squad_file).ok()); }
  void log(std::uint64_t reps) {
    REQUIRE(swimmer.book().log_set(swimmer.who, kit::entry_of("SQ4", reps), swimmer.today(), kit::Author::swimmer).ok());
  }
  model::Bytes handed() { return *swimmer.book().make_bundle({}); }
};

std::string digest_of(app::Book& book) {
  const auto now = book.digests();
  return now.ops.hex() + now.views.hex();
}

// Refused for that reason, and nothing changed.
void refuses(app::Book& book, const model::Bytes& file, const app::TakeInWish& wish, const std::string& text) {
  CAPTURE(text);
  const std::string before = digest_of(book);
  const auto known = book.keys().known().size();
  CHECK(refused(book.take_in("a.slip", file, wish)) == text);
  CHECK(digest_of(book) == before);
  CHECK(book.keys().known().size() == known);
}

}  // namespace

TEST_CASE("a squad file once taken in, what is handed over is sealed for the coach without anybody thinking about keys") {
  Pair pair;
  CHECK(sync::read_bundle(pair.handed(), "a.slip")->envelope == How::open);
  const auto joined = pair.swimmer.book().take_in("squad.slip", pair.squad_file);
  REQUIRE(joined.ok());
  REQUIRE(joined->squad.has_value());
  CHECK(joined->squad->coach == "Heron");
  pair.log(8);
  const model::Bytes file = pair.handed();
  CHECK(refused(sync::read_bundle(file, "a.slip")) == "bundle.sealed_other");
  // The coach's app knows what it needs, asks once an opening, and then takes it in.
  app::Book& coach = pair.coach.book();
  refuses(coach, file, {}, "bundle.unknown_device");  // just made: the key is at hand
  coach.keys().lock_coach_key();
  refuses(coach, file, {}, "bundle.sealed_locked");
  refuses(coach, file, {.passphrase = "starting blocks at dusk", .confirmed = true}, "bundle.sealed_wrong");
  const auto taken = coach.take_in("a.slip", file, {.passphrase = kPassphrase, .confirmed = true});
  REQUIRE(taken.ok());
  CHECK(taken->envelope == How::to_keys);
  CHECK(taken->sender.state == State::unknown);
  CHECK(coach.athlete(pair.swimmer.who).name.value_or("") == "Wren");
  // From then on nothing is asked.
  pair.log(9);
  const auto next = coach.take_in("a.slip", pair.handed());
  REQUIRE(next.ok());
  CHECK(next->fresh_sets == 1);
  CHECK(next->sender.state == State::known);
}

TEST_CASE("what the coach hands back is readable by the swimmer, and known from the squad file") {
  Pair pair;
  pair.join();
  REQUIRE(pair.coach.book().take_in("a.slip", pair.handed(), {.passphrase = {}, .confirmed = true}).ok());
  REQUIRE(pair.coach.book().set_athlete(pair.swimmer.who, {.group = "masters"}, kit::Author::coach).ok());
  const auto taken = pair.swimmer.book().take_in("back.slip", *pair.coach.book().make_bundle({}));
  REQUIRE(taken.ok());
  CHECK(taken->sender.state == State::known);
  CHECK(taken->envelope == How::open);
  CHECK(taken->fresh == 1);
}

TEST_CASE("devices that never paired exchange as ever; the report says who signed, and meets them once") {
  kit::Squad swimmer;
  kit::SquadDevice other{2};
  const auto first = other.book().take_in("a.slip", *swimmer.book().make_bundle({}));
  REQUIRE(first.ok());
  CHECK(first->sender.state == State::unknown);
  CHECK(first->sender.digits == sync::compare_digits(swimmer.book().keys().signing_key()->open.view()));
  REQUIRE(swimmer.book().set_athlete(swimmer.who, {.group = "masters"}, kit::Author::coach).ok());
  CHECK(other.book().take_in("a.slip", *swimmer.book().make_bundle({}))->sender.state == State::known);
  CHECK(swimmer.book().take_in("own.slip", *swimmer.book().make_bundle({}))->sender.state == State::own);
}

TEST_CASE("where keys are in use, a stranger's entries wait for a yes; what is known anyway does not") {
  Pair pair;
  app::Book& coach = pair.coach.book();
  const model::Bytes from_stranger = *pair.swimmer.book().make_bundle({});
  refuses(coach, from_stranger, {}, "bundle.unknown_device");
  REQUIRE(coach.take_in("a.slip", from_stranger, {.passphrase = {}, .confirmed = true}).ok());
  CHECK(coach.keys().known().size() == 1);
  // Not signed at all: as an older device, or somebody who took the signature off.
  kit::Squad other(1991);
  sync::FramePlan bare = kit::taken_apart(*other.book().make_bundle({}));
  bare.sections.pop_back();
  bare.flags = 0;
  const model::Bytes unsigned_file = sync::write_frame(bare);
  refuses(coach, unsigned_file, {}, "bundle.not_signed");
  REQUIRE(coach.take_in("a.slip", unsigned_file, {.passphrase = {}, .confirmed = true}).ok());
  CHECK(coach.keys().known().size() == 1);  // nobody was met
  CHECK(coach.take_in("a.slip", unsigned_file).ok());  // nothing in it is new
}

TEST_CASE("what is asked about a stranger says how much is new and gives the digits to compare") {
  Pair pair;
  const auto asked = pair.coach.book().take_in("wren.slip", *pair.swimmer.book().make_bundle({}));
  REQUIRE(!asked.ok());
  CHECK(asked.error().kind == model::ErrorKind::unconfirmed);
  REQUIRE(asked.error().args.size() == 5);
  CHECK(asked.error().args[0] == "wren.slip");
  CHECK(std::stoull(asked.error().args[1]) > 10);
  CHECK(asked.error().args[2] == "0");
  CHECK(asked.error().args[4] == sync::compare_digits(pair.swimmer.book().keys().signing_key()->open.view()));
}

TEST_CASE("a restored or copied device signs with a new key, and is asked about again") {
  Pair pair;
  REQUIRE(pair.coach.book().take_in("a.slip", *pair.swimmer.book().make_bundle({}), {.passphrase = {}, .confirmed = true}).ok());
  const auto before = pair.swimmer.book().keys().signing_key()->open;
  pair.swimmer.phone.close_book();
  CHECK(pair.swimmer.book().keys().signing_key()->open == before);  // closed and opened again: the same
  pair.swimmer.phone.close_book();
  pair.swimmer.phone.lose_token();
  CHECK(!(pair.swimmer.book().keys().signing_key()->open == before));
  pair.log(8);
  refuses(pair.coach.book(), *pair.swimmer.book().make_bundle({}), {}, "bundle.other_key");
}

TEST_CASE("a lost coach's key comes back from its sheet and opens what was sealed before") {
  Pair pair;
  pair.join();
  const model::Bytes file = pair.handed();
  const auto lines = pair.coach.book().keys().recovery_lines();
  REQUIRE(lines.ok());
  std::string sheet;
  for (const std::string& line : *lines) sheet += line + "\n";
  kit::SquadDevice new_tablet{9};
  refuses(new_tablet.book(), file, {}, "bundle.sealed_other");
  REQUIRE(new_tablet.book().keys().recover_coach_key(sheet, "Heron", "", false).ok());
  CHECK(new_tablet.book().keys().coach()->open == pair.coach.book().keys().coach()->open);
  REQUIRE(new_tablet.book().take_in("a.slip", file, {.passphrase = {}, .confirmed = true}).ok());
  CHECK(new_tablet.book().athlete(pair.swimmer.who).name.value_or("") == "Wren");
}

TEST_CASE("coach's key and sheet both lost: the old files stay shut, swimmers take the new squad file and export again") {
  Pair pair;
  pair.join();
  pair.log(8);
  const model::Bytes lost = pair.handed();
  kit::SquadDevice new_tablet{9};
  REQUIRE(new_tablet.book().keys().make_coach_key("Heron", "", false).ok());
  refuses(new_tablet.book(), lost, {.passphrase = kPassphrase, .confirmed = true}, "bundle.sealed_other");
  const model::Bytes new_squad = *new_tablet.book().keys().squad_file();
  refuses(pair.swimmer.book(), new_squad, {}, "squad.other");
  CHECK(pair.swimmer.book().keys().squad()->seal_to == pair.coach.book().keys().coach()->open);
  REQUIRE(pair.swimmer.book().take_in("new.slip", new_squad, {.passphrase = {}, .confirmed = true}).ok());
  const auto taken = new_tablet.book().take_in("a.slip", pair.handed(), {.passphrase = {}, .confirmed = true});
  REQUIRE(taken.ok());
  CHECK(taken->fresh_sets == 1);
  CHECK(new_tablet.book().digests().ops == pair.swimmer.book().digests().ops);
}

TEST_CASE("a coach's key under a passphrase is locked at the next opening; one without is at hand") {
  Pair pair;
  pair.coach.close_book();
  app::DeviceKeys* keys = &pair.coach.book().keys();
  REQUIRE(keys->coach().has_value());
  CHECK(keys->coach()->name == "Heron");
  CHECK(keys->coach()->wrapped);
  CHECK(!keys->coach()->usable);
  CHECK(refused(keys->recovery_lines()) == "key.locked");
  CHECK(refused(keys->unlock_coach_key("starting blocks at dusk")) == "key.passphrase_wrong");
  CHECK(!keys->coach()->usable);
  REQUIRE(keys->unlock_coach_key(kPassphrase).ok());
  CHECK(keys->coach()->usable);
  CHECK(refused(keys->make_coach_key("Heron", "", false)) == "key.there_already");
  REQUIRE(keys->make_coach_key("Heron", "", true).ok());
  pair.coach.close_book();
  keys = &pair.coach.book().keys();
  CHECK(!keys->coach()->wrapped);
  CHECK(keys->coach()->usable);
}

TEST_CASE("a bundle can be sealed by a passphrase, left open, or made for the coach; without a squad for nobody") {
  Pair pair;
  app::Book& book = pair.swimmer.book();
  CHECK(refused(book.make_bundle({}, {.whom = app::OutSeal::For::coach})) == "key.no_squad");
  pair.join();
  CHECK(sync::read_bundle(*book.make_bundle({}, {.whom = app::OutSeal::For::open}), "a.slip")->envelope == How::open);
  CHECK(refused(book.make_bundle({}, {.whom = app::OutSeal::For::passphrase, .passphrase = "short"})) == "key.passphrase_short");
  const auto file = book.make_bundle({}, {.whom = app::OutSeal::For::passphrase, .passphrase = kit::kFilePassphrase, .cost = kit::kCheapCost});
  REQUIRE(file.ok());
  kit::SquadDevice other{5};
  refuses(other.book(), *file, {}, "bundle.sealed_passphrase");
  refuses(other.book(), *file, {.passphrase = "two widths overwater", .confirmed = true}, "bundle.sealed_wrong");
  REQUIRE(other.book().take_in("a.slip", *file, {.passphrase = kit::kFilePassphrase}).ok());
  REQUIRE(book.keys().leave_squad().ok());
  CHECK(sync::read_bundle(*book.make_bundle({}), "a.slip")->envelope == How::open);
}

TEST_CASE("neither coach's secret nor signing secret is in anything that is handed over") {
  Pair pair;
  pair.join();
  const auto signing = pair.swimmer.book().keys().signing_key()->secret;
  const auto ring = pair.coach.book().keys().keyring({});
  REQUIRE(ring.keys.size() == 1);
  const auto holds = [](const model::Bytes& file, model::ByteView secret) { return model::as_text(file).find(model::as_text(secret)) != std::string_view::npos; };
  for (const model::Bytes& file : {pair.squad_file, pair.handed(), *pair.swimmer.book().make_bundle({}, {.whom = app::OutSeal::For::open}), *pair.coach.book().make_bundle({})}) {
    CHECK(!holds(file, signing.view()));
    CHECK(!holds(file, ring.keys.front().secret.view()));
  }
  // With a passphrase the secret is not in the coach's files either; without one it is.
  const auto in_store = [&](kit::SquadDevice& device) {
    device.close_book();
    return holds(device.files.content["slipway.db"], ring.keys.front().secret.view());
  };
  CHECK(!in_store(pair.coach));
  REQUIRE(pair.coach.book().keys().unlock_coach_key(kPassphrase).ok());
  std::string sheet;
  const auto lines = pair.coach.book().keys().recovery_lines();
  REQUIRE(lines.ok());
  for (const std::string& line : *lines) sheet += line;
  REQUIRE(pair.coach.book().keys().recover_coach_key(sheet, "Heron", "", true).ok());
  CHECK(in_store(pair.coach));
}
