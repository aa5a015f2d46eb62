#include "web_host.h"

#include <utility>

#include "outside.h"

namespace slipway::web {

namespace {

constexpr double kMsPerMinute = 60'000;

void ask(Asked what, std::int32_t detail = 0) { slipway_ask(static_cast<std::int32_t>(what), detail); }

}  // namespace

model::ClaimedTime WebClock::now() {
  return {.local_ms = static_cast<std::int64_t>(slipway_local_ms()),
          .utc_offset_min = slipway_utc_offset_min(),
          .since_start_min = static_cast<std::uint64_t>(slipway_monotonic_ms() / kMsPerMinute)};
}

std::uint64_t WebClock::monotonic_ms() { return static_cast<std::uint64_t>(slipway_monotonic_ms()); }

void WebRandom::fill(std::span<std::uint8_t> out) { slipway_random(out.data(), out.size()); }

void WebExchange::hand_over(std::string_view file_name, std::span<const std::uint8_t> bytes) {
  slipway_hand_over(file_name.data(), file_name.size(), bytes.data(), bytes.size());
}
void WebExchange::ask_for_file() { ask(Asked::file); }
void WebExchange::take_over() { ask(Asked::take_over); }
void WebExchange::open_again() { ask(Asked::open_again); }
void WebExchange::look_around() { looks_around_ = true; }
void WebExchange::ask_to_persist() { ask(Asked::persist); }
void WebExchange::signal(bool beep, bool buzz) { ask(Asked::signal, (beep ? 1 : 0) + (buzz ? 2 : 0)); }
void WebExchange::stay_awake(bool wanted) { ask(Asked::awake, wanted ? 1 : 0); }

bool WebExchange::take_wish_to_look_around() { return std::exchange(looks_around_, false); }

}  // namespace slipway::web
