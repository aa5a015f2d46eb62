// Files in and out: what was taken in or refused and is told, what is handed over, and what leaves before a store is let go.
#include <algorithm>
#include <tuple>
#include <utility>

#include "app/app_inside.h"
#include "app/backup.h"
#include "app/key_words.h"
#include "app/local_names.h"
#include "app/overloaded.h"
#include "report/words.h"

namespace slipway::app {

using report::say;

namespace {

// A backup is restored, whatever way it came in: it brings more than entries.
model::Result<TakenIn> take_in_or_restore(Book& book, const std::string& file_name, model::ByteView file, const TakeInWish& wish,
                                         std::optional<Restored>& back) {
  if (!is_backup(file)) {
    auto taken = book.take_in(file_name, file, wish);
    if (taken || taken.error().text != "bundle.sealed_backup") return taken;
  }
  auto restored = restore(book, file_name, file, wish);
  if (!restored) return restored.error();
  back = std::move(*restored);
  return back->taken;
}

}  // namespace

void App::not_read(const std::string& file_name, const model::Error& why) {
  Inside& in = *inside_;
  in.changed = true;
  if (!book_) return in.announce(true, say("exchange.said_refused", {say(why)}));
  in.refuse_file(*book_, file_name, why);
  in.go(screens::Place::exchange);
}

void App::take_in(const std::string& file_name, model::ByteView file) {
  Inside& in = *inside_;
  if (!book_) return not_read(file_name, model::error(model::ErrorKind::busy, "file.no_store", {file_name}));
  in.take_in(*book_, file_name, file, {.ones_own = in.settings.user == DeviceUser::swimmer && !in.facts.demo});
  const bool first_run = in.stage == AppStage::running && !in.here && !in.settings.is_coach() && in.files_waiting.empty();
  if (!first_run) in.go(screens::Place::exchange);
}

void App::Inside::take_in(Book& book, const std::string& file_name, model::ByteView file, const TakeInWish& wish) {
  changed = true;
  std::optional<Restored> back;
  const auto taken = take_in_or_restore(book, file_name, file, wish, back);
  if (!taken && WaitingFiles::waits_for(taken.error())) {
    announce(true, say(taken.error()));
    files_waiting.add({file_name, {file.begin(), file.end()}, wish, taken.error()});
    return;
  }
  if (!taken) return refuse_file(book, file_name, taken.error());
  std::string sentence = sentence_of(*taken);
  if (back) {
    sentence += " " + say(!back->findings.empty() ? "exchange.sentence_back_findings" : back->same ? "exchange.sentence_back_same" : "exchange.sentence_back_more", {back->made});
    if (back->settings_taken) settings = Settings::read(book);
  }
  if (const std::size_t asks = marks_to_answer(book, 0); asks > 0) sentence += " " + count_words(asks, "erase.sentence_asked_one", "erase.sentence_asked_many");
  announce(false, sentence);
  Desk now = desk(book);
  const auto out_of_sight = hidden_scopes(now);
  if (!here || std::find(out_of_sight.begin(), out_of_sight.end(), *here) != out_of_sight.end()) find_here(book);
  static_cast<void>(book.tidy());
  if (taken->fresh > 0) ask_to_persist();
  add_result(book, file_name, say(taken->squad ? "exchange.paired" : taken->fresh > 0 ? "exchange.new" : taken->dropped > 0 ? "exchange.left_out" : "exchange.known"), sentence, false);
}

void App::Inside::refuse_file(Book& book, const std::string& file_name, const model::Error& why) {
  const std::string sentence = say(why);
  announce(true, say("exchange.said_refused", {sentence}));
  add_result(book, file_name, say("exchange.refused"), sentence, true);
}

void App::Inside::add_result(Book& book, const std::string& file_name, const std::string& word, const std::string& sentence, bool refused) {
  results.insert(results.begin(), {.file_name = file_name, .word = word, .sentence = sentence, .refused = refused,
                                   .spoken = say("exchange.result_spoken", {file_name, word, sentence})});
  if (book.settles_later()) results_unsettled += 1;
}

void App::Inside::act_desk(Book& book, const screens::ExchangeAnswer& given) {
  if (is_locked(book)) return;
  if (given.part >= HandOverChoice::kFirstPart) {
    Desk now = desk(book);
    return exchanged.going_out.answer(now, given);
  }
  for (const WaitingFiles::File& file : files_waiting.answer(given)) take_in(book, file.name, file.bytes, file.wish);
}

std::vector<screens::FileResult> App::Inside::shown_results(const Book& book) const {
  auto shown_now = results;
  for (std::size_t i = 0; i < std::min(results_unsettled, shown_now.size()); ++i) {
    screens::FileResult& row = shown_now[i];
    if (row.refused) continue;
    row.word = say(book.saving() ? "session.keeping" : "exchange.not_kept");
    row.spoken = say("exchange.result_spoken", {row.file_name, row.word, row.sentence});
  }
  return shown_now;
}

std::string App::Inside::sentence_of(const TakenIn& taken) {
  if (taken.squad) return joined_words(*taken.squad);
  std::string text = taken.fresh > 0 ? say("exchange.sentence_new", {report::number(taken.fresh), report::number(taken.known)})
                                     : say("exchange.sentence_known", {counted_entries(taken.known)});
  const auto add = [&text](const std::string& more) { text += " " + more; };
  if (taken.not_understood > 0) add(say("exchange.sentence_unknown", {counted_entries(taken.not_understood)}));
  if (taken.forks > 0) add(say("exchange.sentence_fork"));
  if (taken.dropped > 0) add(say("exchange.of_erased", {counted_entries(taken.dropped)}));
  if (taken.own_past) add(say("exchange.sentence_own_past"));
  std::string spans;
  for (const std::string& span : taken.missing) spans += (spans.empty() ? "" : ", ") + span;
  if (!spans.empty()) add(say("exchange.sentence_missing", {spans}));
  if (const std::string from = sender_words(taken); !from.empty()) add(from);
  return text;
}

void App::not_handed_over() {
  Inside& in = *inside_;
  if (!book_) return;
  if (in.handed_before) {
    std::tie(in.handed_over, in.handed_at) = *std::exchange(in.handed_before, std::nullopt);
    book_->set_local(kHandedOverName, model::as_bytes(in.handed_over));
  }
  book_->not_copied();
  in.announce(true, say("exchange.said_not_out"));
}

void App::Inside::act_exchange(Book& book, const screens::ExchangeIntent& intent) {
  if (is_locked(book)) return;
  std::visit(Overloaded{[&](const screens::HandOverFile&) { hand_over_chosen(book, false); },
                        [&](const screens::HandOverText&) { hand_over_chosen(book, true); },
                        [&](const screens::HandOverOpen&) { hand_over_chosen(book, false, OutSeal::For::open); },
                        [&](const screens::TakeInFile&) { exchange.ask_for_file(); },
                        [&](const auto&) {
                          Desk now = desk(book);
                          exchanged.act(now, intent);
                        }},
             intent);
}

bool App::Inside::hand_over(Book& book) {
  // What is not kept must be able to leave, whoever is looking.
  if (is_locked(book) && book.waiting() == 0) {
    announce(true, say("pin.locked_line"));
    go(screens::Place::exchange);
    return false;
  }
  const bool coach = author() == Author::coach;
  const bool rescue = book.waiting() > 0 || !facts.storage_kept;
  if (coach && !rescue) {
    exchanged.going_out.ask();
    announce(false, say("hand_over.choose"));
    go(screens::Place::exchange);
    return false;
  }
  // What is only in memory leaves whole. Coaches' notes only if they are among it: the file may go to anybody.
  const bool notes = coach && !book.coach_notes().empty() && (!facts.storage_kept || book.waits_in(model::ScopeIs::coach_notes));
  Book::HandOver asked{.libraries = coach, .coach_notes = notes};
  const bool whole = settings.user == DeviceUser::shared && !facts.storage_kept;
  if (here && !coach && !whole) asked.athletes = own_and_waiting(book, *here);
  const bool out = hand_over(book, asked, false, OutSeal::For::usual);
  if (out && notes) announce(true, say("hand_over.with_notes"));
  return out;
}

void App::Inside::hand_over_chosen(Book& book, bool as_text, OutSeal::For whom) {
  Desk now = desk(book);
  if (const auto asked = exchanged.going_out.asked(now)) {
    hand_over(book, *asked, as_text, whom);
    return;
  }
  exchanged.going_out.ask();
  announce(false, say("hand_over.choose"));
}

bool App::Inside::hand_over(Book& book, const Book::HandOver& asked, bool as_text, OutSeal::For whom) {
  const auto bundle = book.make_bundle(asked, {.whom = whom});
  if (!bundle) {
    announce(true, say(bundle.error()));
    return false;
  }
  // Nothing personal in a file name: the day and a few signs of the content.
  const model::ClaimedTime now = clock.now();
  const std::string name = "slipway-" + model::iso(model::day_of(now)) + "-" + ops::blake2b(*bundle).hex().substr(0, 6);
  if (as_text) {
    const std::string text = sync::armour(*bundle);
    exchange.hand_over(name + ".slip.txt", model::as_bytes(text));
  } else {
    exchange.hand_over(name + ".slip", *bundle);
  }
  handed_before = {handed_over, handed_at};
  handed_over = model::weekday_date(model::day_of(now)) + ", " + model::clock(now);
  handed_at = model::clock(now);
  book.set_local(kHandedOverName, model::as_bytes(handed_over));
  ask_to_persist();
  book.note_copied(asked);
  announce(false, say("exchange.said_out"));
  return true;
}

bool App::rescue() {
  if (!book_ || book_->waiting() == 0) return false;
  const bool refused = book_->trouble().has_value();
  if (book_->try_again() || (book_->saving() && !refused)) return false;
  inside_->rescued = inside_->hand_over(*book_);
  return inside_->rescued;
}

}  // namespace slipway::app
