#include "app/backup.h"

#include <algorithm>
#include <optional>

#include "app/local_names.h"
#include "app/settings.h"
#include "model/json.h"
#include "sync/op_lines.h"
#include "sync/zip.h"

namespace slipway::app {

namespace {

constexpr std::string_view kAbout = "backup.json";
constexpr std::uint64_t kForm = 1, kMostAboutBytes = 64 * 1024;

struct About {
  std::string made, settings;
  std::uint64_t ops = 0;
  Digests digests;
  std::optional<model::ScopeId> here;
};

std::optional<model::ScopeId> here_of(Book& book) {
  const auto known = book.local(kHereName);
  if (!known || known->size() != model::ScopeId{}.bytes.size()) return std::nullopt;
  return model::ScopeId::from(*known);
}

std::string about_text(Book& book, const Digests& digests, std::uint64_t ops) {
  model::JsonWriter out;
  out.object().name("slipway").text("backup").name("form").whole(kForm).name("made").text(model::iso(book.now())).name("ops").whole(ops);
  out.name("digests").object().name("ops").text(digests.ops.hex()).name("views").text(digests.views.hex()).end();
  out.name("settings").text(Settings::to_carry(book));
  if (const auto here = here_of(book)) out.name("here").text(here->hex());
  return out.end().take();
}

bool read_hash(const model::JsonValue* value, model::Hash32& out) {
  model::Bytes bytes;
  if (value == nullptr || value->as_text() == nullptr || !model::read_hex(value->text, bytes) || bytes.size() != out.bytes.size()) return false;
  out = model::Hash32::from(bytes);
  return true;
}

model::Result<About> read_about(const std::string& file_name, model::ByteView file) {
  const model::Error damaged = model::error(model::ErrorKind::damaged, "zip.damaged", {file_name, std::string(kAbout)});
  const auto text = sync::read_zip_part(file, std::string(kAbout), {file_name}, kMostAboutBytes);
  if (!text) return text.error();
  const auto value = model::read_json(model::as_text(*text));
  if (!value) return damaged;
  const model::JsonValue *form = value->find("form"), *made = value->find("made"), *ops = value->find("ops"), *settings = value->find("settings"),
                         *digests = value->find("digests"), *here = value->find("here");
  if (form == nullptr || !form->whole()) return damaged;
  if (*form->whole() > kForm) return model::error(model::ErrorKind::newer_version, "bundle.newer", {file_name, std::to_string(*form->whole())});
  About about;
  const bool whole = made != nullptr && made->as_text() != nullptr && ops != nullptr && ops->whole() && settings != nullptr && settings->as_text() != nullptr &&
                     digests != nullptr && read_hash(digests->find("ops"), about.digests.ops) && read_hash(digests->find("views"), about.digests.views);
  if (!whole) return damaged;
  if (model::Bytes bytes; here != nullptr) {
    if (here->as_text() == nullptr || !model::read_hex(here->text, bytes) || bytes.size() != model::ScopeId{}.bytes.size()) return damaged;
    about.here = model::ScopeId::from(bytes);
  }
  about.made = made->text;
  about.settings = settings->text;
  about.ops = *ops->whole();
  return about;
}

}  // namespace

model::Result<Backup> make_backup(Book& book, const std::string& passphrase, const sync::PassphraseCost& cost) {
  book.copy_has_left();
  const auto bundle = book.make_bundle({.libraries = true, .coach_notes = true}, {.whom = OutSeal::For::open});
  if (!bundle) return bundle.error();
  book.not_copied();  // nobody reads it: texts that were never shown before a bundle went out are still to be shown
  Backup backup{.file = {}, .athletes = book.scopes().size(), .ops = book.op_count(), .digests = book.digests()};
  for (const Book::SealedProfile& one : book.sealed_profiles())
    if (!one.open) backup.left_out.push_back(one.name);
  sync::ZipWriter zip;
  zip.begin(std::string(kAbout));
  zip.add(model::as_bytes(about_text(book, backup.digests, backup.ops)));
  zip.begin(std::string(sync::kZippedBundleName));
  zip.add(*bundle);
  auto file = zip.finish();
  if (!file) return file.error();
  if (!passphrase.empty()) file = book.seal_file(*file, passphrase, cost);
  if (!file) return file.error();
  backup.file = std::move(*file);
  return backup;
}

bool is_backup(model::ByteView file) { return sync::is_zip(file) && sync::read_zip_part(file, std::string(kAbout), {""}, kMostAboutBytes).ok(); }

namespace {

// A seal inside a seal is refused here, as it is of bundles: it is no zip.
model::Result<Restored> restore_open(Book& book, const std::string& file_name, model::ByteView file, const TakeInWish& wish) {
  const auto about = read_about(file_name, file);
  if (!about) return about.error();
  auto taken = book.take_in(file_name, file, wish);
  if (!taken) return taken.error();
  if (const auto anew = book.begin_anew(); !anew) return anew.error();
  Restored restored{.taken = std::move(*taken), .made = about->made, .ops_of_backup = about->ops, .of_backup = about->digests};
  restored.settings_taken = Settings::take_carried(book, about->settings);
  const auto scopes = book.scopes();
  if (about->here && !here_of(book) && std::find(scopes.begin(), scopes.end(), *about->here) != scopes.end()) book.set_local(kHereName, about->here->view());
  const auto checked = book.check();
  if (!checked) return checked.error();
  restored.findings = checked->findings;
  restored.now = checked->digests;
  restored.same = restored.now.ops == about->digests.ops && restored.now.views == about->digests.views;
  restored.missing = book.missing();
  for (const model::ScopeId& scope : book.scopes()) {
    restored.athletes += 1;
    const model::Athlete& athlete = book.athlete(scope);
    restored.sessions += athlete.sessions.size();
    for (const model::Session& session : athlete.sessions) restored.sets += session.sets.size();
  }
  return restored;
}

}  // namespace

model::Result<Restored> restore(Book& book, const std::string& file_name, model::ByteView file, const TakeInWish& wish) {
  if (!sync::is_sealed(file)) return restore_open(book, file_name, file, wish);
  const auto inside = sync::open_seal(file, file_name, {{}, wish.passphrase});
  if (!inside) return inside.error();
  return restore_open(book, file_name, *inside, wish);
}

}  // namespace slipway::app
