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
  athlete_add, athlete_list, athlete_show, athlete_set, athlete_kit,
  next, squad, report,
  log, log_change, log_back, log_move,
  note_finish, note_check, note_pain, note_settled, note_over, note_sore, note_flag, note_mass, note_illness,
  sign_off, withdraw, tick_in, consent, clear, overrule,
  plan_set, plan_show, plan_add, plan_drop, plan_move, plan_copy, library_add, library_list,
  comment_add, comment_list, comment_change, comment_back, keep_it,
  bundle_make, bundle_preview, bundle_peers, bundle_taken, bundle_look, bundle_merge, inbox,
  key_make, key_show, key_sheet, key_recover, key_squad, key_leave,
  profile_list, profile_seal, profile_unseal, profile_drop,
  export_all, import_files, backup, restore,
  erase, erase_status,
  check,
  compute, decide,
};

struct WindowWish {
  std::string size;                 // "390x844", CSS pixels; empty: as the window was closed
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
  bool as_written = false, left_out = false, no_load = false, warm_up = false, form_broke = false, two_more = false;

  std::string field, value;

  std::string kit;                  // by name; empty: the first
  std::string since;                // a day; empty: everything
  std::string to;                   // a day

  std::string region, band, side, flag, state, yes_no;  // words of a note
  std::string level, role, from, row, note, short_reason;
  std::optional<std::uint64_t> amount, days, effort, minutes, sets, reps_high, rest_s, block, place;
  std::string session, grip;
  std::optional<std::string> loads, bands, equipment;  // of a kit, lists with commas; an empty one empties it
  bool hinders = false, slip = false, clinician = false, second_adult = false;

  std::vector<std::string> files;
  std::string out;
  bool text = false, replace = false, watch = false;
  std::string peer;                 // a device, by the first signs of its id
  bool libraries = false, coach_notes = false, coach_only = false, beside = false;

  std::string passphrase_file;      // of a file, of the coach's key, or of a profile that is to be sealed
  std::vector<std::string> profile_passphrase_files;  // each opens what it fits
  bool for_coach = false, open = false, from_unknown = false, unwrapped = false;
  std::string typed, reason;         // of an erasure
  bool no_export = false;

  WindowWish window;
};

// Exit codes of the whole program (architecture 4).
inline constexpr int kDone = 0, kAnswerIsNo = 1, kWrongUse = 2, kBadInput = 3, kStorageTrouble = 4;

}  // namespace slipway::native
