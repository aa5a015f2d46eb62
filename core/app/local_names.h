// Names of the store's local values that more than one file knows.
#pragma once

#include <string_view>

namespace slipway::app {

// Those that hold something about an athlete: erasing clears them (of the settings, the answers that nobody's are yet).
inline constexpr std::string_view kHereName = "here.athlete";    // who this device is for: a scope
inline constexpr std::string_view kPinName = "own.pin.";          // and the scope's hex: a swimmer's PIN, wrapped
inline constexpr std::string_view kHealthName = "own.health.";    // and the scope's hex: an athlete's answers about health
inline constexpr std::string_view kDraftName = "draft.set";      // the set that is half entered
inline constexpr std::string_view kHandedOutName = "handed_out"; // streams and ranges that have left this device
inline constexpr std::string_view kLatePains = "late_pains";     // lines: scope, pain, lam; with "." and a sealed scope's hex: sealed
inline constexpr std::string_view kMarksSeenName = "erase.seen";           // lines: scope, day
inline constexpr std::string_view kMarksHideName = "erase.hides";          // lines: scope, sender's device
inline constexpr std::string_view kMarksShownName = "erase.shown";         // lines: scope, a word: somebody wants them in sight
inline constexpr std::string_view kMarksConfirmedName = "erase.confirmed"; // lines: scope, device

inline constexpr std::string_view kHandedOverName = "handed.over";  // when the last file went out, in words
inline constexpr std::string_view kSettingsName = "settings";

// Those of the device alone, which go along when its store moves to another place of the same browser.
inline constexpr std::string_view kCoachKeyName = "own.coach_key", kSquadName = "own.squad", kKnownDevicesName = "own.known_devices",
                                  kTabletPinName = "own.pin.tablet";

}  // namespace slipway::app
