// The sheet of paper that brings a coach's key back: who it is of, the lines to type, and what to do with them.
#pragma once

#include <string>
#include <vector>

namespace slipway::report {

struct RecoverySheet {
  std::string coach;               // as typed
  std::string day;                 // when it was made, as claimed: "2026-11-25"
  std::string digits;              // of the public key
  std::vector<std::string> lines;  // the secret, to be typed
};

// Text whose other lines begin with "#", so that the whole of it can be read back.
std::string recovery_sheet_text(const RecoverySheet& sheet);
// A page of its own for a printer: nothing is fetched, no script.
std::string recovery_sheet_page(const RecoverySheet& sheet);

}  // namespace slipway::report
