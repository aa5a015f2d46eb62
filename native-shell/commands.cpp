#include "commands.h"

#include <filesystem>
#include <iostream>

#include "answers.h"
#include "app/profile_seals.h"
#include "posix_files.h"
#include "report/words.h"
#include "whole_files.h"

namespace slipway::native {

using report::say;

model::Result<model::Done> Desk::set_clock() {
  std::optional<model::ClaimedTime> moment;
  if (!request_.at.empty()) {
    const auto read = read_moment(request_.at);
    if (!read) return read.error();
    moment = *read;
  }
  clock_ = std::make_unique<PosixClock>(moment);
  return model::Done{};
}

model::Result<model::Done> Desk::open(IfNoStore if_none) {
  if (const auto set = set_clock(); !set) return set.error();
  auto place = StorePlace::take(request_.store, if_none, random_);
  if (!place) return place.error();
  place_.emplace(std::move(*place));
  auto book = app::Book::open({place_->files(), *clock_, random_}, place_->tokens());
  if (!book) {
    // Whatever a store that will not open is made of, it is the storage's trouble, and where matters most.
    const model::Error& why = book.error();
    return model::error(why.kind, "cli.store_trouble", {place_->folder(), say(why)});
  }
  book_ = std::move(*book);
  if (const auto settled = place_->opened(book_->opening()); !settled) return settled.error();
  if (const auto opened = open_profiles(); !opened) return opened.error();
  note();
  return model::Done{};
}

model::Result<model::Done> Desk::open_profiles() {
  for (const std::string& file : request_.profile_passphrase_files) {
    const auto passphrase = first_line_of(file);
    if (!passphrase) return passphrase.error();
    std::optional<model::Error> wrong;
    bool fits = false;
    for (const app::Book::SealedProfile& one : book_->sealed_profiles()) {
      if (one.open) continue;
      const auto opened = book_->open_profile(one.scope, *passphrase);
      fits = fits || opened.ok();
      if (!opened && opened.error().kind != model::ErrorKind::sealed) return opened.error();
      if (!opened) wrong = opened.error();
    }
    if (wrong && !fits) return *wrong;
  }
  return model::Done{};
}

model::Result<std::unique_ptr<store::Store>> Desk::open_bare() {
  if (!place_) return model::error(model::ErrorKind::not_found, "cli.no_store", {request_.store});
  // The failed opening may have written the fresh token, or not come so far: either way nobody writes here after it.
  auto store = store::Store::open(place_->files(), random_, place_->tokens());
  if (!store) return store;
  for (const std::string& file : request_.profile_passphrase_files) {
    const auto passphrase = first_line_of(file);
    if (!passphrase) return passphrase.error();
    if (const auto opened = app::open_seals(**store, *passphrase, random_); !opened) return opened.error();
  }
  return store;
}

model::Result<model::Bytes> Desk::database_bytes() {
  if (!place_) return model::error(model::ErrorKind::not_found, "cli.no_store", {request_.store});
  return read_whole((std::filesystem::path(place_->folder()) / store::kDatabaseName).string());
}

void Desk::note() const {
  const store::Opening& opening = book_->opening();
  const auto tell = [](const std::string& what) { std::cerr << "slipway: " << what << "\n"; };
  if (opening.not_migrated)
    tell(say("cli.note_older", {place_->folder(), say(*opening.not_migrated)}));
  else if (opening.read_only)
    tell(say("cli.note_newer", {place_->folder(), std::to_string(opening.schema_found), std::to_string(store::kSchemaVersion)}));
  else if (opening.cleared)
    tell(say("cli.note_cleared", {place_->folder()}));
  else if (opening.why == store::WhyNewIncarnation::first_run)
    tell(say("cli.note_begun", {place_->folder()}));
  else if (opening.why == store::WhyNewIncarnation::token_broken)
    tell(say("cli.note_copied", {place_->folder()}));
  for (const app::Book::SealedProfile& one : book_->sealed_profiles())
    if (!one.open) tell(say("cli.note_sealed", {one.name}));
}

model::Result<model::Day> Desk::day() {
  return request_.day.empty() ? model::Result<model::Day>(model::day_of(clock_->now())) : model::read_day(request_.day);
}

model::Result<model::Done> Desk::write_out(const std::string& path, model::ByteView bytes, IfThere if_there) const {
  const std::string name = file_name_of(path);
  const bool ours = name.starts_with(store::kDatabaseName) || name == store::kCopyName || name == store::kBallastName || name == kLockName;
  if (ours && place_ && absolute(folder_of(path)) == absolute(folder())) return model::error(model::ErrorKind::invalid, "cli.store_file", {path});
  return write_whole(path, bytes, if_there);
}

model::Result<model::Done> Desk::kept() {
  if (book_->waiting() == 0) return model::Done{};
  const model::Error why = book_->trouble().value_or(model::error(model::ErrorKind::io, "store.io", {folder(), "append"}));
  return model::error(why.kind, "cli.not_kept", {folder(), say(why)});
}

void Desk::look_after() {
  const auto looked = book_->self_check();
  if (!looked || looked->findings.empty()) return;
  std::cerr << "slipway: " << say(looked->rebuilt ? "cli.made_again" : "cli.looked_after") << "\n";
}

int Desk::answer(const std::string& json, const std::string& words, int code) const {
  std::cout << (request_.json ? json + "\n" : words);
  std::cout.flush();
  if (std::cout) return code;
  std::cerr << "slipway: " << say("cli.no_output") << "\n";
  return kStorageTrouble;
}

int Desk::refuse(const model::Error& why) const {
  if (request_.json) std::cout << json::failed(why) << std::endl;
  else std::cerr << "slipway: " << words::refusal(why) << std::endl;
  return exit_code_of(why);
}

int exit_code_of(const model::Error& why) {
  switch (why.kind) {
    case model::ErrorKind::unconfirmed: return kAnswerIsNo;
    case model::ErrorKind::full:
    case model::ErrorKind::busy:
    case model::ErrorKind::io:
    case model::ErrorKind::no_permission: return why.text == "file.unreadable" ? kBadInput : kStorageTrouble;
    default: break;
  }
  for (const char* of_storage : {"store.", "cli.store_trouble", "cli.no_store", "cli.not_folder", "cli.no_home", "cli.token_place", "cli.not_kept"})
    if (why.text.starts_with(of_storage)) return kStorageTrouble;
  return kBadInput;
}

int run_command(const Request& request) {
  Desk desk(request);
  switch (request.command) {
    case Command::demo: return run_demo(desk);
    case Command::athlete_add: return run_athlete_add(desk);
    case Command::athlete_list: return run_athlete_list(desk);
    case Command::athlete_show: return run_athlete_show(desk);
    case Command::athlete_set: return run_athlete_set(desk);
    case Command::athlete_kit: return run_athlete_kit(desk);
    case Command::next: return run_next(desk);
    case Command::squad: return run_squad(desk);
    case Command::report: return run_report(desk);
    case Command::note_finish:
    case Command::note_check:
    case Command::note_pain:
    case Command::note_settled:
    case Command::note_over:
    case Command::note_sore:
    case Command::note_flag:
    case Command::note_mass:
    case Command::note_illness: return run_note(desk);
    case Command::sign_off:
    case Command::withdraw:
    case Command::tick_in:
    case Command::consent:
    case Command::clear:
    case Command::overrule: return run_adult(desk);
    case Command::log: return run_log(desk);
    case Command::log_change: return run_log_change(desk);
    case Command::log_back: return run_log_back(desk);
    case Command::log_move: return run_log_move(desk);
    case Command::plan_set: return run_plan_set(desk);
    case Command::plan_show: return run_plan_show(desk);
    case Command::plan_add: return run_plan_add(desk);
    case Command::plan_drop: return run_plan_drop(desk);
    case Command::plan_move: return run_plan_move(desk);
    case Command::plan_copy: return run_plan_copy(desk);
    case Command::library_add: return run_library_add(desk);
    case Command::library_list: return run_library_list(desk);
    case Command::comment_add:
    case Command::comment_list:
    case Command::comment_change:
    case Command::comment_back: return run_comment(desk);
    case Command::keep_it: return run_keep_it(desk);
    case Command::bundle_preview: return run_bundle_preview(desk);
    case Command::bundle_peers: return run_bundle_peers(desk);
    case Command::bundle_taken: return run_bundle_taken(desk);
    case Command::bundle_make: return run_bundle_make(desk);
    case Command::bundle_look: return run_bundle_look(desk);
    case Command::bundle_merge: return run_bundle_merge(desk);
    case Command::inbox: return run_inbox(desk);
    case Command::key_make: return run_key_make(desk);
    case Command::key_show: return run_key_show(desk);
    case Command::key_sheet: return run_key_sheet(desk);
    case Command::key_recover: return run_key_recover(desk);
    case Command::key_squad: return run_key_squad(desk);
    case Command::key_leave: return run_key_leave(desk);
    case Command::profile_list: return run_profile_list(desk);
    case Command::profile_seal: return run_profile_seal(desk);
    case Command::profile_unseal: return run_profile_unseal(desk);
    case Command::profile_drop: return run_profile_drop(desk);
    case Command::export_all: return run_export(desk);
    case Command::import_files: return run_bundle_merge(desk);
    case Command::backup: return run_backup(desk);
    case Command::restore: return run_restore(desk);
    case Command::erase: return run_erase(desk);
    case Command::erase_status: return run_erase_status(desk);
    case Command::check: return run_check(desk);
    case Command::compute: return run_compute(desk);
    case Command::decide: return run_decide(desk);
    case Command::window: break;
  }
  return kWrongUse;
}

}  // namespace slipway::native
