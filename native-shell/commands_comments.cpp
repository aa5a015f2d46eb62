#include "answers.h"
#include "commands.h"

namespace slipway::native {

namespace {

std::vector<model::RecordId> entries_of(const model::Athlete& athlete) {
  std::vector<model::RecordId> all;
  for (const model::Session& session : athlete.sessions) {
    all.push_back(session.id);
    for (const model::SetDone& set : session.sets) all.push_back(set.id);
  }
  return all;
}

std::vector<model::RecordId> notes_of(app::Book& book, const model::ScopeId& who) {
  std::vector<model::RecordId> all;
  for (const app::Book::NoteShown& one : book.notes(who)) all.push_back(one.note.id);
  return all;
}

model::Result<model::Done> add(app::Book& book, const model::ScopeId& who, const Request& asked) {
  app::Book::NoteEntry entry{.text = asked.note, .coach_only = asked.coach_only};
  if (!asked.entry.empty()) {
    const auto about = entry_named(entries_of(book.athlete(who)), asked.entry);
    if (!about) return about.error();
    entry.about = *about;
  }
  const auto added = book.add_note(who, entry, asked.author);
  return added ? model::Result<model::Done>(model::Done{}) : added.error();
}

model::Result<model::Done> write(app::Book& book, const model::ScopeId& who, const Request& asked) {
  if (asked.command == Command::comment_list) return model::Done{};
  if (asked.command == Command::comment_add) return add(book, who, asked);
  const auto note = entry_named(notes_of(book, who), asked.entry);
  if (!note) return note.error();
  if (asked.command == Command::comment_change) return book.change_note(who, *note, asked.note, asked.author);
  return book.take_back_note(who, *note, asked.author);
}

}  // namespace

int run_comment(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = desk.book().find_athlete(asked.who);
  if (!who) return desk.refuse(who.error());
  if (const auto done = write(desk.book(), *who, asked); !done) return desk.refuse(done.error());
  if (const auto kept = desk.kept(); !kept) return desk.refuse(kept.error());
  const Comments all{{*who, desk.book().athlete(*who).name.value_or("")}, desk.book().notes(*who)};
  return desk.answer(json::comments(all), words::comments(all));
}

int run_keep_it(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto who = desk.book().find_athlete(asked.who);
  if (!who) return desk.refuse(who.error());
  std::vector<model::RecordId> back;
  for (const model::CameBack& one : desk.book().athlete(*who).came_back) back.push_back(one.id);
  const auto entry = entry_named(back, asked.entry);
  if (!entry) return desk.refuse(entry.error());
  if (const auto done = desk.book().keep_it(*who, *entry, asked.author); !done) return desk.refuse(done.error());
  if (const auto kept = desk.kept(); !kept) return desk.refuse(kept.error());
  const NotedFact fact{{*who, desk.book().athlete(*who).name.value_or("")}, "keep", *entry, model::day_of(desk.book().now())};
  return desk.answer(json::noted(fact), words::noted(fact));
}

}  // namespace slipway::native
