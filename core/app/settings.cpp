#include "app/settings.h"

#include <algorithm>
#include <charconv>
#include <iterator>
#include <string_view>

#include "app/local_names.h"

namespace slipway::app {

namespace {

constexpr std::int64_t kMsAnHour = 3'600'000, kHoursADay = 24;

// "name=value" lines; numbers, but for the emergency number.
class Lines {
 public:
  void number(std::string_view name, std::uint64_t value) { text(name, std::to_string(value)); }
  void text(std::string_view name, std::string_view value) {
    all_ += name;
    all_ += '=';
    all_ += value;
    all_ += '\n';
  }
  const std::string& all() const { return all_; }

 private:
  std::string all_;
};

std::string_view value_of(std::string_view all, std::string_view name) {
  while (!all.empty()) {
    const std::size_t end = std::min(all.find('\n'), all.size());
    const std::string_view line = all.substr(0, end);
    if (line.size() > name.size() && line.substr(0, name.size()) == name && line[name.size()] == '=') return line.substr(name.size() + 1);
    all.remove_prefix(std::min(end + 1, all.size()));
  }
  return {};
}

// Nothing if it is not there, no number, or above `most`.
std::optional<std::uint64_t> number_of(std::string_view all, std::string_view name, std::uint64_t most) {
  const std::string_view text = value_of(all, name);
  std::uint64_t value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || read.ec != std::errc{} || read.ptr != text.data() + text.size() || value > most) return std::nullopt;
  return value;
}

void take(bool& to, const std::optional<std::uint64_t>& value) {
  if (value) to = *value != 0;
}

template <class Choice>
void choose(Choice& to, const std::optional<std::uint64_t>& value) {
  if (value) to = static_cast<Choice>(*value);
}

std::string health_name(std::size_t question) { return "health" + std::to_string(question + 1); }

}  // namespace

screens::ThemeName Settings::theme(std::int64_t local_ms) const {
  const std::int64_t hour = ((local_ms / kMsAnHour) % kHoursADay + kHoursADay) % kHoursADay;
  const bool dark = display == Display::night || (display == Display::by_clock && (hour >= kNightFromHour || hour < kDayFromHour));
  return dark ? screens::ThemeName::night : screens::ThemeName::daylight;
}

namespace {

Settings parsed(std::string_view all) {
  Settings out;
  choose(out.display, number_of(all, "display", 2));
  take(out.display_said, number_of(all, "display_said", 1));
  if (const auto percent = number_of(all, "text", 1000); percent && std::find(std::begin(kTextPercents), std::end(kTextPercents), *percent) != std::end(kTextPercents))
    out.text_percent = static_cast<std::uint32_t>(*percent);
  choose(out.user, number_of(all, "user", 2));
  take(out.user_said, number_of(all, "user_said", 1));
  if (number_of(all, "unit", 2) == static_cast<std::uint64_t>(model::Unit::lb)) out.unit = model::Unit::lb;
  take(out.beep, number_of(all, "beep", 1));
  take(out.buzz, number_of(all, "buzz", 1));
  take(out.hand.left, number_of(all, "left_hand", 1));
  take(out.hand.gloves, number_of(all, "gloves", 1));
  out.emergency_number = std::string(value_of(all, "emergency"));
  for (std::size_t i = 0; i < kHealthQuestions; ++i) choose(out.health[i], number_of(all, health_name(i), 2));
  take(out.doctor_allowed, number_of(all, "doctor_allowed", 1));
  take(out.started, number_of(all, "started", 1));
  return out;
}

std::string lines_of(const Settings& settings) {
  Lines lines;
  lines.number("display", static_cast<std::uint64_t>(settings.display));
  lines.number("display_said", settings.display_said ? 1 : 0);
  lines.number("text", settings.text_percent);
  lines.number("user", static_cast<std::uint64_t>(settings.user));
  lines.number("user_said", settings.user_said ? 1 : 0);
  lines.number("unit", static_cast<std::uint64_t>(settings.unit));
  lines.number("beep", settings.beep ? 1 : 0);
  lines.number("buzz", settings.buzz ? 1 : 0);
  lines.number("left_hand", settings.hand.left ? 1 : 0);
  lines.number("gloves", settings.hand.gloves ? 1 : 0);
  lines.text("emergency", settings.emergency_number);
  for (std::size_t i = 0; i < kHealthQuestions; ++i) lines.number(health_name(i), static_cast<std::uint64_t>(settings.health[i]));
  lines.number("doctor_allowed", settings.doctor_allowed ? 1 : 0);
  lines.number("started", settings.started ? 1 : 0);
  return lines.all();
}

Settings without_health(Settings settings) {
  std::fill(std::begin(settings.health), std::end(settings.health), Answer::open);
  settings.doctor_allowed = false;
  return settings;
}

}  // namespace

Settings Settings::read(Book& book) {
  const auto kept = book.local(kSettingsName);
  return kept ? parsed(model::as_text(*kept)) : Settings{};
}

bool Health::asks_doctor() const {
  return !doctor_allowed && std::find(std::begin(answers), std::end(answers), Answer::yes) != std::end(answers);
}

Health Health::read(Book& book, const model::ScopeId& scope) {
  Health out;
  const auto kept = book.local(std::string(kHealthName) + scope.hex());
  const std::string_view all = kept ? model::as_text(*kept) : std::string_view();
  for (std::size_t i = 0; i < kHealthQuestions; ++i) choose(out.answers[i], number_of(all, health_name(i), 2));
  take(out.doctor_allowed, number_of(all, "doctor_allowed", 1));
  return out;
}

bool Health::write(Book& book, const model::ScopeId& scope) const {
  Lines lines;
  for (std::size_t i = 0; i < kHealthQuestions; ++i) lines.number(health_name(i), static_cast<std::uint64_t>(answers[i]));
  lines.number("doctor_allowed", doctor_allowed ? 1 : 0);
  return book.set_local(std::string(kHealthName) + scope.hex(), model::as_bytes(lines.all()));
}

bool Settings::give_health_to(Book& book, const model::ScopeId& scope) {
  const bool answered = std::find_if(std::begin(health), std::end(health), [](Answer one) { return one != Answer::open; }) != std::end(health);
  if (!answered) return true;
  if (const auto own = book.local(std::string(kHealthName) + scope.hex()); !own || own->empty()) {
    Health theirs;
    std::copy(std::begin(health), std::end(health), std::begin(theirs.answers));
    theirs.doctor_allowed = doctor_allowed;
    if (!theirs.write(book, scope)) return false;
  }
  *this = without_health(*this);
  return write(book);
}

void Settings::forget_person(Book& book) {
  Settings now = without_health(read(book));
  now.started = now.started && now.is_coach();
  now.write(book);
}

bool Settings::write(Book& book) const { return book.set_local(kSettingsName, model::as_bytes(lines_of(*this))); }

std::string Settings::to_carry(Book& book) { return lines_of(without_health(read(book))); }

bool Settings::take_carried(Book& book, std::string_view lines) {
  if (const auto own = book.local(kSettingsName); own && !own->empty()) return false;
  return without_health(parsed(lines)).write(book);
}

}  // namespace slipway::app
