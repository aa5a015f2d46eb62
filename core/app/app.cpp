#include "app/app.h"

#include <algorithm>
#include <utility>

#include "app/app_inside.h"
#include "app/demo.h"
#include "app/local_names.h"
#include "app/overloaded.h"
#include "report/words.h"

namespace slipway::app {

using report::say;

namespace {

constexpr std::uint64_t kDraftEveryMs = 1000;  // a draft is saved at most once a second (architecture 1)

}  // namespace

App::App(host::Clock& clock, host::Random& random, host::Exchange& exchange)
    : inside_(std::make_unique<Inside>(clock, random, exchange)) {}
App::~App() = default;

void App::open(host::Files& files, const store::OpenTokens& tokens, const OpenFacts& facts) {
  Inside& in = *inside_;
  book_.reset();
  in.reset_visit();
  in.facts = facts;
  auto opened = Book::open({files, in.clock, in.random}, tokens);
  if (!opened) {
    in.stage = AppStage::broken;
    in.why_broken = opened.error();
    in.changed = true;
    return;
  }
  book_ = std::move(*opened);
  in.stage = AppStage::running;
  if (facts.demo && book_->scopes().empty()) in.put_demo(*book_);
  in.settings = Settings::read(*book_);
  if (facts.demo) {  // whoever looks around may look everywhere
    in.settings.user = DeviceUser::coach;
    in.settings.user_said = true;
  }
  in.find_here(*book_);
  in.take_health(*book_);
  in.read_draft(*book_);
  const auto handed = book_->local(kHandedOverName);
  in.handed_over = handed ? std::string(model::as_text(*handed)) : "";
  in.ask_about_marks(*book_);
  if (book_->days_without_copy().value_or(0) > 0) in.ask_to_persist();
  in.changed = true;
  tick();  // who was resting when it closed rests on: its clock steps from here, and the screen stays on
}

void App::close() {
  if (book_) static_cast<void>(book_->try_again());
  book_.reset();
}

void App::open_elsewhere() {
  book_.reset();
  inside_->stage = AppStage::elsewhere;
  inside_->changed = true;
}

void App::taken_over() {
  book_.reset();
  inside_->stage = AppStage::taken_over;
  inside_->changed = true;
}

void App::Inside::put_demo(Book& book) {
  const auto bundle = demo_bundle(kDemoSeed, today());
  if (!bundle || !book.take_in("demo", *bundle)) stage = AppStage::broken;
}

void App::Inside::find_here(Book& book) {
  const auto before = here;
  look_for_here(book);
  if (!before || here == before) return;
  lock.lock();
  leave_board();
}

void App::Inside::look_for_here(Book& book) {
  const auto known = book.local(kHereName);
  const auto all = book.scopes();
  here.reset();
  sealed.leave();
  if (known && known->size() == 16) {
    const auto id = model::ScopeId::from(*known);
    if (std::find(all.begin(), all.end(), id) != all.end()) here = id;
    if (const auto profile = book.sealed_profile(id); profile && !profile->open) return sealed.ask(id);
  }
  Desk now = desk(book);
  const auto scopes = scopes_by_name(now);
  if (here && std::find(scopes.begin(), scopes.end(), *here) == scopes.end()) here.reset();  // out of sight by a mark
  if (!here && facts.demo)
    if (const auto first = book.find_athlete(kDemoSwimmer)) be_here(book, *first);
  // Is asked for (StartDesk::who).
  const bool one_of_many = (scopes.size() > 1 && settings.user == DeviceUser::swimmer) || (settings.user == DeviceUser::shared && !shut_profiles(now).empty());
  if (!here && !scopes.empty() && !one_of_many) be_here(book, scopes.front());
}

// How many ask whoever is at this device, and have for so many days; nobody is told of those they may not answer.
std::size_t App::Inside::marks_to_answer(Book& book, std::int32_t days) {
  const auto requests = book.erase_requests();
  if (requests.empty()) return 0;
  Desk now = desk(book);
  const auto may = SetupDesk::may_erase(now);
  return static_cast<std::size_t>(std::count_if(requests.begin(), requests.end(), [&](const EraseRequest& request) {
    const bool old = request.asked_since && today().since_1970 - request.asked_since->since_1970 >= days;
    return old && std::find(may.begin(), may.end(), request.scope) != may.end();
  }));
}

// A mark that nobody has confirmed for a month asks again at each start.
void App::Inside::ask_about_marks(Book& book) {
  if (const std::size_t waiting = marks_to_answer(book, kAskAgainDays); waiting > 0)
    announce(true, count_words(waiting, "erase.sentence_asked_one", "erase.sentence_asked_many"));
}

// After a session, a file in or out, or at a start with sets of earlier days that nobody finished; never between two sets: some
// browsers ask the person.
void App::Inside::ask_to_persist() {
  if (persist_asked || persist_answer == Persisted::granted || !facts.storage_kept || facts.demo) return;
  persist_asked = true;
  exchange.ask_to_persist();
}

void App::Inside::be_here(Book& book, const model::ScopeId& chosen) {
  const model::ScopeId scope = chosen;  // it may stand in a desk that is left below
  const auto all = book.scopes();
  if (std::find(all.begin(), all.end(), scope) == all.end() && !book.sealed_profile(scope)) return;  // erased meanwhile
  if (here != scope) {
    lock.lock();
    if (here) leave_board();
    // Whoever leaves a shared tablet leaves nothing open; what is not kept yet keeps it open.
    if (here && settings.user == DeviceUser::shared && book.sealed_profile(*here)) {
      leave_person();
      static_cast<void>(book.shut_profile(*here));
    }
  }
  sealed.leave();
  here = scope;
  if (const auto profile = book.sealed_profile(scope); profile && !profile->open) {
    here.reset();
    sealed.ask(scope);
  }
  book.set_local(kHereName, scope.view());
  take_health(book);
}

// What was answered before it was said who answers, as before a first bundle was taken in.
void App::Inside::take_health(Book& book) {
  if (here && !settings.is_coach() && !facts.demo && !book.opening().read_only) static_cast<void>(settings.give_health_to(book, *here));
  health_of.reset();
}

// What is half entered on somebody's board, or may be taken back there, is nobody else's to keep, and nobody else asked to train now.
void App::Inside::leave_board() {
  handed_at.clear();
  kept_at.clear();
  panel = Panel::none;
  finish = {};
  kept.clear();
  swap_open = draft_from_logbook = adult_asked = clear_asked = false;
  draft.reset();
  draft_dirty = true;
  pain_kept.reset();
  sore_kept.reset();
  train_now = rules::TrainNow::no;
  block_shown = 0;
}

// What is half typed and half said of somebody is nobody else's to see.
void App::Inside::leave_person() {
  leave_board();
  squad.leave();
  logbook.leave();
  exchanged.leave();
  files_waiting.leave();
  setup.leave();
  place = screens::Place::session;
}

// Of what is open on a shared tablet: who is here after a while without a touch, anybody else as soon as it may be shut.
void App::Inside::tick_sealed(Book& book) {
  shuts_at_ms = 0;
  if (settings.user != DeviceUser::shared) return;
  for (const Book::SealedProfile& one : book.sealed_profiles()) {
    if (!one.open) continue;
    const bool is_here = here == one.scope;
    if (is_here) shuts_at_ms = touched_ms + kShutAfterMs;
    if (is_here && clock.monotonic_ms() < shuts_at_ms) continue;
    touched_ms = clock.monotonic_ms();  // refused while something is not kept: tried again later
    if (!book.shut_profile(one.scope) || !is_here) continue;
    changed = true;
    leave_person();
    find_here(book);
    return;
  }
}

void App::Inside::read_draft(Book& book) {
  const auto bytes = book.local(kDraftName);
  const std::size_t whose = sizeof(model::ScopeId::bytes);
  if (!here || !bytes || bytes->size() <= whose || !model::equal(model::ByteView(*bytes).first(whose), here->view())) return;
  auto draft_read = SetDraft::read(model::ByteView(*bytes).subspan(whose));
  if (draft_read && draft_read->day == today()) draft = std::move(draft_read);
}

void App::Inside::save_draft(Book& book) {
  if (!draft_dirty) return;
  draft_dirty = false;
  draft_saved_ms = clock.monotonic_ms();
  if (draft && here && book.sealed_profile(*here)) return;  // half an entry of theirs stands nowhere in the clear
  model::Bytes bytes;
  if (draft && here) {
    bytes.assign(here->view().begin(), here->view().end());
    model::append(bytes, draft->write());
  }
  book.set_local(kDraftName, bytes);
}

void App::Inside::announce(bool urgent, std::string text) {
  announcements.push_back({++announced, urgent, std::move(text)});
  constexpr std::size_t kKept = 4;  // enough for a page that missed a frame; each is spoken once by serial
  if (announcements.size() > kKept) announcements.erase(announcements.begin());
}

void App::settled() {
  Inside& in = *inside_;
  if (!book_) return;
  const bool was_saving = book_->saving();
  book_->settled();
  if (!book_->settles_later()) in.results_unsettled = 0;
  in.changed = true;
  if (!was_saving || !book_->trouble()) return;
  // What was about to be called kept is not.
  std::erase_if(in.announcements, [&](const model::Announcement& said) { return !said.urgent && said.serial > in.said_through; });
  const std::size_t sets = book_->waiting_sets();
  in.announce(true, sets == 0   ? say("exchange.not_kept")
                    : sets == 1 ? say("session.not_kept_one")
                                : say("session.not_kept_many", {report::number(sets)}));
}

void App::room_left(std::uint64_t bytes) {
  const std::uint64_t mib = std::min(bytes >> 20, kLittleRoomMiB);  // more is enough, and not drawn
  if (inside_->little_room_mib == mib) return;
  inside_->changed = inside_->changed || mib < kLittleRoomMiB || inside_->little_room_mib.value_or(kLittleRoomMiB) < kLittleRoomMiB;
  inside_->little_room_mib = mib;
}

void App::persisted(Persisted answer) {
  inside_->persist_answer = answer;
  inside_->changed = true;
}

void App::hide() {
  if (book_) inside_->save_draft(*book_);
}

void App::tick() {
  Inside& in = *inside_;
  const std::uint64_t now = in.clock.monotonic_ms();
  if (in.deaf_until_ms != 0 && now >= in.deaf_until_ms) {
    in.deaf_until_ms = 0;
    in.changed = true;
  }
  if (book_ && in.draft_dirty && now >= in.draft_saved_ms + kDraftEveryMs) in.save_draft(*book_);
  if (book_ && !(in.today() == in.day_shown)) in.changed = true;
  if (book_ && in.here && in.place == screens::Place::session) in.tick_rest(*book_);
  if (book_) in.keep_awake(*book_);
  if (in.lock.tick()) in.changed = true;
  if (book_) in.tick_sealed(*book_);
}

// Tidying only saves room and time: what it could not do now it does at the next calm moment.
void App::idle() {
  if (!book_) return;
  static_cast<void>(book_->tidy());
  const auto checked = book_->self_check();
  if (!checked || checked->findings.empty()) return;
  inside_->check_found = true;
  inside_->changed = true;
  inside_->announce(true, say("trouble.check_title"));
}

std::uint32_t App::next_wake_ms() {
  const Inside& in = *inside_;
  const std::uint64_t now = in.clock.monotonic_ms();
  std::uint64_t wake = 0;
  const auto sooner = [&](std::uint64_t at) {
    const std::uint64_t left = at > now ? at - now : 1;
    wake = wake == 0 ? left : std::min(wake, left);
  };
  if (in.deaf_until_ms != 0) sooner(in.deaf_until_ms);
  if (in.draft_dirty) sooner(in.draft_saved_ms + kDraftEveryMs);
  if (in.rest_ends_ms != 0) sooner(in.rest_ends_ms);
  if (in.lock.locks_at_ms() != 0) sooner(in.lock.locks_at_ms());
  if (in.shuts_at_ms != 0) sooner(in.shuts_at_ms);
  if (book_) {  // at midnight another day is on the board
    constexpr std::int64_t kDayMs = 86'400'000;
    const std::int64_t of_day = (in.clock.now().local_ms % kDayMs + kDayMs) % kDayMs;
    sooner(now + static_cast<std::uint64_t>(kDayMs - of_day));
  }
  return static_cast<std::uint32_t>(wake);
}

bool App::wants_draw() {
  const bool wants = inside_->changed;
  inside_->changed = false;
  return wants;
}

screens::ThemeName App::theme(screens::ThemeName of_the_system) {
  if (of_the_system == screens::ThemeName::forced || !inside_->settings.display_said) return of_the_system;
  return inside_->settings.theme(inside_->clock.now().local_ms);
}

float App::text_scale(float of_the_system) { return inside_->settings.text_scale(of_the_system); }

// Of what is in sight: a set of a board that is not shown is nothing to take back by a key.
void App::undo_last() {
  if (inside_->place != screens::Place::session || inside_->draft || inside_->panel != Panel::none) return;
  act(screens::Intent{screens::SessionIntent{screens::TakeBack{}}});
}

void App::escape() {
  if (inside_->draft) act(screens::Intent{screens::SessionIntent{screens::LeaveAsWritten{}}});
  else if (inside_->panel != Panel::none) act(screens::Intent{screens::SessionIntent{screens::LeaveFinish{}}});
}

namespace {

template <class... Kinds>
constexpr auto kIsOneOf = [](const auto& intent) { return (std::holds_alternative<Kinds>(intent) || ...); };

// After these something else stands where the hand is: the next question, set or swimmer. A second tap, or a key that is held, is not
// meant for that.
bool moves_up(const screens::Intent& intent) {
  using namespace screens;
  return std::visit(Overloaded{[](const SessionIntent& one) { return kIsOneOf<TakeBack, LogWarmUp, SkipWarmUp, TickAdult, PressState, AnswerAsked>(one); },
                               [](const ExchangeIntent& one) { return kIsOneOf<UseLine, UseOtherValue>(one); },
                               [](const ExchangeAnswer& one) { return WaitingFiles::is_about_one(one); },
                               [](const LogbookIntent& one) { return kIsOneOf<TakeBackLine, ChangeLine>(one); },
                               [](const SquadIntent& one) { return kIsOneOf<PressNeed>(one); }, [](const auto&) { return false; }},
                    intent);
}

}  // namespace

void App::act(const screens::Intent& intent) {
  Inside& in = *inside_;
  if (moves_up(intent)) {
    if (in.clock.monotonic_ms() < in.answer_deaf_until_ms) return;
    in.answer_deaf_until_ms = in.clock.monotonic_ms() + kDeafMs;
  }
  in.changed = true;
  in.lock.tick();
  in.lock.touch();
  in.touched_ms = in.clock.monotonic_ms();
  in.handed_before.reset();
  in.health_of.reset();
  if (book_) book_->copy_has_left();
  std::visit(Overloaded{[&](const screens::GoTo& go) { in.go(go.place); },
                        [&](const screens::PressKey& press) { in.act_notice(book_.get(), press); },
                        [&](const screens::OpenMore& more) { in.more_open = more.open; },
                        [&](const screens::MoreHandOver&) {
                          in.more_open = false;
                          if (book_) in.hand_over(*book_);
                        },
                        [&](const screens::SessionIntent& session) { if (book_) in.act_session(*book_, session); },
                        [&](const screens::ExchangeIntent& exchange) { if (book_) in.act_exchange(*book_, exchange); },
                        [&](const auto& other) { if (book_) in.act_desk(*book_, other); }},
             intent);
}

void App::Inside::act_notice(Book* book, const screens::PressKey& press) {
  if (stage == AppStage::running && book != nullptr) {
    Desk now = desk(*book);
    if (StartDesk::who_is_open(now)) start.say_who(now, press.key);
    return;
  }
  if (press.key != 0) return;  // each other notice has one key
  if (stage == AppStage::elsewhere || stage == AppStage::taken_over) exchange.take_over();
  if (stage == AppStage::broken) exchange.open_again();
}

Desk App::Inside::desk(Book& book) {
  Desk out{.book = book, .settings = settings, .exchange = exchange, .today = today(), .now_ms = clock.now().local_ms};
  out.here = here;
  out.demo = facts.demo;
  out.storage_kept = facts.storage_kept;
  out.persisted = persist_answer;
  out.handed_over = handed_over;
  out.announce = [this](bool urgent, std::string words) { announce(urgent, std::move(words)); };
  out.go = [this](screens::Place to) { go(to); };
  out.be_here = [this, &book](const model::ScopeId& scope) { be_here(book, scope); };
  out.open_facts = [this, &book](const std::optional<model::ScopeId>& who) {
    go(screens::Place::setup);
    Desk now = desk(book);
    setup.open_facts(now, who);
  };
  out.change_set = [this, &book](const model::RecordId& set) { change_from_logbook(book, set); };
  out.lock = &lock;
  out.leave_demo = [this] { exchange.open_again(); };
  out.athlete_gone = [this, &book] {
    leave_board();
    settings = Settings::read(book);
    find_here(book);
  };
  return out;
}

// Another place is shown: what was half asked in the one before is let go.
void App::Inside::go(screens::Place to) {
  more_open = false;
  if (to == place) return;
  clear_asked = false;
  squad.leave();
  logbook.leave();
  exchanged.leave();
  files_waiting.leave();
  setup.leave();
  panel = Panel::none;
  swap_open = false;
  if (std::exchange(draft_from_logbook, false)) {  // half changed and left: as it was
    draft.reset();
    draft_dirty = true;
  }
  place = to;
}

void App::Inside::act_desk(Book& book, const screens::StartIntent& intent) {
  Desk now = desk(book);
  start.act(now, intent);
}
void App::Inside::act_desk(Book& book, const screens::SquadIntent& intent) {
  Desk now = desk(book);
  squad.act(now, intent);
}
void App::Inside::act_desk(Book& book, const screens::AskAnswer& given) {
  Desk now = desk(book);
  squad.act(now, given);
}
void App::Inside::act_desk(Book& book, const screens::LogbookIntent& intent) {
  if (is_locked(book)) return;
  Desk now = desk(book);
  logbook.act(now, intent);
}
void App::Inside::act_desk(Book& book, const screens::LogAnswer& given) {
  if (is_locked(book)) return;
  Desk now = desk(book);
  logbook.act(now, given);
}
void App::Inside::act_desk(Book& book, const screens::SetupIntent& intent) {
  Desk now = desk(book);
  if (sealed.asks(now)) return sealed.act(now, intent);
  if (is_locked(book)) return setup.act_locked(now, intent);
  setup.act(now, intent);
}
void App::Inside::act_desk(Book& book, const screens::SetOtherValue& typed) {
  if (is_locked(book)) return;
  Desk now = desk(book);
  exchanged.act(now, typed);
}

bool App::Inside::is_locked(Book& book) { return settings.user == DeviceUser::shared && !facts.demo && here && lock.is_locked(book, *here); }

}  // namespace slipway::app
