// A hand at a running app: it goes to places, and on pages that look like Setup's it types into fields and presses keys by their words.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "app/app.h"

namespace slipway::kit {

class SetupHand {
 public:
  explicit SetupHand(app::App& app) : app_(app) {}

  const screens::SetupView* page() const { return std::get_if<screens::SetupView>(&app_.view().page); }
  const screens::FormPart* part(const std::string& label) const {
    if (page() == nullptr) return nullptr;
    for (const screens::FormPart& one : page()->parts)
      if (one.label == label) return &one;
    return nullptr;
  }
  void go(screens::Place place) { app_.act(screens::Intent{screens::GoTo{place}}); }
  void back() { app_.act(screens::Intent{screens::SetupIntent{screens::SetupBack{}}}); }
  // A page of Setup, from wherever the hand is.
  void open(screens::Setting page) {
    go(screens::Place::setup);
    back();
    answer(screens::number_of(page), 0);
  }
  void answer(std::uint32_t id, std::uint32_t choice, const std::string& text = {}) {
    app_.act(screens::Intent{screens::SetupIntent{screens::SetupAnswer{static_cast<screens::Setting>(id), choice, text}}});
  }
  void type(const std::string& label, const std::string& text) {
    REQUIRE(page() != nullptr);
    for (const screens::FormPart& one : page()->parts)
      if (one.label == label && one.kind == screens::FormKind::field) return answer(one.id, 0, text);  // a heading may say the same
    FAIL("no field: " << label);
  }
  bool has_key(const std::string& label) const { return key(label) != nullptr; }
  bool press(const std::string& label) {
    std::uint32_t choice = 0;
    const screens::FormPart* found = key(label, &choice);
    if (found != nullptr) answer(found->id, choice);
    return found != nullptr;
  }

 private:
  const screens::FormPart* key(const std::string& label, std::uint32_t* choice = nullptr) const {
    if (page() == nullptr) return nullptr;
    for (const screens::FormPart& one : page()->parts)
      for (std::uint32_t i = 0; i < one.choices.size(); ++i)
        if (one.choices[i].label == label) {
          if (choice != nullptr) *choice = i;
          return &one;
        }
    return nullptr;
  }

  app::App& app_;
};

}  // namespace slipway::kit
