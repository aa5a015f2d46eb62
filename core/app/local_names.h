// Names of the store's local values that hold something about an athlete: erasing clears them.
#pragma once

#include <string_view>

namespace slipway::app {

inline constexpr std::string_view kHereName = "here.athlete";    // who this device is for: a scope
inline constexpr std::string_view kPinName = "own.pin.";          // and the scope's hex: a swimmer's PIN, wrapped
inline constexpr std::string_view kDraftName = "draft.set";      // the set that is half entered
inline constexpr std::string_view kHandedOutName = "handed_out"; // streams and ranges that have left this device
inline constexpr std::string_view kLatePains = "late_pains";     // lines: scope, pain, lam
inline constexpr std::string_view kMarksSeenName = "erase.seen";           // lines: scope, day
inline constexpr std::string_view kMarksHideName = "erase.hides";          // lines: scope, sender's device
inline constexpr std::string_view kMarksConfirmedName = "erase.confirmed"; // lines: scope, device

}  // namespace slipway::app
