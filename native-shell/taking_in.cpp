#include "app/needs.h"
#include "taking_in.h"

#include <algorithm>
#include <iostream>

#include "plans.h"
#include "report/words.h"
#include "whole_files.h"

namespace slipway::native {

namespace {

// A file that was refused outweighs contradictions that are left; the storage outweighs both.
int exit_code_of(const Merged& merged) {
  int code = merged.contradictions > 0 ? kAnswerIsNo : kDone;
  for (const MergedFile& file : merged.files)
    if (!file.taken) code = std::max(code, native::exit_code_of(file.why));
  return code;
}

}  // namespace

model::Result<app::TakeInWish> asked_wish(const Request& asked) {
  auto passphrase = asked_passphrase(asked);
  if (!passphrase) return passphrase.error();
  return app::TakeInWish{.passphrase = std::move(*passphrase), .confirmed = asked.from_unknown};
}

MergedFile take_file(app::Book& book, const std::string& path, const app::TakeInWish& wish) {
  MergedFile merged{.file = path, .taken = std::nullopt, .why = {}};
  const auto bytes = read_whole(path);
  if (!bytes) {
    merged.why = bytes.error();
    return merged;
  }
  auto taken = book.take_in(path, *bytes, wish);
  if (taken) merged.taken = std::move(*taken);
  else merged.why = taken.error();
  return merged;
}

int answer_taken(Desk& desk, Merged merged) {
  const auto tidied = desk.book().tidy();
  desk.look_after();
  for (const model::ScopeId& scope : desk.book().libraries()) merged.contradictions += app::contradictions_of(plan_shown(desk.book(), scope));
  for (const model::ScopeId& scope : desk.book().scopes()) merged.contradictions += app::contradictions_of(desk.book(), scope);
  merged.digests = desk.book().digests();
  const int code = exit_code_of(merged);
  std::uint64_t came_back = 0;
  for (const model::ScopeId& scope : desk.book().scopes()) came_back += desk.book().athlete(scope).came_back.size();
  if (came_back > 0) std::cerr << "slipway: " << report::say("cli.came_back", {report::number(came_back)}) << "\n";
  if (!desk.book().erase_requests().empty()) std::cerr << "slipway: " << report::say("cli.asked_to_erase") << "\n";
  // What was taken in is kept, tidied or not; that it could not be tidied is still told.
  if (!tidied) std::cerr << "slipway: " << report::say(tidied.error()) << "\n";
  return desk.answer(json::merged(merged), words::merged(merged), tidied ? code : std::max(code, kStorageTrouble));
}

}  // namespace slipway::native
