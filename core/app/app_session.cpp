// What the Session place's intents do to sets: as written, changed, taken back.
#include <algorithm>
#include <utility>

#include "app/app_inside.h"
#include "app/dose_text.h"
#include "app/local_names.h"
#include "app/overloaded.h"
#include "app/sides.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

std::string spoken_dose(const std::string& exercise, std::uint64_t reps, const std::optional<model::Quantity>& load, const std::string& band) {
  const model::Rung* rung = model::find_rung(exercise);
  const std::string count = rung != nullptr && rung->is_hold() ? say("spoken.seconds", {number(reps)}) : number(reps);
  if (load) return say("session.cell_dose", {count, report::spoken_load(*load)});
  return band.empty() ? count : say("session.cell_dose", {count, say("dose.band", {band})});
}

}  // namespace

const DayPlan& App::Inside::plan_of(Book& book) {
  const std::uint64_t revision = book.revision();
  const model::Day day = day_in_hand();
  if (!plan || plan_revision != revision || !(plan->today == day) || !(plan_scope == *here) || plan_train_now != trains_now()) {
    plan = plan_day(book.athlete(*here), {.today = day, .now_ms = clock.now().local_ms, .kit = {}, .train_now = trains_now(), .programme_day = {}});
    plan_revision = revision;
    plan_scope = *here;
    plan_train_now = trains_now();
  }
  return *plan;
}

BoardState App::Inside::board_state(Book& book) {
  const DayPlan& now = plan_of(book);
  const auto kept_state = [&book](const model::OpKey& key) {
    if (!book.waits(key)) return screens::CellState::kept;
    return book.saving() ? screens::CellState::keeping : screens::CellState::not_kept;
  };
  return {book.athlete(*here), now, kept_state, block_shown, board_open};
}

