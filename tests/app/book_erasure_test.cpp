// Row 17 of the design's table of tests: whoever was erased is nowhere, and no old bundle brings them back.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>

#include "app/archive.h"
#include "app/backup.h"
#include "app/profile_lock.h"
#include "app/settings.h"
#include "book_kit.h"
#include "kit/bundle_kit.h"
#include "kit/rows.h"
#include "kit/seal_kit.h"
#include "ops/registry.h"
#include "sync/zip.h"

using namespace slipway;
using app::EraseReason;
using kit::Author;
using kit::entry_of;

namespace {

constexpr std::int64_t kDayMs = 86'400'000;

bool holds(const model::Bytes& bytes, model::ByteView sign) { return std::search(bytes.begin(), bytes.end(), sign.begin(), sign.end()) != bytes.end(); }
bool holds(const model::Bytes& bytes, std::string_view sign) { return holds(bytes, model::as_bytes(sign)); }

// Files of the device in which the sign still stands.
std::string places_of(kit::SquadDevice& device, model::ByteView sign) {
  std::string places;
  for (const auto& [name, bytes] : device.files.content)
    if (holds(bytes, sign)) places += name + " ";
  return places;
}

model::ScopeId add(app::Book& book, const std::string& name, const std::string& secret, std::uint64_t reps) {
  const auto who = book.add_athlete({.name = name, .birth_year = 1990}, Author::coach);
  REQUIRE(who.ok());
  const model::Day day = model::day_of(book.now());
  REQUIRE(book.log_set(*who, entry_of("SQ4", reps), day, Author::swimmer).ok());
  REQUIRE(book.note_pain(*who, "shoulder", 1, Author::swimmer).ok());
  REQUIRE(book.sign_off(*who, {.id = {}, .exercise = "SQ4", .level = model::SignOffLevel::sound, .note = secret, .day = day, .role = model::AdultRole::coach}, Author::coach).ok());
  return *who;
}

// Two devices that hold the same two athletes, each with entries of its own.
struct Two {
  Two() : phone(1), tablet(2) {
    odd = add(phone.book(), "Odd Zwxq", "odd-secret-zwxq", 8);
    wren = add(phone.book(), "Wren", "wren-secret", 9);
    kit::carry(phone.book(), tablet.book());
    REQUIRE(tablet.book().log_set(odd, entry_of("SQ4", 5), model::day_of(tablet.book().now()), Author::coach).ok());
    old_bundles.push_back(*phone.book().make_bundle({}));
    kit::carry(tablet.book(), phone.book());
    old_bundles.push_back(*tablet.book().make_bundle({.athletes = {odd}}));
    old_bundles.push_back(*phone.book().make_bundle({}));
  }
  app::Book& book() { return phone.book(); }
  kit::SquadDevice phone, tablet;
  model::ScopeId odd, wren;
  std::vector<model::Bytes> old_bundles;
};

}  // namespace

TEST_CASE("an athlete is erased only by typing their whole name") {
  Two two;
  const auto before = two.book().digests();
  for (const char* typed : {"", "Odd", "odd zwxq", "Wren"}) CHECK(kit::refused(two.book().erase(two.odd, typed, EraseReason::asked)) == "erase.other_name");
  CHECK(two.book().digests().ops == before.ops);
  CHECK(two.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
}

TEST_CASE("an erased athlete is gone: no list, no entry, no bundle names them, and the others are as they were") {
  Two two;
  const std::uint64_t of_wren = two.book().athlete(two.wren).sessions.front().sets.size();
  const auto revision = two.book().revision();
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::left).ok());
  CHECK(two.book().revision() > revision);
  CHECK(two.book().scopes() == std::vector<model::ScopeId>{two.wren});
  CHECK(two.book().find_athlete("Odd Zwxq").error().kind == model::ErrorKind::not_found);
  CHECK(two.book().athlete(two.wren).sessions.front().sets.size() == of_wren);
  CHECK(two.book().check()->findings.empty());
  const auto read = sync::read_bundle(*two.book().make_bundle({}), "all.slip");
  REQUIRE(read.ok());
  const auto of_odd = std::count_if(read->ops.begin(), read->ops.end(), [&](const auto& op) { return op.stream.scope == two.odd; });
  CHECK(of_odd == 1);
}

