// The Session place's view: board, next set, rest, and what stands in place of them.
#include <algorithm>
#include <utility>

#include "app/app_inside.h"
#include "app/decision_words.h"
#include "app/sides.h"
#include "app/situation.h"
#include "report/reasons.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

// Rest written between two sets where the coach wrote none: within a round, and after one [handbook 1.7, the
// worked example: 60 and 120 s in the main block, 30 and 60 s in the others].
constexpr std::uint32_t kBetweenMainS = 60, kAfterMainS = 120, kBetweenOtherS = 30, kAfterOtherS = 60;
constexpr std::int64_t kRestShownS = 600;  // then nobody rests any more
constexpr std::int64_t kPlentyS = 240;     // main three: 2 to 4 min [handbook 1.8]
constexpr std::int64_t kMsASecond = 1000;

std::string minutes_seconds(std::int64_t seconds) {
  const std::int64_t rest = seconds % 60;
  return std::to_string(seconds / 60) + ":" + (rest < 10 ? "0" : "") + std::to_string(rest);
}

bool is_open(const DayPlan& plan) { return plan.session != nullptr && !plan.finished; }

bool asked_today(const model::Athlete& athlete, model::Day today) {
  const auto claimed_today = [today](const model::Writer& by) { return model::day_of(by.claimed) == today; };
  return std::any_of(athlete.checks.begin(), athlete.checks.end(), [&](const auto& check) { return check.day == today; }) ||
         std::any_of(athlete.pains.begin(), athlete.pains.end(), [&](const auto& pain) { return claimed_today(pain.by); }) ||
         std::any_of(athlete.soreness.begin(), athlete.soreness.end(), [&](const auto& sore) { return sore.day == today; });
}

}  // namespace

std::string App::Inside::spoken_seconds(std::int64_t seconds) {
  if (seconds % 60 == 0 && seconds >= 60) return seconds == 60 ? say("spoken.minute_one") : say("spoken.minutes", {std::to_string(seconds / 60)});
  return say("spoken.seconds", {std::to_string(seconds)});
}

std::string App::Inside::title_of(std::uint64_t programme_day) { return say(programme_day == 2 ? "session.title_b" : "session.title"); }

// ---- rest -------------------------------------------------------------------------------------------------

std::optional<RestNow> App::Inside::rest_now(Book& book) {
  if (!here) return std::nullopt;
  const DayPlan& now = plan_of(book);
  const auto next = next_cell(now);
  if (!is_open(now) || !next || next->side) return std::nullopt;  // the other side follows at once
  const PlanRow& coming = now.rows[next->row];
  const model::SetDone* last = nullptr;
  std::optional<std::int64_t> own_last;
  for (const model::SetDone& set : now.session->sets) {
    if (set.left_out || set.warm_up) continue;  // nobody rests from a warm-up set [handbook 5.10]
    if (last == nullptr || last->by.claimed.local_ms <= set.by.claimed.local_ms) last = &set;
    if (set.exercise == coming.rung->id && (!own_last || *own_last < set.by.claimed.local_ms)) own_last = set.by.claimed.local_ms;
  }
  if (last == nullptr) return std::nullopt;
  RestNow rest;
  rest.next = *next;
  rest.set = last->id;
  rest.gone_ms = clock.now().local_ms - last->by.claimed.local_ms;
  if (rest.gone_ms < 0 || rest.gone_ms > kRestShownS * kMsASecond) return std::nullopt;  // also after a jump of the clock
  std::size_t in_block = 0;
  for (const PlanRow& row : now.rows) in_block += row.block == coming.block && row.trains() ? 1 : 0;
  const PlanRow* done = nullptr;
  for (const PlanRow& row : now.rows)
    if (row.rung->id == last->exercise) done = &row;
  const bool same_round = done != nullptr && done->block == coming.block && last->round == next->round;
  const bool main = coming.block == 1;
  const auto programme = programme_in_use(book.athlete(*here));
  std::uint32_t written = in_block < 2 ? coming.decision.dose.rest_s
                          : same_round ? (main ? kBetweenMainS : kBetweenOtherS)
                                       : (main ? kAfterMainS : kAfterOtherS);
  if (programme && in_block > 1) {
    const auto& by_coach = same_round ? programme->rest_between_exercises_ms : programme->rest_between_rounds_ms;
    if (by_coach) written = static_cast<std::uint32_t>(*by_coach / kMsASecond);
  }
  rest.least_s = rules::rest_to_show(written, coming.decision.dose.rest_s, own_last, last->by.claimed.local_ms);
  const WrittenSet set = written_set(book.athlete(*here), coming, next->round);
  rest.then_spoken = say("rest.then_spoken", {coming.code, coming.rung->name, dose_words(*coming.rung, set.reps, set.up_to, set.load ? &*set.load : nullptr, set.band)});
  return rest;
}

