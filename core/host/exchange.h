// Handing a file to the person: a download, a share sheet, a save under a name.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace slipway::host {

class Exchange {
 public:
  virtual ~Exchange() = default;
  // The name holds nothing personal (sync-and-storage 12.1). Handing over proves
  // nothing about arrival, so there is no answer.
  virtual void hand_over(std::string_view file_name, std::span<const std::uint8_t> bytes) = 0;
  // Ask the person for a file; its bytes come back later through App::take_in.
  virtual void ask_for_file() = 0;
};

}  // namespace slipway::host
