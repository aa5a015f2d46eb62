// The views of every place, worded and rounded.
#include "app/app_inside.h"
#include "model/assets.h"
#include "model/table.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;

namespace {

std::vector<std::string> credits() {
  std::vector<std::string> lines;
  const auto table = model::read_table(model::asset("licences.table"));
  if (!table) return lines;
  for (std::size_t row = 0; row < table->rows.size(); ++row)
    lines.push_back(table->cell(row, "name") + ", " + table->cell(row, "licence"));
  return lines;
}

template <class T>
void contradiction_lines(std::vector<std::string>& lines, const std::string& who, const std::string& field, const model::Versions<T>& versions,
                         std::string (*text)(const T&)) {
  if (!versions.contradiction()) return;
  const auto& a = versions.all[0];
  const auto& b = versions.all[1];
  lines.push_back(say("exchange.contradiction", {who, field, text(a.value), report::author_word(a.by.author), text(b.value),
                                                 report::author_word(b.by.author)}));
}

// A panel that only says something: nothing to press.
screens::TroublePanel plain_panel(const std::string& title, const std::string& body) {
  return {.drop = false, .title = title, .body = body, .retry_words = {}, .hand_over_words = {}};
}

std::string whole_text(const std::uint64_t& value) { return number(value); }
std::string load_text(const model::Quantity& load) { return model::to_text(load); }
std::string word_text(const std::string& word) { return word; }

std::vector<std::string> contradictions(const model::Athlete& athlete) {
  std::vector<std::string> lines;
  const std::string who = athlete.name.value_or("");
  contradiction_lines(lines, who, say("field.name"), athlete.name, word_text);
  for (const model::Prescription& plan : athlete.prescriptions) {
    contradiction_lines(lines, who, say("field.exercise"), plan.exercise, word_text);
    contradiction_lines(lines, who, say("field.sets"), plan.sets, whole_text);
    contradiction_lines(lines, who, say("field.reps"), plan.reps, whole_text);
    contradiction_lines(lines, who, say("field.load"), plan.load, load_text);
    contradiction_lines(lines, who, say("field.rir"), plan.rir, whole_text);
    contradiction_lines(lines, who, say("field.rest_ms"), plan.rest_ms, whole_text);
  }
  for (const model::Session& session : athlete.sessions)
    for (const model::SetDone& set : session.sets) {
      contradiction_lines(lines, who, say("field.reps"), set.reps, whole_text);
      contradiction_lines(lines, who, say("field.load"), set.load, load_text);
      contradiction_lines(lines, who, say("field.rir"), set.rir, whole_text);
    }
  return lines;
}

}  // namespace