TEST_CASE("the mark says no name and no date: a scope, itself and a reason") {
  Two two;
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::left).ok());
  const auto read = sync::read_bundle(*two.book().make_bundle({.athletes = {two.odd}}), "mark.slip");
  REQUIRE(read.ok());
  REQUIRE(read->ops.size() == 1);
  const ops::ChainedOp& mark = read->ops.front();
  CHECK(ops::is_critical(mark.op.kind));
  CHECK(mark.op.lam == 1);
  CHECK(mark.seq == 1);
  CHECK_FALSE(mark.stream.inc == two.book().opening().inc);
  for (const ops::Field& field : mark.op.fields) CHECK((field.tag == 1 || field.tag == 16));
}

TEST_CASE("no byte of an erased athlete is left in any file of the device, and old bundles in any order bring none back") {
  const std::uint64_t squads = kit::times(12, 2'000);
  std::uint64_t dropped = 0, erased = 0;
  for (std::uint64_t squad = 0; squad < squads; ++squad) {
    Two two;
    two.book().set_local("draft.set", model::as_bytes("odd-draft-zwxq"));
    two.book().set_local("here.athlete", two.odd.view());
    REQUIRE(two.book().tidy().ok());
    REQUIRE_FALSE(places_of(two.phone, model::as_bytes("zwxq")).empty());
    kit::SameRandom dice(squad + 1);
    REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
    std::vector<model::Bytes> files = two.old_bundles;
    files.push_back(app::make_backup(two.tablet.book())->file);
    files.push_back(two.tablet.book().export_everything({})->zip);
    for (std::size_t left = files.size(); left > 1; --left) std::swap(files[left - 1], files[dice.below(left)]);
    for (const model::Bytes& file : files) {
      const auto taken = two.book().take_in("odd.slip", file);
      REQUIRE(taken.ok());
      dropped += taken->dropped;
      CHECK_FALSE(taken->own_past);
      if (dice.below(2) == 0) two.phone.close_book();  // and started again
    }
    REQUIRE(two.book().tidy().ok());
    CHECK(two.book().scopes() == std::vector<model::ScopeId>{two.wren});
    const model::Bytes bundle = *two.book().make_bundle({});
    const auto archive = two.book().export_everything({});
    REQUIRE(archive.ok());
    two.phone.close_book();
    for (const char* sign : {"Odd Zwxq", "odd-secret", "zwxq"}) {
      CHECK_MESSAGE(places_of(two.phone, model::as_bytes(sign)).empty(), sign << " in " << places_of(two.phone, model::as_bytes(sign)));
      CHECK_FALSE(holds(bundle, sign));
      for (const std::string& part : archive->parts) CHECK_FALSE(holds(*sync::read_zip_part(archive->zip, part, {"all.zip"}, 1 << 24), sign));
    }
    CHECK(places_of(two.phone, model::as_bytes("wren-secret")) == "slipway.db ");
    erased += 1;
  }
  kit::row(17, erased, "squads with one athlete erased, " + std::to_string(dropped) + " entries dropped at the door, 0 bytes found");
  CHECK(dropped >= erased * 5);
}

TEST_CASE("the PIN of an erased athlete goes with them") {
  Two two;
  app::ProfileLock lock(two.phone.clock, two.phone.random, kit::kCheapCost);
  REQUIRE(lock.set_pin(two.book(), std::nullopt, "777777").ok());
  REQUIRE(lock.set_pin(two.book(), two.odd, "1234").ok());
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
  CHECK_FALSE(lock.has_pin(two.book(), two.odd));
  CHECK(lock.has_pin(two.book(), std::nullopt));
}

TEST_CASE("a mark from another device asks and deletes nothing, until a person there types the name") {
  Two two;
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::left).ok());
  kit::carry(two.book(), two.tablet.book());
  app::Book& tablet = two.tablet.book();
  CHECK(tablet.scopes().size() == 2);
  auto requests = tablet.erase_requests();
  REQUIRE(requests.size() == 1);
  CHECK(requests[0].scope == two.odd);
  CHECK(requests[0].reason == EraseReason::left);
  CHECK(requests[0].asked_since == model::day_of(tablet.now()));
  two.tablet.clock.tick(40 * kDayMs);
  two.tablet.close_book();
  REQUIRE(two.tablet.book().erase_requests().size() == 1);
  CHECK(model::day_of(two.tablet.book().now()).since_1970 - two.tablet.book().erase_requests()[0].asked_since->since_1970 == 40);
  CHECK(two.tablet.book().athlete(two.odd).name.value_or("") == "Odd Zwxq");
  REQUIRE(two.tablet.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
  CHECK(two.tablet.book().erase_requests().empty());
  REQUIRE(two.tablet.book().erased().size() == 1);
  CHECK(two.tablet.book().erased()[0].reason == EraseReason::left);  // as the mark says that it confirms
}

