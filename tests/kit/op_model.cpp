#include "kit/op_model.h"

#include <algorithm>

namespace slipway::kit {

namespace {

constexpr std::uint32_t kPain = 12;

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
      for (const auto& [tag, value] : deed.says) {
        sheet.writers[tag].insert(number);
        sheet.covered[tag].insert(deed.saw.begin(), deed.saw.end());
      }
    }
    if (deed.what == Deed::What::take_back) {
      sheet.take_back_said = true;
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

std::uint64_t OpModel::highest_count(const Hand& hand) const {
  std::uint64_t highest = 0;
  for (int number : hand) highest = std::max(highest, deed(number).count);
  return highest;
}

bool OpModel::drawn_before(int a, int b) const {
  return deed(a).count != deed(b).count ? deed(a).count < deed(b).count : deed(a).name < deed(b).name;
}

std::string OpModel::line(int record, const Sheet& sheet) const {
  const bool may_go = deed(record).kind != kPain && sheet.take_back_said;
  std::string text = std::to_string(deed(record).kind) + " #" + std::to_string(record);
  text += !may_go ? " stands" : within(sheet.taken_back, sheet.touches) ? " taken back" : " revived";
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

}  // namespace slipway::kit