void App::Inside::act_session(Book& book, const screens::SessionIntent& intent) {
  if (!here) {
    if (std::holds_alternative<screens::PressState>(intent)) press_state(book, std::get<screens::PressState>(intent));
    return;
  }
  const auto drafted = [&](auto change) {
    if (!draft) return;
    change(*draft);
    draft_dirty = true;
  };
  std::visit(
      Overloaded{
          [&](const screens::LogAsWritten& log) { log_as_written(book, log.choice); },
          [&](const screens::OpenChange& open) { open_change(book, open.row, open.round); },
          [&](const screens::TakeBack&) { take_back_last(book); },
          [&](const screens::SetDraftReps& set) {
            drafted([&](SetDraft& now) {
              const model::Rung* rung = model::find_rung(now.exercise);
              const auto most = static_cast<std::int64_t>(rung != nullptr && rung->is_hold() ? kMaxHoldSeconds : kMaxReps);
              const bool fits = set.reps >= 0 && set.reps <= most;
              now.reps_refused = fits ? "" : std::to_string(set.reps);
              if (fits) now.reps = set.reps;
            });
          },
          [&](const screens::ChooseDraftLoad& choose) {
            drafted([&](SetDraft& now) {
              const model::Athlete& athlete = book.athlete(*here);
              if (offers_loads(board_state(book), now)) choose_load(athlete, now, choose.choice);
              else if (!athlete.kits.empty() && choose.choice < athlete.kits.front().bands.size()) now.band = athlete.kits.front().bands[choose.choice];
            });
          },
          [&](const screens::ChooseDraftReserve& choose) {
            drafted([&](SetDraft& now) { if (choose.choice <= kMaxRir) now.rir = choose.choice; });
          },
          [&](const screens::ChooseDraftSide& choose) {
            drafted([&](SetDraft& now) { if (!mends_warm_up(book.athlete(*here), now)) choose_side(plan_of(book), now, choose.choice); });
          },
          [&](const screens::LogWarmUp&) { log_warm_up(book, false); },
          [&](const screens::SkipWarmUp&) { log_warm_up(book, true); },
          [&](const screens::OpenSwap&) { swap_open = draft.has_value(); },
          [&](const screens::CloseSwap&) { swap_open = false; },
          [&](const screens::ChooseSwap& choose) { choose_swap(book, choose.choice); },
          [&](const screens::SetDraftFormBroke& set) { drafted([&](SetDraft& now) { now.form_broke = set.broke; }); },
          [&](const screens::KeepChange&) { keep_change(book, false); },
          [&](const screens::LeaveAsWritten&) { close_draft(); },
          [&](const screens::MarkLeftOut&) { keep_change(book, true); },
          [&](const screens::TakeBackThis&) {
            if (!draft || !draft->mends) return;
            const Kept entry{*draft->mends, draft->round, code_of(book, draft->exercise)};
            close_draft();
            take_back(book, entry);
          },
          [&](const screens::TryAgain&) {
            if (book.try_again()) kept_at = model::clock(clock.now());
          },
          [&](const screens::HandOver&) { hand_over(book); },
          [&](const screens::LeaveMadeUp&) {
            if (facts.demo) exchange.open_again();
          },
          [&](const screens::OpenBlock& open) {
            const auto blocks = other_blocks(board_state(book));
            if (open.foot < blocks.size()) block_shown = blocks[open.foot];
          },
          [&](const screens::OpenBoard& open) { board_open = open.open; },
          [&](const screens::OpenWhy&) {
            why_of.clear();
            panel = Panel::why;
          },
          [&](const screens::CloseWhy&) { panel = Panel::none; },
          [&](const screens::NothingHurts&) { note_check(book); },
          [&](const screens::TickAdult& tick) { tick_adult(book, tick.role); },
          [&](const screens::PressState& press) { press_state(book, press); },
          [&](const screens::OpenPain&) {
            open_panel(model::may_keep(book.athlete(*here), model::ConsentThing::pain_and_soreness, today()) ? Panel::pain : Panel::stop);
          },
          [&](const screens::ChoosePain& choose) { act_pain(book, choose); },
          [&](const screens::OpenPainMore&) { pain_more = true; },
          [&](const screens::ChoosePainSide& choose) { if (choose.choice < 3) detail_pain(book, std::nullopt, choose.choice + 1); },
          [&](const screens::ChoosePainNumber& choose) { choose_pain_number(book, choose.choice); },
          [&](const screens::AnswerAsked& answer) { answer_asked(book, answer.about, answer.choice); },
          [&](const screens::TakeBackPain&) { take_back_pain(book); },
          [&](const screens::ClosePain&) { panel = Panel::none; },
          [&](const screens::OpenSore&) { open_panel(Panel::sore); },
          [&](const screens::ChooseSore& choose) { act_sore(book, choose); },
          [&](const screens::SetSoreDays& set) {
            const bool fits = set.days >= 1 && set.days <= static_cast<std::int64_t>(kMostSoreDays);
            sore_days_refused = !fits;
            if (fits) detail_sore(book, static_cast<std::uint64_t>(set.days), std::nullopt);
          },
          [&](const screens::SetSoreHinders& set) { detail_sore(book, std::nullopt, set.hinders); },
          [&](const screens::TakeBackSore&) { take_back_sore(book); },
          [&](const screens::CloseSore&) { panel = Panel::none; },
          [&](const screens::OpenStop&) { panel = Panel::stop; },
          [&](const screens::TickFlag& tick) { tick_flag(book, tick); },
          [&](const screens::CloseStop&) { panel = Panel::none; },
          [&](const screens::OpenFinish&) { open_finish(book); },
          [&](const screens::ChooseEffort& choose) { if (choose.effort <= 10) finish.effort = choose.effort; },
          [&](const screens::SetMinutes& set) {
            finish.minutes_refused = set.minutes < 1 || set.minutes > static_cast<std::int64_t>(kMaxMinutes);
            finish.minutes = set.minutes;  // what was typed stays beside the message
          },
          [&](const screens::ChooseShortReason& choose) {
            if (choose.choice < 5) finish.reason = static_cast<model::ShortReason>(choose.choice + 1);
          },
          [&](const screens::KeepFinish&) { keep_finish(book); },
          [&](const screens::LeaveFinish&) { panel = Panel::none; },
          [&](const auto&) {},  // a control this view never offers
      },
      intent);
}

