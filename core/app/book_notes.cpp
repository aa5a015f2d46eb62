// The verbs of what is not a number: notes, preferences, words of lists, and what came back.
#include <algorithm>

#include "app/book_scope.h"
#include "app/book_values.h"
#include "ops/registry.h"
#include "ops/views.h"

namespace slipway::app {

namespace {

namespace kind = ops::kind;
namespace tag = ops::tag;

Refusal refuse_text(std::string_view text) {
  if (text.empty()) return invalid("value.note_empty");
  return refuse_comment(text);
}

}  // namespace

std::vector<Book::Scope*> Book::notes_about(const model::ScopeId& athlete_scope) {
  std::vector<Scope*> found;
  for (const model::ScopeId& id : coach_notes())
    if (Scope& scope = *scopes_.at(id); scope.notes_of_coaches().athlete == athlete_scope) found.push_back(&scope);
  return found;
}

Book::Scope* Book::scope_of_note(const model::ScopeId& athlete_scope, const model::RecordId& note) {
  std::vector<Scope*> places = notes_about(athlete_scope);
  if (const auto found = scopes_.find(athlete_scope); found != scopes_.end()) places.push_back(found->second.get());
  for (Scope* scope : places)
    if (find_record(*scope, note, kind::note) != nullptr) return scope;
  return nullptr;
}

model::Result<model::RecordId> Book::add_note(const model::ScopeId& scope_id, const NoteEntry& entry, Author author) {
  const auto athlete_scope = open_scope(scope_id);
  if (!athlete_scope) return athlete_scope.error();
  const auto day = [](model::Day value) { return refuse_day(value); };
  if (auto error = first_of(refuse_text(entry.text), if_given(entry.day, day))) return *error;
  if (entry.coach_only && author != Author::coach) return invalid("value.coach_only");
  // A reference would carry the athlete's own record into a scope that must be readable alone.
  if (entry.coach_only && entry.about) return invalid("value.coach_only_about");
  if (entry.about && find_record(**athlete_scope, *entry.about, kind::session) == nullptr &&
      find_record(**athlete_scope, *entry.about, kind::set) == nullptr)
    return unknown_record(*entry.about);
  Scope* scope = *athlete_scope;
  if (entry.coach_only) {
    const auto held = notes_about(scope_id);
    if (!held.empty()) {
      scope = held.front();
    } else {
      model::ScopeId id;
      outside_.random.fill(id.bytes);
      scope = &scope_of(id);
      write(*scope, kind::coach_notes, {ops::bytes_field(ops::coach_notes_tag::athlete, scope_id.view())}, author);
    }
  }
  Fields fields(opening().inc);
  fields.text(ops::note_tag::text, entry.text).ref(ops::note_tag::about, entry.about);
  if (entry.day) fields.day(ops::note_tag::day, *entry.day);
  const model::RecordId note = keep(*scope, kind::note, fields.take(), author);
  if (const auto sealed = seal_new_notes(); !sealed) trouble_ = sealed.error();  // tidy() tries it again
  return note;
}

model::Result<model::Done> Book::change_note(const model::ScopeId& scope_id, const model::RecordId& note, std::string_view text,
                                             Author author) {
  if (const auto may = writable(); !may) return may.error();
  if (auto error = refuse_text(text)) return *error;
  Scope* scope = scope_of_note(scope_id, note);
  if (scope == nullptr) return unknown_record(note);
  change(*scope, note, Fields(opening().inc).text(ops::note_tag::text, text).take(), author);
  settle(nullptr);
  return model::Done{};
}

model::Result<model::Done> Book::take_back_note(const model::ScopeId& scope_id, const model::RecordId& note, Author author) {
  Scope* scope = scope_of_note(scope_id, note);
  if (scope == nullptr) return unknown_record(note);
  return take_back(scope->fold().scope(), note, author);
}

std::vector<Book::NoteShown> Book::notes(const model::ScopeId& scope_id) {
  std::vector<NoteShown> out;
  for (const model::Note& note : athlete(scope_id).notes) out.push_back({note, false});
  for (const Scope* scope : notes_about(scope_id))
    for (const model::Note& note : scope->notes_of_coaches().notes) out.push_back({note, true});
  // Of two scopes: their counts say nothing of each other, so the day as claimed orders what is drawn.
  std::stable_sort(out.begin(), out.end(), [](const NoteShown& a, const NoteShown& b) {
    return a.note.by.claimed.local_ms < b.note.by.claimed.local_ms;
  });
  return out;
}

model::Result<model::Done> Book::prefer(const model::ScopeId& scope_id, std::string_view name, std::string_view value, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  if (auto error = first_of(refuse_word(name), refuse_word(value))) return *error;
  for (const model::Preference& one : athlete(scope_id).preferences)
    if (one.name == name && one.value == value) return model::Done{};
  keep(**scope, kind::preference,
       Fields(opening().inc).text(ops::preference_tag::name, name).text(ops::preference_tag::value, value).take(), author);
  return model::Done{};
}

void Book::set_words(Scope& scope, std::string_view list, const std::vector<std::string>& words, Author author) {
  const auto standing = ops::standing_words(scope.fold(), list);
  const model::IncarnationId home = opening().inc;
  for (const auto& [word, records] : standing) {
    if (std::find(words.begin(), words.end(), word) != words.end()) continue;
    for (const model::RecordId& id : records) {
      if (scope.newer_only.count(id) != 0) continue;  // stays: a limit too many is the safer one
      write(scope, kind::take_back,
            {ops::refs_field(tag::target, {id}, home), ops::saw_field(ops::seen_touches(*scope.fold().find(id)), home)}, author);
    }
  }
  for (const std::string& word : words) {
    const bool there = std::any_of(standing.begin(), standing.end(), [&](const auto& one) { return one.first == word; });
    if (!there) write(scope, kind::member, Fields(home).text(ops::member_tag::list, list).text(ops::member_tag::word, word).take(), author);
  }
}

model::Result<model::Done> Book::keep_it(const model::ScopeId& scope_id, const model::RecordId& id, Author author) {
  const auto scope = open_scope(scope_id);
  if (!scope) return scope.error();
  const ops::Record* record = (*scope)->fold().find(id);
  if (record == nullptr || !record->revived() || (*scope)->newer_only.count(id) != 0) return unknown_record(id);
  std::vector<model::OpKey> answered;
  for (const auto& [key, stamp] : record->acts->take_backs)
    if (record->acts->kept_against.count(key) == 0) answered.push_back(key);
  const model::IncarnationId home = opening().inc;
  write(**scope, kind::change, {ops::refs_field(tag::target, {id}, home), ops::saw_field(answered, home)}, author);
  settle(nullptr);
  return model::Done{};
}

}  // namespace slipway::app
