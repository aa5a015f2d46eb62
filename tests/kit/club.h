// A made-up club, always the same: sixty athletes, four seasons, 317,186 sets, with edits, contradictions and
// deletions on three devices each. First as plain rows (what anybody may be held against), then as our ops.
//
// Every draw is SplitMix64 from one seed, in the order of club.cpp; other programs that draw in the same order get
// the same club. No doctest here; the same on every build.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "kit/fixed_random.h"
#include "ops/chain.h"
#include "ops/pen.h"

namespace slipway::kit {

inline constexpr std::uint64_t kClubAthletes = 60, kClubDevices = 3;

struct ClubSession {
  std::uint64_t id = 0, week = 0;  // week: counted through all seasons
  std::uint64_t device = 0;
  std::int64_t start_ms = 0;
};
struct ClubSet {
  std::uint64_t record = 0;  // session * 16 + place in it
  std::size_t session = 0;   // place in ClubAthlete::sessions
  std::uint64_t exercise = 0, number = 1, reps = 0, load_g = 0, rir = 0, rest_s = 0;
  std::string note;
  std::int64_t done_ms = 0;
};
enum class ClubField : std::uint8_t { reps, load, rir };
struct ClubEdit {
  std::size_t set = 0;  // place in ClubAthlete::sets
  std::uint64_t device = 0;
  ClubField field = ClubField::reps;
  std::uint64_t value = 0;
  std::int64_t at_ms = 0;
};
struct ClubRemoval {
  std::size_t set = 0;
  std::uint64_t device = 0;
  std::int64_t at_ms = 0;
};
struct ClubAthlete {
  std::uint64_t number = 0;
  std::vector<ClubSession> sessions;
  std::vector<ClubSet> sets;
  std::vector<ClubEdit> edits;  // of the two of a contradiction the later device's first
  std::vector<ClubRemoval> removals;
  std::uint64_t pairs_at_once = 0;  // edits on two devices that did not know of each other
};

const std::string& club_exercise(std::uint64_t exercise);  // its word, 0 … 23

class Club {
 public:
  ClubAthlete next();  // athletes in order; more than kClubAthletes may be asked for

 private:
  Dice dice_{0x536C697077617931ULL};
  std::uint64_t athlete_ = 0;
};

// One more week of the first athlete on the first device: three sessions of ten sets, nothing edited.
ClubAthlete club_week();

// Per athlete, exercise and week: tonnage and the best set load × (30 + reps); the newest value of a field counts.
struct ClubAnswer {
  std::uint64_t groups = 0, grams = 0, best = 0;
  void add(const ClubAthlete& athlete);
  friend bool operator==(const ClubAnswer&, const ClubAnswer&) = default;
};

// What the three devices of one athlete write, each op by the pen, in the order of claimed time; a device that was
// silent for three hours has been opened anew. Goes on where it stopped.
class ClubPens {
 public:
  explicit ClubPens(std::uint64_t athlete);
  void write(const ClubAthlete& athlete);

  const model::ScopeId& scope() const { return scope_; }
  ops::StreamId stream(std::uint64_t device) const { return streams_[static_cast<std::size_t>(device)]; }
  std::vector<ops::ChainedOp>& ops(std::uint64_t device) { return ops_[static_cast<std::size_t>(device)]; }
  std::uint64_t openings() const { return openings_; }

 private:
  const ops::ChainedOp& put(std::uint64_t device, std::uint32_t kind, std::vector<ops::Field> fields, std::int64_t at_ms);

  model::ScopeId scope_;
  std::array<ops::StreamId, kClubDevices> streams_;
  std::array<std::vector<ops::ChainedOp>, kClubDevices> ops_;
  std::array<std::uint64_t, kClubDevices> last_seq_{};
  std::array<model::Hash32, kClubDevices> last_hash_;
  std::array<std::int64_t, kClubDevices> opened_ms_{}, written_ms_{};
  std::vector<ops::Pen> pens_;
  FixedRandom random_;
  std::uint64_t lam_ = 0, openings_ = 0;
};

}  // namespace slipway::kit
