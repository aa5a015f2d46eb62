// Setup and first run: what this device remembers, and what stays on it.
#include "app/local_names.h"
#include "app/setup_desk.h"
#include "app/start_desk.h"
#include "desk_kit.h"
#include "report/words.h"

using namespace slipway;
using report::say;
using screens::Setting;
using screens::SetupAnswer;
using screens::StartAnswer;
using screens::StartPart;

namespace {

void answer(app::SetupDesk& setup, kit::DeskDevice& device, Setting setting, std::uint32_t choice, const std::string& text = {}) {
  auto desk = device.desk();
  setup.act(desk, screens::SetupIntent{SetupAnswer{setting, choice, text}});
}

const screens::FormPart* part(const std::vector<screens::FormPart>& parts, std::uint32_t id) {
  for (const auto& one : parts)
    if (one.id == id) return &one;
  return nullptr;
}

std::uint32_t chosen(const screens::FormPart& part_of_page) {
  for (std::uint32_t i = 0; i < part_of_page.choices.size(); ++i)
    if (part_of_page.choices[i].chosen) return i;
  return 99;
}

void start(app::StartDesk& first, kit::DeskDevice& device, const screens::StartIntent& intent) {
  auto desk = device.desk();
  first.act(desk, intent);
}

}  // namespace

TEST_CASE("settings survive closing and opening") {
  kit::DeskDevice device(1);
  app::SetupDesk setup;
  answer(setup, device, Setting::display, 1);
  answer(setup, device, Setting::text_size, 3);
  answer(setup, device, Setting::left_hand, 1);
  answer(setup, device, Setting::gloves, 1);
  setup.open(Setting::device);
  answer(setup, device, Setting::device, 2);
  setup.open(Setting::units);
  answer(setup, device, Setting::unit, 1);
  setup.open(Setting::sound);
  answer(setup, device, Setting::beep, 1);
  setup.open(Setting::cautions);
  answer(setup, device, Setting::cautions, 0, "11 2x\n=");
  device.device.close_book();
  const app::Settings again = app::Settings::read(device.book());
  CHECK(again.display == app::Display::night);
  CHECK(again.text_percent == 200);
  CHECK(again.text_scale(1) == 2);
  CHECK(again.user == app::DeviceUser::coach);
  CHECK(again.author() == app::Author::coach);
  CHECK(again.hand.left);
  CHECK(again.hand.gloves);
  CHECK(again.unit == model::Unit::lb);
  CHECK_FALSE(again.beep);
  CHECK(again.buzz);
  CHECK(again.emergency_number == "11 2");
}

TEST_CASE("settings that cannot be read are those of a new device") {
  kit::DeskDevice device(2);
  REQUIRE(device.book().set_local("settings", model::as_bytes("display=9\ntext=110\nuser=coach\nunit=\nbeep\nbuzz=0\n")));
  const app::Settings read = app::Settings::read(device.book());
  CHECK(read.display == app::Display::daylight);
  CHECK(read.text_percent == 0);
  CHECK(read.text_scale(1.25F) == 1.25F);
  CHECK(read.user == app::DeviceUser::swimmer);
  CHECK(read.unit == model::Unit::kg);
  CHECK(read.beep);
  CHECK_FALSE(read.buzz);
}

TEST_CASE("the display is the system's until one is chosen in Setup, whoever uses the device") {
  kit::SquadDevice phone(20);
  phone.open_app();
  phone.app.act(screens::Intent{screens::StartIntent{screens::SetDraftName{"Wren"}}});
  phone.app.act(screens::Intent{screens::StartIntent{screens::Start{}}});
  CHECK(phone.app.theme(screens::ThemeName::night) == screens::ThemeName::night);
  CHECK(phone.app.theme(screens::ThemeName::daylight) == screens::ThemeName::daylight);
  phone.app.act(screens::Intent{screens::GoTo{screens::Place::setup}});
  phone.app.act(screens::Intent{screens::SetupIntent{SetupAnswer{Setting::display, 1, {}}}});
  CHECK(phone.app.theme(screens::ThemeName::daylight) == screens::ThemeName::night);
  CHECK(phone.app.theme(screens::ThemeName::forced) == screens::ThemeName::forced);
}

