// What this device remembers for itself: how it looks, who uses it, its units and sounds,
// and the answers of first run. Local values of the store: never in a bundle.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "app/book.h"
#include "screens/theme.h"

namespace slipway::app {

enum class Display : std::uint8_t { daylight, night, by_clock };
enum class DeviceUser : std::uint8_t { swimmer, shared, coach };  // one swimmer; the tablet of a squad; the coach's own
enum class Answer : std::uint8_t { open, no, yes };

inline constexpr std::uint32_t kTextPercents[] = {100, 125, 150, 200};
inline constexpr std::size_t kHealthQuestions = 4;
inline constexpr std::int64_t kNightFromHour = 20, kDayFromHour = 7;  // "by clock" [our judgement]

// What one athlete answered before the start, and whether somebody said since that a doctor allows it. It never leaves this device.
struct Health {
  Answer answers[kHealthQuestions] = {};
  bool doctor_allowed = false;

  bool asks_doctor() const;  // a yes, and no doctor yet
  static Health read(Book& book, const model::ScopeId& scope);
  bool write(Book& book, const model::ScopeId& scope) const;
};

struct Settings {
  Display display = Display::daylight;
  bool display_said = false;              // not said: as the system is
  std::uint32_t text_percent = 0;         // one of kTextPercents; 0: as the system says
  DeviceUser user = DeviceUser::swimmer;
  bool user_said = false;                 // somebody chose it: first run or Setup
  model::Unit unit = model::Unit::kg;     // of what is typed without a unit
  bool beep = true, buzz = true;
  screens::Hand hand = {};                // left hand, gloves
  std::string emergency_number = {};
  Answer health[kHealthQuestions] = {};   // the questions before the start [handbook 7], while it is not said yet who answers them
  bool doctor_allowed = false;            // as older stores have it, of whoever was here alone
  bool started = false;                   // first run is over; a coach may start without an athlete

  Author author() const { return user == DeviceUser::coach ? Author::coach : Author::swimmer; }
  bool is_coach() const { return user == DeviceUser::coach; }
  // local_ms: civil local time, for "by clock".
  screens::ThemeName theme(std::int64_t local_ms) const;
  float text_scale(float of_the_system) const { return text_percent == 0 ? of_the_system : static_cast<float>(text_percent) / 100; }

  // What cannot be read keeps its first value. Once `settings` stands in the store.
  static Settings read(Book& book);
  bool write(Book& book) const;
  // The answers become those of this athlete; of one who has answered they stay as they are.
  bool give_health_to(Book& book, const model::ScopeId& scope);
  // Whose device it was is gone from it: who comes next is asked about health themselves.
  static void forget_person(Book& book);

  // For a backup: as one text, without the answers about health.
  static std::string to_carry(Book& book);
  // From one; false: this device has settings of its own, and keeps them.
  static bool take_carried(Book& book, std::string_view lines);
};

}  // namespace slipway::app
