// The views of every place, worded and rounded.
#include "app/app_inside.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

// A panel that only says something: nothing to press.
screens::TroublePanel plain_panel(const std::string& title, const std::string& body) {
  return {.drop = false, .title = title, .body = body, .retry_words = {}, .hand_over_words = {}};
}

}  // namespace

const screens::AppView& App::view() {
  Inside& in = *inside_;
  screens::AppView& view = in.shown;
  view.bar.clear();
  if (!book_ || !book_->saving()) in.said_through = in.announced;
  view.announcements = in.announcements;
  std::erase_if(view.announcements, [&](const model::Announcement& said) { return !said.urgent && said.serial > in.said_through; });
  in.day_shown = in.today();
  if (in.stage != AppStage::running || !book_) {
    view.page = in.notice_view();
    return view;
  }
  Desk desk = in.desk(*book_);
  if (in.start.needed(desk)) {
    view.page = in.start.view(desk);
    return view;
  }
  if (in.sealed.asks(desk)) {
    view.page = in.sealed.view(desk);
    return view;
  }
  if (StartDesk::who_is_open(desk)) {
    view.page = StartDesk::who(desk);
    return view;
  }
  in.add_bar(*book_, view);
  if (in.place != screens::Place::session && in.is_locked(*book_)) {
    view.page = in.setup.locked_view(desk);
    return view;
  }
  switch (in.place) {
    case screens::Place::squad: view.page = in.squad.view(desk); break;
    case screens::Place::logbook: view.page = in.logbook.view(desk); break;
    case screens::Place::exchange: {
      screens::ExchangeView page = in.exchanged.view(desk, in.shown_results(*book_));
      in.files_waiting.add_parts(page.waiting);
      view.page = std::move(page);
      break;
    }
    case screens::Place::setup:
    case screens::Place::about: view.page = in.setup.view(desk); break;
    case screens::Place::session: view.page = in.session_view(*book_); break;
  }
  return view;
}

void App::Inside::add_bar(Book& book, screens::AppView& view) {
  Desk now = desk(book);
  const auto add = [&](screens::Place which, const char* words, std::size_t waits) {
    screens::PlaceKey key{which, say(words), place == which};
    if (waits > 0) {
      key.count = number(waits);
      key.count_spoken = say("bar.waits", {key.count});
    }
    view.bar.push_back(std::move(key));
  };
  view.bar_name = say("bar.name");
  add(screens::Place::session, "bar.session", 0);
  if (is_coach()) add(screens::Place::squad, "bar.squad", squad.waiting(now));
  add(screens::Place::logbook, "bar.logbook", 0);
  add(screens::Place::exchange, "bar.exchange", exchanged.waiting(now) + files_waiting.count());
  add(screens::Place::setup, "bar.setup", 0);
  view.more_words = say("bar.more");
  view.more.clear();
  if (!more_open) return;
  screens::MoreSheet sheet;
  sheet.title = say("bar.more");
  sheet.close_words = say("bar.close");
  sheet.hand_over_words = say("exchange.hand_over");
  sheet.places = view.bar;
  view.more.push_back(std::move(sheet));
}

screens::NoticeView App::Inside::notice_view() {
  screens::NoticeView view;
  switch (stage) {
    case AppStage::elsewhere:
      view.title = say("notice.other_title");
      view.paragraphs = {say("notice.other_body")};
      view.keys = {{say("notice.take_over"), true}};
      break;
    case AppStage::taken_over:
      view.title = say("notice.taken_title");
      view.paragraphs = {say(rescued ? "notice.taken_rescued" : "notice.taken_body")};
      view.keys = {{say("notice.take_over"), true}};
      break;
    case AppStage::broken:
      view.title = say("notice.broken_title");
      view.paragraphs = {say(why_broken), say("notice.broken_kept")};
      view.keys = {{say("notice.try_again"), true}};
      view.trouble = true;
      break;
    default: view.title = say("notice.starting"); break;
  }
  return view;
}