void App::Inside::open_panel(Panel which) {
  panel = which;
  pain_kept.reset();
  pain_more = false;
  sore_kept.reset();
  sore_days_refused = false;
}

void App::Inside::close_draft() {
  swap_open = false;
  draft.reset();
  draft_dirty = true;
  if (!std::exchange(draft_from_logbook, false)) return;
  block_shown = 0;
  place = screens::Place::logbook;
}

std::string App::Inside::code_of(Book& book, const std::string& exercise) {
  for (const PlanRow& row : plan_of(book).rows)
    if (row.rung->id == exercise) return row.code;
  return exercise;
}

void App::Inside::say_kept(Book& book, std::string words) {
  if (book.waiting() > 0 && !book.saving()) {
    announce(true, say("session.said_not_kept", {words}));
    return;
  }
  kept_at = model::clock(clock.now());
  announce(false, say("session.said_kept_words", {words}));
}

// What the rules gave stays on record, as it was shown, with the session [6.7].
bool App::Inside::begin(Book& book) {
  if (!may_log(book)) {
    announce(true, say("state.not_before", {say(asks_doctor(book) ? "state.doctor_title" : "state.consent_title")}));
    return false;
  }
  const auto begun = begin_day(book, *here, today(), std::nullopt, trains_now(), author());
  if (!begun) announce(true, say(begun.error()));
  return begun.ok();
}

void App::Inside::log_as_written(Book& book, std::uint32_t choice) {
  if (draft_from_logbook) return;
  if (clock.monotonic_ms() < deaf_until_ms) return;  // a double tap never logs two sets
  const auto cell = next_cell(plan_of(book));
  if (!cell || !begin(book)) return;
  const BoardState state = board_state(book);
  const PlanRow& row = state.plan.rows[cell->row];
  const WrittenSet written = written_now(state.athlete, state.plan, row, cell->round);
  // As written says of the reserve only what the key in hand says.
  const SetEntry entry{.exercise = row.rung->id,
                       .round = cell->round,
                       .reps = written.reps,
                       .load = written.load,
                       .rir = reserve_of_key(state, *cell, choice),
                       .written_reps = written.reps,
                       .written_load = written.load,
                       .side = cell->side,
                       .band = written.band,
                       .grip = row.decision.dose.grip};
  const std::string code = row.code;
  const auto logged = book.log_set(*here, entry, today(), author());
  if (!logged) {
    announce(true, say(logged.error()));
    return;
  }
  deaf_until_ms = clock.monotonic_ms() + kDeafMs;
  block_shown = 0;
  after_entry(book, *logged, entry.round, code, "session.said_kept", spoken_dose(entry.exercise, entry.reps, entry.load, entry.band));
}

void App::Inside::open_change(Book& book, std::uint32_t row, std::uint64_t round) {
  if (!may_log(book)) return;
  const BoardState state = board_state(book);
  const auto rows = shown_rows(state);
  if (row >= rows.size() || round < 1 || round > kMaxRounds) return;
  open_draft(book, rows[row], round);
}

void App::Inside::open_draft(Book& book, std::size_t index, std::uint64_t round) {
  const BoardState state = board_state(book);
  const PlanRow& row = state.plan.rows[index];
  const RoundDone done = round_of(state.plan, row.rung->id, round);
  const WrittenSet written = written_now(state.athlete, state.plan, row, round);
  SetDraft now;
  now.day = today();
  now.exercise = row.rung->id;
  now.round = round;
  now.reps = static_cast<std::int64_t>(written.reps);
  now.load = written.load;
  now.band = written.band;
  now.around = now.load;
  if (done.half() && !row.crossed_out) now.side = done.missing();
  else if (done.entered() != nullptr) take_over(now, *done.entered());
  else if (row.crossed_out) {  // nothing to do and nothing done: why
    why_of = row.rung->id;
    panel = Panel::why;
    return;
  }
  draft = now;
  draft_dirty = true;
  panel = Panel::none;
}

