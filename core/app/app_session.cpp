// What the Session place's intents do.
#include "app/app_inside.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

constexpr std::string_view kDraftName = "draft.set";

template <class... Cases>
struct Overloaded : Cases... {
  using Cases::operator()...;
};
template <class... Cases>
Overloaded(Cases...) -> Overloaded<Cases...>;

std::string spoken_dose(std::uint64_t reps, const std::optional<model::Quantity>& load) {
  return load ? say("session.cell_dose", {number(reps), report::spoken_load(*load)}) : number(reps);
}

}  // namespace

BoardState App::Inside::board_state(Book& book) {
  return {book.athlete(*here), today(), [&book](const model::OpKey& key) { return book.waits(key); }};
}

void App::Inside::act_session(Book& book, const screens::SessionIntent& intent) {
  if (!here) return;
  const auto drafted = [&](auto change) {
    if (!draft) return;
    change(*draft);
    draft_dirty = true;
  };
  std::visit(Overloaded{[&](const screens::LogAsWritten&) { log_as_written(book); },
                        [&](const screens::OpenChange& open) { open_change(book, open.round); },
                        [&](const screens::TakeBack&) { take_back_last(book); },
                        [&](const screens::SetDraftReps& set) {
                          drafted([&](SetDraft& now) {
                            const bool fits = set.reps >= 0 && set.reps <= static_cast<std::int64_t>(kMaxReps);
                            now.reps_refused = fits ? "" : std::to_string(set.reps);
                            if (fits) now.reps = set.reps;
                          });
                        },
                        [&](const screens::ChooseDraftLoad& choose) {
                          drafted([&](SetDraft& now) { choose_load(book.athlete(*here), now, choose.choice); });
                        },
                        [&](const screens::ChooseDraftReserve& choose) {
                          drafted([&](SetDraft& now) { if (choose.choice <= kMaxRir) now.rir = choose.choice; });
                        },
                        [&](const screens::KeepChange&) { keep_change(book, false); },
                        [&](const screens::LeaveAsWritten&) { close_draft(); },
                        [&](const screens::MarkLeftOut&) { keep_change(book, true); },
                        [&](const screens::TakeBackThis&) {
                          if (!draft || !draft->mends) return;
                          const Kept entry{*draft->mends, draft->round};
                          close_draft();
                          take_back(book, entry);
                        },
                        [&](const screens::TryAgain&) {
                          if (book.try_again()) kept_at = model::clock(clock.now());
                        },
                        [&](const screens::HandOver&) { hand_over(book, false); },
                        [](const auto&) {}},
             intent);
}

void App::Inside::close_draft() {
  draft.reset();
  draft_dirty = true;
}

void App::Inside::log_as_written(Book& book) {
  if (clock.monotonic_ms() < deaf_until_ms) return;  // a double tap never logs two sets
  const BoardState state = board_state(book);
  const WrittenDose dose = written_dose(state.athlete);
  if (dose.rung == nullptr) return;
  const std::uint64_t round = next_round(state);
  if (round > kMaxRounds) return;
  // As written says nothing of the reserve: what was not asked is not claimed.
  const SetEntry entry{.exercise = dose.rung->id,
                       .round = round,
                       .reps = dose.reps,
                       .load = dose.load,
                       .rir = std::nullopt,
                       .written_reps = dose.reps,
                       .written_load = dose.load};
  const auto logged = book.log_set(*here, entry, today(), facts.author);
  if (!logged) {
    announce(true, say(logged.error()));
    return;
  }
  deaf_until_ms = clock.monotonic_ms() + kDeafMs;
  after_entry(book, *logged, round, "session.said_kept", {number(round), spoken_dose(entry.reps, entry.load)});
}