TEST_CASE("by clock it is night from eight in the evening till seven") {
  app::Settings settings;
  settings.display = app::Display::by_clock;
  const auto at = [&](std::int64_t hour) { return settings.theme((std::int64_t{20'000} * 24 + hour) * 3'600'000); };
  CHECK(at(6) == screens::ThemeName::night);
  CHECK(at(7) == screens::ThemeName::daylight);
  CHECK(at(19) == screens::ThemeName::daylight);
  CHECK(at(20) == screens::ThemeName::night);
}

TEST_CASE("a youth's body mass is asked on the coach's device only, and on no shared tablet") {
  kit::DeskDevice device(3);
  const auto pip = device.add("Pip", 2013);
  app::SetupDesk setup;
  const auto asks = [&] {
    auto desk = device.desk();
    setup.open_facts(desk, pip);
    return part(setup.view(desk).parts, screens::number_of(Setting::mass)) != nullptr;
  };
  CHECK_FALSE(asks());
  device.settings.user = app::DeviceUser::shared;
  CHECK_FALSE(asks());
  device.settings.user = app::DeviceUser::coach;
  CHECK_FALSE(asks());  // nobody has consented to body measures [7.1]
  model::Consent consent;
  consent.thing = model::ConsentThing::body_measures;
  consent.given = true;
  consent.from = model::ConsentBy::guardian;
  consent.day = device.desk().today;
  REQUIRE(device.book().give_consent(pip, consent, app::Author::coach).ok());
  CHECK(asks());
  answer(setup, device, Setting::mass, 0, "41.5");
  const auto keep = [&] {
    auto desk = device.desk();
    const auto parts = setup.view(desk).parts;
    setup.act(desk, screens::SetupIntent{SetupAnswer{static_cast<Setting>(parts.back().id), 0, {}}});
  };
  keep();
  REQUIRE(device.book().athlete(pip).body_masses.size() == 1);
  CHECK(model::grams(device.book().athlete(pip).body_masses[0].mass) == 41'500);
}

TEST_CASE("facts are kept by their key, and only those that were changed") {
  kit::DeskDevice device(4);
  const auto wren = device.add("Wren", 1990);
  app::SetupDesk setup;
  auto desk = device.desk();
  setup.open_facts(desk, wren);
  const std::uint64_t before = device.book().revision();
  const auto keep = [&] {
    auto now = device.desk();
    const auto parts = setup.view(now).parts;
    setup.act(now, screens::SetupIntent{SetupAnswer{static_cast<Setting>(parts.back().id), 0, {}}});
  };
  keep();
  CHECK(device.book().revision() == before);
  answer(setup, device, Setting::born, 0, "nineteen");
  keep();
  CHECK_FALSE(device.refused.empty());
  CHECK(device.book().revision() == before);
  answer(setup, device, Setting::born, 0, "1991-05");
  answer(setup, device, Setting::limits, 0);
  keep();
  CHECK(device.book().revision() == before + 2);  // the facts, and the word of a list
  CHECK(device.book().athlete(wren).birth_year.value_or(0) == 1991);
  CHECK(device.book().athlete(wren).birth_month.value_or(0) == 5);
  CHECK(device.book().athlete(wren).limitations == std::vector<std::string>{"loose_joints"});
  CHECK(device.book().athlete(wren).name.value_or("") == "Wren");
}

TEST_CASE("the coach adds a swimmer with facts in one page") {
  kit::DeskDevice device(5);
  device.settings.user = app::DeviceUser::coach;
  app::SetupDesk setup;
  auto desk = device.desk();
  setup.open_facts(desk, std::nullopt);
  answer(setup, device, Setting::name, 0, "Juno");
  answer(setup, device, Setting::born, 0, "2010");
  auto again = device.desk();
  const auto parts = setup.view(again).parts;
  setup.act(again, screens::SetupIntent{SetupAnswer{static_cast<Setting>(parts.back().id), 0, {}}});
  REQUIRE(device.book().scopes().size() == 1);
  const model::Athlete& juno = device.book().athlete(device.book().scopes()[0]);
  CHECK(juno.name.value_or("") == "Juno");
  CHECK(juno.birth_year.value_or(0) == 2010);
  CHECK_FALSE(juno.prescriptions.empty());
}

TEST_CASE("a kit takes single loads, a whole rack, and lets each go again") {
  kit::DeskDevice device(6);
  const auto wren = device.add("Wren");
  app::SetupDesk setup;
  setup.open(Setting::kit);
  const auto loads = [&] { return device.book().athlete(wren).kits.front().loads; };
  answer(setup, device, Setting::preset, 0);
  CHECK(loads().size() == 10);
  {
    auto desk = device.desk();
    const auto page = setup.view(desk);
    CHECK(chosen(*part(page.parts, screens::number_of(Setting::preset))) == 0);
  }
  answer(setup, device, Setting::loads, 9);
  CHECK(loads().size() == 9);
  answer(setup, device, Setting::add_load, 0, "22,5");
  answer(setup, device, Setting::add_load_key, 0);
  REQUIRE(loads().size() == 10);
  CHECK(loads().back() == model::Quantity{225, 1, model::Unit::kg});
  answer(setup, device, Setting::add_load, 0, "heavy");
  answer(setup, device, Setting::add_load_key, 0);
  CHECK(loads().size() == 10);
  CHECK_FALSE(device.refused.empty());
  const bool had_vest = device.book().athlete(wren).kits.front().has("vest");
  answer(setup, device, Setting::equipment, 10);
  CHECK(device.book().athlete(wren).kits.front().has("vest") != had_vest);
}

TEST_CASE("first run: no answer is chosen beforehand, a yes says doctor and keeps nobody from starting") {
  kit::DeskDevice device(7);
  app::StartDesk first;
  CHECK(first.needed(device.desk()));
  {
    auto desk = device.desk();
    const auto view = first.view(desk);
    for (const StartPart id : {StartPart::heart, StartPart::breath, StartPart::body, StartPart::over_50, StartPart::under_18})
      CHECK(chosen(*part(view.questions, screens::number_of(id))) == 99);
  }
  start(first, device, StartAnswer{StartPart::heart, 1, {}});
  {
    auto desk = device.desk();
    const auto view = first.view(desk);
    const bool doctor = std::any_of(view.questions.begin(), view.questions.end(), [](const auto& one) { return one.kind == screens::FormKind::caution; });
    CHECK(doctor);
  }
  start(first, device, screens::SetDraftName{"Wren"});
  start(first, device, screens::Start{});
  REQUIRE(device.here.has_value());
  CHECK(device.went.back() == screens::Place::session);
  CHECK_FALSE(first.needed(device.desk()));
  CHECK(app::Health::read(device.book(), *device.here).asks_doctor());
  CHECK(app::Settings::read(device.book()).health[0] == app::Answer::open);  // for whoever starts next
}

TEST_CASE("a first file with a whole squad asks who logs here, and shows nobody's board before somebody has said it") {
  kit::DeskDevice squad(9);
  squad.add("Wren");
  const model::ScopeId rook = squad.add("Rook");
  const auto bundle = squad.book().make_bundle({});
  REQUIRE(bundle.ok());
  const auto keys = [](kit::SquadDevice& phone) {
    std::vector<std::string> out;
    for (const auto& key : std::get<screens::NoticeView>(phone.app.view().page).keys) out.push_back(key.words);
    return out;
  };
  const auto press = [](kit::SquadDevice& phone, std::uint32_t key) { phone.app.act(screens::Intent{screens::PressKey{key}}); };

  kit::SquadDevice phone(10);
  phone.open_app();
  phone.app.take_in("squad.slip", *bundle);
  CHECK(keys(phone) == std::vector<std::string>{"Rook", "Wren", "Somebody else", "I am the coach"});
  phone.close_book();
  phone.open_app();
  CHECK(keys(phone).size() == 4);  // and asks again after a restart
  press(phone, 0);
  REQUIRE(std::holds_alternative<screens::SessionView>(phone.app.view().page));
  CHECK(std::get<screens::SessionView>(phone.app.view().page).day_line.find("Rook") == 0);
  phone.close_book();
  phone.open_app();
  CHECK(phone.app.book()->local(app::kHereName) == std::optional<model::Bytes>(model::Bytes(rook.bytes.begin(), rook.bytes.end())));

  kit::SquadDevice other(11);
  other.open_app();
  other.app.take_in("squad.slip", *bundle);
  press(other, 2);
  REQUIRE(std::holds_alternative<screens::StartView>(other.app.view().page));
  other.app.act(screens::Intent{screens::StartIntent{screens::SetDraftName{"Tern"}}});
  other.app.act(screens::Intent{screens::StartIntent{screens::Start{}}});
  CHECK(std::get<screens::SessionView>(other.app.view().page).day_line.find("Tern") == 0);

  kit::SquadDevice coach(12);
  coach.open_app();
  coach.app.take_in("squad.slip", *bundle);
  press(coach, 3);
  CHECK(std::holds_alternative<screens::SquadView>(coach.app.view().page));
}

TEST_CASE("the answers about health are in no bundle") {
  kit::DeskDevice no(8), yes(8);
  const auto bundle = [](kit::DeskDevice& device, std::uint32_t choice) {
    app::StartDesk first;
    for (const StartPart id : {StartPart::heart, StartPart::breath, StartPart::body, StartPart::over_50}) start(first, device, StartAnswer{id, choice, {}});
    start(first, device, screens::SetDraftName{"Wren"});
    start(first, device, screens::Start{});
    const auto made = device.book().make_bundle({});
    REQUIRE(made.ok());
    return *made;
  };
  CHECK(bundle(no, 0) == bundle(yes, 1));
}

TEST_CASE("a swimmer needs a name to start; a coach starts with an empty desk") {
  kit::DeskDevice device(9);
  app::StartDesk first;
  start(first, device, screens::Start{});
  CHECK_FALSE(device.here.has_value());
  CHECK(device.refused.back() == say("start.name_refused"));
  start(first, device, StartAnswer{StartPart::device, 2, {}});
  start(first, device, screens::Start{});
  CHECK(device.book().scopes().empty());
  CHECK(device.went.back() == screens::Place::squad);
  CHECK_FALSE(first.needed(device.desk()));
}

TEST_CASE("a year of birth that is none is refused beside its field, and nobody is added") {
  kit::DeskDevice device(10);
  app::StartDesk first;
  start(first, device, screens::SetDraftName{"Wren"});
  start(first, device, StartAnswer{StartPart::born, 0, "12.5"});
  start(first, device, screens::Start{});
  CHECK(device.book().scopes().empty());
  auto desk = device.desk();
  CHECK_FALSE(part(first.view(desk).facts, screens::number_of(StartPart::born))->refused.empty());
  start(first, device, StartAnswer{StartPart::born, 0, "2010"});
  start(first, device, screens::Start{});
  REQUIRE(device.here.has_value());
  CHECK(device.book().athlete(*device.here).birth_year.value_or(0) == 2010);
}

TEST_CASE("export and backup hand over a file with nothing personal in its name; restoring asks for one") {
  kit::DeskDevice device(1);
  app::SetupDesk setup;
  device.settings.user = app::DeviceUser::coach;
  device.add("Wren");
  device.add("Odd");
  setup.open(Setting::copies);
  answer(setup, device, Setting::export_all, 0);
  answer(setup, device, Setting::backup, 0);
  answer(setup, device, Setting::restore, 0);
  REQUIRE(device.device.exchange.handed.size() == 2);
  CHECK(device.device.exchange.handed[0].file_name == "slipway-export-" + model::iso(device.today()) + ".zip");
  CHECK(device.device.exchange.handed[1].file_name == "slipway-backup-" + model::iso(device.today()) + ".zip");
  CHECK(device.device.exchange.asked_for_file == 1);
  CHECK(device.said.size() == 2);
  kit::SquadDevice other(2);
  const auto taken = other.book().take_in("e.zip", device.device.exchange.handed[0].bytes);
  REQUIRE(taken.ok());
  CHECK(other.book().digests().ops == device.book().digests().ops);
}

TEST_CASE("from a shared tablet a swimmer takes along their own entries and nobody else's") {
  kit::DeskDevice device(1);
  app::SetupDesk setup;
  device.settings.user = app::DeviceUser::shared;
  const auto wren = device.add("Wren");
  device.add("Odd");
  device.here = wren;
  setup.open(Setting::copies);
  auto desk = device.desk();
  CHECK(part(setup.view(desk).parts, screens::number_of(Setting::backup)) == nullptr);
  answer(setup, device, Setting::backup, 0);
  answer(setup, device, Setting::export_all, 0);
  REQUIRE(device.device.exchange.handed.size() == 1);
  kit::SquadDevice other(2);
  REQUIRE(other.book().take_in("e.zip", device.device.exchange.handed[0].bytes).ok());
  CHECK(other.book().scopes() == std::vector<model::ScopeId>{wren});
  setup.open(Setting::erase);
  answer(setup, device, Setting::erase_who, 0);
  answer(setup, device, Setting::erase_name, 0, "Wren");
  answer(setup, device, Setting::erase_key, 0);
  CHECK(device.book().scopes().size() == 2);
}

TEST_CASE("erasing takes a choice, the typed name and a key; the export is offered first; another name deletes nothing") {
  kit::DeskDevice device(1);
  app::SetupDesk setup;
  device.settings.user = app::DeviceUser::coach;
  const auto odd = device.add("Odd");
  device.add("Wren");
  setup.open(Setting::erase);
  answer(setup, device, Setting::erase_key, 0);
  answer(setup, device, Setting::erase_who, 0);
  answer(setup, device, Setting::erase_reason, 1);
  answer(setup, device, Setting::erase_export, 0);
  CHECK(device.device.exchange.handed.size() == 1);
  answer(setup, device, Setting::erase_name, 0, "odd");
  answer(setup, device, Setting::erase_key, 0);
  CHECK(device.book().scopes().size() == 2);
  auto desk = device.desk();
  CHECK(part(setup.view(desk).parts, screens::number_of(Setting::erase_name))->refused == say("erase.other_name"));
  answer(setup, device, Setting::erase_name, 0, "Odd");
  answer(setup, device, Setting::erase_key, 0);
  CHECK(device.book().scopes().size() == 1);
  CHECK(device.book().find_athlete("Odd").error().kind == model::ErrorKind::not_found);
  REQUIRE(device.book().erased().size() == 1);
  CHECK(device.book().erased()[0].scope == odd);
  CHECK(device.book().erased()[0].reason == app::EraseReason::left);
  CHECK(device.said.back() == say("erase.said", {"Odd"}));
}

TEST_CASE("an export of one athlete is no copy of a device that holds libraries too") {
  kit::DeskDevice device(31);
  app::SetupDesk setup;
  device.settings.user = app::DeviceUser::swimmer;
  device.add("Wren");
  REQUIRE(device.book().add_library("winter", app::Author::coach).ok());
  setup.open(Setting::copies);
  answer(setup, device, Setting::export_all, 0);
  REQUIRE(device.device.exchange.handed.size() == 1);
  CHECK_FALSE(device.book().local("handed.over.day"));
}

TEST_CASE("a year of birth is replaced and never unsaid, and a page that is left keeps no passphrase") {
  kit::DeskDevice device(32);
  const auto wren = device.add("Wren", 1990);
  REQUIRE(device.book().set_athlete(wren, {.birth_month = 5}, app::Author::coach).ok());
  app::SetupDesk setup;
  auto desk = device.desk();
  const auto keep = [&](const std::string& born) {
    setup.open_facts(desk, wren);
    answer(setup, device, Setting::born, 0, born);
    auto now = device.desk();
    const auto parts = setup.view(now).parts;
    setup.act(now, screens::SetupIntent{SetupAnswer{static_cast<Setting>(parts.back().id), 0, {}}});
    return device.refused.empty() ? std::string() : device.refused.back();
  };
  for (const char* born : {"", "1990", "1991"}) CHECK(keep(born) == say("setup.born_stays"));
  CHECK(device.book().athlete(wren).birth_year.value_or(0) == 1990);
  device.refused.clear();
  CHECK(keep("1991-06").empty());
  CHECK(device.book().athlete(wren).birth_month.value_or(0) == 6);

  device.settings.user = app::DeviceUser::coach;
  setup.open(Setting::copies);
  answer(setup, device, Setting::backup_passphrase, 0, "three wet towels");
  setup.leave();
  setup.open(Setting::copies);
  auto now = device.desk();
  CHECK(part(setup.view(now).parts, screens::number_of(Setting::backup_passphrase))->value.empty());
}
