// Erasing an athlete, and what is known of erasures: who asks, who has confirmed.
#include "answers.h"
#include "commands.h"
#include "report/words.h"
#include "whole_files.h"

namespace slipway::native {

namespace {

app::EraseReason reason_of(const std::string& word) {
  if (word == "left") return app::EraseReason::left;
  if (word == "long") return app::EraseReason::long_without;
  return word == "mistake" ? app::EraseReason::mistake : app::EraseReason::asked;
}

Person person(Desk& desk, const model::ScopeId& scope) { return {scope, desk.book().athlete(scope).name.value_or("")}; }

}  // namespace

int run_erase(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto found = desk.book().find_athlete(asked.who);
  if (!found) return desk.refuse(found.error());
  if (asked.typed != desk.book().typed_to_erase(*found)) return desk.refuse(model::error(model::ErrorKind::invalid, "erase.other_name"));
  if (!asked.out.empty()) {  // what of them could not be exported is not erased; coaches' notes are not for who takes this file along
    const auto archive = desk.book().export_everything({*found});
    if (!archive) return desk.refuse(archive.error());
    if (const auto written = desk.write_out(asked.out, archive->zip, IfThere::refuse); !written)
      return desk.refuse(written.error().text == "cli.file_there" ? model::error(model::ErrorKind::invalid, "cli.file_there_only", {asked.out}) : written.error());
  }
  ErasedFile gone{.athlete = *found, .last_export = asked.out};
  const std::uint64_t before = desk.book().check() ? desk.book().check()->ops : 0;
  const auto erased = desk.book().erase(*found, asked.typed, reason_of(asked.reason));
  if (!erased) return desk.refuse(erased.error());
  const auto after = desk.book().check();
  if (!after) return desk.refuse(after.error());
  gone.ops = before - after->ops;
  return desk.answer(json::erased(gone), words::erased(gone));
}

int run_erase_status(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  ErasureStatus status;
  status.erased = desk.book().erased();
  for (const app::EraseRequest& request : desk.book().erase_requests()) status.asked.push_back({person(desk, request.scope), request});
  for (const model::ScopeId& scope : desk.book().long_without_entry()) status.long_without.push_back(person(desk, scope));
  return desk.answer(json::erasure_status(status), words::erasure_status(status));
}

}  // namespace slipway::native
