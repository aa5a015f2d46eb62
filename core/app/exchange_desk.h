// The Exchange place: what came of the files taken in, what is written twice and waits to be
// chosen, what is missing. Bundles themselves go through the app.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "app/desk.h"
#include "app/hand_over_choice.h"
#include "screens/exchange_screen.h"

namespace slipway::app {

// A field that nobody who saw both values has settled.
struct TwiceWritten {
  struct Line {
    std::string value;
    model::Writer by;
  };
  std::string key;                    // the same while it is the same field
  std::string who, what, field;       // "Odd", "goblet squat, Dryland A", "load"
  std::vector<Line> lines;            // in drawing order
  std::size_t safer = 0;              // which counts until somebody chooses
  std::string in_use = {};            // what counts where it is none of the lines whole
  bool came_back = false;             // changed by one (line A), taken away by another (line B)
  std::function<model::Result<model::Done>(Book&, Author, std::size_t line)> use;
  std::function<model::Result<model::Done>(Book&, Author, const std::string& typed)> other = {};  // missing: nothing else may be typed
};
// Of an athlete, in a fixed order: facts, plan, sessions and sets, notes; what coaches alone hold about them only for a coach.
std::vector<TwiceWritten> written_twice(Book& book, const model::ScopeId& scope, model::Unit unit, bool for_coach);

class ExchangeDesk {
 public:
  // `results`: of the files taken in during this visit, newest first.
  screens::ExchangeView view(Desk& desk, const std::vector<screens::FileResult>& results);
  // UseLine and UseOtherValue; handing over and taking in are the app's.
  void act(Desk& desk, const screens::ExchangeIntent& intent);
  void act(Desk& desk, const screens::SetOtherValue& typed);
  void leave();

  HandOverChoice going_out;               // what the main key hands over
  std::size_t waiting(Desk& desk);  // to be chosen: for the count at the place's key

 private:
  struct Draft {
    std::string text, refused;
  };
  using Key = std::tuple<std::uint64_t, std::vector<model::ScopeId>, model::Unit, bool>;  // the last: for a coach

  void read(Desk& desk);
  screens::WrittenTwice shown(Desk& desk, const TwiceWritten& twice);
  void add_missing(Desk& desk, screens::ExchangeView& view);

  std::optional<Key> read_for_;
  std::vector<TwiceWritten> twice_;
  std::map<std::string, Draft> drafts_;  // by TwiceWritten::key
};

}  // namespace slipway::app
