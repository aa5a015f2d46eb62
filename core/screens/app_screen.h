// The whole page: one place and, on narrow screens, the bar at the thumb.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "model/tree.h"
#include "screens/exchange_screen.h"
#include "screens/logbook_screen.h"
#include "screens/session_screen.h"
#include "screens/setup_screen.h"
#include "screens/squad_screen.h"
#include "screens/start_screen.h"

namespace slipway::screens {

class Ui;

enum class Place : std::uint8_t { session, squad, logbook, exchange, setup, about };

struct PlaceKey {
  Place place = Place::session;
  std::string words;
  bool current = false;
  std::string detail = {};   // second line on the sheet of all places
  std::string count = {};    // "2": what waits there; empty shows none
  std::string count_spoken = {};  // "2 to choose"
};
// All places (05g), over the page: what the bar has no room for.
struct MoreSheet {
  std::string title;
  std::string close_words;
  std::string hand_over_words = {}, hand_over_detail = {};  // main key; empty hides
  std::vector<PlaceKey> places;
};
struct AboutView {
  std::string title;
  std::vector<std::string> paragraphs;  // what it is, cautions, licences
};
struct AppView {
  std::vector<PlaceKey> bar;                  // this role's places, at most five; empty: no bar (first run, notices)
  std::string bar_name;
  std::variant<NoticeView, StartView, SessionView, ExchangeView, AboutView, SquadView, LogbookView, SetupView> page;
  std::vector<model::Announcement> announcements;  // handed to the tree as they are; spoken once per serial
  std::string more_words = {};                // "All places": stands in the bar where not all places have room, and
  bool more_always = false;                   // always, if there are more than the bar names
  std::vector<MoreSheet> more = {};           // zero or one: the sheet is open
};
struct GoTo { Place place = Place::session; };
struct OpenMore { bool open = true; };        // the sheet of all places: open it, or put it away
struct MoreHandOver {};                       // its main key
using Intent = std::variant<GoTo, PressKey, StartIntent, SessionIntent, ExchangeIntent, SetOtherValue, SquadIntent, AskAnswer, LogbookIntent, LogAnswer, SetupIntent, OpenMore,
                            MoreHandOver, ExchangeAnswer>;

std::vector<Intent> draw_app_screen(Ui& ui, const AppView& view);

}  // namespace slipway::screens
