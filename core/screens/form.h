// Rows, choices and fields one below another, as data: what Setup, first run and the
// coach's panels are made of. The view words each part and numbers it; what a person did
// to it comes back with that number. Drawing decides nothing.
#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "screens/icons.h"

namespace slipway::screens {

class Ui;

enum class FormKind : std::uint8_t {
  heading,    // label
  words,      // label; detail in second ink below it
  caution,    // a magenta panel: icon, label in bold, detail
  choices,    // label above, of `choices` one is chosen
  question,   // label at the left, `choices` at the right (below it where narrow), none need be chosen
  ticks,      // label above, any number of `choices` ticked
  removable,  // label above, each of `choices` a key that takes it away
  field,      // label above, what is typed in `value`
  row,        // icon, label, detail and at the right `value`: a press opens its page
  keys,       // `choices` as keys beside each other; `main`: the first is the page's main key
};

struct FormChoice {
  std::string label;
  std::string spoken = {};  // empty: the label
  bool chosen = false;
  Icon icon = Icon::none;   // keys only
  bool urgent = false;      // keys only: magenta
};

struct FormPart {
  FormKind kind = FormKind::words;
  std::uint32_t id = 0;         // number_of(…) of the place's own list of parts
  std::string label = {};
  std::string detail = {};
  std::string value = {};
  std::string refused = {};     // message beside a field or choice
  std::string spoken = {};      // empty: label, detail and value
  std::vector<FormChoice> choices = {};
  Icon icon = Icon::none;
  bool main = false;
  bool number = false;          // field: the phone's number pad
};

// Pressed or chosen: `choice`. Typed: `text`. A tick tells its place, not its new state.
struct FormAnswer {
  std::uint32_t id = 0;
  std::uint32_t choice = 0;
  std::string text = {};
};

template <class Id>
constexpr std::uint32_t number_of(Id id) { return static_cast<std::uint32_t>(id); }

// Draws at (x, y), returns the height used.
float draw_form(Ui& ui, std::span<const FormPart> parts, float x, float y, float width, std::vector<FormAnswer>& out);

// One part the same way; `index` makes its key path.
float draw_form_part(Ui& ui, const FormPart& part, std::size_t index, float x, float y, float width, std::vector<FormAnswer>& out);

}  // namespace slipway::screens
