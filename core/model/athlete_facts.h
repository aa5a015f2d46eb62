// What is said once about an athlete's body and permissions: pain, soreness, red flag,
// clearance, sign-off, tick-in, consent, body mass, illness. Part of model/athlete.h.
//
// Every one keeps who wrote it. "Standing" means: no later fact about the same thing was
// written in knowledge of it. Of standing facts the more careful one counts (handbook
// 6.8, 7.1); the lists of an Athlete keep the history beside it.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
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

enum class Side : std::uint8_t { left = 1, right = 2 };

// Who an adult is to the athlete, by role and never by name [handbook 6.8, 7.1].
enum class AdultRole : std::uint8_t { unsaid = 0, coach = 1, assistant = 2, guardian = 3 };

inline constexpr std::uint64_t kFirmPain = 6;  // of 10: nobody overrules it, only a clinician's word that training is allowed frees it [2.7, 6]

struct Pain {  // never hidden
  RecordId id;
  std::string region;
  std::uint64_t band = 0;                    // 1: 1–2, 2: 3–5, 3: 6–10
  std::optional<std::uint64_t> amount = {};  // 0 … 10, if said
  std::optional<std::uint64_t> side = {};    // 1 left, 2 right, 3 both
  std::string exercise = {};                 // empty: not at an exercise
  std::optional<RecordId> session = {};
  std::optional<bool> settled = {};          // "normal next morning"; not answered counts as no [6.1]
  bool in_swim = false;
  bool resolved = false, withdrawn = false;  // struck through, never hidden
  Writer by = {};

  // 0 … 10; of a band without a number its upper end, the careful one.
  std::uint64_t worst() const;
};

inline constexpr std::array<std::string_view, 5> kSoreRegions{"shoulders_back", "chest_arms", "trunk", "hips_thighs", "calves"};

struct Soreness {
  RecordId id;
  std::string region;       // shoulders_back, chest_arms, trunk, hips_thighs, calves [1.12]
  std::uint64_t level = 0;  // 0 none, 1 a little, 2 clear, 3 hinders movement
  std::uint64_t days = 1;   // in a row up to and with that day
  Day day;
  std::optional<RecordId> session = {};
  Writer by = {};
};

struct Check {  // "nothing hurts, not sore", one tap
  RecordId id;
  Day day;
  std::optional<RecordId> session = {};
  Writer by = {};
};

enum class FlagGroup : std::uint8_t { emergency = 1, general = 2, local = 3 };  // [2.7]

struct RedFlag {  // never taken back, never overwritten
  RecordId id;
  std::string flag;    // a word for it, "chest_pain"
  FlagGroup group = FlagGroup::emergency;  // what cannot be read counts as the gravest
  std::string region;  // of a local one
  Day day;
  Writer by = {};
};

enum class ClearanceRole : std::uint8_t { self = 1, coach = 2, guardian = 3 };

struct Clearance {  // never removes the report
  RecordId id;
  std::string covers;  // region, or "general"
  std::string note;
  ClearanceRole role = ClearanceRole::self;
  Day day;
  std::vector<RecordId> reports;  // the pains and red flags it was given for, and no others
  bool clinician_allowed = false; // a clinician has allowed training; not only "seen by" one
  bool withdrawn = false;         // taken back by anybody: does not count
  Writer by = {};
};

enum class SignOffLevel : std::uint8_t { none = 0, sound = 1, loaded = 2, withdrawn = 3 };  // [6.8]

struct SignOff {
  RecordId id;
  std::string exercise;
  SignOffLevel level = SignOffLevel::none;
  std::optional<Quantity> load = {};
  std::optional<std::uint64_t> reps = {};
  std::string note = {};
  Day day;
  AdultRole role = AdultRole::unsaid;
  Writer by = {};
};

struct TickIn {  // a qualified adult is here
  RecordId id;
  RecordId session;
  AdultRole role = AdultRole::unsaid;
  bool second_adult = false;  // within sight or earshot
  Day day;
  bool withdrawn = false;     // taken back by anybody: does not count
  Writer by = {};
};

enum class ConsentThing : std::uint8_t { training_log = 1, pain_and_soreness = 2, body_measures = 3, wellness = 4 };
enum class ConsentBy : std::uint8_t { unsaid = 0, guardian = 1, young_person = 2 };

struct Consent {
  RecordId id;
  ConsentThing thing = ConsentThing::training_log;
  bool given = false;
  ConsentBy from = ConsentBy::unsaid;
  Day day;
  Writer by = {};
};

struct BodyMass {
  RecordId id;
  Quantity mass;
  Day day;
  bool coarse = false;  // the multiple of 5 kg at or below it [1.3]
  Writer by = {};
};

enum class IllnessState : std::uint8_t { well = 0, head_cold = 1, fever_or_below_neck = 2 };

struct Illness {  // how it is from this day on
  RecordId id;
  IllnessState state = IllnessState::fever_or_below_neck;
  Day day;
  std::optional<std::int64_t> ended_local_ms = {};  // when the signs ended, if said
  Writer by = {};
};

}  // namespace slipway::model
