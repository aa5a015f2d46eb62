// For whom the next bundle of the Exchange place is, and what of it leaves this device for the first time.
//
// A swimmer hands over that swimmer alone, without a question. A coach says for whom first: one swimmer, or everybody,
// which is for another coach; nothing is chosen before, so that no squad goes to a swimmer by one tap. The question stands
// there once the key was pressed, for most who come here have something to take in.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/desk.h"
#include "screens/exchange_screen.h"

namespace slipway::app {

class HandOverChoice {
 public:
  // Nothing: a coach has not said yet for whom.
  std::optional<Book::HandOver> asked(Desk& desk) const;
  void ask() { asks_ = true; }
  bool asks(Desk& desk) const { return asks_ && !asked(desk); }

  // The parts before the key, numbered from kFirstPart on.
  static constexpr std::uint32_t kFirstPart = 1'000'000;
  void add_parts(Desk& desk, std::vector<screens::FormPart>& parts);
  void answer(Desk& desk, const screens::ExchangeAnswer& given);

 private:
  enum class Whom : std::uint8_t { not_said, one, everybody };
  struct Shown {  // what the preview was worked out for
    std::uint64_t revision = 0;
    std::size_t waiting = 0;
    std::string last_out;
    Book::HandOver asked;
    DeviceUser user = DeviceUser::swimmer;
  };

  bool chosen_is_here(Desk& desk) const;
  void add_preview(Desk& desk, const Book::HandOver& asked, std::vector<screens::FormPart>& parts);
  void word_texts(Desk& desk);

  bool asks_ = false;
  Whom whom_ = Whom::not_said;
  model::ScopeId one_;
  bool libraries_ = false, coach_notes_ = false;  // with everybody only
  std::optional<Shown> shown_for_;
  Book::GoesOut shown_;
  std::vector<screens::FormPart> texts_;  // of it, in words
};

}  // namespace slipway::app
