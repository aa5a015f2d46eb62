// Private to Setup: its parts by what they are, numbered by their Setting.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "screens/setup_screen.h"

namespace slipway::app {

inline screens::FormPart setup_part(screens::FormKind kind, screens::Setting id, std::string label) {
  screens::FormPart part;
  part.kind = kind;
  part.id = screens::number_of(id);
  part.label = std::move(label);
  return part;
}

inline screens::FormPart choices_part(screens::Setting id, std::string label, const std::vector<std::string>& words, std::size_t chosen) {
  screens::FormPart part = setup_part(screens::FormKind::choices, id, std::move(label));
  for (std::size_t i = 0; i < words.size(); ++i) part.choices.push_back({.label = words[i], .chosen = i == chosen});
  return part;
}

inline screens::FormPart row_part(screens::Setting id, screens::Icon icon, std::string label, std::string detail, std::string value) {
  screens::FormPart part = setup_part(screens::FormKind::row, id, std::move(label));
  part.icon = icon;
  part.detail = std::move(detail);
  part.value = std::move(value);
  return part;
}

inline screens::FormPart field_part(screens::Setting id, std::string label, std::string value) {
  screens::FormPart part = setup_part(screens::FormKind::field, id, std::move(label));
  part.value = std::move(value);
  return part;
}

inline screens::FormPart keys_part(screens::Setting id, std::vector<screens::FormChoice> keys, bool main) {
  screens::FormPart part = setup_part(screens::FormKind::keys, id, "");
  part.choices = std::move(keys);
  part.main = main;
  return part;
}

inline screens::FormPart words_part(std::string head, std::string text) {
  screens::FormPart part = setup_part(screens::FormKind::words, screens::Setting::said, std::move(head));
  part.detail = std::move(text);
  return part;
}

inline screens::FormPart heading_part(std::string head) { return setup_part(screens::FormKind::heading, screens::Setting::said, std::move(head)); }

}  // namespace slipway::app
