// The book: one store, its folds and its pens, behind the verbs of a swimmer or coach.
//
// The meeting place of ops, store and sync, without a screen: the command line and the
// app both stand on it. Every verb checks its values first (Error invalid: nothing
// stored), writes ops, and settles one transaction. What the storage refuses, or has not answered to yet, waits in
// memory, in order, shown as not kept, offered in bundles, until try_again().
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "app/device_keys.h"
#include "host/clock.h"
#include "host/files.h"
#include "host/random.h"
#include "model/athlete.h"
#include "model/ids.h"
#include "model/result.h"
#include "ops/fold.h"
#include "ops/held.h"
#include "ops/pen.h"
#include "store/store.h"
#include "sync/bundle.h"

namespace slipway::app {

inline constexpr std::uint64_t kMostSoreDays = 60;
inline constexpr std::uint64_t kMaxReps = 100, kMaxHoldSeconds = 600, kMaxRounds = 20, kMaxSets = 10, kMaxRir = 4;
inline constexpr std::int64_t kMaxLoadGrams = 500'000;
inline constexpr std::uint64_t kMaxRestSeconds = 600;
inline constexpr std::uint64_t kMaxPlace = 20;                        // lines of a block, blocks of a session
inline constexpr std::uint64_t kMaxTempoSeconds = 60;                 // each of the four [handbook 1.6]
inline constexpr std::uint64_t kMaxMinutes = 600, kMaxEffortTenths = 100, kMaxPain = 10, kMaxSoreness = 3, kMaxWeeks = 52;
inline constexpr std::int64_t kMinBodyMassGrams = 15'000, kMaxBodyMassGrams = 300'000;
inline constexpr std::size_t kMaxNameLetters = 60, kMaxNoteLetters = 200, kMaxCommentLetters = 1000, kMaxWordLetters = 40, kMaxKitLoads = 200, kMaxWords = 40;
inline constexpr std::int32_t kConsentAge = 16;                       // from here the young person may say it too [handbook 7.1]

struct Archive;

enum class Author : std::uint64_t { swimmer = 1, coach = 2, helper = 3 };

struct Outside {  // outlives the book
  host::Files& files;
  host::Clock& clock;
  host::Random& random;
};

struct KitEntry {  // of a kit that is here already only what is given is changed
  std::optional<std::string> name = {};
  std::optional<std::vector<model::Quantity>> loads = {};
  std::optional<std::vector<std::string>> bands = {};      // thickest first
  std::optional<std::vector<std::string>> equipment = {};  // words of assets/ladders.table
};

struct NewAthlete {
  std::string name;
  std::optional<std::uint64_t> birth_year = {};
  std::optional<std::uint64_t> birth_month = {};
  std::string group = {};
  std::optional<KitEntry> kit = {};  // not given: what a club's corner commonly has
};

struct AthleteChange {  // only what is given is changed
  std::optional<std::string> name = {};
  std::optional<std::uint64_t> birth_year = {}, birth_month = {};
  std::optional<std::string> group = {};
  std::optional<std::vector<std::string>> limitations = {};
  std::optional<std::vector<bool>> training_days = {};  // seven, from Monday
  std::optional<bool> sign_off_gate = {};
};

struct PlanLineEntry {  // a new line needs exercise, sets and reps; of one that is here only what is given is changed
  std::optional<std::string> exercise = {};
  std::optional<std::uint64_t> sets = {}, reps = {}, reps_high = {};
  std::optional<model::Quantity> load = {};
  std::optional<std::uint64_t> rir = {}, rest_ms = {};
  std::optional<std::uint64_t> programme_day = {}, place = {}, block = {};
  std::optional<model::Format> format = {};
  std::optional<std::vector<std::uint64_t>> tempo = {};
  std::optional<std::string> band = {}, grip = {};
};

struct SetEntry {
  std::string exercise;
  std::optional<model::RecordId> session = {};  // missing: the day's, which is begun if there is none
  std::uint64_t round = 1;
  std::uint64_t reps = 0;
  std::optional<model::Quantity> load;
  std::optional<std::uint64_t> rir;
  std::optional<std::uint64_t> written_reps;
  std::optional<model::Quantity> written_load;
  bool left_out = false;
  std::optional<model::Side> side = {};
  bool warm_up = false, form_broke = false, two_more = false;
  std::string band = {}, grip = {};
};

struct SetChange {  // only what is given is changed
  std::optional<std::uint64_t> reps;
  std::optional<model::Quantity> load;
  std::optional<std::uint64_t> rir;
  std::optional<bool> left_out;
  std::optional<bool> warm_up = {}, form_broke = {}, two_more = {};
  std::optional<std::string> band = {}, grip = {};
  std::optional<std::uint64_t> side = {};  // 1 left, 2 right, 3 both
};
inline constexpr std::uint64_t kBothSides = 3;

// A local value that belongs to the same intent, written in the same transaction.
struct LocalValue {
  std::string name;
  model::Bytes value;
};

// Who may open a bundle that goes out.
struct OutSeal {
  enum class For : std::uint8_t {
    usual,       // the coach, on a device that was paired with one; else open
    open,        // anybody
    coach,
    passphrase,  // whoever knows it
  };
  For whom = For::usual;
  std::string passphrase = {};
  sync::PassphraseCost cost = {};
};

struct OutBundle {
  model::Bytes file;
  sync::ReadBundle inside;      // read back before it left: this program would take it in
  std::optional<sync::Squad> sealed_for = {};
};

// What a person has said about a file that comes in.
struct TakeInWish {
  std::string passphrase = {};  // of the file, or of the coach's key
  bool confirmed = false;       // yes, though it is a stranger's, or pairs with another coach
  bool ones_own = false;        // this device is one swimmer's: somebody else's record is asked about, whatever was confirmed
};

struct TakenIn {  // the import report
  std::string file_name;
  model::Hash32 file_hash;
  std::uint64_t fresh = 0, known = 0, not_understood = 0;
  std::uint64_t fresh_sets = 0;
  std::uint64_t forks = 0;
  std::vector<std::string> missing;  // "seq 58..59 of a1b2c3d4"
  bool own_past = false;
  Sender sender = {};
  sync::Envelope::How envelope = sync::Envelope::How::open;  // how it travelled
  std::optional<sync::Squad> squad = {};                     // it was a squad file: from now on sealed to that coach
  std::uint64_t dropped = 0;         // entries of athletes who were erased here: not even looked at
};

// One writing of a set's values, or its taking back. Only what this writer wrote is there.
struct SetVersion {
  model::Writer by;
  std::optional<std::uint64_t> reps = {};
  std::optional<model::Quantity> load = {};
  std::optional<std::uint64_t> rir = {};
  std::optional<bool> left_out = {};
  bool takes_back = false;
  bool stands = false;  // all that it wrote still counts
};

// One writing of the day a session belongs to.
struct DayVersion {
  model::Writer by;
  model::Day day;
  bool stands = false;
};

// Entries of a writer that are not here, though later ones are.
struct MissingStretch {
  model::ScopeId scope;
  model::IncarnationId inc;
  std::uint64_t first = 1, last = 1;
  std::optional<model::ClaimedTime> after = {};  // claimed by the last entry before them
};

struct Digests {
  model::Hash32 ops, views;
};

// Erasing an athlete for good (sync-and-storage 12).
enum class EraseReason : std::uint64_t { asked = 1, left = 2, long_without = 3, mistake = 4 };
struct EraseRequest {  // a mark that came from another device: it deletes nothing until a person here confirms
  model::ScopeId scope;
  model::OpKey mark;
  std::optional<EraseReason> reason = {};
  std::optional<model::Day> asked_since = {};  // first seen here
  bool hides = false;  // it came signed, from a device that is known here and has written about them: they are out of sight
};
struct ErasedAthlete {  // all that is left: no name, no date
  model::ScopeId scope;
  std::optional<EraseReason> reason = {};
  std::vector<model::DeviceId> confirmed_by = {};  // devices whose bundles say that they erased it too
};
inline constexpr std::int32_t kAskAgainDays = 30;       // an unconfirmed mark asks again at each start
inline constexpr std::int32_t kRetentionMonths = 24;    // without an entry: erasing is proposed, never done;

struct CheckReport {
  std::vector<model::Error> findings;  // empty: sound
  std::uint64_t ops = 0, chunks = 0;
  Digests digests;
};
// The columns or the view differ from the entries they are made of: made anew, nothing is lost.
inline bool is_of_the_view(const model::Error& finding) { return finding.text == "check.differs"; }

class Book {
 public:
  // Errors: those of Store::open.
  static model::Result<std::unique_ptr<Book>> open(const Outside& outside, const store::OpenTokens& tokens);