screens::RestView App::Inside::rest_view(Book& book, const RestNow& rest) {
  const BoardState state = board_state(book);
  const PlanRow& row = state.plan.rows[rest.next.row];
  const WrittenSet set = written_set(state.athlete, row, rest.next.round);
  const std::int64_t gone = rest.gone_ms / kMsASecond;
  screens::RestView view;
  view.least_s = std::max<std::int64_t>(rest.least_s, 1);
  view.left_s = std::max<std::int64_t>(0, rest.least_s - gone);
  view.go = view.left_s == 0;
  view.title = say("rest.title", {minutes_seconds(rest.least_s)});
  view.clock = view.go ? say("rest.go") : minutes_seconds(view.left_s);
  view.under = view.go ? say("rest.rested", {minutes_seconds(gone)}) : say("rest.to_go");
  view.note = view.go ? say("rest.plenty", {minutes_seconds(kPlentyS)}) : "";
  view.spoken = view.go ? say("rest.go") : say("rest.spoken", {spoken_seconds(view.left_s), spoken_seconds(rest.least_s)});
  view.then_place = say("rest.then_place", {row.code, number(rest.next.round), number(row.sets())});
  view.then_dose = dose_words(*row.rung, set.reps, set.up_to, set.load ? &*set.load : nullptr, set.band);
  return view;
}

// Once a second while somebody rests: the clock steps, and 30 s, 10 s and Go are said.
void App::Inside::tick_rest(Book& book) {
  const auto rest = rest_now(book);
  rest_ends_ms = 0;
  if (!rest) {
    if (rest_second != -1) changed = true;
    rest_second = -1;
    return;
  }
  const std::int64_t second = rest->gone_ms / kMsASecond;
  rest_ends_ms = clock.monotonic_ms() + static_cast<std::uint64_t>(kMsASecond - rest->gone_ms % kMsASecond);
  if (second == rest_second) return;
  rest_second = second;
  changed = true;
  if (panel != Panel::none || draft) return;
  const std::int64_t left = rest->least_s - second;
  const auto say_at = [&](std::int64_t at, int bit, std::string words) {
    if (left > at || left < at - 2 || (rest_said & bit) != 0) return;
    rest_said |= bit;
    announce(false, std::move(words));
  };
  constexpr int kSaid30 = 1, kSaid10 = 2, kSaidGo = 4;
  if (rest->least_s > 30) say_at(30, kSaid30, say("rest.said_left", {spoken_seconds(30)}));
  if (rest->least_s > 10) say_at(10, kSaid10, say("rest.said_left", {spoken_seconds(10)}));
  if ((rest_said & kSaidGo) == 0 && left <= 0 && left > -2) {
    rest_said |= kSaidGo;
    announce(true, say("rest.said_go", {rest->then_spoken}));
    if (settings.beep || settings.buzz) exchange.signal(settings.beep, settings.buzz);
  }
}

// While a session is in hand, no longer: a phone in a bag goes dark again.
void App::Inside::keep_awake(Book& book) {
  const bool wanted = here && place == screens::Place::session && stage == AppStage::running && is_open(plan_of(book)) && plan_of(book).today == today();
  if (wanted != std::exchange(awake, wanted)) exchange.stay_awake(wanted);
}

// ---- states -----------------------------------------------------------------------------------------------

void App::Inside::add_state(screens::SessionView& view, StateKind kind, screens::StatePanel state) {
  state_kinds.push_back(kind);
  view.states.push_back(std::move(state));
}

