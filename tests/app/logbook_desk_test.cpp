// The logbook: every entry, every correction, nothing hidden.
#include "app/logbook_desk.h"
#include "desk_kit.h"
#include "report/words.h"

using namespace slipway;
using report::say;
using screens::Icon;

namespace {

const screens::LogbookView& view(app::LogbookDesk& logbook, kit::DeskDevice& device) {
  auto desk = device.desk();
  return logbook.view(desk);
}

void act(app::LogbookDesk& logbook, kit::DeskDevice& device, const screens::LogbookIntent& intent) {
  auto desk = device.desk();
  logbook.act(desk, intent);
}

}  // namespace

TEST_CASE("days stand newest first, and older ones come when asked for") {
  kit::DeskDevice device(21);
  const auto wren = device.add("Wren");
  for (int day = 0; day < app::kLogbookDays + 3; ++day) {
    device.log(wren, 1, 10, 22);
    device.next_day();
  }
  app::LogbookDesk logbook;
  REQUIRE(view(logbook, device).days.size() == static_cast<std::size_t>(app::kLogbookDays));
  CHECK(view(logbook, device).days[0].date == model::weekday_date(model::Day{device.today().since_1970 - 1}));
  CHECK_FALSE(view(logbook, device).more_words.empty());
  act(logbook, device, screens::ShowMoreDays{});
  CHECK(view(logbook, device).days.size() == static_cast<std::size_t>(app::kLogbookDays) + 3);
  CHECK(view(logbook, device).more_words.empty());
}

TEST_CASE("a changed set shows what it was, who wrote each version, and the old one struck") {
  kit::DeskDevice device(22);
  const auto wren = device.add("Wren");
  const auto set = device.log(wren, 1, 12, 22);
  device.next_day();
  app::SetChange change;
  change.reps = 10;
  REQUIRE(device.book().change_set(wren, set, change, app::Author::coach).ok());
  app::LogbookDesk logbook;
  CHECK(view(logbook, device).days.at(0).entries.at(0).lines.empty());
  act(logbook, device, screens::OpenEntry{0, 0});
  const auto& line = view(logbook, device).days.at(0).entries.at(0).lines.at(0);
  CHECK(line.mark == Icon::changed);
  CHECK(line.value.find("10") == 0);
  CHECK(line.was.find("12") == 0);
  REQUIRE(line.history.size() == 2);
  CHECK_FALSE(line.history[0].struck);
  CHECK(line.history[0].by.find(report::author_word(2)) != std::string::npos);
  CHECK(line.history[1].struck);
  CHECK(line.history[1].value.find("12") == 0);
  CHECK(line.history[1].by.find(report::author_word(1)) != std::string::npos);
  CHECK(line.change_words.empty());  // of another day: it is only taken back
  CHECK_FALSE(line.take_back_words.empty());
}

TEST_CASE("a set taken back stays in sight, struck") {
  kit::DeskDevice device(23);
  const auto wren = device.add("Wren");
  device.log(wren, 1, 12, 22);
  device.log(wren, 2, 11, 22);
  app::LogbookDesk logbook;
  act(logbook, device, screens::OpenEntry{0, 0});
  REQUIRE(view(logbook, device).days.at(0).entries.at(0).lines.size() == 2);
  act(logbook, device, screens::TakeBackLine{0, 0, 0});
  CHECK(device.said.back() == say("logbook.said_back"));
  CHECK(device.book().athlete(wren).sessions.at(0).sets.size() == 1);
  const auto& lines = view(logbook, device).days.at(0).entries.at(0).lines;
  REQUIRE(lines.size() == 2);
  const auto& back = lines[1];
  CHECK(back.mark == Icon::left_out);
  CHECK(back.was.find("12") == 0);
  CHECK(back.take_back_words.empty());
}

TEST_CASE("pain that was withdrawn or is over is struck through and never hidden") {
  kit::DeskDevice device(24);
  const auto wren = device.add("Wren");
  REQUIRE(device.book().note_pain(wren, "shoulder", 2, app::Author::swimmer).ok());
  REQUIRE(device.book().note_pain(wren, "knee", 1, app::Author::swimmer).ok());
  app::LogbookDesk logbook;
  REQUIRE(view(logbook, device).days.at(0).entries.size() == 2);
  act(logbook, device, screens::OpenEntry{0, 0});
  act(logbook, device, screens::TakeBackLine{0, 0, 0});
  act(logbook, device, screens::OpenEntry{0, 1});
  act(logbook, device, screens::ChangeLine{0, 1, 0});
  const auto& pains = device.book().athlete(wren).pains;
  REQUIRE(pains.size() == 2);
  CHECK((pains[0].withdrawn || pains[1].withdrawn));
  CHECK((pains[0].resolved || pains[1].resolved));
  REQUIRE(view(logbook, device).days.at(0).entries.size() == 2);
  for (std::uint32_t entry = 0; entry < 2; ++entry) {
    logbook.leave();
    act(logbook, device, screens::OpenEntry{0, entry});
    const auto& line = view(logbook, device).days.at(0).entries.at(entry).lines.at(0);
    CHECK_FALSE(line.was.empty());
    CHECK(line.history.at(1).struck);
    CHECK(line.take_back_words.empty());
  }
}

TEST_CASE("a set of today can be changed where the Session takes it") {
  kit::DeskDevice device(25);
  const auto wren = device.add("Wren");
  const auto set = device.log(wren, 1, 12, 22);
  app::LogbookDesk logbook;
  std::optional<model::RecordId> asked;
  auto desk = device.desk();
  desk.change_set = [&](const model::RecordId& which) { asked = which; };
  logbook.act(desk, screens::OpenEntry{0, 0});
  CHECK_FALSE(logbook.view(desk).days.at(0).entries.at(0).lines.at(0).change_words.empty());
  logbook.act(desk, screens::ChangeLine{0, 0, 0});
  REQUIRE(asked.has_value());
  CHECK(*asked == set);
}

TEST_CASE("soreness, a check, a red flag and its clearance have their entries") {
  kit::DeskDevice device(26);
  const auto wren = device.add("Wren");
  model::RedFlag flag;
  flag.flag = "chest_pain";
  flag.day = device.today();
  const auto noted = device.book().note_red_flag(wren, flag, app::Author::swimmer);
  REQUIRE(noted.ok());
  model::Soreness sore;
  sore.region = "trunk";
  sore.level = 2;
  sore.day = device.today();
  REQUIRE(device.book().note_soreness(wren, {sore}, app::Author::swimmer).ok());
  REQUIRE(device.book().note_check(wren, device.today(), std::nullopt, app::Author::swimmer).ok());
  model::Clearance clearance;
  clearance.covers = "general";
  clearance.role = model::ClearanceRole::coach;
  clearance.day = device.today();
  clearance.reports = {*noted};
  clearance.clinician_allowed = true;
  REQUIRE(device.book().note_clearance(wren, clearance, app::Author::coach).ok());
  app::LogbookDesk logbook;
  const auto& entries = view(logbook, device).days.at(0).entries;
  REQUIRE(entries.size() == 4);
  std::vector<Icon> icons;
  for (const auto& entry : entries) icons.push_back(entry.icon);
  for (const Icon icon : {Icon::caution, Icon::sore, Icon::kept, Icon::signoff}) CHECK(std::find(icons.begin(), icons.end(), icon) != icons.end());
}