  const store::Opening& opening() const { return store_->opening(); }

  // Athletes, by id. The reference lives until the next verb.
  std::vector<model::ScopeId> scopes() const;
  const model::Athlete& athlete(const model::ScopeId& scope);
  // Scopes of no athlete: plan libraries, and what only coaches hold about an athlete.
  std::vector<model::ScopeId> libraries() const;
  std::vector<model::ScopeId> coach_notes() const;
  const model::Library& library(const model::ScopeId& scope);
  // By whole name, whole id, or the first signs of an id. Errors: not_found, invalid (more than one).
  model::Result<model::ScopeId> find_athlete(std::string_view name_or_id);

  // Oldest first; what was replaced too. Empty: no such set.
  std::vector<SetVersion> set_history(const model::ScopeId& scope, const model::RecordId& set) const;
  std::vector<DayVersion> day_history(const model::ScopeId& scope, const model::RecordId& session) const;
  std::vector<MissingStretch> missing() const;
  // Rises with every op that is read or written, when entries go, and when the view was built anew: the same number, the same record.
  std::uint64_t revision() const { return held_.op_count() + turned_; }
  std::uint64_t op_count() const { return held_.op_count(); }
  std::size_t folds_awake() const;  // of everybody's, how many take their full memory now; for tests and figures

