#include "app/backup.h"

#include <doctest/doctest.h>

#include "app/local_names.h"
#include "app/settings.h"
#include "book_kit.h"
#include "kit/seal_kit.h"
#include "sync/bundle.h"
#include "sync/zip.h"

using namespace slipway;
using kit::Author;
using kit::entry_of;

namespace {

app::Restored restored(app::Book& book, const model::Bytes& file) {
  auto back = app::restore(book, "backup.zip", file);
  REQUIRE_MESSAGE(back.ok(), back.error().text);
  return *back;
}

model::Bytes backup_of(app::Book& book) {
  const auto backup = app::make_backup(book);
  REQUIRE(backup.ok());
  CHECK(backup->ops == book.check()->ops);
  return backup->file;
}

}  // namespace

TEST_CASE("a backup taken in by an empty store gives the same entries and the same views, under a new incarnation") {
  kit::Squad squad;
  REQUIRE(squad.book().log_set(squad.who, entry_of("SQ4", 8), squad.today(), Author::swimmer).ok());
  const auto file = backup_of(squad.book());
  kit::SquadDevice fresh(7);
  const auto first = fresh.book().opening().inc;
  const app::Restored back = restored(fresh.book(), file);
  CHECK(back.same);
  CHECK(back.findings.empty());
  CHECK(back.missing.empty());
  CHECK(back.taken.fresh == back.ops_of_backup);
  CHECK(back.sets == 1);
  CHECK(back.now.ops == squad.book().digests().ops);
  CHECK_FALSE(fresh.book().opening().inc == first);
  CHECK_FALSE(fresh.book().opening().inc == squad.book().opening().inc);
}

TEST_CASE("restoring replaces nothing: what was written since the backup stays, and the device goes on as another writer") {
  kit::Squad squad;
  const auto file = backup_of(squad.book());
  const auto set = squad.book().log_set(squad.who, entry_of("SQ4", 8), squad.today(), Author::swimmer);
  REQUIRE(set.ok());
  const auto before = squad.book().digests();
  const auto inc = squad.book().opening().inc;
  const app::Restored back = restored(squad.book(), file);
  CHECK(back.taken.fresh == 0);
  CHECK_FALSE(back.same);
  CHECK(squad.book().digests().ops == before.ops);
  CHECK(squad.book().digests().views == before.views);
  const auto next = squad.book().log_set(squad.who, entry_of("SQ4", 7), squad.today(), Author::swimmer);
  REQUIRE(next.ok());
  CHECK_FALSE(next->inc == inc);
  CHECK(next->inc == squad.book().opening().inc);
}

TEST_CASE("a bundle in which another device went on under our own writer id makes this one go on under a new id") {
  kit::SquadDevice phone(11);
  const auto who = phone.book().add_athlete({.name = "Wren", .birth_year = 1990}, Author::coach);
  REQUIRE(who.ok());
  phone.close_book();
  kit::SquadDevice clone(12);  // its storage was copied while the app was closed, and nobody noticed
  clone.files.content = phone.files.content;
  clone.adopt_token_of(phone);
  const model::Day day = model::day_of(phone.book().now());
  for (auto* device : {&phone, &clone}) REQUIRE(device->book().log_set(*who, entry_of("SQ4", device == &phone ? 8 : 5), day, Author::swimmer).ok());
  const auto before = phone.book().opening().inc;
  REQUIRE(clone.book().opening().inc == before);
  const auto taken = phone.book().take_in("clone.slip", *clone.book().make_bundle({}));
  REQUIRE(taken.ok());
  CHECK(taken->forks == 1);
  CHECK_FALSE(phone.book().opening().inc == before);
  REQUIRE(phone.book().log_set(*who, entry_of("SQ4", 7), day, Author::swimmer).ok());
  std::size_t sets = 0;
  for (const model::Session& session : phone.book().athlete(*who).sessions) sets += session.sets.size();
  CHECK(sets == 3);  // both branches, and what came after
  CHECK(phone.book().forks(*who).size() == 1);
}

