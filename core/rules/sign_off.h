// Technique sign-off: form first as a gate (handbook 6.8).
#pragma once

#include "rules/decision.h"

namespace slipway::rules {

enum class FormState : std::uint8_t { never, sound, loaded, ended_by_time, ended, withdrawn };

struct Form {
  FormState state = FormState::never;
  const SignOff* newest = nullptr;      // the fact that decides
  bool loaded_ended_by_time = false;    // a LOADED that only its age ended [5.7]
  bool open() const { return state == FormState::sound || state == FormState::loaded; }
};

Form form_of(const std::string& exercise, const SessionSituation& situation);
bool has_loaded(const std::string& exercise, const SessionSituation& situation, bool ended_by_time_counts);
bool gate_is_on(const Athlete& athlete);

}  // namespace slipway::rules
