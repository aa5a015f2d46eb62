// What the commands answer: facts first, then the same facts as JSON or as words.
//
// JSON is written in the answers' own .cpp files and nowhere else; its keys are documented
// by each command's --help.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/archive.h"
#include "app/backup.h"
#include "app/book.h"
#include "app/day_plan.h"
#include "app/needs.h"
#include "model/athlete.h"
#include "model/result.h"
#include "sync/bundle.h"

namespace slipway::native {

struct Person {
  model::ScopeId id;
  std::string name;
};

struct Kept {  // an entry that was written and is kept
  Person who;
  model::RecordId entry;
  model::Day day;
  bool taken_back = false;
  model::SetDone set;  // as it stands now
};

struct NotedFact {  // a fact that was written and is kept
  Person who;
  std::string what;  // "pain", "sign_off" …
  model::RecordId entry;
  model::Day day;
  std::string care = {};  // what to do now, said at once
};

struct Coming {  // the session that comes, as the rules have it now
  Person who;
  const model::Athlete* athlete = nullptr;
  app::DayPlan plan;
};

struct SquadList {
  model::Day day;
  std::uint64_t athletes = 0;
  struct Line {
    Person who;
    std::vector<app::NeedFact> facts;
  };
  std::vector<Line> lines;  // most urgent first
  std::vector<std::string> sealed = {};  // names: shut, and not looked at
};

struct Report {
  Coming coming;
  std::vector<app::NeedFact> needs;
  std::vector<app::MissingStretch> missing;  // of this athlete
  model::Day day;
  std::optional<model::Day> since;
  bool shows(model::Day one) const { return !since || !(one < *since); }
};

struct PlanSet {
  Person who;
  std::string field;
};

struct Comments {
  Person who;
  std::vector<app::Book::NoteShown> notes;
};

struct Preview {  // what a bundle would take along
  app::Book::GoesOut out;
  std::vector<Person> athletes;
};

struct Made {  // a bundle on disk
  std::string file;
  std::uint64_t bytes = 0;
  bool text = false;
  std::string hash;
  std::vector<Person> athletes;
  std::uint64_t ops = 0, sets = 0;
  sync::Envelope::How envelope = sync::Envelope::How::open;
  std::string coach;  // whom it is sealed for
};

struct KeysShown {
  std::string device, digits;  // empty digits: nothing was signed yet, and nothing can be
  std::optional<app::CoachKey> coach;
  std::optional<sync::Squad> squad;
  std::vector<app::DeviceKeys::Known> known;
};

struct Exported {  // everything in open forms, on disk
  std::string file;
  app::Archive archive;
};

struct BackedUp {
  std::string file;
  app::Backup backup;
};

struct RestoredFile {
  std::string file;
  app::Restored restored;
};

struct ErasedFile {  // somebody is gone
  model::ScopeId athlete;
  std::string last_export;  // empty: none was wanted
  std::uint64_t ops = 0;    // deleted
};

struct ErasureStatus {
  std::vector<app::ErasedAthlete> erased;
  struct Asked {
    Person who;
    app::EraseRequest request;
  };
  std::vector<Asked> asked;
  std::vector<Person> long_without;
};

struct MergedFile {
  std::string file;
  std::optional<app::TakenIn> taken;  // nothing: refused
  model::Error why;
};
struct Merged {
  std::vector<MergedFile> files;
  std::uint64_t contradictions = 0;
  app::Digests digests;
};

struct LookedSet {
  std::string athlete;
  std::optional<model::Day> day;
  model::SetDone set;  // as it stands after everything in the file
  bool taken_back = false;
};
struct Looked {
  std::string file;
  std::uint64_t bytes = 0;
  sync::ReadBundle bundle;
  std::vector<Person> athletes;
  std::vector<ops::ChainedOp> ops;  // by (lam, incarnation, seq)
  std::vector<LookedSet> sets;      // in the order of ops
  app::Digests digests;             // of a store that held just this file
};

struct Checked {
  app::CheckReport report;
  std::vector<app::MissingStretch> missing;  // known to have been written: none of it makes a store unsound
  std::uint64_t athletes = 0, contradictions = 0;
  bool read_only = false;
  int form = 0;
  std::optional<std::string> last_report = {};  // Book::last_report
};

namespace json {
std::string failed(const model::Error& why);
std::string added(const Person& who);
std::string demo(const std::vector<Person>& who);
std::string listed(const std::vector<const model::Athlete*>& athletes);
std::string athlete(const model::Athlete& athlete);
std::string kept(const Kept& kept);
std::string noted(const NotedFact& fact);
std::string coming(const Coming& coming);
std::string squad(const SquadList& list);
std::string report(const Report& report);
std::string plan(const model::Athlete& athlete);
std::string plan_set(const PlanSet& set, const model::Athlete& athlete);
std::string made(const Made& made);
std::string libraries(const std::vector<Person>& all);
std::string comments(const Comments& comments);
std::string preview(const Preview& preview);
std::string peers(const std::vector<app::Book::PeerKnown>& peers);
std::string taken_in(const std::vector<store::ImportLine>& files);
std::string keys(const KeysShown& shown);
std::string profiles(const std::vector<app::Book::SealedProfile>& all);
std::string file_written(const std::string& file);
std::string exported(const Exported& exported);
std::string backed_up(const BackedUp& backed_up);
std::string restored(const RestoredFile& file);
std::string erased(const ErasedFile& erased);
std::string erasure_status(const ErasureStatus& status);
std::string merged(const Merged& merged);
std::string looked(const Looked& looked);
std::string checked(const Checked& checked);
// A question in JSON, and its answer on one line. `name` empty: the question names it in "compute".
model::Result<std::string> computed(const std::string& name, std::string_view input);
model::Result<std::string> decided(std::string_view input);
std::string failed_line(const model::Error& why, std::uint64_t line);  // of a question among many
}  // namespace json

namespace words {
// Of a refusal, with the option that is its remedy where one is.
std::string refusal(const model::Error& why);
std::string added(const Person& who);
std::string demo(const std::vector<Person>& who);
std::string listed(const std::vector<const model::Athlete*>& athletes);
std::string athlete(const model::Athlete& athlete);
std::string kept(const Kept& kept);
std::string fact_set(const Person& who, const std::string& fact);
std::string pain_place(const model::Pain& pain);  // "shoulder, left"
std::string noted(const NotedFact& fact);
std::string coming(const Coming& coming);
std::string squad(const SquadList& list);
std::string report(const Report& report);
// Each line of the plan as it counts now: of a field written twice the safer value.
std::vector<std::string> plan_lines(const model::Athlete& athlete);
std::string plan(const model::Athlete& athlete);
std::string plan_set(const PlanSet& set, const model::Athlete& athlete);
std::string libraries(const std::vector<Person>& all);
std::string comments(const Comments& comments);
std::string preview(const Preview& preview);
std::string peers(const std::vector<app::Book::PeerKnown>& peers);
std::string taken_in(const std::vector<store::ImportLine>& files);
std::string made(const Made& made);
std::string keys(const KeysShown& shown);
std::string profiles(const std::vector<app::Book::SealedProfile>& all);
std::string exported(const Exported& exported);
std::string backed_up(const BackedUp& backed_up);
std::string restored(const RestoredFile& file);
std::string erased(const ErasedFile& erased);
std::string erasure_status(const ErasureStatus& status);
std::string merged_file(const MergedFile& file);
std::string merged(const Merged& merged);
std::string looked(const Looked& looked);
std::string checked(const Checked& checked);
std::string missing_lines(const std::vector<app::MissingStretch>& gaps);  // one for each; empty where none is
}  // namespace words

// Of somebody known to be under 18: the answer that counts is no. Where nobody was asked yet the screens ask, and nothing is stopped here.
bool said_no(const model::Athlete& athlete, model::ConsentThing thing, model::Day day);

std::string short_id(const model::ScopeId& id);       // the first signs, enough to name it
std::string short_entry(const model::RecordId& entry);

}  // namespace slipway::native
