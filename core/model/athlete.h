// What the ops of one athlete's scope mean, as nouns: athlete, kit, prescription,
// session, set, pain. Read from the fold by ops/views.h; nothing here is stored.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "model/ids.h"
#include "model/units.h"

namespace slipway::model {

// Who wrote a value, on which device, and when they claim it was.
struct Writer {
  OpKey op;
  std::uint64_t lam = 0;     // drawing order only
  std::uint64_t author = 0;  // 1 swimmer, 2 coach, 3 adult helper, 0 not said
  ClaimedTime claimed;
  friend bool operator==(const Writer&, const Writer&) = default;
};

template <class T>
struct Version {
  T value{};
  Writer by;
};

// The values of one field that nobody who saw them has replaced. The first is drawn
// first; more than one is a contradiction, shown and never decided by a clock.
template <class T>
struct Versions {
  std::vector<Version<T>> all;

  bool empty() const { return all.empty(); }
  bool contradiction() const { return all.size() > 1; }
  const T* first() const { return all.empty() ? nullptr : &all.front().value; }
  T value_or(T other) const { return all.empty() ? other : all.front().value; }
};

struct Kit {
  RecordId id;
  std::string name;
  std::vector<Quantity> loads;  // rising by mass
};

struct Prescription {
  RecordId id;
  Versions<std::string> exercise;       // ladder id, "SQ4"
  Versions<std::uint64_t> sets;
  Versions<std::uint64_t> reps;
  Versions<Quantity> load;
  Versions<std::uint64_t> rir;          // reps in reserve, 0 … 4 (4 means 4 or more) [handbook 1.4]
  Versions<std::uint64_t> rest_ms;
};

struct SetDone {
  RecordId id;
  RecordId session;
  std::string exercise;
  std::uint64_t round = 1;
  Versions<std::uint64_t> reps;
  Versions<Quantity> load;              // empty: body weight
  Versions<std::uint64_t> rir;          // empty: not said
  std::optional<std::uint64_t> written_reps;
  std::optional<Quantity> written_load;
  bool left_out = false;
  bool corrected = false;               // a later change replaced a value
  bool revived = false;                 // taken back by somebody, kept by a change they had not seen
  Writer by;

  bool contradiction() const { return reps.contradiction() || load.contradiction() || rir.contradiction(); }
  bool as_written() const;              // done, with the reps and load that were written
};

struct Session {
  RecordId id;
  Versions<Day> training_day;
  std::string title;
  Writer by;
  std::vector<SetDone> sets;            // in drawing order, without those taken back
};

struct Pain {
  RecordId id;
  std::string region;
  std::uint64_t band = 0;               // 1: 1–2, 2: 3–5, 3: 6–10
  bool resolved = false, withdrawn = false;  // struck through, never hidden
  Writer by;
};

struct Athlete {
  ScopeId scope;
  Versions<std::string> name;
  Versions<std::uint64_t> birth_year;
  std::vector<Kit> kits;
  std::vector<Prescription> prescriptions;
  std::vector<Session> sessions;        // oldest first
  std::vector<SetDone> taken_back;      // history
  std::vector<Pain> pains;
  std::uint64_t not_understood = 0;     // entries that need a newer version: kept and passed on
};

}  // namespace slipway::model