void App::Inside::add_troubles(Book& book, screens::SessionView& view) {
  const store::Opening& opening = book.opening();
  if (book.trouble()) {
    const bool full = book.trouble()->kind == model::ErrorKind::full;
    const std::string remedy = say(full ? "trouble.full_remedy" : "trouble.io_remedy");
    const std::size_t sets = book.waiting_sets();
    view.troubles.push_back({.drop = true,
                             .title = say(full ? "trouble.full_title" : "trouble.io_title"),
                             .body = sets == 0 ? say("trouble.body_entries", {remedy}) : sets == 1 ? say("trouble.body_one", {remedy}) : say("trouble.body_many", {number(sets), remedy}),
                             .retry_words = say("trouble.retry"),
                             .hand_over_words = say("trouble.hand_over")});
  }
  if (facts.demo)
    view.troubles.push_back({.drop = false,
                             .title = say("trouble.demo_title"),
                             .body = say("trouble.demo_body"),
                             .retry_words = {},
                             .hand_over_words = {},
                             .leave_words = say("trouble.demo_leave")});
  if (!facts.storage_kept && !facts.demo)
    view.troubles.push_back({.drop = false,
                             .title = say("trouble.forgets_title"),
                             .body = say("trouble.forgets_body"),
                             .retry_words = {},
                             .hand_over_words = say("trouble.hand_over")});
  if (check_found)
    view.troubles.push_back({.drop = false,
                             .title = say("trouble.check_title"),
                             .body = say("trouble.check_body"),
                             .retry_words = {},
                             .hand_over_words = say("trouble.hand_over")});
  if (opening.not_migrated)
    view.troubles.push_back({.drop = false,
                             .title = say("trouble.older_title"),
                             .body = say("trouble.older_body", {say(*opening.not_migrated)}),
                             .retry_words = {},
                             .hand_over_words = say("trouble.hand_over")});
  else if (opening.read_only)
    view.troubles.push_back({.drop = false,
                             .title = say("trouble.newer_title"),
                             .body = say("trouble.newer_body", {std::to_string(opening.schema_found), std::to_string(store::kSchemaVersion)}),
                             .retry_words = {},
                             .hand_over_words = say("trouble.hand_over")});
  if (little_room_mib && *little_room_mib < kLittleRoomMiB && !book.nearly_full() && !facts.demo)
    view.troubles.push_back(plain_panel(say("trouble.little_room_title", {number(*little_room_mib)}), say("trouble.little_room_body")));
  if (book.nearly_full())
    view.troubles.push_back({.drop = false,
                             .title = say("trouble.nearly_full_title"),
                             .body = say("trouble.nearly_full_body"),
                             .retry_words = {},
                             .hand_over_words = say("trouble.hand_over")});
  if (const auto days = facts.demo ? std::nullopt : book.days_without_copy(); days && *days >= Book::kCopyIsVeryOld)
    view.troubles.push_back({.drop = false,
                             .title = say("trouble.no_copy_title", {number(static_cast<std::uint64_t>(*days))}),
                             .body = say("trouble.no_copy_body"),
                             .retry_words = {},
                             .hand_over_words = say("trouble.hand_over")});
  if (const std::size_t waiting = marks_to_answer(book, kAskAgainDays); waiting > 0)
    view.troubles.push_back(plain_panel(say("trouble.marks_title"), count_words(waiting, "erase.sentence_asked_one", "erase.sentence_asked_many")));
  if (opening.cleared) view.troubles.push_back(plain_panel(say("trouble.cleared_title"), say("trouble.cleared_body")));
  if (opening.why == store::WhyNewIncarnation::token_broken && !opening.cleared)
    view.troubles.push_back(plain_panel(say("trouble.copied_title"), say("trouble.copied_body")));
}

void App::Inside::kept_mark(Book& book, screens::SessionView& view) {
  const std::size_t waiting = book.waiting_sets();
  if (book.saving() && facts.storage_kept) {
    view.kept_words = say("session.keeping");
    view.kept_state = screens::CellState::keeping;
  } else if (waiting > 0 && !book.saving()) {
    view.kept_words = waiting == 1 ? say("session.not_kept_one") : say("session.not_kept_many", {number(waiting)});
    view.kept_state = screens::CellState::not_kept;
  } else if (!facts.storage_kept) {
    view.kept_words = say("session.this_visit");
    view.kept_state = screens::CellState::not_done;
  } else if (!kept_at.empty()) {
    view.kept_words = say("session.kept_at", {kept_at});
    view.kept_state = screens::CellState::kept;
  } else {
    view.kept_words = say("session.nothing_yet");
    view.kept_state = screens::CellState::left_out;
  }
}

}  // namespace slipway::app
