// Private to the app: what it remembers between two intents.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/app.h"
#include "app/session_board.h"

namespace slipway::app {

enum class AppStage : std::uint8_t { starting, running, elsewhere, taken_over, broken };

struct Kept {  // an entry of this visit that the last-entry key can take back
  model::RecordId record;
  std::uint64_t round = 1;
};

struct App::Inside {
  Inside(host::Clock& the_clock, host::Random& the_random, host::Exchange& the_exchange)
      : clock(the_clock), random(the_random), exchange(the_exchange) {}

  host::Clock& clock;
  host::Random& random;
  host::Exchange& exchange;

  AppStage stage = AppStage::starting;
  model::Error why_broken;
  OpenFacts facts;
  Persisted persist_answer = Persisted::unknown;
  bool persist_asked = false;

  std::optional<model::ScopeId> here;  // the athlete at this device
  screens::Place place = screens::Place::session;
  std::string name_draft, name_refused;
  std::optional<SetDraft> draft;
  bool draft_dirty = false;
  std::uint64_t draft_saved_ms = 0;
  std::vector<Kept> kept;              // newest last
  std::uint64_t deaf_until_ms = 0;
  std::string kept_at;                 // clock of the last kept entry of this visit
  std::string handed_over;
  std::vector<screens::FileResult> results;
  std::vector<model::Announcement> announcements;
  std::uint64_t announced = 0;
  screens::AppView shown;
  model::Day day_shown;
  bool changed = true;

  void reset_visit() {
    stage = AppStage::starting;
    here.reset();
    draft.reset();
    draft_dirty = false;
    kept.clear();
    kept_at.clear();
    deaf_until_ms = 0;
  }
  model::Day today() { return model::day_of(clock.now()); }

  void put_demo(Book& book);
  void find_here(Book& book);
  void be_here(Book& book, const model::ScopeId& scope);
  void read_draft(Book& book);
  void save_draft(Book& book);
  void announce(bool urgent, std::string text);
  static std::string sentence_of(const TakenIn& taken);

  void act_notice(const screens::PressKey& press);
  void act_start(Book& book, const screens::StartIntent& intent);
  void act_exchange(Book& book, const screens::ExchangeIntent& intent);
  void hand_over(Book& book, bool as_text);

  // app_session.cpp
  void act_session(Book& book, const screens::SessionIntent& intent);
  void log_as_written(Book& book);
  void keep_change(Book& book, bool left_out);
  void open_change(Book& book, std::uint64_t round);
  void take_back(Book& book, const Kept& entry);
  void take_back_last(Book& book);
  void after_entry(Book& book, const model::RecordId& record, std::uint64_t round, const std::string& said_id,
                   std::vector<std::string> args);
  void close_draft();

  // app_views.cpp
  BoardState board_state(Book& book);
  screens::SessionView session_view(Book& book);
  screens::ExchangeView exchange_view(Book& book);
  screens::StartView start_view();
  screens::NoticeView notice_view();
  screens::AboutView about_view(Book& book);
  void add_troubles(Book& book, screens::SessionView& view);
  void kept_mark(Book& book, screens::SessionView& view);
};

}  // namespace slipway::app
