// Every command: opens what it needs, does it through the book, answers, gives the exit code.
#pragma once

#include <iosfwd>
#include <memory>
#include <string>

#include "app/book.h"
#include "posix_host.h"
#include "request.h"
#include "store_place.h"
#include "whole_files.h"

namespace slipway::native {

int run_command(const Request& request);

// What a command works on. Answers go to standard output; notes about the store, and without
// --json what went wrong, to standard error.
class Desk {
 public:
  explicit Desk(const Request& request) : request_(request) {}
  // Errors: those of StorePlace::take, Store::open, a moment that cannot be read, and a passphrase that fits no sealed profile.
  model::Result<model::Done> open(IfNoStore if_none);
  model::Result<model::Done> set_clock();
  // A store that will not open as a book, but does open: what is in it can still be handed out. After open() failed.
  model::Result<std::unique_ptr<store::Store>> open_bare();
  model::Result<model::Bytes> database_bytes();  // as they lie there

  const Request& request() const { return request_; }
  app::Book& book() { return *book_; }
  host::Clock& clock() { return *clock_; }
  const std::string& folder() const { return place_->folder(); }
  model::Result<model::Day> day();   // the training day asked for, or today
  // write_whole, but never over a file of the store itself. Errors: also invalid (cli.store_file).
  model::Result<model::Done> write_out(const std::string& path, model::ByteView bytes, IfThere if_there) const;
  // What was written is kept, or why it is not.
  model::Result<model::Done> kept();
  // What the app does in a calm moment (Book::self_check), for a store that only commands use. Findings are told; nothing fails by it.
  void look_after();

  int answer(const std::string& json, const std::string& words, int code = kDone) const;
  int refuse(const model::Error& why) const;  // says it once, in the form asked for

 private:
  void note() const;
  model::Result<model::Done> open_profiles();

  const Request& request_;
  std::unique_ptr<PosixClock> clock_;
  PosixRandom random_;
  std::optional<StorePlace> place_;
  std::unique_ptr<app::Book> book_;
};

int exit_code_of(const model::Error& why);
model::Error nobody_here(app::Book& book);  // no athlete is here, or none that is open
// A plan: an athlete's or a library's, by name or id.
model::Result<model::ScopeId> find_plan(app::Book& book, const std::string& name_or_id);
// Of several records the one with this id, or whose hash begins so. Errors: not_found, invalid (several).
model::Result<model::RecordId> entry_named(const std::vector<model::RecordId>& all, const std::string& named);
// The kit of that name; without a name the first. Errors: not_found, with the names there are.
model::Result<std::optional<model::RecordId>> kit_named(const model::Athlete& athlete, const std::string& name);

// A youth's entry of a kind that was said no to is not written. Errors: invalid "cli.consent_no", "cli.consent_no_pain" (args: name, thing).
model::Result<model::Done> may_write(const model::Athlete& athlete, model::ConsentThing thing, model::Day day);

// commands_athletes.cpp
int run_demo(Desk& desk);
int run_athlete_add(Desk& desk);
int run_athlete_list(Desk& desk);
int run_athlete_show(Desk& desk);
int run_athlete_set(Desk& desk);
int run_athlete_kit(Desk& desk);
int run_plan_set(Desk& desk);
int run_plan_show(Desk& desk);
int run_plan_add(Desk& desk);
int run_plan_drop(Desk& desk);
int run_check(Desk& desk);
// commands_library.cpp: lines that move and are copied, and plans that are nobody's yet
int run_plan_move(Desk& desk);
int run_plan_copy(Desk& desk);
int run_library_add(Desk& desk);
int run_library_list(Desk& desk);
// commands_comments.cpp: what is not a number, and what came back after it was taken away
int run_comment(Desk& desk);
int run_keep_it(Desk& desk);
// commands_entries.cpp
int run_log(Desk& desk);
int run_log_change(Desk& desk);
int run_log_back(Desk& desk);
int run_log_move(Desk& desk);
// commands_day.cpp: questions about what comes, and for the coach; nothing is written
int run_next(Desk& desk);
int run_squad(Desk& desk);
int run_report(Desk& desk);
// commands_notes.cpp: facts about a body and what an adult answers for
int run_note(Desk& desk);
int run_adult(Desk& desk);
// commands_bundles.cpp
model::Result<std::vector<model::ScopeId>> asked_athletes(Desk& desk);  // those of --athlete
int run_bundle_make(Desk& desk);
int run_bundle_preview(Desk& desk);
int run_bundle_peers(Desk& desk);
int run_bundle_taken(Desk& desk);
int run_bundle_look(Desk& desk);
int run_bundle_merge(Desk& desk);
// commands_keys.cpp
int run_key_make(Desk& desk);
int run_key_show(Desk& desk);
int run_key_sheet(Desk& desk);
int run_key_recover(Desk& desk);
int run_key_squad(Desk& desk);
int run_key_leave(Desk& desk);
// commands_profile.cpp
int run_profile_list(Desk& desk);
int run_profile_seal(Desk& desk);
int run_profile_unseal(Desk& desk);
int run_profile_drop(Desk& desk);
// Errors: those of read_whole; invalid (cli.passphrase_empty).
model::Result<std::string> first_line_of(const std::string& file);
// The first line of the file asked for; empty: no file was asked for. Errors: those of read_whole; invalid (cli.passphrase_empty).
model::Result<std::string> asked_passphrase(const Request& asked);
// commands_export.cpp
int run_export(Desk& desk);
int run_backup(Desk& desk);
int run_restore(Desk& desk);
// commands_erase.cpp
int run_erase(Desk& desk);
int run_erase_status(Desk& desk);
// commands_inbox.cpp
int run_inbox(Desk& desk);
// commands_compute.cpp: no store
int run_compute(Desk& desk);
int run_decide(Desk& desk);

}  // namespace slipway::native
