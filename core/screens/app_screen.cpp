#include "screens/app_screen.h"

#include <algorithm>

#include "screens/parts.h"
#include "screens/ui.h"

namespace slipway::screens {

namespace {

using namespace metrics;

std::string_view key_of(Place place) {
  switch (place) {
    case Place::session: return "session";
    case Place::squad: return "squad";
    case Place::logbook: return "logbook";
    case Place::exchange: return "exchange";
    case Place::setup: return "setup";
    case Place::about: break;
  }
  return "about";
}

Icon icon_of(Place place) {
  switch (place) {
    case Place::session: return Icon::session;
    case Place::squad: return Icon::squad;
    case Place::logbook: return Icon::logbook;
    case Place::exchange: return Icon::exchange;
    case Place::setup: return Icon::setup;
    case Place::about: break;
  }
  return Icon::why;
}

void draw_about(Ui& ui, const AboutView& view) {
  const Box room = ui.room();
  const Box column = reading_column(ui, room);
  const float y = room.y + kMargin;
  const float title = ui.heading("title", view.title, {Step::key, Token::ink, true}, column.x, y, column.width) + kGap;
  draw_paragraphs(ui, "paragraph", view.paragraphs, {Step::say, Token::ink}, column.x, y + title, column.width);
}

struct PageDrawing {
  Ui& ui;
  std::vector<Intent>& out;

  void operator()(const NoticeView& view) const {
    for (PressKey& press : draw_notice_screen(ui, view)) out.push_back(press);
  }
  void operator()(const StartView& view) const {
    for (StartIntent& intent : draw_start_screen(ui, view)) out.push_back(std::move(intent));
  }
  void operator()(const SessionView& view) const {
    for (SessionIntent& intent : draw_session_screen(ui, view)) out.push_back(std::move(intent));
  }
  void operator()(const ExchangeView& view) const {
    for (ExchangeIntent& intent : draw_exchange_screen(ui, view)) out.push_back(std::move(intent));
  }
  void operator()(const AboutView& view) const { draw_about(ui, view); }
  void operator()(const SquadView& view) const {
    for (SquadIntent& intent : draw_squad_screen(ui, view)) out.push_back(std::move(intent));
  }
  void operator()(const LogbookView& view) const {
    for (LogbookIntent& intent : draw_logbook_screen(ui, view)) out.push_back(std::move(intent));
  }
  void operator()(const SetupView& view) const {
    for (SetupIntent& intent : draw_setup_screen(ui, view)) out.push_back(std::move(intent));
  }
};

struct PageName {
  std::string_view key;
  std::string_view title;
};

PageName name_of(const Ui& ui, const AppView& view) {
  struct Namer {
    bool beside;
    PageName operator()(const NoticeView& page) const { return {"notice", page.title}; }
    PageName operator()(const StartView& page) const { return {"start", page.title}; }
    PageName operator()(const SessionView& page) const { return {"session", page.title}; }
    PageName operator()(const ExchangeView& page) const { return {"exchange", page.title}; }
    PageName operator()(const AboutView& page) const { return {"about", page.title}; }
    // A page alone scrolls by itself, and the list behind it stays where it was.
    PageName operator()(const SquadView& page) const { return {page.swimmer.empty() || beside ? "squad" : "squad-open", page.title}; }
    PageName operator()(const LogbookView& page) const { return {"logbook", page.title}; }
    PageName operator()(const SetupView& page) const { return {page.back_words.empty() ? "setup" : "setup-page", page.title}; }
  };
  return std::visit(Namer{squad_stands_beside(ui)}, view.page);
}

struct Frame {
  BarStyle style = BarStyle::foot;
  Box bar;   // where the places stand; empty without any
  Box area;  // the rest, which scrolls
};

Frame frame_of(const Ui& ui, const AppView& view, const Box& page) {
  Frame frame;
  const Box room = ui.page_room();
  frame.area = page;
  if (view.bar.empty()) return frame;
  if (has_rail(ui)) {  // a phone on its side has no height for a bar at the foot
    frame.style = BarStyle::rail;
    const float right = room.x + ui.rail_width(is_short(ui));
    frame.bar = {room.x, room.y, right - room.x, room.height};
    frame.area = {right + kPanelEdge, 0, page.width - right - kPanelEdge, page.height};
    return frame;
  }
  const float height = ui.bar_height(BarStyle::foot);
  const float top = room.y + room.height - height;
  frame.bar = {room.x, top, room.width, height};
  frame.area = {0, 0, page.width, top - kEdge};
  return frame;
}

void draw_bar(Ui& ui, const AppView& view, const Frame& frame, const Box& page, std::vector<Intent>& out) {
  if (frame.style == BarStyle::rail) ui.fill({frame.bar.x + frame.bar.width, 0, kPanelEdge, page.height}, Token::ink);
  else ui.fill({0, frame.bar.y - kEdge, page.width, kEdge}, Token::ink);
  std::vector<TabFace> tabs;
  for (const PlaceKey& place : view.bar) tabs.push_back({key_of(place.place), place.words, icon_of(place.place), place.current});
  const auto pressed = ui.bar("bar", view.bar_name, tabs, frame.bar, frame.style);
  if (pressed) out.push_back(GoTo{view.bar[*pressed].place});
}

}  // namespace

std::vector<Intent> draw_app_screen(Ui& ui, const AppView& view) {
  std::vector<Intent> out;
  const Box page = ui.page();
  const Frame frame = frame_of(ui, view, page);
  {
    const PageName name = name_of(ui, view);
    const auto area = ui.area(name.key, name.title, frame.area);
    std::visit(PageDrawing{ui, out}, view.page);
  }
  if (!view.bar.empty()) draw_bar(ui, view, frame, page, out);
  for (const model::Announcement& said : view.announcements) ui.announce(said);
  return out;
}

}  // namespace slipway::screens
