#include "app/hand_over_choice.h"

#include <algorithm>
#include <map>

#include "app/sealed_desk.h"
#include "report/words.h"

namespace slipway::app {

using report::say;
using screens::number_of;

namespace {

enum class Part : std::uint32_t { whom = HandOverChoice::kFirstPart, along, goes_out, first_time, text };
enum class Along : std::uint32_t { libraries, coach_notes };

bool same(const Book::HandOver& a, const Book::HandOver& b) {
  return a.athletes == b.athletes && a.libraries == b.libraries && a.coach_notes == b.coach_notes;
}

screens::FormPart words(Part part, std::string label, std::string detail = {}) {
  return {.kind = screens::FormKind::words, .id = number_of(part), .label = std::move(label), .detail = std::move(detail)};
}

// The name of whoever goes out stands before each text; as a text of its own it would only hide the others.
void drop_own_names(Desk& desk, std::vector<Book::GoesOut::Text>& texts) {
  texts.erase(std::remove_if(texts.begin(), texts.end(), [&](const Book::GoesOut::Text& one) {
    if (one.kind != "athlete" || one.field != "name") return false;
    const std::string* name = desk.book.athlete(one.scope).name.first();
    return name != nullptr && *name == one.text;
  }), texts.end());
}

}  // namespace

bool HandOverChoice::chosen_is_here(Desk& desk) const {
  const auto scopes = desk.book.scopes();
  return std::find(scopes.begin(), scopes.end(), one_) != scopes.end();
}

std::optional<Book::HandOver> HandOverChoice::asked(Desk& desk) const {
  if (!desk.settings.is_coach()) {
    Book::HandOver own;
    if (desk.here) own.athletes = own_and_waiting(desk.book, *desk.here);
    return own;
  }
  if (whom_ == Whom::everybody) return Book::HandOver{.libraries = libraries_, .coach_notes = coach_notes_};
  if (whom_ == Whom::one && chosen_is_here(desk)) return Book::HandOver{.athletes = {one_}};
  return std::nullopt;
}

void HandOverChoice::add_parts(Desk& desk, std::vector<screens::FormPart>& parts) {
  if (desk.settings.is_coach() && asks_) {
    screens::FormPart whom{.kind = screens::FormKind::choices, .id = number_of(Part::whom), .label = say("hand_over.whom")};
    for (const model::ScopeId& scope : scopes_by_name(desk))
      whom.choices.push_back({.label = name_apart(desk, scope), .chosen = whom_ == Whom::one && scope == one_});
    whom.choices.push_back({.label = say("hand_over.everybody"), .spoken = say("hand_over.everybody_spoken"), .chosen = whom_ == Whom::everybody});
    parts.push_back(std::move(whom));
    const bool anything = !desk.book.libraries().empty() || !desk.book.coach_notes().empty();
    if (whom_ == Whom::everybody && anything)
      parts.push_back({.kind = screens::FormKind::ticks,
                       .id = number_of(Part::along),
                       .label = say("hand_over.along"),
                       .choices = {{.label = say("hand_over.libraries"), .chosen = libraries_}, {.label = say("hand_over.coach_notes"), .chosen = coach_notes_}}});
  }
  if (const std::string left_out = left_out_words(desk); desk.settings.is_coach() && !left_out.empty()) parts.push_back(words(Part::goes_out, left_out));
  if (const auto now = asked(desk)) add_preview(desk, *now, parts);
}

// Free text can name other people: what was never out before is shown before it goes.
void HandOverChoice::add_preview(Desk& desk, const Book::HandOver& asked, std::vector<screens::FormPart>& parts) {
  const bool known = shown_for_ && shown_for_->revision == desk.book.revision() && shown_for_->waiting == desk.book.waiting() &&
                     shown_for_->last_out == desk.handed_over && shown_for_->user == desk.settings.user && same(shown_for_->asked, asked);
  if (!known) {
    auto preview = desk.book.preview(asked);
    if (!preview) return;  // handing over says why
    shown_ = std::move(*preview);
    drop_own_names(desk, shown_.first_time);
    shown_for_ = {desk.book.revision(), desk.book.waiting(), desk.handed_over, asked, desk.settings.user};
    word_texts(desk);
  }
  if (desk.settings.is_coach())
    parts.push_back(words(Part::goes_out, say("hand_over.goes_out", {count_words(shown_.athletes.size(), "hand_over.athlete_one", "hand_over.athlete_many"),
                                                                     count_words(shown_.entries, "exchange.entry_one", "exchange.entry_many")})));
  if (shown_.first_time.empty()) return;
  parts.push_back(words(Part::first_time, count_words(shown_.first_time.size(), "hand_over.first_time_one", "hand_over.first_time_many"), say("hand_over.first_time_why")));
  parts.insert(parts.end(), texts_.begin(), texts_.end());
}

// All of them: going out, each counts as shown. Put into words once, for they may be many.
void HandOverChoice::word_texts(Desk& desk) {
  texts_.clear();
  const auto scopes = desk.book.scopes();
  std::map<model::ScopeId, std::string> names;
  for (const Book::GoesOut::Text& text : shown_.first_time) {
    // What is the athlete's own needs no name beside it, and what nobody signed has none.
    const bool own = text.author == static_cast<std::uint64_t>(Author::swimmer) || text.author == 0;
    const auto [name, fresh] = names.try_emplace(text.scope);
    if (fresh) name->second = std::find(scopes.begin(), scopes.end(), text.scope) != scopes.end() ? name_apart(desk, text.scope) : say("hand_over.nobody");
    texts_.push_back(words(Part::text, say(own ? "hand_over.text" : "hand_over.text_by", {name->second, text.text, report::author_word(text.author)})));
  }
}

void HandOverChoice::answer(Desk& desk, const screens::ExchangeAnswer& given) {
  if (!desk.settings.is_coach()) return;
  if (given.part == number_of(Part::whom)) {
    const auto scopes = scopes_by_name(desk);
    whom_ = given.choice < scopes.size() ? Whom::one : Whom::everybody;
    if (whom_ == Whom::one) one_ = scopes[given.choice];
    libraries_ = coach_notes_ = false;
  } else if (given.part == number_of(Part::along)) {
    bool& along = given.choice == number_of(Along::libraries) ? libraries_ : coach_notes_;
    along = !along;
  }
}

}  // namespace slipway::app