// What keeps today from being an ordinary session; answers whether sets may be offered.
bool App::Inside::add_states(Book& book, screens::SessionView& view) {
  const DayPlan& now = plan_of(book);
  const model::Athlete& athlete = book.athlete(*here);
  const bool youth = model::is_youth(athlete, today());
  if (now.decision.whether == rules::Whether::stop) {
    screens::StatePanel state{.title = say("state.stop_title"), .words = {report::sentence(now.decision.gate), say("stop.what")}, .rule = now.decision.gate.row,
                              .icon = screens::Icon::caution, .urgent = true};
    if (may_clear_general(book)) state.keys.push_back(clear_asked ? screens::StateKey{say("state.cleared_sure"), say("state.cleared_sure_detail")}
                                                                  : screens::StateKey{say("state.cleared"), say("state.cleared_stays")});
    else state.words.push_back(say("state.cleared_youth"));
    state.keys.push_back({say("state.help_now")});
    add_state(view, StateKind::stopped, std::move(state));
    return false;
  }
  if (now.decision.whether == rules::Whether::skip) {
    add_state(view, StateKind::ill, {.title = say("state.skip_title"), .words = {report::sentence(now.decision.gate)}, .rule = now.decision.gate.row,
                                     .keys = {{say("state.well_again")}}, .icon = screens::Icon::held});
    return false;
  }
  if (asks_doctor(book)) {
    add_state(view, StateKind::doctor, {.title = say("state.doctor_title"), .words = {say("start.doctor")},
                                        .keys = {{say("state.doctor_key"), say("state.doctor_detail")}}, .icon = screens::Icon::caution});
    return false;
  }
  if (!model::may_keep(athlete, model::ConsentThing::training_log, today())) {
    const bool due = model::is_consent_due(athlete, model::ConsentThing::training_log, today());
    add_state(view, StateKind::consent, {.title = say(due ? "state.consent_title" : "state.consent_no_title"),
                                         .words = {say(due ? "state.consent_words" : "state.consent_no_words")}, .rule = {},
                                         .keys = {{say(due ? "state.consent_key" : "state.consent_change")}}, .icon = screens::Icon::signoff});
    return false;
  }
  if (athlete.prescriptions.empty()) {
    add_state(view, StateKind::no_plan, {.title = say("state.clean_title"), .words = {say("state.clean_words")}, .keys = {{say("state.start_plan")}, {say("exchange.take_in")}},
                                         .icon = screens::Icon::session});
    return false;
  }
  const bool begun = now.session != nullptr && !now.session->sets.empty();
  if (!begun && now.decision.when != rules::When::today && trains_now() == rules::TrainNow::no) {
    screens::StatePanel state{.title = say(now.decision.when == rules::When::move ? "state.move_title" : "state.ask_title"),
                              .words = {report::sentence(now.decision.when_row)}, .rule = now.decision.when_row.row, .icon = screens::Icon::held};
    if (now.decision.fallback && !now.decision.exercises.empty()) state.keys.push_back({say("state.train_now"), say("state.train_now_detail")});
    add_state(view, StateKind::not_today, std::move(state));
    return false;
  }
  if (youth && !now.situation.adult_ticked_in && !now.finished) {
    screens::AdultPanel adult{.words = say("adult.words"), .key_words = say("adult.key"), .key_detail = say("adult.without")};
    if (adult_asked) adult.roles = {{say("adult.coach"), say("adult.coach"), false}, {say("adult.assistant"), say("adult.assistant"), false}, {say("adult.guardian"), say("adult.guardian"), false}};
    view.adult.push_back(std::move(adult));
  }
  if (!begun && !asked_today(athlete, today()) && model::may_keep(athlete, model::ConsentThing::pain_and_soreness, today()))
    view.check.push_back({say("check.title"), say("check.words"), say("check.fine"), {}});
  if (!model::ages_on(athlete, today()))
    add_state(view, StateKind::no_birth_year, {.title = say("state.born_title"), .words = {say("state.born_words")}, .keys = {{say("state.born_key")}}, .icon = screens::Icon::caution, .quiet = true});
  return true;
}

// Under 18 a coach or guardian notes the word of a clinician [2.7]: then the panel's first key is "Help now".
bool App::Inside::may_clear_general(Book& book) {
  return plan_of(book).decision.whether == rules::Whether::stop && (author() == Author::coach || !model::is_youth(book.athlete(*here), today()));
}