void App::Inside::log_warm_up(Book& book, bool skipped) {
  const auto cell = next_cell(plan_of(book));
  if (!cell || draft || clock.monotonic_ms() < deaf_until_ms) return;
  const auto set = next_warm_up(book.athlete(*here), plan_of(book), plan_of(book).rows[cell->row]);
  if (!set || !begin(book)) return;
  SetEntry entry;
  entry.exercise = set->exercise;
  entry.round = set->round;
  entry.reps = skipped ? 0 : set->reps;
  if (!skipped) entry.load = set->load;
  entry.band = set->band;
  entry.warm_up = true;
  entry.left_out = skipped;
  const auto logged = book.log_set(*here, entry, today(), author());
  if (!logged) {
    announce(true, say(logged.error()));
    return;
  }
  deaf_until_ms = clock.monotonic_ms() + kDeafMs;  // the main key may stand where this one was
  kept.push_back({*logged, set->round, say("warm_up.code")});
  say_kept(book, say(skipped ? "warm_up.said_skipped" : "warm_up.said"));
}

std::vector<SwapOffer> App::Inside::offers_for_draft(Book& book) {
  if (!draft || draft->mends || book.opening().read_only) return {};
  const DayPlan& now = plan_of(book);
  for (const PlanRow& row : now.rows)
    if (row.rung->id == draft->exercise) return swap_offers(book.athlete(*here), now, row);
  return {};
}

screens::SwapPanel App::Inside::swap_panel(Book& book) {
  screens::SwapPanel view;
  view.title = say("swap.title");
  view.words = say("swap.words", {capital(movement_name(draft->exercise))});
  for (const SwapOffer& offer : offers_for_draft(book)) {
    const std::string dose = dose_words(book.athlete(*here), offer.decision.dose);
    view.choices.push_back({.words = capital(offer.rung->name), .detail = dose, .spoken = say("swap.spoken", {capital(offer.rung->name), dose})});
  }
  view.leave_words = say("change.leave");
  return view;
}

void App::Inside::choose_swap(Book& book, std::uint32_t choice) {
  const auto offers = offers_for_draft(book);
  if (!swap_open || choice >= offers.size()) return;
  const PlanRow* found = nullptr;
  for (const PlanRow& row : plan_of(book).rows)
    if (row.rung->id == draft->exercise) found = &row;
  if (found == nullptr) return;
  const PlanRow row = *found;  // a copy: what is kept now makes the plan anew
  const SwapOffer offer = offers[choice];
  const auto begun = begin_day(book, *here, today(), std::nullopt, trains_now(), author());
  if (!begun) {
    announce(true, say(begun.error()));
    return;
  }
  const auto kept_swap = swap_row(book, *here, *begun, row, offer, author());
  if (!kept_swap) {
    announce(true, say(kept_swap.error()));
    return;
  }
  close_draft();
  say_kept(book, say("swap.said", {capital(row.rung->name), offer.rung->name}));
}

// A set that the Logbook shows, of any day.
void App::Inside::change_from_logbook(Book& book, const model::RecordId& id) {
  for (const model::Session& session : book.athlete(*here).sessions)
    for (const model::SetDone& set : session.sets) {
      if (!(set.id == id)) continue;
      SetDraft now;
      now.day = day_of_session(session);
      now.exercise = set.exercise;
      now.round = set.round;
      now.mends = set.id;
      now.reps = static_cast<std::int64_t>(set.reps.value_or(0));
      if (!set.load.empty()) now.load = *set.load.first();
      if (!set.rir.empty()) now.rir = *set.rir.first();
      now.band = set.band;
      now.side = set.side;
      now.form_broke = set.form_broke;
      now.around = now.load;
      panel = Panel::none;
      place = screens::Place::session;  // the Logbook keeps what is open there
      draft = std::move(now);
      draft_dirty = true;
      draft_from_logbook = true;
      return;
    }
}

