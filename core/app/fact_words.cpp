#include "app/fact_words.h"

#include "report/words.h"

namespace slipway::app {

using report::say;

namespace {

constexpr FactWord kGroups[] = {
    {"youth", "setup.group_youth"}, {"open_water", "setup.group_open_water"}, {"masters", "setup.group_masters"}, {"triathlon", "setup.group_triathlon"}, {"other", "setup.group_other"},
};
constexpr FactWord kLimits[] = {
    {"loose_joints", "setup.limit_loose"}, {"shoulder_slipped", "setup.limit_slipped"}, {"heart", "setup.limit_heart"}, {"bones", "setup.limit_bones"}, {"back", "setup.limit_back"},
};
constexpr FactWord kBands[] = {
    {"thick", "setup.band_thick"}, {"strong", "setup.band_strong"}, {"middle", "setup.band_middle"}, {"light", "setup.band_light"}, {"thin", "setup.band_thin"},
};
constexpr FactWord kEquipment[] = {
    {"bar", "setup.kit_bar"},           {"low_bar", "setup.kit_low_bar"}, {"bench", "setup.kit_bench"},     {"box", "setup.kit_box"},     {"step", "setup.kit_step"},
    {"band", "setup.kit_band"},         {"dumbbell", "setup.kit_dumbbell"}, {"kettlebell", "setup.kit_kettlebell"}, {"barbell", "setup.kit_barbell"}, {"plate", "setup.kit_plate"},
    {"vest", "setup.kit_vest"},         {"belt", "setup.kit_belt"},       {"machine", "setup.kit_machine"}, {"mat", "setup.kit_mat"},     {"stick", "setup.kit_stick"},
    {"rail", "setup.kit_rail"},         {"rack", "setup.kit_rack"},       {"wall", "setup.kit_wall"},       {"space", "setup.kit_space"},
};
constexpr const char* kWeek[] = {"setup.mon", "setup.tue", "setup.wed", "setup.thu", "setup.fri", "setup.sat", "setup.sun"};

}  // namespace

std::span<const FactWord> known_groups() { return kGroups; }
std::span<const FactWord> known_limits() { return kLimits; }
std::span<const FactWord> known_bands() { return kBands; }
std::span<const FactWord> known_equipment() { return kEquipment; }
std::span<const char* const> week_texts() { return kWeek; }

std::string words_of(std::span<const FactWord> all, std::string_view word) {
  for (const FactWord& known : all)
    if (known.word == word) return say(known.text);
  return std::string(word);
}

std::string short_words(model::ShortReason reason) {
  switch (reason) {
    case model::ShortReason::no_time: return say("logbook.short_no_time");
    case model::ShortReason::kit_busy: return say("logbook.short_kit_busy");
    case model::ShortReason::too_hard: return say("logbook.short_too_hard");
    case model::ShortReason::pain: return say("logbook.short_pain");
    case model::ShortReason::other: break;
  }
  return say("logbook.short_other");
}

std::string adult_words(model::AdultRole role) {
  switch (role) {
    case model::AdultRole::coach: return say("logbook.adult_coach");
    case model::AdultRole::assistant: return say("logbook.adult_assistant");
    case model::AdultRole::guardian: return say("logbook.adult_guardian");
    case model::AdultRole::unsaid: break;
  }
  return say("logbook.adult");
}

std::string thing_words(model::ConsentThing thing) {
  switch (thing) {
    case model::ConsentThing::pain_and_soreness: return say("consent.pain");
    case model::ConsentThing::body_measures: return say("consent.measures");
    case model::ConsentThing::wellness: return say("consent.wellness");
    case model::ConsentThing::training_log: break;
  }
  return say("consent.log");
}

std::string side_words(const model::Pain& pain) {
  if (!pain.side) return {};
  return say(*pain.side == 1 ? "logbook.left" : *pain.side == 2 ? "logbook.right" : "logbook.both");
}

}  // namespace slipway::app
