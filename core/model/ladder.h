// Ladders of exercises, from assets/ladders.table (handbook 5.1, 5.7 floor list, 6.4a
// kinds): what an exercise is, what it needs, what it loads, what stands next to it on
// its line. Data only; when somebody moves along a line is for `rules`.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace slipway::model {

enum class Pattern : std::uint8_t { squat, hinge, lunge, vertical_pull, horizontal_pull, push, trunk, shoulder_care };

// What "a little more", "harder" and "easier" mean for an exercise [handbook 6.4a].
// Shoulder care goes by its kind too, more slowly: the pattern says so.
enum class ExerciseKind : std::uint8_t { loaded, body_weight, band_helps, band_resists, hold, jump };

// Joints an exercise uses [handbook 5.1, column Joints], as bits of Rung::joints.
namespace joint {
inline constexpr std::uint32_t shoulder = 1, elbow = 2, wrist = 4, spine = 8, hip = 16, knee = 32, ankle = 64;
}

struct Rung {
  std::string id;          // "SQ4"
  Pattern pattern = Pattern::squat;
  ExerciseKind kind = ExerciseKind::body_weight;
  std::string name;        // "goblet squat"
  std::string short_name;  // "Squat", for the board
  std::string cue;         // one line, in our words
  std::string caution;     // empty: none beyond the usual
  bool loaded = false;     // a load in grams is written and logged
  bool one_sided = false;  // reps are each side
  bool in_hands = false;   // the load is held one in each hand, written per hand (HP4, HP6: one hand)
  bool on_floor_list = false;             // may be done by a youth without an adult, and as homework [5.7]
  std::uint32_t joints = 0;
  std::vector<std::string> equipment;     // all of these words must be in the kit; "dumbbell/kettlebell": one of them
  std::string next, easier;               // ids on its line [5.1]; empty: nothing there
  std::uint32_t sets = 0, lo = 0, hi = 0; // default dose; reps, or seconds of a hold
  std::uint32_t rest_s = 0;               // least rest between two sets of it [5.1, 1.8]
  std::uint32_t rep_ms = 0;               // time of one rep at its usual tempo [1.6]; holds: 1000 (one second)
  std::uint32_t fraction_hundredths = 0;  // of body mass on the hands, push-ups [1.3]; 0: not measured

  bool is_hold() const { return kind == ExerciseKind::hold; }
};

const std::vector<Rung>& rungs();                  // all lines, in order, the easiest rung of each first
const Rung* find_rung(std::string_view id);        // nullptr: no such exercise

std::string_view to_text(Pattern pattern);         // "squat", "vertical_pull" …: the words of the table and of JSON
std::string_view to_text(ExerciseKind kind);       // "loaded", "band_helps" …

}  // namespace slipway::model
