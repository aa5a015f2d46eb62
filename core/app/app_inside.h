// Private to the app: what it remembers between two intents.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/app.h"
#include "app/day_plan.h"
#include "app/desk.h"
#include "app/exchange_desk.h"
#include "app/logbook_desk.h"
#include "app/profile_lock.h"
#include "app/session_board.h"
#include "app/setup_desk.h"
#include "app/squad_desk.h"
#include "app/sealed_desk.h"
#include "app/start_desk.h"
#include "app/swap_choice.h"
#include "app/waiting_files.h"
#include "app/warm_up.h"

namespace slipway::app {

enum class AppStage : std::uint8_t { starting, running, elsewhere, taken_over, broken };

struct Kept {  // an entry of this visit that the last-entry key can take back
  model::RecordId record;
  std::uint64_t round = 1;
  std::string code;
};

// What stands in place of the next set.
enum class Panel : std::uint8_t { none, pain, sore, stop, finish, why };
// What the state panels of the view are about, in their order there.
enum class StateKind : std::uint8_t { stopped, ill, no_plan, not_today, no_birth_year, one_more, nobody, doctor, consent, other_swimmer };

struct RestNow {
  Cell next;
  model::RecordId set;       // rested from
  std::int64_t gone_ms = 0;
  std::int64_t least_s = 0;
  std::string then_spoken;
};

struct FinishDraft {
  std::optional<std::uint32_t> effort = {};
  std::int64_t minutes = 1, by_clock = 1;
  bool minutes_refused = false;
  std::optional<model::ShortReason> reason = {};
  std::optional<model::RecordId> session = {};
};

struct App::Inside {
  Inside(host::Clock& the_clock, host::Random& the_random, host::Exchange& the_exchange)
      : clock(the_clock), random(the_random), exchange(the_exchange), lock(the_clock, the_random) {}

  host::Clock& clock;
  host::Random& random;
  host::Exchange& exchange;

  AppStage stage = AppStage::starting;
  model::Error why_broken;
  OpenFacts facts;
  Persisted persist_answer = Persisted::unknown;
  bool persist_asked = false;
  std::optional<std::uint64_t> little_room_mib;  // kLittleRoomMiB: enough; nothing: not known
  bool rescued = false;                // what was not kept went out as a file when the store was let go
  bool check_found = false;            // the self-check of this visit found something

  std::optional<model::ScopeId> here;  // the athlete at this device
  screens::Place place = screens::Place::session;
  std::optional<SetDraft> draft;
  bool draft_dirty = false;
  bool awake = false;                  // the screen was asked to stay on
  bool swap_open = false;              // over the draft: another exercise for its row
  bool draft_from_logbook = false;     // and goes back there
  std::uint64_t draft_saved_ms = 0;
  std::vector<Kept> kept;              // newest last
  std::uint64_t deaf_until_ms = 0;
  std::uint64_t answer_deaf_until_ms = 0;  // moves_up()
  std::string kept_at;                 // clock of the last kept entry of this visit
  std::string handed_over;
  std::vector<screens::FileResult> results;
  std::size_t results_unsettled = 0;   // the newest of them: taken in, not kept yet
  WaitingFiles files_waiting;
  ProfileLock lock;
  std::uint64_t touched_ms = 0, shuts_at_ms = 0;  // monotonic; of a sealed profile on a shared tablet; 0: none is open
  std::vector<model::Announcement> announcements;
  std::uint64_t announced = 0;
  std::uint64_t said_through = 0;      // the calm ones after it wait until what they speak of is kept
  screens::AppView shown;
  model::Day day_shown;
  bool changed = true;

  // Session
  std::optional<DayPlan> plan;         // as asked for the record of `plan_revision`
  std::uint64_t plan_revision = 0;
  model::ScopeId plan_scope;
  rules::TrainNow train_now = rules::TrainNow::no, plan_train_now = rules::TrainNow::no;
  model::Day train_now_day;            // that it was said of
  Panel panel = Panel::none;
  std::string handed_at;              // the clock of the last bundle that went out since the page was opened
  std::optional<std::pair<std::string, std::string>> handed_before;  // both, before the last one
  std::string why_of;                 // a row that is crossed out; empty: the next set's
  std::vector<StateKind> state_kinds;
  std::uint64_t block_shown = 0;
  bool board_open = false;
  bool adult_asked = false;
  std::optional<model::RecordId> pain_kept, sore_kept;
  bool pain_more = false, sore_days_refused = false;
  FinishDraft finish;
  std::int64_t rest_second = -1;       // of the rest that is drawn; -1: nobody rests
  int rest_said = 0;                   // bits: what was said of it
  std::uint64_t rest_ends_ms = 0;      // monotonic: when its clock steps next; 0: nobody rests
  Settings settings;
  Health health;                       // of `health_of`
  std::optional<model::ScopeId> health_of;

