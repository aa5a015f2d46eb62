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

  template <class All>
  void take(All&& all) const {
    for (auto& one : all) out.push_back(std::move(one));
  }
  void operator()(const NoticeView& view) const { take(draw_notice_screen(ui, view)); }
  void operator()(const StartView& view) const { take(draw_start_screen(ui, view)); }
  void operator()(const SessionView& view) const { take(draw_session_screen(ui, view)); }
  void operator()(const ExchangeView& view) const {
    std::vector<SetOtherValue> typed;
    std::vector<ExchangeAnswer> answers;
    const auto asked = draw_exchange_screen(ui, view, typed, answers);
    take(typed);
    take(answers);
    take(asked);
  }
  void operator()(const AboutView& view) const { draw_about(ui, view); }
  void operator()(const SquadView& view) const {
    std::vector<AskAnswer> answers;
    const auto asked = draw_squad_screen(ui, view, answers);
    take(answers);
    take(asked);
  }
  void operator()(const LogbookView& view) const {
    std::vector<LogAnswer> answers;
    const auto asked = draw_logbook_screen(ui, view, answers);
    take(answers);
    take(asked);
  }
  void operator()(const SetupView& view) const { take(draw_setup_screen(ui, view)); }
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
  bool all = true;  // every place has room in the bar
};

constexpr std::string_view kMorePath = "more";
constexpr float kPlaceLeast = 54;  // of a place in the bar at the foot
constexpr float kPlaceWords = 6;   // and more than its words

// Whether each place has room; else only the first stands there, beside the key to all.
bool all_fit(const Ui& ui, const AppView& view, const Frame& frame) {
  if (frame.style == BarStyle::rail) return (12 + metrics::kIcon + 4 + ui.line(Step::fine)) * static_cast<float>(view.bar.size() + (view.more_always ? 1 : 0)) + kGap <= frame.bar.height;
  float least = 0;
  for (const PlaceKey& place : view.bar) least += std::max(kPlaceLeast, ui.width_of(place.words, {Step::fine, Token::ink, true}) + kPlaceWords);
  if (view.more_always) least += std::max(kPlaceLeast, ui.width_of(view.more_words, {Step::fine, Token::ink, true}) + kPlaceWords);
  return least <= frame.bar.width;
}

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
    frame.all = view.more_words.empty() || all_fit(ui, view, frame);
    return frame;
  }
  const float height = ui.bar_height(BarStyle::foot);
  const float top = room.y + room.height - height;
  frame.bar = {room.x, top, room.width, height};
  frame.area = {0, 0, page.width, top - kEdge};
  frame.all = view.more_words.empty() || all_fit(ui, view, frame);
  return frame;
}

void draw_bar(Ui& ui, const AppView& view, const Frame& frame, const Box& page, std::vector<Intent>& out) {
  if (frame.style == BarStyle::rail) ui.fill({frame.bar.x + frame.bar.width, 0, kPanelEdge, page.height}, Token::ink);
  else ui.fill({0, frame.bar.y - kEdge, page.width, kEdge}, Token::ink);
  std::vector<TabFace> tabs;
  const std::size_t places = frame.all ? view.bar.size() : 1;
  bool here = false;
  for (std::size_t i = 0; i < places; ++i) {
    const PlaceKey& place = view.bar[i];
    tabs.push_back({key_of(place.place), place.words, icon_of(place.place), place.current && view.more.empty(), place.count, place.count_spoken});
    here = here || place.current;
  }
  if (!frame.all || view.more_always)
    tabs.push_back({.key = kMorePath, .words = view.more_words, .icon = Icon::more, .current = !here || !view.more.empty()});
  const auto pressed = ui.bar("bar", view.bar_name, tabs, frame.bar, frame.style);
  if (!pressed) return;
  if (*pressed < places) out.push_back(GoTo{view.bar[*pressed].place});
  else out.push_back(OpenMore{view.more.empty()});
}

// All places, each with a line of what it is for.
void draw_more(Ui& ui, const MoreSheet& sheet, std::vector<Intent>& out) {
  const Box room = ui.room();
  const Box column = reading_column(ui, room);
  const auto panel = ui.sheet("sheet", {.role = model::Role::region, .name = sheet.title});
  float y = room.y + kMargin;
  const float side = std::max(kTouch, ui.line(Step::mark) + kMargin);
  const float title = ui.heading("title", sheet.title, {Step::mark, Token::ink, true}, column.x, y + kGap, column.width - side - kGap);
  const Box close{column.x + column.width - side, y, side, side};
  if (ui.key("close", {.spoken = sheet.close_words, .icon = Icon::close, .step = Step::mark}, close) || ui.escape_pressed()) out.push_back(OpenMore{false});
  y += std::max(side, title + kGap) + kMargin;
  if (!sheet.hand_over_words.empty()) {
    const KeyFace face{.words = sheet.hand_over_words, .detail = sheet.hand_over_detail, .kind = KeyKind::main, .icon = Icon::exchange, .step = Step::move,
                       .main_of_page = true};
    const float height = ui.key_height(face, column.width, kMainKeyTight);
    if (ui.key("hand-over", face, {column.x, y, column.width, height})) out.push_back(MoreHandOver{});
    y += height + kMargin;
  }
  for (const PlaceKey& place : sheet.places) {
    const RowAnswer row = list_row(ui, key_of(place.place), {.icon = icon_of(place.place), .title = place.words, .line = place.detail, .value = place.count}, column.x, y,
                                   column.width);
    if (row.pressed) out.push_back(GoTo{place.place});
    y += row.height + 1;
  }
}

}  // namespace

std::vector<Intent> draw_app_screen(Ui& ui, const AppView& view) {
  std::vector<Intent> out;
  const Box page = ui.page();
  const Frame frame = frame_of(ui, view, page);
  {
    const PageName name = view.more.empty() ? name_of(ui, view) : PageName{"more", view.more[0].title};
    const auto area = ui.area(name.key, name.title, frame.area);
    if (view.more.empty()) std::visit(PageDrawing{ui, out}, view.page);
    else draw_more(ui, view.more[0], out);
  }
  if (!view.bar.empty()) draw_bar(ui, view, frame, page, out);
  for (const model::Announcement& said : view.announcements) ui.announce(said);
  return out;
}

}  // namespace slipway::screens
