// The promises of core/host, kept by the browser.
#pragma once

#include "host/clock.h"
#include "host/exchange.h"
#include "host/random.h"

namespace slipway::web {

// What the program asks of the page or of the worker around it; the numbers are shared
// with worker.js.
enum class Asked : std::int32_t { file = 1, take_over = 2, open_again = 3, persist = 4, signal = 5, awake = 6 };

class WebClock : public host::Clock {
 public:
  model::ClaimedTime now() override;
  std::uint64_t monotonic_ms() override;
};

class WebRandom : public host::Random {
 public:
  void fill(std::span<std::uint8_t> out) override;
};

// Everything asked is answered later by a call of the worker; only the made-up squad is
// opened inside this program, by the shell, once the present intent is done.
class WebExchange : public host::Exchange {
 public:
  void hand_over(std::string_view file_name, std::span<const std::uint8_t> bytes) override;
  void ask_for_file() override;
  void take_over() override;
  void open_again() override;
  void look_around() override;
  void ask_to_persist() override;
  void signal(bool beep, bool buzz) override;
  void stay_awake(bool wanted) override;

  bool take_wish_to_look_around();

 private:
  bool looks_around_ = false;
};

}  // namespace slipway::web
