// What was asked for on the command line, read and checked for form; nothing done yet.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/book.h"

namespace slipway::native {

enum class Command : std::uint8_t {
  window,
  demo,
  athlete_add, athlete_list, athlete_show,
  log, log_change, log_back,
  plan_set, plan_show,
  bundle_make, bundle_look, bundle_merge,
  check,
  compute, decide,
};

struct WindowWish {
  std::string size = "390x844";     // CSS pixels
  std::string theme;                // empty: as this device was set
  std::uint64_t text_percent = 0;   // 0: the same
  bool say = false;
  std::string shot;                 // a picture of the window, then the end
};

struct Request {
  Command command = Command::window;
  std::string store;                // empty: the usual folder
  bool json = false;
  app::Author author = app::Author::coach;
  std::string at;                   // the moment to claim; empty: the computer's clock
  std::string day;                  // the training day; empty: today

  std::string who;                  // a name, an id or its first signs
  std::vector<std::string> athletes;
  std::string name;
  std::optional<std::uint64_t> born;

  std::string entry;                // an entry id or the first signs of its hash
  std::string exercise;
  std::optional<std::uint64_t> reps, rir, round;
  std::optional<std::string> load;
  bool as_written = false, left_out = false, no_load = false;

  std::string field, value;

  std::vector<std::string> files;
  std::string out;
  bool text = false, replace = false;

  WindowWish window;
};

// Exit codes of the whole program (architecture 4).
inline constexpr int kDone = 0, kAnswerIsNo = 1, kWrongUse = 2, kBadInput = 3, kStorageTrouble = 4;

}  // namespace slipway::native
