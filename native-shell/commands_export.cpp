#include <iostream>

#include "answers.h"
#include "commands.h"
#include "report/words.h"
#include "store/salvage.h"
#include "taking_in.h"
#include "whole_files.h"

namespace slipway::native {

namespace {

// From the book; where the store is damaged, from what of it still opens.
model::Result<app::Archive> whole_archive(Desk& desk) {
  const auto opened = desk.open(IfNoStore::refuse);
  if (opened) {
    const auto scopes = asked_athletes(desk);
    if (!scopes) return scopes.error();
    if (desk.book().scopes().empty() && desk.book().libraries().empty()) return nobody_here(desk.book());
    return desk.book().export_everything(*scopes);
  }
  // Without the book nobody knows who is called what: then everybody's entries or none.
  if (opened.error().kind != model::ErrorKind::damaged || !desk.request().athletes.empty()) return opened.error();
  if (const auto store = desk.open_bare()) {
    auto archive = app::make_archive(**store, {}, {});
    if (archive || archive.error().kind != model::ErrorKind::damaged) return archive;
  }
  // Not even SQLite reads it: what stands in its pages and proves itself.
  const auto bytes = desk.database_bytes();
  if (!bytes) return opened.error();
  const auto found = store::salvage(*bytes);
  if (found.empty()) return model::error(model::ErrorKind::damaged, "store.nothing_whole", {std::string(store::kDatabaseName)});
  return app::make_archive_of(found);
}

}  // namespace

int run_export(Desk& desk) {
  const Request& asked = desk.request();
  auto archive = whole_archive(desk);
  if (!archive) return desk.refuse(archive.error());
  const auto written = desk.write_out(asked.out, archive->zip, asked.replace ? IfThere::replace : IfThere::refuse);
  if (!written) return desk.refuse(written.error());
  const Exported exported{asked.out, std::move(*archive)};
  return desk.answer(json::exported(exported), words::exported(exported), exported.archive.left_out.empty() ? kDone : kAnswerIsNo);
}

int run_backup(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto passphrase = asked_passphrase(asked);
  if (!passphrase) return desk.refuse(passphrase.error());
  auto backup = app::make_backup(desk.book(), *passphrase);
  if (!backup) return desk.refuse(backup.error());
  const auto written = desk.write_out(asked.out, backup->file, asked.replace ? IfThere::replace : IfThere::refuse);
  if (!written) return desk.refuse(written.error());
  const BackedUp backed_up{asked.out, std::move(*backup)};
  return desk.answer(json::backed_up(backed_up), words::backed_up(backed_up), backed_up.backup.left_out.empty() ? kDone : kAnswerIsNo);
}

int run_restore(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::begin_one); !opened) return desk.refuse(opened.error());
  const std::string& path = desk.request().files.front();
  const auto bytes = read_whole(path);
  if (!bytes) return desk.refuse(bytes.error());
  const auto wish = asked_wish(desk.request());
  if (!wish) return desk.refuse(wish.error());
  auto restored = app::restore(desk.book(), path, *bytes, *wish);
  if (!restored) return desk.refuse(restored.error());
  const auto tidied = desk.book().tidy();
  desk.look_after();
  const RestoredFile file{path, std::move(*restored)};
  const int code = !tidied ? kStorageTrouble : file.restored.findings.empty() && file.restored.missing.empty() ? kDone : kAnswerIsNo;
  return desk.answer(json::restored(file), words::restored(file), code);
}

}  // namespace slipway::native