void App::Inside::press_state(Book& book, const screens::PressState& press) {
  if (press.state >= state_kinds.size()) return;
  switch (state_kinds[press.state]) {
    case StateKind::stopped:
      if (press.key != 0 || !may_clear_general(book)) panel = Panel::stop;
      else if (!std::exchange(clear_asked, !clear_asked)) break;  // once more: one tap is soon done, and chest pain is no slip
      else clear_general(book);
      break;
    case StateKind::ill: {
      model::Illness well;
      well.state = model::IllnessState::well;
      well.day = today();
      const auto noted = book.note_illness(*here, well, author());
      if (!noted) announce(true, say(noted.error()));
      break;
    }
    case StateKind::no_plan:
      if (press.key == 1) exchange.ask_for_file();
      else start_plan(book);
      break;
    case StateKind::not_today:
      train_now = author() == Author::coach ? rules::TrainNow::coach : rules::TrainNow::swimmer;
      train_now_day = today();
      break;
    case StateKind::no_birth_year: open_facts(book); break;
    case StateKind::nobody: exchange.ask_for_file(); break;
    case StateKind::doctor:
      health.doctor_allowed = true;
      if (!health.write(book, *here)) announce(true, say("setup.not_kept"));
      break;
    case StateKind::consent: open_consent(book); break;
    case StateKind::other_swimmer: {
      Desk now = desk(book);
      now.go(screens::Place::setup);
      setup.open(screens::Setting::device);
      break;
    }
    case StateKind::one_more:
      if (const auto cell = extra_cell(board_state(book))) open_draft(book, cell->row, cell->round);
      break;
  }
}

bool App::Inside::asks_doctor(Book& book) {
  if (facts.demo || !here) return false;
  if (health_of != here) health = Health::read(book, *here);
  health_of = here;
  return health.asks_doctor();
}

bool App::Inside::may_log(Book& book) {
  return !asks_doctor(book) && model::may_keep(book.athlete(*here), model::ConsentThing::training_log, today());
}

void App::Inside::open_consent(Book& book) {
  Desk now = desk(book);
  now.go(screens::Place::setup);
  setup.open_consent(now);
}

void App::Inside::open_facts(Book& book) {
  Desk now = desk(book);
  now.open_facts(here);
}

void App::Inside::start_plan(Book& book) {
  const auto started = book.start_programme(*here, author());
  if (!started) announce(true, say(started.error()));
}

void App::Inside::clear_general(Book& book) {
  model::Clearance clearance;
  clearance.covers = "general";
  clearance.clinician_allowed = true;  // the key says it
  clearance.note = say("state.cleared_detail");
  clearance.role = author() == Author::coach ? model::ClearanceRole::coach : model::ClearanceRole::self;
  clearance.day = today();
  for (const model::RedFlag& flag : book.athlete(*here).red_flags)
    if (flag.group != model::FlagGroup::local && !model::is_cleared(book.athlete(*here), flag.id)) clearance.reports.push_back(flag.id);
  const auto noted = book.note_clearance(*here, clearance, author());
  if (!noted) announce(true, say(noted.error()));
}

void App::Inside::note_check(Book& book) {
  std::optional<model::RecordId> session;
  if (const DayPlan& now = plan_of(book); now.session != nullptr) session = now.session->id;
  const auto noted = book.note_check(*here, today(), session, author());
  if (!noted) {
    announce(true, say(noted.error()));
    return;
  }
  say_kept(book, say("check.said"));
}

void App::Inside::tick_adult(Book& book, std::uint32_t role) {
  if (!adult_asked) {
    adult_asked = true;
    return;
  }
  adult_asked = false;
  if (role > 2) return;
  const auto begun = book.begin_session(*here, today(), plan_of(book).programme_day, std::nullopt, author());
  if (!begun) {
    announce(true, say(begun.error()));
    return;
  }
  model::TickIn tick;
  tick.session = *begun;
  tick.role = static_cast<model::AdultRole>(role + 1);
  tick.day = today();
  const auto noted = book.tick_in(*here, tick, Author::helper);
  if (!noted) announce(true, say(noted.error()));
  else say_kept(book, say("adult.said"));
}

// ---- finish ------------------------------------------------------------------------------------------------