TEST_CASE("two devices restored from one backup go on side by side: no fork, nothing lost") {
  kit::Squad squad;
  const auto file = backup_of(squad.book());
  kit::SquadDevice one(7), other(8);
  restored(one.book(), file);
  restored(other.book(), file);
  REQUIRE(one.book().log_set(squad.who, entry_of("SQ4", 8), squad.today(), Author::swimmer).ok());
  REQUIRE(other.book().log_set(squad.who, entry_of("SQ4", 6), squad.today(), Author::swimmer).ok());
  kit::carry(one.book(), other.book());
  const auto bundle = other.book().make_bundle({});
  REQUIRE(bundle.ok());
  const auto taken = one.book().take_in("a.slip", *bundle);
  REQUIRE(taken.ok());
  CHECK(taken->forks == 0);
  CHECK(one.book().digests().ops == other.book().digests().ops);
  CHECK(one.book().athlete(squad.who).sessions.front().sets.size() == 2);
}

TEST_CASE("settings come back where there are none, and never the answers about health") {
  kit::Squad squad;
  app::Settings mine;
  mine.user = app::DeviceUser::coach;
  mine.user_said = mine.started = true;
  mine.unit = model::Unit::lb;
  mine.emergency_number = "112";
  mine.health[0] = app::Answer::yes;
  mine.doctor_allowed = true;
  REQUIRE(mine.write(squad.book()));
  const auto file = backup_of(squad.book());
  kit::SquadDevice fresh(7);
  CHECK(restored(fresh.book(), file).settings_taken);
  const app::Settings back = app::Settings::read(fresh.book());
  CHECK(back.user == app::DeviceUser::coach);
  CHECK(back.unit == model::Unit::lb);
  CHECK(back.emergency_number == "112");
  CHECK(back.health[0] == app::Answer::open);
  CHECK_FALSE(back.doctor_allowed);
  mine.unit = model::Unit::kg;
  REQUIRE(mine.write(squad.book()));
  CHECK_FALSE(restored(squad.book(), file).settings_taken);
  CHECK(app::Settings::read(squad.book()).unit == model::Unit::kg);
  CHECK(app::Settings::read(squad.book()).health[0] == app::Answer::yes);
}

TEST_CASE("a restored device belongs to whom it belonged to, and to nobody else where it was nobody's") {
  kit::Squad squad;
  for (const char* name : {"Wren", "Heron", "Moth"}) REQUIRE(squad.book().add_athlete({.name = name}, Author::coach).ok());
  const auto of_nobody = backup_of(squad.book());
  for (const model::ScopeId& whose : squad.book().scopes()) {
    REQUIRE(squad.book().set_local(app::kHereName, whose.view()));
    kit::SquadDevice fresh(7);
    restored(fresh.book(), backup_of(squad.book()));
    const auto here = fresh.book().local(app::kHereName);
    REQUIRE(here.has_value());
    CHECK(model::ScopeId::from(*here) == whose);
    // A device that is somebody's already stays theirs.
    REQUIRE(squad.book().set_local(app::kHereName, squad.book().scopes().front().view()));
    restored(fresh.book(), backup_of(squad.book()));
    CHECK(model::ScopeId::from(*fresh.book().local(app::kHereName)) == whose);
  }
  kit::SquadDevice fresh(8);
  restored(fresh.book(), of_nobody);
  CHECK_FALSE(fresh.book().local(app::kHereName).has_value());
}