  // With a kit and a starting programme of two sessions in turn, by age and kit (book_start.cpp).
  model::Result<model::ScopeId> add_athlete(const NewAthlete& who, Author author);
  model::Result<model::Done> set_athlete(const model::ScopeId& scope, const AthleteChange& change, Author author);
  // Without an id: one kit more. A kit, like a plan line or a race, goes by take_back().
  model::Result<model::RecordId> set_kit(const model::ScopeId& scope, const std::optional<model::RecordId>& kit, const KitEntry& entry,
                                         Author author);

  // The plan. A first programme of two sessions in turn, by age and the first kit, for somebody without one.
  model::Result<model::Done> start_programme(const model::ScopeId& scope, Author author);
  model::Result<model::RecordId> add_plan_line(const model::ScopeId& scope, const PlanLineEntry& line, Author author);
  model::Result<model::Done> change_plan_line(const model::ScopeId& scope, const model::RecordId& line, const PlanLineEntry& change,
                                              Author author);
  // Of that line, without one of the first that was made. field: exercise, sets, reps, load, rir, rest; value as typed. Like every change it
  // names every value it saw, so it settles a contradiction it was shown.
  model::Result<model::Done> set_plan(const model::ScopeId& scope, std::string_view field, std::string_view value, Author author,
                                     const std::optional<model::RecordId>& line = {});
  // Puts the line between two others of its plan by writing one value: nothing else moves. No `after`: to the front.
  model::Result<model::Done> move_plan_line(const model::ScopeId& scope, const model::RecordId& line,
                                            const std::optional<model::RecordId>& after, Author author);
  // A plan library: lines of nobody, in a scope of its own. add_plan_line, change_plan_line and take_back work on it too.
  model::Result<model::ScopeId> add_library(std::string_view name, Author author);
  // Copies the lines by value, with everything needed to show them and no word of where they came from, in one
  // transaction. `instead`: those now there are taken off the plan. Errors: not_found; invalid (no line there).
  model::Result<std::uint64_t> copy_plan(const model::ScopeId& from, const model::ScopeId& to, bool instead, Author author);
  model::Result<model::RecordId> set_programme(const model::ScopeId& scope, const model::Programme& programme, Author author);