  // The other places, each with what is open and half typed there.
  StartDesk start;
  SealedDesk sealed;                   // asks while who is here is sealed and shut
  SquadDesk squad;
  LogbookDesk logbook;
  ExchangeDesk exchanged;
  SetupDesk setup;
  bool more_open = false;              // the sheet of all places

  void reset_visit() {
    stage = AppStage::starting;
    here.reset();
    draft.reset();
    draft_dirty = false;
    kept.clear();
    check_found = rescued = false;
    health_of.reset();
    kept_at.clear();
    deaf_until_ms = 0;
    plan.reset();
    panel = Panel::none;
    files_waiting.clear();
    lock.forget();
    sealed.leave();
    shuts_at_ms = 0;
    block_shown = 0;
    train_now = rules::TrainNow::no;
    pain_kept.reset();
    sore_kept.reset();
    rest_second = -1;
  }
  model::Day today() { return model::day_of(clock.now()); }
  rules::TrainNow trains_now() { return train_now_day == today() ? train_now : rules::TrainNow::no; }
  // The day whose board is shown: today's, but while an older set is changed that of its session.
  model::Day day_in_hand() { return draft && (draft->mends || draft_from_logbook) ? draft->day : today(); }

  void put_demo(Book& book);
  void find_here(Book& book);
  void look_for_here(Book& book);
  void take_health(Book& book);
  void be_here(Book& book, const model::ScopeId& scope);
  std::size_t marks_to_answer(Book& book, std::int32_t days);
  void ask_about_marks(Book& book);
  void ask_to_persist();
  void read_draft(Book& book);
  void save_draft(Book& book);
  void announce(bool urgent, std::string text);
  static std::string sentence_of(const TakenIn& taken);
  std::vector<screens::FileResult> shown_results(const Book& book) const;
  void refuse_file(Book& book, const std::string& file_name, const model::Error& why);
  void add_result(Book& book, const std::string& file_name, const std::string& word, const std::string& sentence, bool refused);
  void take_in(Book& book, const std::string& file_name, model::ByteView file, const TakeInWish& wish);

  void tick_sealed(Book& book);
  void leave_board();
  void leave_person();
  bool is_locked(Book& book);  // the athlete here is behind a PIN; Session alone is open
  void act_notice(Book* book, const screens::PressKey& press);
  Author author() const { return settings.user_said ? settings.author() : facts.author; }
  bool is_coach() const { return author() == Author::coach || facts.demo; }
  Desk desk(Book& book);
  void go(screens::Place to);
  void act_desk(Book& book, const screens::StartIntent& intent);
  void act_desk(Book& book, const screens::SquadIntent& intent);
  void act_desk(Book& book, const screens::AskAnswer& given);
  void act_desk(Book& book, const screens::LogbookIntent& intent);
  void act_desk(Book& book, const screens::LogAnswer& given);
  void act_desk(Book& book, const screens::SetupIntent& intent);
  void act_desk(Book& book, const screens::SetOtherValue& typed);
  void act_desk(Book& book, const screens::ExchangeAnswer& given);
  void act_exchange(Book& book, const screens::ExchangeIntent& intent);
  // From the board: the swimmer who is here; a coach is led to Exchange to say for whom, unless something is not kept: then
  // everything goes out. From Exchange: as chosen there.
  bool hand_over(Book& book);  // a file went out
  void hand_over_chosen(Book& book, bool as_text, OutSeal::For whom = OutSeal::For::usual);
  bool hand_over(Book& book, const Book::HandOver& asked, bool as_text, OutSeal::For whom);