TEST_CASE("a restored store names the entries that are known to exist elsewhere") {
  kit::Squad squad;
  kit::SquadDevice helper(10);
  kit::carry(squad.book(), helper.book());
  for (const std::uint64_t reps : {5, 6}) REQUIRE(helper.book().log_set(squad.who, entry_of("SQ4", reps), squad.today(), Author::helper).ok());
  const auto own = helper.book().opening().inc;
  const auto read = sync::read_bundle(*helper.book().make_bundle({}), "h.slip");
  REQUIRE(read.ok());
  std::vector<ops::ChainedOp> second;  // the first was in a bundle that got lost
  for (const ops::ChainedOp& op : read->ops)
    if (op.stream.inc == own && op.seq == 2) second.push_back(op);
  sync::Bundle later = read->bundle;
  later.chunks = ops::make_chunks(second);
  const auto file = sync::write_bundle(later);
  REQUIRE(file.ok());
  REQUIRE(squad.book().take_in("h.slip", *file).ok());
  kit::SquadDevice fresh(11);
  const app::Restored back = restored(fresh.book(), backup_of(squad.book()));
  CHECK(back.same);
  REQUIRE(back.missing.size() == 1);
  CHECK(back.missing[0].inc == own);
  CHECK(back.missing[0].first == 1);
  CHECK(back.missing[0].last == 1);
}

TEST_CASE("a damaged backup is named and changes nothing, or is whole all the same") {
  kit::Squad squad;
  const auto file = backup_of(squad.book());
  std::optional<kit::SquadDevice> fresh(7);
  const auto before = fresh->book().digests();
  const auto inc = fresh->book().opening().inc;
  std::uint64_t refused = 0;
  for (std::size_t at = 60; at + 200 < file.size(); at += 31) {  // between the zip's own head and its table
    model::Bytes changed = file;
    changed[at] ^= 0x20;
    const auto back = app::restore(fresh->book(), "backup.zip", changed);
    if (back) {  // a byte that says nothing of the parts, as a time of day in the zip
      CHECK(back->same);
      fresh.emplace(7);
      continue;
    }
    refused += 1;
    CHECK(back.error().args.at(0) == "backup.zip");
    CHECK(fresh->book().digests().ops == before.ops);
    CHECK(fresh->book().opening().inc == inc);
  }
  CHECK(refused > 20);
}

TEST_CASE("a backup is told from a bundle and an export by its bytes") {
  kit::Squad squad;
  CHECK(app::is_backup(backup_of(squad.book())));
  CHECK_FALSE(app::is_backup(*squad.book().make_bundle({})));
}

TEST_CASE("a sealed backup comes back by its passphrase alone, and says that it is none of the bundles") {
  kit::Squad squad;
  REQUIRE(squad.book().log_set(squad.who, entry_of("SQ4", 8), squad.today(), Author::swimmer).ok());
  const auto sealed = app::make_backup(squad.book(), kit::kFilePassphrase, kit::kCheapCost);
  REQUIRE(sealed.ok());
  CHECK(sync::is_sealed(sealed->file));
  CHECK_FALSE(sync::is_sealed(backup_of(squad.book())));
  kit::SquadDevice fresh(7);
  CHECK(app::restore(fresh.book(), "backup.slip", sealed->file).error().text == "bundle.sealed_passphrase");
  CHECK(app::restore(fresh.book(), "backup.slip", sealed->file, {.passphrase = "one width on the ground"}).error().text == "bundle.sealed_wrong");
  CHECK(fresh.book().take_in("backup.slip", sealed->file, {.passphrase = kit::kFilePassphrase}).error().text == "bundle.sealed_backup");
  CHECK(fresh.book().scopes().empty());
  const auto twice = fresh.book().seal_file(sealed->file, kit::kFilePassphrase, kit::kCheapCost);
  REQUIRE(twice.ok());
  CHECK_FALSE(app::restore(fresh.book(), "backup.slip", *twice, {.passphrase = kit::kFilePassphrase}).ok());  // a seal inside a seal
  CHECK(fresh.book().scopes().empty());
  const auto back = app::restore(fresh.book(), "backup.slip", sealed->file, {.passphrase = kit::kFilePassphrase});
  REQUIRE(back.ok());
  CHECK(back->same);
  CHECK(app::make_backup(squad.book(), "short", kit::kCheapCost).error().text == "key.passphrase_short");
}
