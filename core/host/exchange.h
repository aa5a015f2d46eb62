// What the app asks of the outside on behalf of the person. None has an answer: what
// comes of it arrives later as a call on app::App.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace slipway::host {

class Exchange {
 public:
  virtual ~Exchange() = default;
  // A download, a share sheet, a save under a name. The name holds nothing personal
  // (sync-and-storage 12.1). Handing over proves nothing about arrival; where it is known that
  // nothing left, App::not_handed_over() says so.
  virtual void hand_over(std::string_view file_name, std::span<const std::uint8_t> bytes) = 0;
  virtual void ask_for_file() = 0;    // bytes come back through App::take_in
  virtual void take_over() = 0;       // the store is open elsewhere: get it, then App::open
  virtual void open_again() = 0;      // opening failed: try once more, then App::open
  virtual void look_around() = 0;     // open the made-up squad in a store of its own that forgets
  virtual void ask_to_persist() = 0;  // answer comes back through App::persisted
  virtual void signal(bool beep, bool buzz) = 0;  // the rest is over; where sound and buzz are allowed
  virtual void stay_awake(bool wanted) = 0;       // a session is in hand: the screen stays on, where that is allowed
};

}  // namespace slipway::host