  // app_session.cpp: sets
  const DayPlan& plan_of(Book& book);
  BoardState board_state(Book& book);
  void act_session(Book& book, const screens::SessionIntent& intent);
  void open_panel(Panel which);
  std::string code_of(Book& book, const std::string& exercise);
  void say_kept(Book& book, std::string words);
  bool begin(Book& book);
  void log_as_written(Book& book, std::uint32_t choice);
  void open_change(Book& book, std::uint32_t row, std::uint64_t round);
  void log_warm_up(Book& book, bool skipped);
  void change_from_logbook(Book& book, const model::RecordId& set);
  std::vector<SwapOffer> offers_for_draft(Book& book);
  screens::SwapPanel swap_panel(Book& book);
  void choose_swap(Book& book, std::uint32_t choice);
  void open_draft(Book& book, std::size_t row, std::uint64_t round);
  void keep_change(Book& book, bool left_out);
  std::optional<model::RecordId> splits(Book& book, const SetDraft& now);
  bool mend(Book& book, const SetDraft& now, bool left_out, const LocalValue& done);
  std::optional<model::RecordId> log_changed(Book& book, const SetDraft& now, bool left_out, const LocalValue& done, const std::optional<model::RecordId>& session = {});
  void take_back(Book& book, Kept entry);
  void take_back_last(Book& book);
  void forget_gone(Book& book);
  void after_entry(Book& book, const model::RecordId& record, std::uint64_t round, const std::string& code, const std::string& said_id,
                   const std::string& dose);
  void close_draft();

  // app_body.cpp: pain, soreness, red flags
  void act_pain(Book& book, const screens::ChoosePain& choose);
  void detail_pain(Book& book, std::optional<std::uint64_t> amount, std::optional<std::uint64_t> side);
  void choose_pain_number(Book& book, std::uint32_t choice);
  void answer_asked(Book& book, const std::string& about, std::uint32_t choice);
  void note_own_clearance(Book& book, const std::string& about, std::uint32_t choice);
  void take_back_pain(Book& book);
  screens::PainPanel pain_panel(Book& book);
  void keep_soreness(Book& book, model::Soreness answer);
  void act_sore(Book& book, const screens::ChooseSore& choose);
  void detail_sore(Book& book, std::optional<std::uint64_t> days, std::optional<bool> hinders);
  void take_back_sore(Book& book);
  screens::SorePanel sore_panel(Book& book);
  void tick_flag(Book& book, const screens::TickFlag& tick);
  screens::StopPanel stop_panel(Book& book);

  // app_session_view.cpp: rest, states, finish, the whole view
  static std::string spoken_seconds(std::int64_t seconds);
  static std::string title_of(std::uint64_t programme_day);
  std::optional<RestNow> rest_now(Book& book);
  screens::RestView rest_view(Book& book, const RestNow& rest);
  void tick_rest(Book& book);
  void keep_awake(Book& book);
  bool may_log(Book& book);  // neither a doctor's word nor consent is waited for
  bool asks_doctor(Book& book);  // a question of first run was answered with yes, and nobody said since that a doctor allows it
  void told_kept(Book& book, std::uint64_t round, const std::string& code, const std::string& said_id, const std::string& dose);
  void open_consent(Book& book);
  void add_state(screens::SessionView& view, StateKind kind, screens::StatePanel state);
  bool add_states(Book& book, screens::SessionView& view);
  void press_state(Book& book, const screens::PressState& press);
  bool clear_asked = false;           // the word that frees a general sign was pressed once
  bool may_clear_general(Book& book);
  void clear_general(Book& book);
  void note_check(Book& book);
  void tick_adult(Book& book, std::uint32_t role);
  void start_plan(Book& book);
  void open_facts(Book& book);
  bool is_short(const DayPlan& now) const;
  void open_finish(Book& book);
  void keep_finish(Book& book);
  screens::FinishPanel finish_panel(Book& book);
  screens::ComingPanel coming_panel(Book& book);
  screens::WhyPanel why_panel(Book& book);
  screens::SessionView session_view(Book& book);

  // app_views.cpp
  screens::NoticeView notice_view();
  void add_bar(Book& book, screens::AppView& view);
  void add_troubles(Book& book, screens::SessionView& view);
  void kept_mark(Book& book, screens::SessionView& view);
};

}  // namespace slipway::app