bool App::Inside::is_short(const DayPlan& now) const {
  for (const PlanRow& row : now.rows) {
    if (!row.trains() || row.block != 1) continue;
    for (std::uint64_t round = 1; round <= row.sets(); ++round)
      if (const RoundDone done = round_of(now, row.rung->id, round); !done.whole() || done.entered()->left_out || (done.by_side() && done.right->left_out)) return true;
  }
  return false;
}

void App::Inside::open_finish(Book& book) {
  const DayPlan& now = plan_of(book);
  if (now.session == nullptr) return;
  finish = {};
  const std::int64_t ms = clock.now().local_ms - now.session->by.claimed.local_ms;
  constexpr std::int64_t kMsAMinute = 60'000;
  finish.minutes = std::clamp<std::int64_t>((ms + kMsAMinute - 1) / kMsAMinute, 1, static_cast<std::int64_t>(kMaxMinutes));
  finish.by_clock = finish.minutes;
  finish.session = now.session->id;
  panel = Panel::finish;
}

void App::Inside::keep_finish(Book& book) {
  if (!finish.session || !finish.effort || finish.minutes_refused) {
    announce(true, say(finish.minutes_refused ? "finish.minutes_refused" : "finish.choose"));
    return;
  }
  model::Finish entry;
  entry.effort_tenths = *finish.effort * 10;
  entry.minutes = static_cast<std::uint64_t>(finish.minutes);
  entry.short_reason = finish.reason;
  const auto kept_finish = book.finish_session(*here, *finish.session, entry, author());  // the one that was asked about, also after midnight
  if (!kept_finish) {
    announce(true, say(kept_finish.error()));
    return;
  }
  panel = Panel::none;
  lock.lock();
  say_kept(book, say("finish.said", {number(*finish.effort), number(*entry.minutes)}));
  ask_to_persist();
}

screens::FinishPanel App::Inside::finish_panel(Book& book) {
  constexpr const char* kEffort[] = {"effort.r0", "effort.r1", "effort.r2", "effort.r3", "effort.r4", "effort.r5", "effort.r6", "effort.r7", "effort.r8", "effort.r9", "effort.r10"};
  constexpr const char* kShort[] = {"short.no_time", "short.kit_busy", "short.too_hard", "short.pain", "short.other"};
  screens::FinishPanel view;
  view.question = say("finish.question");
  for (std::uint32_t rating = 0; rating <= 10; ++rating) {
    const std::string words = say(kEffort[rating]);
    const bool between = rating == 6 || rating >= 8;
    screens::EffortRow row{number(rating), between && rating != 10 ? "" : words, say("finish.row_spoken", {number(rating), words}), finish.effort == rating};
    view.rows.push_back(std::move(row));
  }
  view.chosen_words = say("finish.chosen");
  view.minutes_label = view.minutes_spoken = say("finish.minutes");
  view.minutes_note = finish.minutes == finish.by_clock ? say("finish.by_clock") : "";
  view.fewer_words = say("finish.fewer");
  view.more_words = say("finish.more");
  view.minutes = finish.minutes;
  view.minutes_refused = finish.minutes_refused ? say("finish.minutes_refused") : "";
  if (is_short(plan_of(book))) {
    view.short_label = say("finish.short");
    for (std::uint64_t i = 0; i < std::size(kShort); ++i)
      view.short_reasons.push_back({say(kShort[i]), say(kShort[i]), finish.reason == static_cast<model::ShortReason>(i + 1)});
  }
  view.ready = finish.effort.has_value() && !finish.minutes_refused;
  view.finish_words = view.ready ? say("finish.key", {number(*finish.effort), std::to_string(finish.minutes)}) : say("finish.key_plain");
  view.finish_detail = view.ready ? "" : say("finish.choose");
  view.leave_words = say("finish.leave");
  return view;
}