void App::Inside::open_change(Book& book, std::uint64_t round) {
  const BoardState state = board_state(book);
  const WrittenDose dose = written_dose(state.athlete);
  if (dose.rung == nullptr || round < 1 || round > kMaxRounds) return;
  SetDraft now;
  now.day = today();
  now.round = round;
  now.reps = static_cast<std::int64_t>(dose.reps);
  now.load = dose.load;
  if (const model::SetDone* set = set_of_round(state.athlete, today(), round)) {
    now.mends = set->id;
    now.reps = static_cast<std::int64_t>(set->reps.value_or(dose.reps));
    if (!set->load.empty()) now.load = *set->load.first();
    if (!set->rir.empty()) now.rir = *set->rir.first();
  } else if (round != next_round(state)) {
    return;  // only the next set or one that was done
  }
  now.around = now.load;
  draft = now;
  draft_dirty = true;
}

void App::Inside::keep_change(Book& book, bool left_out) {
  if (!draft || !draft->reps_refused.empty()) return;
  const SetDraft now = *draft;
  const LocalValue done{std::string(kDraftName), {}};  // the draft ends in the same transaction
  const auto reps = static_cast<std::uint64_t>(now.reps);
  const std::string round = number(now.round);
  const std::string said = left_out ? "session.said_left_out" : now.mends ? "session.said_changed" : "session.said_kept";
  model::RecordId record;
  if (now.mends) {
    const auto& athlete = book.athlete(*here);
    const model::SetDone* set = set_of_round(athlete, today(), now.round);
    SetChange change;
    if (left_out) {
      change.left_out = true;
    } else {
      // Only what differs is written, so that an untouched field keeps its history and a
      // change made elsewhere at the same time stays beside it.
      if (set == nullptr || set->reps.contradiction() || set->reps.value_or(kMaxReps + 1) != reps) change.reps = reps;
      if (now.load && (set == nullptr || set->load.contradiction() || set->load.empty() || !(*set->load.first() == *now.load)))
        change.load = now.load;
      if (now.rir && (set == nullptr || set->rir.contradiction() || set->rir.empty() || *set->rir.first() != *now.rir)) change.rir = now.rir;
      if (set != nullptr && set->left_out) change.left_out = false;
    }
    record = *now.mends;
    const auto mended = book.change_set(*here, record, change, facts.author, &done);
    if (!mended) {
      announce(true, say(mended.error()));
      return;
    }
  } else {
    const WrittenDose dose = written_dose(book.athlete(*here));
    const SetEntry entry{.exercise = dose.rung->id,
                         .round = now.round,
                         .reps = left_out ? 0 : reps,
                         .load = left_out ? std::nullopt : now.load,
                         .rir = left_out ? std::nullopt : now.rir,
                         .written_reps = dose.reps,
                         .written_load = dose.load,
                         .left_out = left_out};
    const auto logged = book.log_set(*here, entry, now.day, facts.author, &done);
    if (!logged) {
      announce(true, say(logged.error()));
      return;
    }
    record = *logged;
  }
  draft.reset();
  draft_dirty = false;
  after_entry(book, record, now.round, said, {round, spoken_dose(reps, now.load)});
}

void App::Inside::after_entry(Book& book, const model::RecordId& record, std::uint64_t round, const std::string& said_id,
                              std::vector<std::string> args) {
  kept.push_back({record, round});
  if (book.waiting() > 0) {
    announce(true, say("session.said_keeping", args));
    return;
  }
  kept_at = model::clock(clock.now());
  announce(false, say(said_id, args));
  if (!persist_asked && facts.storage_kept && !facts.demo) {
    persist_asked = true;
    exchange.ask_to_persist();
  }
}

void App::Inside::take_back(Book& book, const Kept& entry) {
  const auto taken = book.take_back(*here, entry.record, facts.author);
  if (!taken) {
    announce(true, say(taken.error()));
    return;
  }
  for (auto it = kept.begin(); it != kept.end();) it = it->record == entry.record ? kept.erase(it) : it + 1;
  deaf_until_ms = 0;
  announce(false, say("session.said_back", {number(entry.round)}));
}

void App::Inside::take_back_last(Book& book) {
  if (kept.empty()) return;
  take_back(book, kept.back());
}

}  // namespace slipway::app