  // Session and sets. One session a training day: begun again it is the same one, and takes
  // programme day and kit if it has none.
  model::Result<model::RecordId> begin_session(const model::ScopeId& scope, model::Day training_day,
                                               std::optional<std::uint64_t> programme_day, const std::optional<model::RecordId>& kit,
                                               Author author);
  // A session that stands on a wrong day. Errors: not_found; invalid (the day, or another session is there already).
  model::Result<model::Done> move_session(const model::ScopeId& scope, const model::RecordId& session, model::Day to, Author author);
  // Begins a session of the training day first, if none of that day is here.
  // Whether log_set() would take the values: to be asked before a session is begun for them.
  static model::Result<model::Done> may_log(const SetEntry& entry);
  model::Result<model::RecordId> log_set(const model::ScopeId& scope, const SetEntry& entry, model::Day training_day,
                                         Author author, const LocalValue* with = nullptr);
  model::Result<model::Done> change_set(const model::ScopeId& scope, const model::RecordId& set, const SetChange& change,
                                        Author author, const LocalValue* with = nullptr);
  // Of set, session, plan line, kit, race, key swim and other facts; of tick-in and clearance: it no
  // longer counts. Pain, red flag, sign-off and consent are never taken back (Error not_found).
  model::Result<model::Done> take_back(const model::ScopeId& scope, const model::RecordId& record, Author author);
  model::Result<model::RecordId> finish_session(const model::ScopeId& scope, const model::RecordId& session, const model::Finish& finish,
                                                Author author);
  // The doses shown, all in one transaction.
  model::Result<model::Done> note_decisions(const model::ScopeId& scope, const std::vector<model::Decision>& decisions, Author author);
  model::Result<model::RecordId> swap(const model::ScopeId& scope, const model::Swap& swap, Author author);

  // Facts. `id` and `by` of what is handed in are not read.
  // The coach may overrule all rows but G01, G02, G11 and a firm R01 (pain of 6 or more or a local red
  // flag; of a youth every R01); an adult swimmer G08, G09, G10 and G12.
  model::Result<model::RecordId> overrule(const model::ScopeId& scope, const model::Overrule& overrule, Author author);
  bool may_overrule(const model::ScopeId& scope, const model::Overrule& overrule, Author author);
  model::Result<model::RecordId> note_pain(const model::ScopeId& scope, std::string_view region, std::uint64_t band, Author author);
  model::Result<model::RecordId> note_pain(const model::ScopeId& scope, const model::Pain& pain, Author author);  // the band follows an amount
  // Side and exact number, said after the report was kept; an amount stays inside the band.
  model::Result<model::Done> detail_pain(const model::ScopeId& scope, const model::RecordId& pain, std::optional<std::uint64_t> amount,
                                         std::optional<std::uint64_t> side, Author author);
  model::Result<model::Done> settle_pain(const model::ScopeId& scope, const model::RecordId& pain, bool normal_next_morning, Author author);
  enum class PainEnd : std::uint64_t { resolved = 1, withdrawn = 2 };
  model::Result<model::Done> end_pain(const model::ScopeId& scope, const model::RecordId& pain, PainEnd how, std::string_view note,
                                      Author author);
  // Answers for regions, all in one transaction; said again for a day and region, the new answer counts.
  model::Result<model::Done> note_soreness(const model::ScopeId& scope, const std::vector<model::Soreness>& answers, Author author);
  model::Result<model::RecordId> note_check(const model::ScopeId& scope, model::Day day, const std::optional<model::RecordId>& session,
                                            Author author);
  model::Result<model::RecordId> note_red_flag(const model::ScopeId& scope, const model::RedFlag& flag, Author author);
  model::Result<model::RecordId> note_clearance(const model::ScopeId& scope, const model::Clearance& clearance, Author author);
  model::Result<model::RecordId> note_body_mass(const model::ScopeId& scope, const model::BodyMass& mass, Author author);
  model::Result<model::RecordId> note_illness(const model::ScopeId& scope, const model::Illness& illness, Author author);
  model::Result<model::RecordId> sign_off(const model::ScopeId& scope, const model::SignOff& seen, Author author);
  model::Result<model::RecordId> withdraw_sign_off(const model::ScopeId& scope, std::string_view exercise, std::string_view note,
                                                   model::Day day, model::AdultRole role, Author author);
  model::Result<model::RecordId> tick_in(const model::ScopeId& scope, const model::TickIn& tick, Author author);
  model::Result<model::RecordId> give_consent(const model::ScopeId& scope, const model::Consent& consent, Author author);
  model::Result<model::RecordId> add_race(const model::ScopeId& scope, const model::Race& race, Author author);
  model::Result<model::RecordId> add_key_swim(const model::ScopeId& scope, std::int64_t start_local_ms, Author author);

