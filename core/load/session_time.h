// How long a session takes, and whether every exercise gets its rest [handbook 1.6, 1.7, 1.8]. Whole milliseconds.
//
// T = W + C + sum over blocks of [ R · sum(n·t·s + u) + R·(E − 1)·q + (R − 1)·p ] + (B − 1)·x   [definition]
// W warm-up, C cool-down, n reps of t each, s sides, u set-up before each set, q rest between exercises of a
// round, p rest between rounds, x change between blocks. Straight sets: one exercise in the block, p is the rest.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "model/ladder.h"
#include "model/result.h"

namespace slipway::load {

inline constexpr std::int64_t kSetUpMs = 15'000, kChangeMs = 60'000;                   // u and x [our judgement]
inline constexpr std::int64_t kSessionLeastMs = 1'800'000, kSessionMostMs = 3'600'000;  // 30 to 60 min [common practice]
inline constexpr std::int64_t kRestLongMs = 300'000;                                   // over 5 min: a hint, no fault [our judgement]

struct Work {
  std::string exercise = {};        // ladder id: which other exercises load the same muscles
  std::uint32_t reps = 1;           // a hold: 1, with rep_ms the time of the hold
  std::int64_t rep_ms = 0;
  std::uint32_t sides = 1;          // 1 or 2
  std::int64_t least_rest_ms = 0;   // 0: nothing is asked of it
  std::int64_t set_up_ms = kSetUpMs;
};
struct Block {
  std::uint32_t rounds = 1;
  std::int64_t between_exercises_ms = 0;  // q
  std::int64_t between_rounds_ms = 0;     // p
  std::vector<Work> work = {};
};
struct SessionPlan {
  std::int64_t warm_up_ms = 0, cool_down_ms = 0;
  std::int64_t change_ms = kChangeMs;
  std::vector<Block> blocks = {};
};

enum class Length : std::uint8_t { below, fine, above };  // of 1800 … 3600 s, not rounded; both ends are fine
struct SessionTime {
  std::int64_t ms = 0;
  Length length = Length::fine;
};
// Errors: invalid "load.plan_empty" (a block, an exercise and a round are the least), "load.plan_range" (a time below 0
// or over a day, reps, rounds, sides or their number out of range).
model::Result<SessionTime> session_time(const SessionPlan& plan);

std::int64_t round_ms(const Block& block);  // without the rest after it

enum class RestSays : std::uint8_t { fine, too_short, long_enough_to_cut };
struct Rest {
  std::optional<std::int64_t> ms = {};  // nothing: it has no next set and nobody before it tires the same muscles
  RestSays says = RestSays::fine;
};
// From the end of its set, or of the last other set that loads the same muscles, to the start of its next set; the
// set-up counts as rest. rest(e) = sum of all (n·t·s + u) + (E − 1)·q + p − n·t·s of e, where nobody shares its muscles.
// One answer an exercise, in order. Errors: as session_time, "load.plan_exercise" for an id nobody knows.
model::Result<std::vector<Rest>> rests_of(const Block& block);

// Same pattern; VP with HP or TR11; PU with TR8; SQ with LU; HG with SQ8 [our judgement, 1.7].
bool same_muscles(const model::Rung& one, const model::Rung& other);

}  // namespace slipway::load
