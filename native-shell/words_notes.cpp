#include "answers.h"
#include "app/desk.h"
#include "report/words.h"

namespace slipway::native::words {

using report::number;
using report::say;

namespace {

constexpr std::size_t kSigns = 8;

std::string line(const std::string& words) { return words + "\n"; }

}  // namespace

std::string libraries(const std::vector<Person>& all) {
  if (all.empty()) return line(say("cli.library_none"));
  std::string out;
  for (const Person& one : all) out += line(say("cli.library_line", {one.id.hex().substr(0, kSigns), one.name}));
  return out;
}

std::string comments(const Comments& comments) {
  if (comments.notes.empty()) return line(say("cli.comment_none", {comments.who.name}));
  std::string out;
  for (const app::Book::NoteShown& one : comments.notes) {
    const auto& versions = one.note.text.all;
    for (std::size_t i = 0; i < versions.size(); ++i)
      out += line(say(i == 0 ? "cli.comment_line" : "cli.comment_also",
                      {one.note.id.hash.hex(), model::iso(versions[i].by.claimed), report::author_word(versions[i].by.author), versions[i].value,
                       one.coach_only ? " " + say("cli.comment_coach_only") : ""}));
  }
  return out;
}

std::string preview(const Preview& preview) {
  std::string names;
  for (const Person& one : preview.athletes) names += (names.empty() ? "" : ", ") + one.name;
  std::string out = line(say("cli.preview", {names, app::counted_entries(preview.out.entries), app::counted_sets(preview.out.sets)}));
  if (preview.out.held_there > 0) out += line(say("cli.preview_held", {app::counted_entries(preview.out.held_there)}));
  if (preview.out.libraries > 0) out += line(say("cli.preview_libraries", {number(preview.out.libraries)}));
  out += line(say(preview.out.coach_notes > 0 ? "cli.preview_coach_notes" : "cli.preview_no_coach_notes", {number(preview.out.coach_notes)}));
  if (!preview.out.first_time.empty()) out += line(say("cli.preview_texts"));
  for (const app::Book::GoesOut::Text& one : preview.out.first_time) out += line(say(one.author == 0 ? "cli.preview_text" : "cli.preview_text_by", {one.kind, one.field, one.text, report::author_word(one.author)}));
  return out;
}

std::string peers(const std::vector<app::Book::PeerKnown>& peers) {
  if (peers.empty()) return line(say("cli.peers_none"));
  std::string out;
  for (const app::Book::PeerKnown& peer : peers)
    out += line(say("cli.peer_line", {peer.device.hex().substr(0, kSigns), peer.claimed, app::counted_entries(peer.lacks)}));
  return out;
}

std::string taken_in(const std::vector<store::ImportLine>& files) {
  if (files.empty()) return line(say("cli.taken_none"));
  std::string out;
  for (const store::ImportLine& file : files)
    out += line(say("cli.taken_line", {file.claimed, file.file_name.empty() ? file.bundle_hash.hex().substr(0, kSigns) : file.file_name, report::number(file.fresh), report::number(file.known)}));
  return out;
}

}  // namespace slipway::native::words
