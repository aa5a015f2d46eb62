#include "app/waiting_files.h"

#include <algorithm>

#include "app/desk.h"
#include "app/hand_over_choice.h"
#include "report/words.h"

namespace slipway::app {

using report::say;
using screens::FormKind;
using screens::FormPart;

namespace {

constexpr std::uint32_t kPassphrase = 1, kOpen = 2, kFirstFile = 10;
constexpr std::uint32_t kTakeIn = 0;  // the key that says yes to a file; the one beside it leaves the file alone
constexpr std::size_t kMost = 64;

bool waits_for_passphrase(const WaitingFiles::File& file) { return file.why.kind == model::ErrorKind::sealed; }

FormPart part_of(FormKind kind, std::uint32_t id, std::string label) {
  FormPart part;
  part.kind = kind;
  part.id = id;
  part.label = std::move(label);
  return part;
}

}  // namespace

bool WaitingFiles::waits_for(const model::Error& why) {
  if (why.kind == model::ErrorKind::unconfirmed) return true;
  return why.kind == model::ErrorKind::sealed && why.text != "bundle.sealed_other" && why.text != "profile.shut_file";  // no passphrase of a file helps with these
}

void WaitingFiles::add(File file) {
  files_.erase(std::remove_if(files_.begin(), files_.end(), [&](const File& one) { return one.bytes == file.bytes; }), files_.end());
  if (files_.size() == kMost) files_.erase(files_.begin());
  files_.push_back(std::move(file));
}

void WaitingFiles::clear() {
  files_.clear();
  passphrase_.clear();
}

void WaitingFiles::add_parts(std::vector<FormPart>& parts) const {
  const auto sealed = static_cast<std::size_t>(std::count_if(files_.begin(), files_.end(), waits_for_passphrase));
  if (sealed > 0) {
    const auto first = std::find_if(files_.begin(), files_.end(), waits_for_passphrase);
    FormPart why = part_of(FormKind::caution, kOpen, count_words(sealed, "waiting.sealed_one", "waiting.sealed_many"));
    why.detail = say(first->why);
    why.icon = screens::Icon::lock;
    parts.push_back(std::move(why));
    FormPart field = part_of(FormKind::field, kPassphrase, say("waiting.passphrase"));
    field.value = passphrase_;
    parts.push_back(std::move(field));
    FormPart key = part_of(FormKind::keys, kOpen, "");
    key.choices = {{.label = say("waiting.open")}, {.label = say("waiting.leave")}};
    parts.push_back(std::move(key));
  }
  for (std::size_t i = 0; i < files_.size(); ++i) {
    if (waits_for_passphrase(files_[i])) continue;
    const auto id = kFirstFile + static_cast<std::uint32_t>(i);
    FormPart why = part_of(FormKind::caution, id, say("waiting.asks"));
    why.detail = say(files_[i].why);
    parts.push_back(std::move(why));
    FormPart keys = part_of(FormKind::keys, id, "");
    keys.choices = {{.label = say("waiting.take_in"), .spoken = say("waiting.take_in_spoken", {files_[i].name})},
                    {.label = say("waiting.leave"), .spoken = say("waiting.leave_spoken", {files_[i].name})}};
    parts.push_back(std::move(keys));
  }
}

bool WaitingFiles::is_about_one(const screens::ExchangeAnswer& given) {
  return given.part == kOpen || (given.part >= kFirstFile && given.part < HandOverChoice::kFirstPart);
}

std::vector<WaitingFiles::File> WaitingFiles::answer(const screens::ExchangeAnswer& given) {
  std::vector<File> again;
  if (given.part == kPassphrase) {
    passphrase_ = given.text;
  } else if (given.part == kOpen) {
    if (given.choice == kTakeIn && passphrase_.empty()) return {};
    const auto sealed = std::stable_partition(files_.begin(), files_.end(), [](const File& one) { return !waits_for_passphrase(one); });
    if (given.choice == kTakeIn)
      for (auto file = sealed; file != files_.end(); ++file) {
        again.push_back(std::move(*file));
        again.back().wish.passphrase = passphrase_;
      }
    files_.erase(sealed, files_.end());
    passphrase_.clear();
  } else if (given.part >= kFirstFile && given.part - kFirstFile < files_.size()) {
    const auto file = files_.begin() + static_cast<std::ptrdiff_t>(given.part - kFirstFile);
    if (waits_for_passphrase(*file)) return {};
    if (given.choice == kTakeIn) {
      again.push_back(std::move(*file));
      // One yes answers one question: a stranger's file may bring somebody else too.
      if (again.back().why.text == "bundle.others") again.back().wish.ones_own = false;
      else again.back().wish.confirmed = true;
    }
    files_.erase(file);
  }
  return again;
}

}  // namespace slipway::app