  // Notes: a coach's comment or a swimmer's own. `coach_only` (by a coach): kept in a scope that never goes to a swimmer.
  struct NoteEntry {
    std::string text;
    std::optional<model::RecordId> about = {};  // a session or set of the athlete; not of a coach-only one
    std::optional<model::Day> day = {};
    bool coach_only = false;
  };
  model::Result<model::RecordId> add_note(const model::ScopeId& scope, const NoteEntry& entry, Author author);
  // A new version, naming every one that was seen. Of either kind: the note's own scope is found.
  model::Result<model::Done> change_note(const model::ScopeId& scope, const model::RecordId& note, std::string_view text, Author author);
  model::Result<model::Done> take_back_note(const model::ScopeId& scope, const model::RecordId& note, Author author);
  struct NoteShown {
    model::Note note;
    bool coach_only = false;
  };
  std::vector<NoteShown> notes(const model::ScopeId& scope);  // oldest first
  // How somebody likes it shown; words of a few letters. The last one counts.
  model::Result<model::Done> prefer(const model::ScopeId& scope, std::string_view name, std::string_view value, Author author);

  // A record that came back because somebody changed it unseen by the one who took it away: it stays.
  model::Result<model::Done> keep_it(const model::ScopeId& scope, const model::RecordId& record, Author author);

  // Durability. An op that is not waiting is kept.
  bool waits(const model::OpKey& op) const { return waiting_keys_.count(op) != 0; }
  std::size_t waiting_sets() const;
  std::vector<model::ScopeId> athletes_waiting() const;  // of whom something is not kept yet
  bool waits_in(model::ScopeIs what) const;  // is something of such a scope not kept yet?
  std::size_t waiting() const { return waiting_keys_.size(); }
  const std::optional<model::Error>& trouble() const { return trouble_; }
  // Everything that waits is on its way to a storage that answers later, and nothing was refused.
  bool nearly_full() const { return store_->nearly_full(); }  // only logging and handing over are wise
  bool saving() const { return !saving_.empty() && waiting_.empty() && !trouble_; }
  bool settles_later() const { return !saving_.empty(); }  // something is in the store that its storage has not kept, refused or not
  void settled();    // that storage has answered
  bool try_again();  // true: everything is kept now

  // Bundles. Waiting ops travel too. Signed by this device.
  struct HandOver {
    std::vector<model::ScopeId> athletes = {};    // none: all
    bool libraries = false, coach_notes = false;  // only if said: what is nobody's, and what no swimmer may read
    std::optional<model::DeviceId> to = {};       // leaves out what this device said it holds; never heard of: everything
  };
  // Days since anything was last copied out of this device; never yet: since its first session. Nothing: no set is here.
  static constexpr std::int32_t kCopyIsOld = 7, kCopyIsVeryOld = 14;
  std::optional<std::int32_t> days_without_copy();
  void note_copied(const HandOver& asked);  // counts if nothing that is here was left out
  void not_copied();                        // the last one did not leave after all: of that, texts count as never shown
  void copy_has_left();                     // and cannot be called back any more
  // What would go out. Texts: those that somebody typed and that have never left this device before.
  struct GoesOut {
    std::vector<model::ScopeId> athletes;
    std::uint64_t libraries = 0, coach_notes = 0;  // scopes
    std::uint64_t entries = 0, sets = 0, held_there = 0;
    struct Text {
      model::ScopeId scope;
      std::string kind, field, text;  // names of the registry
      std::uint64_t author = 0;       // as Author; 0 not said
    };
    std::vector<Text> first_time;
  };
  model::Result<GoesOut> preview(const HandOver& asked);
  // Errors: not_found (key.no_squad), if it is for the coach and there is none; those of sync::seal.
  model::Result<model::Bytes> make_bundle(const HandOver& asked, const OutSeal& how = {});
  model::Result<OutBundle> make_proven_bundle(const HandOver& asked, const OutSeal& how, const std::string& file_name);
  // Devices whose bundles were taken in, and what they lacked of their own and our entries when they said so.
  struct PeerKnown {
    model::DeviceId device;
    std::string claimed;             // iso, when their last bundle was taken in
    std::uint64_t export_counter = 0;
    std::uint64_t lacks = 0;         // entries here that it has not said it holds
  };
  model::Result<std::vector<PeerKnown>> peers();
  model::Result<std::vector<store::ImportLine>> taken_in() { return store_->import_log(); }  // every file, oldest first; refused ones leave no line