void App::Inside::keep_change(Book& book, bool left_out) {
  if (!draft) return;
  if (!draft->reps_refused.empty() && !left_out) {
    announce(true, say("change.said_refused"));
    return;
  }
  const SetDraft now = *draft;
  const LocalValue done{std::string(kDraftName), {}};  // the draft ends in the same transaction
  const std::string said = left_out ? "session.said_left_out" : now.mends ? "session.said_changed" : "session.said_kept";
  std::optional<model::RecordId> record;
  if (const auto session = now.mends && now.side ? splits(book, now) : std::nullopt) {
    record = log_changed(book, now, left_out, done, session);
    if (!record) return;
    SetChange other;  // after the new half is there: no half is ever nowhere
    other.side = static_cast<std::uint64_t>(other_side(*now.side));
    if (const auto halved = book.change_set(*here, *now.mends, other, author()); !halved) announce(true, say(halved.error()));
  } else if (now.mends) {
    if (mend(book, now, left_out, done)) record = *now.mends;
  } else {
    record = log_changed(book, now, left_out, done);
  }
  if (!record) return;
  const std::string code = code_of(book, now.exercise);
  draft.reset();
  draft_dirty = book.waiting() > 0 && !book.saving();  // then its end was not kept with the set either
  block_shown = 0;
  if (std::exchange(draft_from_logbook, false)) {  // nobody rests from a set of last week
    place = screens::Place::logbook;
    say_kept(book, say("logbook.said_changed", {capital(movement_name(now.exercise)), number(now.round)}));
    return;
  }
  deaf_until_ms = clock.monotonic_ms() + kDeafMs;  // "Keep" was the main key, and "Log as written" stands there now
  if (now.mends == record) told_kept(book, now.round, code, said, spoken_dose(now.exercise, static_cast<std::uint64_t>(now.reps), now.load, now.band));
  else after_entry(book, *record, now.round, code, said, spoken_dose(now.exercise, static_cast<std::uint64_t>(now.reps), now.load, now.band));
}

// A set entered for both sides of which one is now said otherwise: what was entered stays, as the other side. Answers its session.
std::optional<model::RecordId> App::Inside::splits(Book& book, const SetDraft& now) {
  for (const model::Session& session : book.athlete(*here).sessions)
    for (const model::SetDone& one : session.sets)
      if (one.id == *now.mends && !one.side && !one.left_out) return session.id;
  return std::nullopt;
}

bool App::Inside::mend(Book& book, const SetDraft& now, bool left_out, const LocalValue& done) {
  const model::SetDone* set = nullptr;
  for (const model::Session& session : book.athlete(*here).sessions)
    for (const model::SetDone& one : session.sets)
      if (one.id == *now.mends) set = &one;
  const auto reps = static_cast<std::uint64_t>(now.reps);
  SetChange change;
  if (left_out) {
    change.left_out = true;
  } else {
    // Only what differs is written, so that an untouched field keeps its history and a
    // change made elsewhere at the same time stays beside it.
    if (set == nullptr || set->reps.contradiction() || set->reps.value_or(kMaxHoldSeconds + 1) != reps) change.reps = reps;
    if (now.load && (set == nullptr || set->load.contradiction() || set->load.empty() || !(*set->load.first() == *now.load))) change.load = now.load;
    if (now.rir && (set == nullptr || set->rir.contradiction() || set->rir.empty() || *set->rir.first() != *now.rir)) change.rir = now.rir;
    if (set != nullptr && set->left_out) change.left_out = false;
    if (set != nullptr && set->form_broke != now.form_broke) change.form_broke = now.form_broke;
    if (set != nullptr && !now.band.empty() && set->band != now.band) change.band = now.band;
    if (set != nullptr && set->side != now.side) change.side = now.side ? static_cast<std::uint64_t>(*now.side) : kBothSides;
  }
  const auto mended = book.change_set(*here, *now.mends, change, author(), &done);
  if (!mended) announce(true, say(mended.error()));
  return mended.ok();
}

