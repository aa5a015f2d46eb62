#include "kit/op_model.h"

#include <algorithm>

namespace slipway::kit {

namespace {

// Numbers of the registry, written a second time on purpose.
constexpr std::uint32_t kPain = 12, kProgramme = 20, kSoreness = 22, kFlag = 26, kClearance = 28, kSignOff = 30, kTickIn = 32,
                        kConsent = 34, kMember = 54, kPreference = 56;
constexpr std::uint32_t kExercise = 16, kLevel = 17, kSignedOn = 21, kThing = 16, kGiven = 17, kSaidOn = 19, kRegion = 16, kSoreLevel = 17,
                        kSoreDay = 19, kGroup = 17;

bool stays_for_good(std::uint32_t kind) {
  return kind == kPain || kind == kFlag || kind == kClearance || kind == kSignOff || kind == kTickIn || kind == kConsent;
}

bool within(const std::set<int>& all, const std::set<int>& some) {
  return std::all_of(some.begin(), some.end(), [&](int one) { return all.count(one) != 0; });
}

std::set<int> except(const std::set<int>& all, const std::set<int>& some) {
  std::set<int> left;
  for (int one : all)
    if (some.count(one) == 0) left.insert(one);
  return left;
}

}  // namespace

struct OpModel::Sheet {
  bool begun = false;
  std::map<std::uint32_t, std::set<int>> writers, covered;
  std::set<int> touches;
  bool take_back_said = false;
  std::set<int> taken_back;  // deeds that some take-back saw
  std::set<int> take_backs, answered;  // and those that somebody answered by keeping it
  std::set<std::uint64_t> endings;
};

int OpModel::add(Deed deed) {
  const int number = static_cast<int>(deeds_.size());
  if (deed.what == Deed::What::begin) deed.record = number;
  deeds_.push_back(std::move(deed));
  return number;
}

std::map<int, OpModel::Sheet> OpModel::sheets(const Hand& hand) const {
  std::map<int, Sheet> all;
  for (int number : hand) {
    const Deed& deed = deeds_[static_cast<std::size_t>(number)];
    if (deed.what == Deed::What::unknown) continue;
    Sheet& sheet = all[deed.record];
    if (deed.what == Deed::What::begin) sheet.begun = true;
    if (deed.what == Deed::What::begin || deed.what == Deed::What::change) {
      sheet.touches.insert(number);
      if (deed.says.empty()) sheet.answered.insert(deed.saw.begin(), deed.saw.end());
      for (const auto& [tag, value] : deed.says) {
        sheet.writers[tag].insert(number);
        sheet.covered[tag].insert(deed.saw.begin(), deed.saw.end());
      }
    }
    if (deed.what == Deed::What::take_back) {
      sheet.take_back_said = true;
      sheet.take_backs.insert(number);
      sheet.taken_back.insert(deed.saw.begin(), deed.saw.end());
    }
    if (deed.what == Deed::What::end_pain) sheet.endings.insert(deed.how);
  }
  return all;
}

std::set<int> OpModel::writers_seen(const Hand& hand, int record, std::uint32_t tag) const {
  Sheet sheet = sheets(hand)[record];
  return except(sheet.writers[tag], sheet.covered[tag]);
}

std::set<int> OpModel::touches_seen(const Hand& hand, int record) const { return sheets(hand)[record].touches; }

std::set<int> OpModel::take_backs_seen(const Hand& hand, int record) const { return sheets(hand)[record].take_backs; }

std::uint64_t OpModel::highest_count(const Hand& hand) const {
  std::uint64_t highest = 0;
  for (int number : hand) highest = std::max(highest, deed(number).count);
  return highest;
}

bool OpModel::drawn_before(int a, int b) const {
  return deed(a).count != deed(b).count ? deed(a).count < deed(b).count : deed(a).name < deed(b).name;
}

std::string OpModel::line(int record, const Sheet& sheet) const {
  const bool may_go = !stays_for_good(deed(record).kind) && sheet.take_back_said;
  std::string text = std::to_string(deed(record).kind) + " #" + std::to_string(record);
  const bool answered = within(sheet.answered, sheet.take_backs);
  text += !may_go ? " stands" : within(sheet.taken_back, sheet.touches) ? " taken back" : answered ? " stands" : " revived";
  for (const auto& [tag, writers] : sheet.writers) {
    const std::set<int> seen = except(writers, sheet.covered.at(tag));
    std::vector<int> drawn(seen.begin(), seen.end());
    std::sort(drawn.begin(), drawn.end(), [&](int a, int b) { return drawn_before(b, a); });
    std::vector<std::string> values;
    for (int writer : drawn) {
      const std::string value = std::to_string(deed(writer).says.at(tag));
      if (std::find(values.begin(), values.end(), value) == values.end()) values.push_back(value);
    }
    text += " " + std::to_string(tag) + "=";
    for (std::size_t i = 0; i < values.size(); ++i) text += (i > 0 ? "|" : "") + values[i];
  }
  std::string endings;
  for (std::uint64_t how : sheet.endings) endings += (endings.empty() ? " ended=" : ",") + std::to_string(how);
  return text + endings + "\n";
}

std::string OpModel::view(const Hand& hand) const {
  const std::map<int, Sheet> all = sheets(hand);
  std::vector<int> records;
  for (const auto& [record, sheet] : all)
    if (sheet.begun) records.push_back(record);
  std::sort(records.begin(), records.end(), [&](int a, int b) {
    return deed(a).kind != deed(b).kind ? deed(a).kind < deed(b).kind : drawn_before(a, b);
  });
  std::string text;
  for (int record : records) text += line(record, all.at(record));
  const auto unknown = std::count_if(hand.begin(), hand.end(), [&](int number) { return deed(number).what == Deed::What::unknown; });
  return text + "unknown " + std::to_string(unknown) + "\n";
}

std::int64_t OpModel::own(int record, std::uint32_t tag) const {
  const auto& says = deed(record).says;
  const auto found = says.find(tag);
  return found == says.end() ? -1 : found->second;
}

bool OpModel::withdrawn(const Hand& hand, int record) const {
  return std::any_of(hand.begin(), hand.end(),
                     [&](int number) { return deed(number).what == Deed::What::take_back && deed(number).record == record; });
}

bool OpModel::gone(const Hand& hand, int record) const {
  const Sheet sheet = sheets(hand)[record];
  return !stays_for_good(deed(record).kind) && sheet.take_back_said && within(sheet.taken_back, sheet.touches);
}

std::int64_t OpModel::shown(const Hand& hand, int record, std::uint32_t tag) const {
  int first = -1;
  for (int writer : writers_seen(hand, record, tag))
    if (first < 0 || drawn_before(first, writer)) first = writer;
  return first < 0 ? -1 : deed(first).says.at(tag);
}

std::set<int> OpModel::facts_seen(const Hand& hand, std::uint32_t kind, const std::map<std::uint32_t, std::int64_t>& about) const {
  std::set<int> told, replaced;
  for (int number : hand) {
    const Deed& one = deed(number);
    if (one.what != Deed::What::begin || one.kind != kind || gone(hand, number)) continue;
    const bool same = std::all_of(about.begin(), about.end(), [&](const auto& what) { return own(number, what.first) == what.second; });
    if (!same) continue;
    told.insert(number);
    replaced.insert(one.saw.begin(), one.saw.end());
  }
  return except(told, replaced);
}

std::string OpModel::counting(const Hand& hand) const {
  const auto drawn = [&](const std::set<int>& some) {
    std::vector<int> order(some.begin(), some.end());
    std::sort(order.begin(), order.end(), [&](int a, int b) { return drawn_before(a, b); });
    return order;
  };
  // The first that nobody else is more careful than; `careful` lists values, the most careful first.
  const auto best = [&](const std::vector<int>& order, std::uint32_t tag, const std::vector<std::int64_t>& careful, std::uint32_t day) {
    for (std::int64_t value : careful) {
      std::int64_t earliest = -1;
      for (int number : order)
        if (own(number, tag) == value && (earliest < 0 || own(number, day) < earliest)) earliest = own(number, day);
      if (earliest >= 0) return std::to_string(value) + " on " + std::to_string(earliest);
    }
    return std::string();
  };
  std::string text;
  for (std::int64_t exercise = 1; exercise <= 2; ++exercise) {
    const auto order = drawn(facts_seen(hand, kSignOff, {{kExercise, exercise}}));
    if (!order.empty()) text += "form " + std::to_string(exercise) + ": " + best(order, kLevel, {3, 0, 1, 2}, kSignedOn) + "\n";
  }
  for (std::int64_t thing = 1; thing <= 2; ++thing) {
    const auto order = drawn(facts_seen(hand, kConsent, {{kThing, thing}}));
    if (!order.empty()) text += "may " + std::to_string(thing) + ": " + best(order, kGiven, {0, 1}, kSaidOn) + "\n";
  }
  for (std::int64_t region = 1; region <= 2; ++region)
    for (std::int64_t day = 1; day <= 2; ++day) {
      const auto order = drawn(facts_seen(hand, kSoreness, {{kRegion, region}, {kSoreDay, day}}));
      if (order.empty()) continue;
      text += "sore " + std::to_string(region) + " on " + std::to_string(day) + ":";
      for (int number : order) text += " #" + std::to_string(number) + "=" + std::to_string(shown(hand, number, kSoreLevel));
      text += "\n";
    }
  std::set<int> ticks, flags, clearances;
  for (int number : hand) {
    if (deed(number).what != Deed::What::begin) continue;
    if (deed(number).kind == kTickIn) ticks.insert(number);
    if (deed(number).kind == kFlag) flags.insert(number);
    if (deed(number).kind == kClearance) clearances.insert(number);
  }
  for (int number : drawn(ticks)) text += "ticked #" + std::to_string(number) + (withdrawn(hand, number) ? " withdrawn\n" : "\n");
  for (int number : drawn(flags)) text += "flag #" + std::to_string(number) + "=" + std::to_string(own(number, kGroup)) + "\n";
  for (int number : drawn(clearances)) text += "cleared #" + std::to_string(number) + (withdrawn(hand, number) ? " withdrawn\n" : "\n");
  std::set<int> members, preferences;
  for (int number : hand) {
    if (deed(number).what != Deed::What::begin || gone(hand, number)) continue;
    if (deed(number).kind == kMember) members.insert(number);
    if (deed(number).kind == kPreference) preferences.insert(number);
  }
  std::set<std::int64_t> words;
  for (int number : members) words.insert(own(number, 17));
  for (std::int64_t word : words) text += "word " + std::to_string(word) + "\n";
  std::map<std::int64_t, int> last;
  for (int number : drawn(preferences)) last[own(number, 16)] = number;
  for (const auto& [name, number] : last) text += "prefers " + std::to_string(name) + "=" + std::to_string(own(number, 17)) + "\n";
  std::vector<int> programmes = drawn(facts_seen(hand, kProgramme, {}));
  std::reverse(programmes.begin(), programmes.end());
  if (!programmes.empty()) text += "programme";
  for (int number : programmes) text += " #" + std::to_string(number);
  return text + "\n";
}

}  // namespace slipway::kit