const screens::AppView& App::view() {
  Inside& in = *inside_;
  screens::AppView& view = in.shown;
  view.bar.clear();
  view.announcements = in.announcements;
  in.day_shown = in.today();
  if (in.stage != AppStage::running || !book_) {
    view.page = in.notice_view();
    return view;
  }
  if (!in.here) {
    view.page = in.start_view();
    return view;
  }
  view.bar_name = say("bar.name");
  view.bar = {{screens::Place::session, say("bar.session"), in.place == screens::Place::session},
              {screens::Place::exchange, say("bar.exchange"), in.place == screens::Place::exchange},
              {screens::Place::about, say("bar.about"), in.place == screens::Place::about}};
  switch (in.place) {
    case screens::Place::session: view.page = in.session_view(*book_); break;
    case screens::Place::exchange: view.page = in.exchange_view(*book_); break;
    case screens::Place::about: view.page = in.about_view(*book_); break;
    default: break;
  }
  return view;
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
      view.paragraphs = {say("notice.taken_body")};
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

screens::StartView App::Inside::start_view() {
  return {.title = say("start.title"),
          .paragraphs = {say("start.about"), say("start.caution_1"), say("start.caution_2")},
          .name_label = say("start.name"),
          .name = name_draft,
          .name_refused = name_refused,
          .start_words = say("start.start"),
          .take_in_words = say("start.take_in"),
          .demo_words = facts.demo ? "" : say("start.demo")};
}

void App::Inside::add_troubles(Book& book, screens::SessionView& view) {
  const store::Opening& opening = book.opening();
  if (book.trouble()) {
    const bool full = book.trouble()->kind == model::ErrorKind::full;
    const std::string remedy = say(full ? "trouble.full_remedy" : "trouble.io_remedy");
    const std::size_t sets = book.waiting_sets();
    view.troubles.push_back({.drop = true,
                             .title = say(full ? "trouble.full_title" : "trouble.io_title"),
                             .body = sets == 1 ? say("trouble.body_one", {remedy}) : say("trouble.body_many", {number(sets), remedy}),
                             .retry_words = say("trouble.retry"),
                             .hand_over_words = say("trouble.hand_over")});
  }
  if (facts.demo) view.troubles.push_back(plain_panel(say("trouble.demo_title"), say("trouble.demo_body")));
  if (!facts.storage_kept && !facts.demo)
    view.troubles.push_back({.drop = false,
                             .title = say("trouble.forgets_title"),
                             .body = say("trouble.forgets_body"),
                             .retry_words = {},
                             .hand_over_words = say("trouble.hand_over")});
  if (opening.read_only)
    view.troubles.push_back({.drop = false,
                             .title = say("trouble.newer_title"),
                             .body = say("trouble.newer_body", {std::to_string(opening.schema_found), std::to_string(store::kSchemaVersion)}),
                             .retry_words = {},
                             .hand_over_words = say("trouble.hand_over")});
  if (opening.cleared) view.troubles.push_back(plain_panel(say("trouble.cleared_title"), say("trouble.cleared_body")));
  if (opening.why == store::WhyNewIncarnation::token_broken && !opening.cleared)
    view.troubles.push_back(plain_panel(say("trouble.copied_title"), say("trouble.copied_body")));
}

void App::Inside::kept_mark(Book& book, screens::SessionView& view) {
  const std::size_t waiting = book.waiting_sets();
  if (waiting > 0) {
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

screens::ExchangeView App::Inside::exchange_view(Book& book) {
  const model::Athlete& athlete = book.athlete(*here);
  std::uint64_t sets = 0;
  std::uint64_t sessions = 0;
  for (const model::Session& session : athlete.sessions) {
    sets += session.sets.size();
    sessions += session.sets.empty() ? 0 : 1;
  }
  return {.title = say("exchange.title"),
          .line = sets == 0 ? say("exchange.line_none") : say("exchange.line", {sets == 1 ? say("exchange.set_one") : say("exchange.set_many", {number(sets)}),
                                                             sessions == 1 ? say("exchange.session_one") : say("exchange.session_many", {number(sessions)})}),
          .hand_over_words = say("exchange.hand_over"),
          .as_text_words = say("exchange.as_text"),
          .take_in_words = say("exchange.take_in"),
          .results_title = say("exchange.results"),
          .results = results,
          .contradictions_title = say("exchange.contradictions"),
          .contradictions = contradictions(athlete)};
}

screens::AboutView App::Inside::about_view(Book& book) {
  screens::AboutView view;
  view.title = say("about.title");
  view.paragraphs = {say("about.what"), say("about.care"), say("start.caution_1"), say("start.caution_2")};
  if (facts.storage_kept) {
    const char* answer = persist_answer == Persisted::granted   ? "about.storage_persisted_yes"
                         : persist_answer == Persisted::refused ? "about.storage_persisted_no"
                                                                : "about.storage_persisted_unknown";
    view.paragraphs.push_back(say("about.storage_kept", {say(answer)}));
  } else {
    view.paragraphs.push_back(say("trouble.forgets_body"));
  }
  view.paragraphs.push_back(say("about.copy", {handed_over.empty() ? say("about.copy_never") : handed_over}));
  view.paragraphs.push_back(say("about.version", {number(sync::kMajor) + "." + number(sync::kMinor),
                                                  std::to_string(book.opening().schema_found)}));
  std::string all;
  for (const std::string& line : credits()) all += (all.empty() ? "" : "; ") + line;
  view.paragraphs.push_back(say("about.licences", {all}));
  return view;
}

}  // namespace slipway::app