screens::ComingPanel App::Inside::coming_panel(Book& book) {
  screens::ComingPanel panel_view;
  const model::Athlete& athlete = book.athlete(*here);
  const auto next = plan_after(athlete, {.today = today(), .now_ms = clock.now().local_ms, .kit = {}, .train_now = {}, .programme_day = {}});
  if (!next) return panel_view;
  panel_view.title = say("coming.title", {model::weekday_date(next->today), title_of(next->programme_day)});
  if (model::is_youth(athlete, next->today)) panel_view.title = say("coming.with_adult", {panel_view.title});
  for (const PlanRow& row : next->rows) {
    screens::ComingRow line;
    line.movement = capital(row.rung->name);
    line.dose = row.trains() ? dose_words(athlete, row.decision.dose) : say(row.because().action == rules::Action::leave_out ? "session.row_left_out" : "session.row_stopped");
    line.why = report::sentence(row.because(), speaking_of(book.athlete(*here)));
    line.rule = report::told(row.because()).row;
    line.spoken = say("coming.spoken", {line.movement, line.dose, line.why});
    if (!row.swapped_from.empty()) line.state = screens::CellState::swapped;
    else if (row.crossed_out) line.state = screens::CellState::crossed_out;
    else if (row.waits_for_sign_off) line.state = screens::CellState::waits_sign_off;
    else if (row.held) line.state = screens::CellState::held;
    panel_view.rows.push_back(std::move(line));
  }
  return panel_view;
}

screens::WhyPanel App::Inside::why_panel(Book& book) {
  screens::WhyPanel view;
  const DayPlan& now = plan_of(book);
  const auto cell = next_cell(now);
  view.close_words = say("why.close");
  const auto asked = std::find_if(now.rows.begin(), now.rows.end(), [&](const PlanRow& one) { return one.rung->id == why_of; });
  if (!cell && asked == now.rows.end()) return view;
  const PlanRow& row = asked != now.rows.end() ? *asked : now.rows[cell->row];
  const std::string dose = row.crossed_out ? say(row.because().action == rules::Action::leave_out ? "session.row_left_out" : "session.row_stopped")
                                           : dose_words(book.athlete(*here), row.decision.dose);
  view.title = say("why.title", {row.rung->name, dose});
  const report::Speaking speaking = speaking_of(book.athlete(*here));
  const rules::Reason& told = report::told(row.because());
  view.sentence = report::sentence(row.because(), speaking);
  view.rule = say("why.rule", {told.row});
  if (row.because().row.row == "R04" || row.because().row.row == "R21") view.entries.push_back(say("why.entry_sets"));  // [handbook 5.8]
  for (const rules::Reason& modifier : row.because().modifiers)
    if (std::string words = report::sentence(modifier, speaking); &modifier != &told && !words.empty()) view.entries.push_back(std::move(words));
  for (const rules::Evidence& evidence : row.because().row.evidence) {
    if (evidence.of != rules::EvidenceOf::session || evidence.index >= now.situation.history.size()) continue;
    const rules::SessionFact& session = now.situation.history[evidence.index];
    for (const rules::ExerciseDone& done : session.exercises) {
      if (done.exercise != row.rung->id) continue;
      std::string sets;
      for (const rules::SetFact& set : done.sets) sets += (sets.empty() ? "" : ", ") + number(set.reps);
      if (!is_locked(book)) view.entries.push_back(say("why.entry", {model::weekday_date(session.day), sets}));
    }
  }
  if (is_locked(book)) view.entries.push_back(say("why.locked"));
  return view;
}

// ---- the whole ------------------------------------------------------------------------------------------------

