#include "json_parts.h"
#include "report/words.h"

namespace slipway::native::json {

std::string libraries(const std::vector<Person>& all) { return text({{"libraries", people(all)}}); }

std::string comments(const Comments& comments) {
  Json notes = Json::array();
  for (const app::Book::NoteShown& one : comments.notes)
    notes.push_back({{"entry", model::to_text(one.note.id)},
                     {"text", of(one.note.text)},
                     {"coach_only", one.coach_only},
                     {"about", one.note.about ? Json(model::to_text(*one.note.about)) : Json()},
                     {"day", of(one.note.day)},
                     {"revived", one.note.revived},
                     {"by", of(one.note.by)}});
  return text({{"athlete", of(comments.who)}, {"notes", notes}});
}

std::string preview(const Preview& preview) {
  Json texts = Json::array();
  for (const app::Book::GoesOut::Text& one : preview.out.first_time)
    texts.push_back({{"scope", one.scope.hex()}, {"kind", one.kind}, {"field", one.field}, {"author", report::author_word(one.author)}, {"text", one.text}});
  return text({{"athletes", people(preview.athletes)},
               {"libraries", preview.out.libraries},
               {"coach_notes", preview.out.coach_notes},
               {"entries", preview.out.entries},
               {"sets", preview.out.sets},
               {"held_there", preview.out.held_there},
               {"first_time", texts}});
}

std::string peers(const std::vector<app::Book::PeerKnown>& peers) {
  Json all = Json::array();
  for (const app::Book::PeerKnown& peer : peers)
    all.push_back({{"device", peer.device.hex()}, {"heard", peer.claimed}, {"export_counter", peer.export_counter}, {"lacks", peer.lacks}});
  return text({{"peers", all}});
}

std::string taken_in(const std::vector<store::ImportLine>& files) {
  Json all = Json::array();
  for (const store::ImportLine& file : files)
    all.push_back({{"file", file.file_name}, {"hash", file.bundle_hash.hex()}, {"claimed", file.claimed}, {"fresh", file.fresh},
                   {"known", file.known}, {"not_understood", file.not_understood}, {"forks", file.forks}});
  return text({{"files", all}});
}

}  // namespace slipway::native::json
