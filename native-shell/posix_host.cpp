#include "posix_host.h"

#include <sys/random.h>

#include <cerrno>
#include <charconv>
#include <cstdlib>
#include <ctime>

namespace slipway::native {

namespace {

constexpr std::int64_t kMinuteMs = 60'000, kHourMs = 60 * kMinuteMs, kDayMs = 24 * kHourMs;

std::int64_t milliseconds(clockid_t which) {
  timespec moment{};
  ::clock_gettime(which, &moment);
  return static_cast<std::int64_t>(moment.tv_sec) * 1000 + moment.tv_nsec / 1'000'000;
}

// Takes `digits` decimal digits from the front, at most `high`.
bool take_number(std::string_view& text, std::size_t digits, std::int64_t high, std::int64_t& out) {
  if (text.size() < digits) return false;
  const auto read = std::from_chars(text.data(), text.data() + digits, out);
  if (read.ec != std::errc{} || read.ptr != text.data() + digits || out < 0 || out > high) return false;
  text.remove_prefix(digits);
  return true;
}

bool take_sign(std::string_view& text, char sign) {
  if (!text.starts_with(sign)) return false;
  text.remove_prefix(1);
  return true;
}

bool take_clock(std::string_view& text, std::int64_t& ms) {
  std::int64_t hour = 0, minute = 0, second = 0, fraction = 0;
  if (!take_number(text, 2, 23, hour) || !take_sign(text, ':') || !take_number(text, 2, 59, minute)) return false;
  if (take_sign(text, ':')) {
    if (!take_number(text, 2, 59, second)) return false;
    if (take_sign(text, '.') && !take_number(text, 3, 999, fraction)) return false;
  }
  ms = hour * kHourMs + minute * kMinuteMs + second * 1000 + fraction;
  return true;
}

bool take_offset(std::string_view& text, std::int64_t& minutes) {
  if (take_sign(text, 'Z')) return true;
  const bool west = take_sign(text, '-');
  if (!west && !take_sign(text, '+')) return false;
  std::int64_t hour = 0, minute = 0;
  if (!take_number(text, 2, 23, hour) || !take_sign(text, ':') || !take_number(text, 2, 59, minute)) return false;
  minutes = hour * 60 + minute;
  if (west) minutes = -minutes;
  return true;
}

}  // namespace

PosixClock::PosixClock(std::optional<model::ClaimedTime> claimed) : claimed_(claimed), started_ms_(milliseconds(CLOCK_BOOTTIME)) {}

model::ClaimedTime PosixClock::now() {
  if (claimed_) return *claimed_;
  const std::int64_t utc_ms = milliseconds(CLOCK_REALTIME);
  const auto utc_s = static_cast<std::time_t>(utc_ms / 1000);
  std::tm local{};
  ::localtime_r(&utc_s, &local);
  model::ClaimedTime now;
  now.utc_offset_min = static_cast<std::int32_t>(local.tm_gmtoff / 60);
  now.local_ms = utc_ms + now.utc_offset_min * kMinuteMs;
  now.since_start_min = monotonic_ms() / static_cast<std::uint64_t>(kMinuteMs);
  return now;
}

std::uint64_t PosixClock::monotonic_ms() { return static_cast<std::uint64_t>(milliseconds(CLOCK_BOOTTIME) - started_ms_); }

void PosixRandom::fill(std::span<std::uint8_t> out) {
  std::size_t got = 0;
  while (got < out.size()) {
    const ssize_t more = ::getrandom(out.data() + got, out.size() - got, 0);
    if (more < 0 && errno != EINTR) std::abort();  // ids that are not random would make two devices one
    if (more > 0) got += static_cast<std::size_t>(more);
  }
}

model::Result<model::ClaimedTime> read_moment(std::string_view text) {
  const model::Error refused = model::error(model::ErrorKind::invalid, "cli.moment_unreadable", {std::string(text)});
  constexpr std::size_t kDaySigns = 10;
  const auto day = model::read_day(text.substr(0, kDaySigns));
  if (!day || text.size() < kDaySigns) return refused;
  std::string_view rest = text.substr(kDaySigns);
  std::int64_t clock_ms = 0, offset = 0;
  if (!take_sign(rest, 'T') || !take_clock(rest, clock_ms) || !take_offset(rest, offset) || !rest.empty()) return refused;
  model::ClaimedTime moment;
  moment.local_ms = day->since_1970 * kDayMs + clock_ms;
  moment.utc_offset_min = static_cast<std::int32_t>(offset);
  return moment;
}

}  // namespace slipway::native