screens::SessionView App::Inside::session_view(Book& book) {
  screens::SessionView view;
  view.hand = settings.hand;
  state_kinds.clear();
  if (!here) {  // a coach's desk before anybody is there
    view.title = title_of(1);
    kept_mark(book, view);
    add_troubles(book, view);
    add_state(view, StateKind::nobody, {.title = say("state.clean_title"), .words = {say("state.nobody_words")}, .keys = {{say("exchange.take_in")}}, .icon = screens::Icon::session});
    return view;
  }
  const DayPlan& now = plan_of(book);
  const model::Athlete& athlete = book.athlete(*here);
  view.title = title_of(now.programme_day);
  Desk apart = desk(book);
  view.day_line = say("session.day_line", {name_apart(apart, *here), model::weekday_date(day_in_hand())});
  // Entries kept earlier today are kept too: the mark shows the newest claim.
  if (kept_at.empty() && now.session != nullptr) {
    for (const model::SetDone& set : now.session->sets)
      if (!book.waits(set.id)) kept_at = model::clock(set.by.claimed);
    if (now.finished) kept_at = model::clock(now.session->finish.all.front().by.claimed);
  }
  kept_mark(book, view);
  add_troubles(book, view);
  view.hand_over_words = handed_at.empty() ? say("session.hand_over") : say("session.handed_over", {handed_at});
  if (draft)
    for (const PlanRow& row : now.rows)
      if (row.rung->id == draft->exercise) block_shown = row.block;
  const BoardState state = board_state(book);
  view.board = board(state);
  if (draft) {  // what is being changed stays in sight
    const auto rows = shown_rows(state);
    for (std::size_t i = 0; i < rows.size(); ++i)
      if (now.rows[rows[i]].rung->id == draft->exercise) view.board.in_hand = static_cast<std::uint32_t>(i);
  }
  // While anything may not be kept, every cell stays in sight, whatever room the warning takes.
  if (book.trouble() || (!facts.storage_kept && !facts.demo)) {
    view.board.folded_words.clear();
    view.board.fold_words.clear();
  }
  if (book.opening().read_only) return view;
  // Without consent for pain and soreness only a warning sign can still be told [7.1].
  const bool body = model::may_keep(athlete, model::ConsentThing::pain_and_soreness, today());
  view.pain_words = say(body ? "session.pain" : "session.warning");
  if (body) view.sore_words = say("session.sore");
  if (draft) {
    if (swap_open) {
      view.swap.push_back(swap_panel(book));
      return view;
    }
    view.change.push_back(change_panel(state, *draft));
    if (!view.change.back().title.empty() && !offers_for_draft(book).empty()) view.change.back().swap_words = say("swap.key");
    return view;
  }
  switch (panel) {
    case Panel::pain: view.pain.push_back(pain_panel(book)); return view;
    case Panel::sore: view.sore.push_back(sore_panel(book)); return view;
    case Panel::stop: view.stop.push_back(stop_panel(book)); return view;
    case Panel::finish: view.finish.push_back(finish_panel(book)); return view;
    case Panel::why: view.why.push_back(why_panel(book)); return view;
    case Panel::none: break;
  }
  // On a shared tablet whoever comes next presses the own name first.
  if (settings.user == DeviceUser::shared && (now.finished || now.session == nullptr || now.session->sets.empty()))
    add_state(view, StateKind::other_swimmer, {.title = say("state.other_title", {athlete.name.value_or("")}), .keys = {{say("state.other_key")}}, .icon = screens::Icon::squad, .quiet = true});
  if (now.finished) {
    view.done_words = say("finish.done");
    view.coming.push_back(coming_panel(book));
    return view;
  }
  if (!add_states(book, view)) return view;
  view.change_words = say("session.change");
  forget_gone(book);
  if (!kept.empty()) view.back_words = say("session.back", {kept.back().code});
  const bool begun = now.session != nullptr && !now.session->sets.empty();
  if (begun) view.finish_words = say("session.finish");
  const auto cell = next_cell(now);
  if (!cell) {
    view.done_words = say(begun ? "session.all_done" : "session.nothing_today");
    if (begun && extra_cell(state))
      add_state(view, StateKind::one_more, {.title = say("state.more_title"), .keys = {{say("session.log_extra")}}, .icon = screens::Icon::plus, .quiet = true});
    return view;
  }
  screens::NextSet next = next_set(state, *cell);
  if (const auto warm_up = next_warm_up(athlete, now, now.rows[cell->row]); warm_up && view.check.empty()) {
    const std::string dose = dose_words(*model::find_rung(warm_up->exercise), warm_up->reps, 0, warm_up->load ? &*warm_up->load : nullptr, warm_up->band);
    const bool other = warm_up->exercise != now.rows[cell->row].rung->id;
    next.warm_up_words = other ? say("warm_up.key_other", {movement_name(warm_up->exercise), dose}) : say("warm_up.key", {dose});
    next.skip_words = say("warm_up.skip");
  }
  next.will_wait = book.trouble().has_value();
  if (next.will_wait) next.wait_words = say("session.will_wait");
  next.just_logged = deaf_until_ms != 0;
  if (next.just_logged) {
    next.just_words = say(book.waiting() > 0 ? "session.keeping" : "session.kept");
    next.log_dose = say("session.just_next", {next.log_dose});  // the dose below "Kept" is not the one that was kept
  }
  view.next.push_back(std::move(next));
  if (const auto rest = rest_now(book)) view.rest.push_back(rest_view(book, *rest));
  return view;
}

}  // namespace slipway::app