  // Pain that a bundle brought after the plan had been changed by somebody who could not know of it: it was written earlier by
  // the claimed times, or by its count without having seen that change; until it is over or cleared, or the plan is written again.
  struct LatePain {
    model::RecordId pain;
    std::string region;
    model::Day day;
  };
  std::vector<LatePain> late_pains(const model::ScopeId& scope);
  // Writers of which two different entries stand at one place.
  std::vector<model::IncarnationId> forks(const model::ScopeId& scope) const;
  // A sealed one with the keys that are here. Errors: those of read_bundle; sealed (bundle.sealed_locked, args: file name:
  // the coach's passphrase is needed).
  model::Result<sync::ReadBundle> read_bundle(const std::string& file_name, model::ByteView file, const std::string& passphrase);
  // A bundle, a squad file, or an export with its ops.jsonl. Errors: those of read_bundle, sync::read_entries and plan_taking, and of the store; unconfirmed, where keys
  // are in use (DeviceKeys::in_use) and something new comes from a stranger (bundle.not_signed, args: file name, new
  // entries, known ones; bundle.unknown_device and bundle.other_key, args: also the device's first signs and the digits
  // of its key) or a squad file is another coach's (squad.other); or, if the wish says so, where the file brings somebody who is not here (bundle.others,
  // args: file name, the names). Then nothing has changed.
  model::Result<TakenIn> take_in(const std::string& file_name, model::ByteView file, const TakeInWish& wish = {});
  DeviceKeys& keys() { return keys_; }

  // From now on this device writes under a new incarnation: after a restore.
  model::Result<model::Done> begin_anew();

  // Erasure. `typed` is the athlete's name, as a person typed it to confirm. Deletes every entry of the athlete and of
  // the coaches' notes about them, and what is derived from them, overwrites the freed room, and leaves a mark that travels. Of a
  // mark from elsewhere it is the confirmation. Errors: not_found, invalid (another name), those of the store.
  model::Result<model::Done> erase(const model::ScopeId& scope, std::string_view typed, EraseReason reason);
  std::string typed_to_erase(const model::ScopeId& scope);  // the name, or the first signs of the id while no name is here
  std::vector<EraseRequest> erase_requests();
  // Who is out of sight by a signed mark. `show_again` takes that back, here only: the mark goes on asking.
  std::vector<model::ScopeId> hidden();
  model::Result<model::Done> show_again(const model::ScopeId& scope);
  std::vector<ErasedAthlete> erased();
  // Whoever was erased in another place of this device, and of whom nothing is here but the mark, is erased here too.
  model::Result<model::Done> keep_erased_of(Book& other);
  // Nobody has written about them for kRetentionMonths.
  std::vector<model::ScopeId> long_without_entry();

