#include "answers.h"
#include "app/desk.h"
#include "report/words.h"

namespace slipway::native::words {

using report::number;
using report::say;

std::string exported(const Exported& exported) {
  const app::Archive& archive = exported.archive;
  const std::string counts = say("cli.exported_counts", {app::counted_athletes(archive.athletes), app::counted_entries(archive.ops), app::counted_sessions(archive.sessions),
                                                           app::counted_sets(archive.sets), app::counted_pains(archive.pains)});
  std::string text = say("cli.exported", {exported.file, counts, number(archive.zip.size())}) + "\n";
  for (const model::Error& why : archive.left_out) text += say("cli.left_out", {say(why)}) + "\n";
  return text;
}

std::string backed_up(const BackedUp& backed_up) {
  const app::Backup& backup = backed_up.backup;
  std::string text = say("cli.backed_up", {backed_up.file, app::counted_athletes(backup.athletes), app::counted_entries(backup.ops), number(backup.file.size())}) + "\n";
  for (const std::string& name : backup.left_out) text += say("cli.backed_up_without", {name}) + "\n";
  return text;
}

std::string missing_lines(const std::vector<app::MissingStretch>& gaps) {
  std::string text;
  for (const app::MissingStretch& gap : gaps) text += say("cli.entries_missing", {number(gap.first), number(gap.last), gap.inc.hex().substr(0, 8)}) + "\n";
  return text;
}

std::string restored(const RestoredFile& file) {
  const app::Restored& back = file.restored;
  std::string text = say("cli.restored", {file.file, back.made, app::counted_entries(back.taken.fresh), app::counted_entries(back.taken.known)}) + "\n";
  text += say(back.same ? "cli.restored_same" : "cli.restored_more", {app::counted_athletes(back.athletes), app::counted_sessions(back.sessions), app::counted_sets(back.sets)}) + "\n";
  text += say(back.settings_taken ? "cli.restored_settings" : "cli.restored_own_settings") + "\n";
  text += say("cli.said_signs_anew") + "\n";
  if (back.taken.dropped > 0) text += say("exchange.of_erased", {app::counted_entries(back.taken.dropped)}) + "\n";
  for (const model::Error& finding : back.findings) text += say(finding) + "\n";
  text += missing_lines(back.missing);
  return text;
}

namespace {

std::string reason_words(const std::optional<app::EraseReason>& reason) {
  if (!reason) return say("erase.reason_unknown");
  switch (*reason) {
    case app::EraseReason::asked: return say("erase.reason_asked");
    case app::EraseReason::left: return say("erase.reason_left");
    case app::EraseReason::long_without: return say("erase.reason_long");
    case app::EraseReason::mistake: return say("erase.reason_mistake");
  }
  return say("erase.reason_unknown");
}

}  // namespace

std::string erased(const ErasedFile& erased) {
  std::string text = say("cli.erased", {short_id(erased.athlete), app::counted_entries(erased.ops)}) + "\n";
  if (!erased.last_export.empty()) text += say("cli.erased_export", {erased.last_export}) + "\n";
  return text + say("erase.not_reached") + "\n";
}

std::string erasure_status(const ErasureStatus& status) {
  std::string text;
  for (const app::ErasedAthlete& one : status.erased)
    text += say("cli.status_erased", {short_id(one.scope), reason_words(one.reason), app::count_words(one.confirmed_by.size(), "erase.confirmed_one", "erase.confirmed_many")}) + "\n";
  for (const auto& [who, request] : status.asked)
    text += say("cli.status_asked", {who.name, short_id(who.id), reason_words(request.reason), request.asked_since ? model::iso(*request.asked_since) : "?"}) + (request.hides ? " " + say("erase.hidden_words") : "") + "\n";
  for (const Person& who : status.long_without) text += say("cli.status_long", {who.name, short_id(who.id), number(app::kRetentionMonths)}) + "\n";
  return text.empty() ? say("cli.status_none") + "\n" : text;
}

}  // namespace slipway::native::words