TEST_CASE("a mark that nobody confirmed for a month stands on the board at each start, for those who may answer it") {
  for (const app::DeviceUser user : {app::DeviceUser::coach, app::DeviceUser::shared}) {
    Two two;
    REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::left).ok());
    kit::carry(two.book(), two.tablet.book());
    CHECK(two.tablet.book().erase_requests().size() == 1);
    app::Settings settings;
    settings.user = user;
    settings.user_said = settings.started = true;
    REQUIRE(settings.write(two.tablet.book()));
    const auto asks = [&] {
      two.tablet.app.close();
      two.tablet.open_app();
      two.tablet.app.act(screens::Intent{screens::GoTo{screens::Place::session}});
      const auto* page = std::get_if<screens::SessionView>(&two.tablet.app.view().page);
      REQUIRE(page != nullptr);
      const auto is_it = [](const screens::TroublePanel& one) { return one.title == report::say("trouble.marks_title"); };
      return std::count_if(page->troubles.begin(), page->troubles.end(), is_it);
    };
    two.tablet.close_book();
    two.tablet.clock.tick(29 * kDayMs);
    CHECK(asks() == 0);
    two.tablet.clock.tick(kDayMs);
    const bool may_answer = user == app::DeviceUser::coach;
    for (int start = 0; start < 2; ++start) CHECK(asks() == (may_answer ? 1 : 0));
    two.tablet.app.take_in("again.slip", *two.book().make_bundle({}));
    CHECK((two.tablet.app.view().announcements.back().text.find(report::say("erase.sentence_asked_one")) != std::string::npos) == may_answer);
  }
}

TEST_CASE("who has confirmed is seen from their next bundle, and only then") {
  Two two;
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::left).ok());
  kit::carry(two.book(), two.tablet.book());
  kit::carry(two.tablet.book(), two.book());  // it has read the mark, and holds everything still
  CHECK(two.book().erased()[0].confirmed_by.empty());
  REQUIRE(two.tablet.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
  kit::carry(two.tablet.book(), two.book());
  kit::carry(two.tablet.book(), two.book());
  CHECK(two.book().erased()[0].confirmed_by == std::vector<model::DeviceId>{two.tablet.book().opening().device});
}

TEST_CASE("a file that is refused confirms nothing") {
  Two two;
  kit::SquadDevice stranger(3);
  kit::carry(two.book(), stranger.book());
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::left).ok());
  kit::carry(two.book(), stranger.book());
  REQUIRE(stranger.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
  REQUIRE(stranger.book().log_set(two.wren, entry_of("SQ4", 6), model::day_of(stranger.book().now()), Author::coach).ok());
  REQUIRE(two.book().keys().make_coach_key("Heron", "starting blocks at dawn", false, kit::kCheapCost).ok());
  const auto file = stranger.book().make_bundle({}, {.whom = app::OutSeal::For::open});
  REQUIRE(file.ok());
  CHECK(kit::refused(two.book().take_in("stranger.slip", *file)) != "kept");
  CHECK(two.book().erased()[0].confirmed_by.empty());
  REQUIRE(two.book().take_in("stranger.slip", *file, {.passphrase = {}, .confirmed = true}).ok());
  CHECK(two.book().erased()[0].confirmed_by.size() == 1);
}

