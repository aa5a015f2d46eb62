// What the Logbook asks where a session is put right afterwards: the day it was on, a set that
// is not in it yet, how hard it was; and a session of another day, from its first set.
//
// It stands in the open session's entry, or above the days for a session that is not there yet.
// Everything kept goes through a Book verb: what stood before stays in the history.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/desk.h"
#include "screens/form.h"

namespace slipway::app {

class LateForm {
 public:
  static bool may_log(const Desk& desk);  // the training log may be kept here [handbook 7.1]
  void fold() { asks_ = Asks::nothing; }
  void ask_another_day(const Desk& desk);
  bool is_above_the_days() const { return asks_ == Asks::fresh_day || (asks_ == Asks::set && !session_); }

  // Under the entry of a session: its keys, and what one of them asks.
  std::vector<screens::FormPart> parts_of(Desk& desk, const model::Session& session);
  std::vector<screens::FormPart> parts_above(Desk& desk);
  // `open`: the session whose entry stands open. Answers the session to show open, if another one.
  std::optional<model::RecordId> act(Desk& desk, const std::optional<model::RecordId>& open, const screens::FormAnswer& given);

 private:
  enum class Asks : std::uint8_t { nothing, fresh_day, moved_day, set, finish };

  void add_asked(Desk& desk, std::vector<screens::FormPart>& parts);
  void add_days(Desk& desk, std::vector<screens::FormPart>& parts);
  void add_set(Desk& desk, std::vector<screens::FormPart>& parts);
  void add_finish(std::vector<screens::FormPart>& parts);
  void begin(Asks asks, const std::optional<model::RecordId>& session);
  void begin_set(Desk& desk);
  void choose_exercise(Desk& desk, std::size_t choice);
  void take_day(Desk& desk, model::Day day);
  void read_day(Desk& desk);
  std::optional<model::RecordId> keep_set(Desk& desk);
  void keep_finish(Desk& desk);

  Asks asks_ = Asks::nothing;
  std::optional<model::RecordId> session_;  // nothing: it is begun with its first set
  model::Day day_;
  std::string typed_day_, day_refused_;
  std::string exercise_, reps_, load_, band_, reps_refused_, load_refused_;
  std::optional<std::uint64_t> reserve_;
  std::optional<std::uint64_t> effort_;
  std::string minutes_, effort_refused_, minutes_refused_;
};

}  // namespace slipway::app