  // Profiles that a passphrase seals at rest (sync-and-storage 10.1): what stands on this storage about an athlete, and what
  // coaches hold about them, opens with it alone. Shut, which it is from opening the book on, a profile is not among scopes(), nothing of it
  // goes out, and a file with something of it is refused (profile.shut_file, args: file name, the name) with nothing changed. The name stays readable.
  struct SealedProfile {
    model::ScopeId scope;
    std::string name;  // as it was when it was sealed
    bool open = false;
  };
  std::vector<SealedProfile> sealed_profiles();  // by id
  std::optional<SealedProfile> sealed_profile(const model::ScopeId& scope);
  // Errors: not_found; invalid (no athlete; sealed already; the passphrase's length); io (profile.waits: something is not kept yet); of the store.
  model::Result<model::Done> seal_profile(const model::ScopeId& scope, const std::string& passphrase, const sync::PassphraseCost& cost = {});
  model::Result<model::Done> open_profile(const model::ScopeId& scope, const std::string& passphrase);  // Errors: sealed (key.passphrase_wrong)
  model::Result<model::Done> shut_profile(const model::ScopeId& scope);                                 // Errors: io (profile.waits)
  model::Result<model::Done> unseal_profile(const model::ScopeId& scope);                               // an open one
  // For a passphrase that is lost: what is here goes from this device, without a mark; other devices' bundles bring back what they hold.
  // `typed` is the name. Errors: invalid (profile.other_name); of the store.
  model::Result<model::Done> drop_profile(const model::ScopeId& scope, std::string_view typed);

  // Any file of ours in a seal that a passphrase opens. Errors: those of sync::wrap; too_large.
  model::Result<model::Bytes> seal_file(model::ByteView file, const std::string& passphrase, const sync::PassphraseCost& cost);

  // Everything in open forms (archive.h); without scopes: of all.
  model::Result<Archive> export_everything(std::vector<model::ScopeId> scopes);

  // Local values (settings, drafts).
  std::optional<model::Bytes> local(std::string_view name);
  bool set_local(std::string_view name, model::ByteView value);

  // Folds chunks and saves the derived state; for session end, after an import, idle time.
  model::Result<model::Done> tidy();
  // For a calm moment: the file is checked once a visit, and once a week, after an import and after a migration the
  // view is built again from the entries and compared. Where only it differs the entries stay, the view is built anew and
  // a report is left (last_report). Also lets the copy go that a migration left 30 days ago.
  struct SelfCheck {
    std::vector<model::Error> findings;  // empty: sound, or nothing was due
    bool rebuilt = false;
  };
  model::Result<SelfCheck> self_check();
  std::optional<std::string> last_report();  // of the last self-check that found something: days, texts and digests, no names

  // Reads every chunk again from the storage and folds afresh; compares with what is shown.
  model::Result<CheckReport> check();
  Digests digests();

  model::ClaimedTime now() { return outside_.clock.now(); }

 private:
  explicit Book(const Outside& outside, std::unique_ptr<store::Store> store);
  struct Scope;
  struct Rests;
  // Of the folds that are awake those asked for last stay so; nothing of a fold may be held.
  void rest_folds();

  std::vector<model::ScopeId> scopes_that_are(model::ScopeIs what) const;
  // The scope in which a note of this athlete stands; a coach-only one too.
  Scope* scope_of_note(const model::ScopeId& athlete, const model::RecordId& note);
  std::vector<model::ScopeId> scopes_of(const HandOver& asked) const;
  // All that is held of a scope, kept or waiting.
  model::Result<std::vector<ops::Chunk>> chunks_of_scope(const model::ScopeId& scope);
  model::Result<std::vector<ops::Chunk>> going_out(const model::ScopeId& scope, const std::optional<model::DeviceId>& to);
  void note_late_pains(const std::vector<ops::ChainedOp>& fresh);
  std::map<ops::StreamId, ops::Ranges> handed_out();
  void note_handed_out(const std::vector<ops::Chunk>& chunks);
  void keep_handed_out(const std::map<ops::StreamId, ops::Ranges>& all);
  void clear_local_values(const model::ScopeId& scope);
  void forget_scope(const model::ScopeId& scope);
  // The lines of kLatePains about a sealed athlete: out of the clear, in again, and read when the profile is opened.
  void seal_late_pains(const model::ScopeId& scope);
  void unseal_late_pains(const model::ScopeId& scope);
  void read_sealed_late_pains(const model::ScopeId& scope);
  std::vector<model::ScopeId> sealed_with(const model::ScopeId& athlete);
  model::Result<model::Done> seal_new_notes();
  std::optional<model::Error> refuse_shut(const sync::ReadBundle& read, const std::string& file_name);
  model::Result<std::vector<store::Peer>> peers_said(const sync::Bundle& bundle);
  std::vector<Scope*> notes_about(const model::ScopeId& athlete);
  std::vector<model::Prescription> plan_of(const model::ScopeId& scope);

