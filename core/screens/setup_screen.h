// The Setup place (05a): this device's display, kit and words, as rows that open a page of their own.
//
// The list and each page of it are the same view: `back_words` tells which. Values stand worded.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "screens/form.h"

namespace slipway::screens {

// What a part of Setup is about: the `id` of its FormPart.
enum class Setting : std::uint32_t {
  display, text_size, left_hand, gloves,        // choices
  device, who,                                  // who uses this device; the coach's "which athlete"
  facts, consent, kit, units, sound, about, cautions, storage,  // rows that open a page
  name, born, group, limits, mass,              // an athlete's facts: fields and choices
  loads, add_load, add_load_key, preset, bands, equipment,  // kit
  unit, beep, buzz,                             // units; sound and vibration
  leave_demo,                                   // key
  keys, lock, passphrase,                       // rows that open a page
  copies, export_all, backup_passphrase, backup, restore,  // a row's page, its keys and a field
  erase, erase_show, erase_who, erase_reason, erase_export, erase_name, erase_key,  // a row's page: keys, choices, key, field, key
  said,                                         // words and cautions, nothing to answer
};

struct SetupView {
  std::string title;
  std::string line;                // "this phone, 3.1 MB kept": what is true of the storage
  std::string back_words = {};     // on a row's own page; empty on the list
  std::vector<FormPart> parts = {};
};
struct SetupAnswer {
  Setting setting = Setting::display;
  std::uint32_t choice = 0;        // of a choice, tick, removable or key
  std::string text = {};           // of a field
};
struct SetupBack {};
using SetupIntent = std::variant<SetupAnswer, SetupBack>;
std::vector<SetupIntent> draw_setup_screen(Ui& ui, const SetupView& view);

}  // namespace slipway::screens
