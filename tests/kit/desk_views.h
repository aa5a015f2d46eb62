// Views of Squad, Logbook, Exchange, Setup, first run and the sheet of all places, worded as the app words them.
#pragma once

#include <optional>

#include "kit/screen_kit.h"

namespace slipway::kit {

screens::SquadView squad();                 // who needs the coach, and the board
screens::SquadView squad_with_swimmer();    // Juno's page is open
screens::SquadView squad_overruling();      // and a decision is being overruled
screens::LogbookView logbook();             // the entry of Monday stands open with its history
screens::ExchangeView exchange_in_full();   // results, a line written twice, what is missing
screens::SetupView setup_list();
screens::SetupView setup_kit();             // the page of the kit
screens::SetupView setup_facts();           // the page of an athlete's facts
screens::StartView first_run_in_full();     // questions, one yes, under 18, who is here
screens::AppView coach_with(decltype(screens::AppView::page) page, screens::Place here);  // with the coach's five places
screens::AppView all_places();              // the sheet
std::vector<NamedPage> desk_pages();
void strike_f6();                           // in the current context; seen by the next frame

// The one intent of this kind among them, as a value that outlives the frame.
template <class Place, class Wanted>
std::optional<Wanted> asked(const std::vector<screens::Intent>& intents) {
  const Wanted* found = only<Place, Wanted>(intents);
  return found == nullptr ? std::nullopt : std::optional<Wanted>(*found);
}

// The same for an intent that stands by itself.
template <class Wanted>
std::optional<Wanted> asked(const std::vector<screens::Intent>& intents) {
  std::optional<Wanted> found;
  for (const screens::Intent& intent : intents)
    if (const auto* wanted = std::get_if<Wanted>(&intent)) found = *wanted;
  return found;
}

}  // namespace slipway::kit