  enum class Trust : std::uint8_t { derived, ops_only };
  model::Result<model::Done> read_all(Trust trust);
  model::Result<model::Done> rebuild();
  void let_copy_go();
  model::Result<model::Done> read_scope(const model::ScopeId& scope, Trust trust);
  model::Result<model::Done> erase_scope(const model::ScopeId& scope, EraseReason reason);
  model::Result<std::uint64_t> drop_erased(sync::ReadBundle& read, std::vector<model::ScopeId>& confirmed);
  std::vector<std::string> others_in(const std::vector<ops::ChainedOp>& fresh) const;
  bool confirms_erasing(const sync::ReadBundle& read, const model::ScopeId& scope);
  void note_confirmation(const model::DeviceId& device, const model::ScopeId& scope);
  void note_marks(const sync::ReadBundle& read, const Sender& sender);
  Scope& scope_of(const model::ScopeId& scope);
  ops::ChainedOp write(Scope& scope, std::uint32_t kind, std::vector<ops::Field> fields, Author author);
  void settle(const LocalValue* with);
  model::Result<model::Done> writable() const;
  model::Result<sync::Bundle> bundle_of(const HandOver& asked);
  struct Packed {  // a bundle and the seal it is made for
    model::Bytes open;
    sync::Envelope envelope;
    std::string passphrase;
    sync::PassphraseCost cost;
  };
  model::Result<Packed> packed(const sync::Bundle& bundle, const OutSeal& how);
  model::Result<model::Bytes> sealed(Packed packed);
  // The scope, if it is here and may be written.
  model::Result<Scope*> open_scope(const model::ScopeId& scope);
  std::optional<model::RecordId> session_of_day(const Scope& scope, model::Day day) const;
  const ops::Record* find_record(const Scope& scope, const model::RecordId& id, std::uint32_t kind) const;
  // One record of its own, replacing others; settled at once.
  model::RecordId keep(Scope& scope, std::uint32_t kind, std::vector<ops::Field> fields, Author author,
                       const std::vector<model::RecordId>& replaced = {});
  // New values for fields of a record, naming every value seen. Without fields nothing is written.
  void change(Scope& scope, const model::RecordId& id, std::vector<ops::Field> fields, Author author);
  // Makes a list of words say just these: what is new is added, what is gone is taken back; others' unseen additions stay.
  void set_words(Scope& scope, std::string_view list, const std::vector<std::string>& words, Author author);
  model::Result<model::RecordId> keep_sign_off(Scope& scope, const model::SignOff& seen, Author author);

  Outside outside_;
  std::unique_ptr<store::Store> store_;
  DeviceKeys keys_;
  std::unique_ptr<Rests> rests_;
  std::map<model::ScopeId, std::unique_ptr<Scope>> scopes_;
  std::optional<model::Bytes> copied_before_, handed_out_before_;  // the day of the copy before the last one; what had left before it
  std::map<model::ScopeId, std::shared_ptr<store::RowSeal>> open_profiles_;  // by athlete
  std::map<model::ScopeId, std::string> late_of_sealed_;                     // as kLatePains, of each that is sealed and open
  ops::Held held_;
  std::uint64_t turned_ = 0;                  // so that revision() rises when entries go
  struct Saving {  // the store has it, its storage has not answered yet
    std::uint64_t batch = 0;
    std::vector<ops::ChainedOp> ops;  // none: an import
  };
  void note_saving(const store::Ticket& ticket, std::vector<ops::ChainedOp> ops);

  std::vector<ops::ChainedOp> waiting_;       // written, not in the store, in order
  std::vector<Saving> saving_;                // oldest first
  std::set<model::OpKey> waiting_keys_;       // of both
  std::optional<model::Error> trouble_;
  bool file_checked_ = false, view_due_ = false;  // by self_check()
  bool derived_differed_ = false;                 // what a migration found cached is not what the entries say
  model::Athlete nobody_;
  model::Library nothing_;

 public:
  ~Book();
};

}  // namespace slipway::app
