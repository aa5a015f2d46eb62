// What the places Squad, Logbook, Setup, Exchange and first run stand on: the book, this
// device's settings and the few things they may ask of the app.
//
// Each place keeps what is open and half typed; everything kept goes through a Book verb.
// A Desk is made afresh for each call and never stored.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/app.h"
#include "app/book.h"
#include "app/settings.h"
#include "host/exchange.h"
#include "model/ladder.h"
#include "report/words.h"
#include "screens/app_screen.h"

namespace slipway::app {

class ProfileLock;

struct Desk {
  Book& book;
  Settings& settings;
  host::Exchange& exchange;
  model::Day today;
  std::int64_t now_ms = 0;                    // claimed local ms
  std::optional<model::ScopeId> here = {};    // the athlete at this device
  bool demo = false;                          // the made-up squad: nothing is kept
  bool storage_kept = true;
  Persisted persisted = Persisted::unknown;
  std::string handed_over = {};               // "Sun 10 Jan, 18:42", or empty
  std::function<void(bool urgent, std::string)> announce = [](bool, std::string) {};
  std::function<void(screens::Place)> go = [](screens::Place) {};
  std::function<void(const model::ScopeId&)> be_here = [](const model::ScopeId&) {};
  // Setup at the facts of an athlete; nothing: of one who is added there.
  std::function<void(const std::optional<model::ScopeId>&)> open_facts = [](const std::optional<model::ScopeId>&) {};
  // The Session's change panel for a set of whatever day; missing: a set is only taken back.
  std::function<void(const model::RecordId& set)> change_set = {};
  std::function<void()> leave_demo = [] {};   // back to the real store
  ProfileLock* lock = nullptr;                // of the shared tablet; missing: nothing is locked here
  std::function<void()> athlete_gone = [] {}; // somebody was erased: who is at this device now?

  Author author() const { return settings.author(); }
  bool may_write() const { return !book.opening().read_only; }
};

// Whose entries this device shows: the coach's all, by name; any other's the athlete at it.
std::vector<model::ScopeId> scopes_by_name(Desk& desk);  // everybody in sight on this device
// The name, told apart from others of that name on this device: "Robin, born 2009", or by the first signs of the id.
std::string name_apart(Desk& desk, const model::ScopeId& scope);
std::vector<model::ScopeId> hidden_scopes(Desk& desk);   // out of sight by a signed mark of erasing; never a swimmer on a device of their own
std::vector<model::ScopeId> shown_scopes(Desk& desk);
// Whom a bundle of this swimmer holds: them alone, and whoever has something here that is not kept yet and must be able to leave.
std::vector<model::ScopeId> own_and_waiting(Book& book, const model::ScopeId& here);

// Says what came of a verb: the refusal, or `kept` if it is not empty. Answers whether it was kept.
template <class T>
bool told(Desk& desk, const model::Result<T>& result, std::string kept);

void announce_error(Desk& desk, const model::Error& error);

template <class T>
bool told(Desk& desk, const model::Result<T>& result, std::string kept) {
  if (!result) {
    announce_error(desk, result.error());
    return false;
  }
  if (!kept.empty()) desk.announce(false, std::move(kept));
  return true;
}

// ---- words that several places use ---------------------------------------------------------------------

using report::capital;
std::string phase_word(std::string_view phase);           // "strength"; as stored of one we do not know
std::string movement_name(std::string_view exercise);  // "goblet squat"; the id itself of one we do not know
std::string day_words(model::Day day, model::Day today);             // "today", "Thu 14 Jan", "Thu 14 Jan 2025"
std::string moment_words(const model::ClaimedTime& claimed, model::Day today);  // "today 17:24"
std::string region_words(std::string_view region);     // "shoulder", as on the pain page
std::string sore_words(std::string_view region);       // "legs"
std::string sore_since(const model::Soreness& sore);   // "since Mon 23 Nov": the first of its days
std::string flag_words(std::string_view flag);         // "chest pain"
struct FlagWord {  // a warning sign of handbook 2.7, in short words of our own
  std::string_view flag;
  const char* words = "";  // text id
  model::FlagGroup group = model::FlagGroup::emergency;
};
const std::vector<FlagWord>& known_flags();            // in the order of the page
std::string band_words(std::uint64_t band);            // "hurts, 3 to 5"
std::string writer_words(const model::Writer& by);     // "the coach"
std::string wordings_of(const model::Note& note);       // written twice: both, side by side
std::string count_words(std::uint64_t count, const char* one, const char* many);
std::string counted_athletes(std::uint64_t count);  // "1 athlete", "12 athletes"; the others alike
std::string counted_sessions(std::uint64_t count);
std::string counted_sets(std::uint64_t count);
std::string counted_entries(std::uint64_t count);
std::string counted_pains(std::uint64_t count);
// "10 × 22 kg", "30 s", "10 × thin band"
std::string set_words(std::string_view exercise, std::uint64_t reps, const std::optional<model::Quantity>& load, std::string_view band);
model::Day monday_of(model::Day day);
std::size_t weekday_of(model::Day day);                // 0 Monday … 6 Sunday
model::Day day_of_session(const model::Session& session);
std::uint64_t effort_of(const model::Finish& finish);  // 0 … 10, rounded

}  // namespace slipway::app