TEST_CASE("a device that never had the athlete passes the mark on and shows nobody") {
  Two two;
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::left).ok());
  kit::SquadDevice other(5);
  kit::carry(two.book(), other.book());
  CHECK(other.book().scopes() == std::vector<model::ScopeId>{two.wren});
  CHECK(other.book().erase_requests().empty());
  CHECK(other.book().missing().empty());
  kit::carry(other.book(), two.tablet.book());
  CHECK(two.tablet.book().erase_requests().size() == 1);
}

TEST_CASE("somebody who comes back is a new athlete, whom the old mark does not touch") {
  Two two;
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::left).ok());
  const auto again = two.book().add_athlete({.name = "Odd Zwxq"}, Author::coach);
  REQUIRE(again.ok());
  CHECK_FALSE(*again == two.odd);
  for (const model::Bytes& old : two.old_bundles) REQUIRE(two.book().take_in("old.slip", old).ok());
  CHECK(two.book().scopes().size() == 2);
  CHECK(two.book().find_athlete("Odd Zwxq").value() == *again);
}

TEST_CASE("entries that the storage refused go too, and are never written later") {
  Two two;
  two.phone.files.refuses = host::IoStatus::full;
  REQUIRE(two.book().log_set(two.odd, entry_of("SQ4", 3), model::day_of(two.book().now()), Author::swimmer).ok());
  REQUIRE(two.book().waiting() == 1);
  CHECK(kit::refused(two.book().erase(two.odd, "Odd Zwxq", EraseReason::asked)) == "store.full");
  CHECK(two.book().scopes().size() == 2);
  two.phone.files.refuses = host::IoStatus::ok;
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
  CHECK(two.book().waiting() == 0);
  CHECK(two.book().try_again());
  CHECK(places_of(two.phone, model::as_bytes("zwxq")).empty());
}

TEST_CASE("erasing is proposed after 24 months without an entry, and never done by itself") {
  Two two;
  CHECK(two.book().long_without_entry().empty());
  two.phone.clock.tick(729 * kDayMs);
  CHECK(two.book().long_without_entry().empty());
  REQUIRE(two.book().log_set(two.wren, entry_of("SQ4", 3), model::day_of(two.book().now()), Author::swimmer).ok());
  two.phone.clock.tick(3 * kDayMs);
  CHECK(two.book().long_without_entry() == std::vector<model::ScopeId>{two.odd});
  CHECK(two.book().scopes().size() == 2);
}