std::optional<model::RecordId> App::Inside::log_changed(Book& book, const SetDraft& now, bool left_out, const LocalValue& done,
                                                        const std::optional<model::RecordId>& session) {
  if (now.day == today() && !begin(book)) return std::nullopt;
  const BoardState state = board_state(book);
  SetEntry entry{.exercise = now.exercise,
                 .session = session,
                 .round = now.round,
                 .reps = left_out ? 0 : static_cast<std::uint64_t>(now.reps),
                 .load = left_out ? std::nullopt : now.load,
                 .rir = left_out ? std::nullopt : now.rir,
                 .written_reps = std::nullopt,
                 .written_load = std::nullopt,
                 .left_out = left_out};
  for (const PlanRow& row : state.plan.rows) {
    if (row.rung->id != now.exercise) continue;
    const WrittenSet written = written_set(state.athlete, row, now.round);
    entry.written_reps = written.reps;
    entry.written_load = written.load;
    entry.grip = row.decision.dose.grip;
  }
  entry.band = now.band;
  entry.side = now.side;
  entry.form_broke = now.form_broke;
  const auto logged = book.log_set(*here, entry, now.day, author(), &done);
  if (!logged) {
    announce(true, say(logged.error()));
    return std::nullopt;
  }
  return *logged;
}

void App::Inside::after_entry(Book& book, const model::RecordId& record, std::uint64_t round, const std::string& code, const std::string& said_id,
                              const std::string& dose) {
  kept.push_back({record, round, code});
  rest_said = 0;
  told_kept(book, round, code, said_id, dose);
}

void App::Inside::told_kept(Book& book, std::uint64_t round, const std::string& code, const std::string& said_id, const std::string& dose) {
  if (book.waiting() > 0 && !book.saving()) {
    announce(true, say("session.said_keeping", {code, number(round), dose}));
    return;
  }
  kept_at = model::clock(clock.now());
  handed_at.clear();  // what went out before is without this
  std::string words = say(said_id, {code, number(round), dose});
  if (const auto next = next_cell(plan_of(book)); next && next->side)
    words += " " + say("session.said_other_side", {side_words(plan_of(book), plan_of(book).rows[next->row], next->round)});
  else if (const auto rest = rest_now(book)) words += " " + say("session.said_rest", {spoken_seconds(rest->least_s), rest->then_spoken});
  announce(false, words);
}

void App::Inside::take_back(Book& book, Kept entry) {
  const auto taken = book.take_back(*here, entry.record, author());
  if (!taken) {
    announce(true, say(taken.error()));
    return;
  }
  for (auto it = kept.begin(); it != kept.end();) it = it->record == entry.record ? kept.erase(it) : it + 1;
  deaf_until_ms = 0;
  block_shown = 0;
  announce(false, say("session.said_back", {entry.code, number(entry.round)}));
}

// What was taken back elsewhere, as in the Logbook, is not there to take back once more.
void App::Inside::forget_gone(Book& book) {
  const auto stands = [&](const Kept& one) {
    for (const model::Session& session : book.athlete(*here).sessions)
      for (const model::SetDone& set : session.sets)
        if (set.id == one.record) return true;
    return false;
  };
  while (!kept.empty() && !stands(kept.back())) kept.pop_back();
}

void App::Inside::take_back_last(Book& book) {
  forget_gone(book);
  if (!kept.empty()) take_back(book, kept.back());
}

}  // namespace slipway::app
