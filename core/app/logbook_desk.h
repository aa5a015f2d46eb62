// The Logbook place: what was entered, newest day first, with every correction and who made
// it. Pain and red flags are struck through, never hidden.
#pragma once

#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "app/desk.h"
#include "app/late_form.h"
#include "screens/logbook_screen.h"

namespace slipway::app {

inline constexpr std::int32_t kLogbookDays = 14;  // shown at first, and added by "Show older days"

class LogbookDesk {
 public:
  const screens::LogbookView& view(Desk& desk);
  void act(Desk& desk, const screens::LogbookIntent& intent);
  void act(Desk& desk, const screens::LogAnswer& given);
  void leave();

 private:
  enum class What : std::uint8_t { nothing, set, pain, soreness, check, clearance, tick_in };
  struct Row {   // what the keys of a line are about
    What what = What::nothing;
    model::RecordId record;
  };
  struct Entry {
    std::int64_t at_ms = 0;     // claimed, within the day
    model::RecordId record;
    model::Day day;
    screens::LogEntry shown;
    std::vector<Row> rows;
  };
  using Key = std::tuple<std::uint64_t, std::size_t, std::int32_t, std::int32_t, std::optional<model::RecordId>, std::optional<model::ScopeId>, std::uint64_t>;

  void build(Desk& desk);
  void add(Entry entry);
  void add_sessions(Desk& desk, const model::Athlete& athlete);
  void add_session_lines(Desk& desk, const model::Athlete& athlete, const model::Session& session, Entry& entry);
  void add_set_line(Desk& desk, const model::SetDone& set, bool taken_back, Entry& entry);
  void add_body(Desk& desk, const model::Athlete& athlete);
  void add_adults(Desk& desk, const model::Athlete& athlete);
  bool is_open(const model::RecordId& record) const { return open_ && *open_ == record; }
  const Row* row_at(std::uint32_t day, std::uint32_t entry, std::uint32_t line) const;

  std::int32_t days_ = kLogbookDays;
  std::optional<model::RecordId> open_;
  LateForm late_;
  std::uint64_t answers_ = 0;            // rises with everything that is asked or answered there
  std::optional<Key> built_for_;
  std::vector<Entry> entries_;           // newest first
  std::vector<std::vector<std::size_t>> places_;  // of the view: day, entry -> entries_
  bool older_ = false;
  screens::LogbookView view_;
};

}  // namespace slipway::app