TEST_CASE("what only coaches hold about an erased athlete goes with them, and what another coach holds is dropped at the door") {
  Two two;
  app::Book &phone = two.phone.book(), &tablet = two.tablet.book();
  REQUIRE(phone.add_note(two.odd, {.text = "odd-private-zwxq", .coach_only = true}, Author::coach).ok());
  REQUIRE(tablet.add_note(two.odd, {.text = "odd-elsewhere-zwxq", .coach_only = true}, Author::coach).ok());
  REQUIRE(tablet.add_note(two.wren, {.text = "wren-elsewhere", .coach_only = true}, Author::coach).ok());
  const auto theirs = tablet.make_bundle({.coach_notes = true});
  REQUIRE(phone.erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
  CHECK(phone.coach_notes().empty());
  const auto taken = phone.take_in("coach.slip", *theirs);
  REQUIRE(taken.ok());
  CHECK(taken->dropped > 2);
  CHECK(phone.coach_notes().size() == 1);  // Wren's
  REQUIRE(phone.tidy().ok());
  const model::Bytes bundle = *phone.make_bundle({.coach_notes = true});
  CHECK_FALSE(holds(bundle, "zwxq"));
  two.phone.close_book();
  CHECK(places_of(two.phone, model::as_bytes("zwxq")).empty());
  CHECK_FALSE(places_of(two.phone, model::as_bytes("wren-elsewhere")).empty());
}

TEST_CASE("a mark asks for a person, not for the notes that only coaches hold about them") {
  Two two;
  REQUIRE(two.book().add_note(two.odd, {.text = "x", .coach_only = true}, Author::coach).ok());
  REQUIRE(two.tablet.book().take_in("all.slip", *two.book().make_bundle({.coach_notes = true})).ok());
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
  kit::carry(two.book(), two.tablet.book());
  REQUIRE(two.tablet.book().erase_requests().size() == 1);
  CHECK(two.tablet.book().erase_requests()[0].scope == two.odd);
  REQUIRE(two.tablet.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
  CHECK(two.tablet.book().coach_notes().empty());
  CHECK(two.tablet.book().erase_requests().empty());
}

TEST_CASE("entries in a scope that is here are not dropped because they call themselves notes about somebody erased") {
  Two two;
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
  const auto in_wrens_scope = [&] {  // the same op, written into the scope of somebody who is here
    ops::Pen pen({two.wren, kit::inc_named('f')}, 0, ops::genesis({two.wren, kit::inc_named('f')}));
    kit::SameRandom random(5);
    sync::Bundle bundle;
    const auto op = pen.write_bare(ops::kind::coach_notes, {ops::bytes_field(ops::coach_notes_tag::athlete, two.odd.view())}, random);
    bundle.device.bytes.fill(9);
    bundle.created_by = op.stream.inc;
    bundle.scopes = {two.wren};
    const std::vector<ops::ChainedOp> alone{op};
    bundle.chunks = ops::make_chunks(alone);
    bundle.holdings = kit::held_of(alone).holdings();
    return *sync::write_bundle(bundle);
  }();
  const auto sets = two.book().athlete(two.wren).sessions.front().sets.size();
  const auto taken = two.book().take_in("forged.slip", in_wrens_scope);
  REQUIRE(taken.ok());
  CHECK(taken->dropped == 0);
  CHECK(two.book().athlete(two.wren).sessions.front().sets.size() == sets);
}

TEST_CASE("the answers about health go with the person whose device it was; whoever comes next is asked") {
  Two two;
  app::Settings settings;
  settings.started = true;
  settings.text_percent = 150;
  REQUIRE(settings.write(two.book()));
  app::Health health;
  health.answers[0] = app::Answer::yes;
  health.doctor_allowed = true;
  REQUIRE(health.write(two.book(), two.wren));
  two.book().set_local("here.athlete", two.wren.view());
  REQUIRE(two.book().erase(two.odd, "Odd Zwxq", EraseReason::asked).ok());
  CHECK(app::Health::read(two.book(), two.wren).answers[0] == app::Answer::yes);
  REQUIRE(two.book().erase(two.wren, "Wren", EraseReason::asked).ok());
  const app::Settings now = app::Settings::read(two.book());
  CHECK(app::Health::read(two.book(), two.wren).answers[0] == app::Answer::open);
  CHECK_FALSE(app::Health::read(two.book(), two.wren).doctor_allowed);
  CHECK_FALSE(now.started);
  CHECK(now.text_percent == 150);
}

TEST_CASE("somebody whose name has not arrived is erased by the first signs of their id") {
  Two two;
  kit::SquadDevice late(6);
  const auto all = sync::read_bundle(two.old_bundles.front(), "all.slip");
  REQUIRE(all.ok());
  sync::Bundle rest = all->bundle;  // the first bundle was lost: all but the entry that says who it is
  std::vector<ops::ChainedOp> without_name;
  for (const ops::ChainedOp& op : all->ops)
    if (op.stream.scope == two.odd && op.seq > 1) without_name.push_back(op);
  rest.chunks = ops::make_chunks(without_name);
  rest.scopes = {two.odd};
  rest.holdings = kit::held_of(without_name).holdings();
  REQUIRE(late.book().take_in("rest.slip", *sync::write_bundle(rest)).ok());
  REQUIRE(late.book().athlete(two.odd).name.value_or("").empty());
  CHECK(kit::refused(late.book().erase(two.odd, "", EraseReason::asked)) == "erase.other_name");
  CHECK(late.book().erase(two.odd, two.odd.hex().substr(0, 8), EraseReason::asked).ok());
}
