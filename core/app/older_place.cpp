// A store found in an older place of this browser, beside the one that is used now (wasm-shell/web/store_place.js). Both are
// this device's, so nobody is asked whether to trust it, and what only a device knows comes along.
#include "app/app_inside.h"
#include "app/local_names.h"
#include "report/words.h"

namespace slipway::app {

namespace {

enum class Carried : std::uint8_t { yes, stays };  // stays: two that cannot be one

// What stands here already is what this device uses; only of a coach's key that differs would something be lost.
Carried carry(Book& older, Book& book, const std::string& name) {
  const auto theirs = older.local(name);
  if (!theirs || theirs->empty()) return Carried::yes;
  const auto ours = book.local(name);
  if (!ours || ours->empty()) return book.set_local(name, *theirs) ? Carried::yes : Carried::stays;
  return name == kCoachKeyName && *ours != *theirs ? Carried::stays : Carried::yes;
}

bool carry_all(Book& older, Book& book) {
  std::vector<std::string> names;
  for (const std::string_view name : {kCoachKeyName, kSquadName, kKnownDevicesName, kTabletPinName, kSettingsName, kHereName}) names.emplace_back(name);
  for (const model::ScopeId& scope : older.scopes())
    for (const std::string_view name : {kPinName, kHealthName}) names.push_back(std::string(name) + scope.hex());
  bool all = true;
  for (const std::string& name : names) all = carry(older, book, name) == Carried::yes && all;
  return all;
}

}  // namespace

bool App::take_in_from_beside(host::Files& files) {
  Inside& in = *inside_;
  if (!book_) return false;
  store::OpenTokens tokens;
  in.random.fill(tokens.fresh.bytes);
  const auto older = Book::open({files, in.clock, in.random}, tokens);
  if (!older || (*older)->opening().read_only) return false;
  const auto bundle = (*older)->make_bundle({.libraries = true, .coach_notes = true}, {.whom = OutSeal::For::open});
  if (!bundle) return false;
  in.results.clear();
  in.take_in(*book_, report::say("exchange.beside_name"), *bundle, {.passphrase = {}, .confirmed = true});
  in.go(screens::Place::exchange);  // where it is told
  if (in.results.empty() || in.results.front().refused) return false;
  // What is sealed there and shut nobody here can carry: that place stays.
  const bool sealed_there = !(*older)->sealed_profiles().empty();
  if (sealed_there) in.announce(true, report::say("sealed.stays_behind"));
  const bool carried = carry_all(**older, *book_) && book_->keep_erased_of(**older).ok() && !sealed_there;  // or an old file would bring them back
  in.settings = Settings::read(*book_);
  in.find_here(*book_);
  return carried && book_->waiting() == 0 && !book_->saving();
}

}  // namespace slipway::app
