#include "app/key_words.h"

#include "report/words.h"

namespace slipway::app {

namespace {

constexpr std::size_t kDeviceSigns = 4;

}  // namespace

std::string sender_words(const TakenIn& taken) {
  const std::vector<std::string> who{taken.sender.device.hex().substr(0, kDeviceSigns), taken.sender.digits};
  switch (taken.sender.state) {
    case Sender::State::not_signed: return report::say("key.from_unsigned");
    case Sender::State::unknown: return report::say("key.from_first", who);
    case Sender::State::other_key: return report::say("key.from_other_key", who);
    case Sender::State::known:
    case Sender::State::own: break;
  }
  return {};
}

std::string joined_words(const sync::Squad& squad) {
  return report::say("key.joined", {squad.coach, sync::compare_digits(squad.seal_to.view())});
}

}  // namespace slipway::app
