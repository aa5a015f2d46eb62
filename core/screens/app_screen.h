// The whole page: one place and, on narrow screens, the bar at the thumb.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "model/tree.h"
#include "screens/exchange_screen.h"
#include "screens/session_screen.h"
#include "screens/start_screen.h"

namespace slipway::screens {

class Ui;

enum class Place : std::uint8_t { session, exchange, about };

struct PlaceKey {
  Place place = Place::session;
  std::string words;
  bool current = false;
};
struct AboutView {
  std::string title;
  std::vector<std::string> paragraphs;  // what it is, cautions, licences
};
struct AppView {
  std::vector<PlaceKey> bar;                  // empty: no bar (first run, notices)
  std::string bar_name;
  std::variant<NoticeView, StartView, SessionView, ExchangeView, AboutView> page;
  std::vector<model::Announcement> announcements;  // handed to the tree as they are; spoken once per serial
};
struct GoTo { Place place = Place::session; };
using Intent = std::variant<GoTo, PressKey, StartIntent, SessionIntent, ExchangeIntent>;

std::vector<Intent> draw_app_screen(Ui& ui, const AppView& view);

}  // namespace slipway::screens
