#include "app/start_desk.h"

#include <algorithm>
#include <charconv>
#include <iterator>

#include "app/overloaded.h"
#include "app/who.h"
#include "report/words.h"

namespace slipway::app {

using report::say;
using screens::FormKind;
using screens::FormPart;
using screens::StartPart;

namespace {

struct Question {
  StartPart part;
  const char* text;
};
constexpr Question kHealth[kHealthQuestions] = {
    {StartPart::heart, "start.q_heart"}, {StartPart::breath, "start.q_breath"}, {StartPart::body, "start.q_body"}, {StartPart::over_50, "start.q_over_50"}};
constexpr std::pair<std::string_view, const char*> kGroups[] = {
    {"youth", "setup.group_youth"}, {"open_water", "setup.group_open_water"}, {"masters", "setup.group_masters"}, {"triathlon", "setup.group_triathlon"}};
constexpr const char* kWith[] = {"start.with_coach", "start.with_guardian", "start.with_nobody"};
constexpr std::uint32_t kNobody = 2;

FormPart part(FormKind kind, StartPart id, std::string label) {
  FormPart out;
  out.kind = kind;
  out.id = screens::number_of(id);
  out.label = std::move(label);
  return out;
}

FormPart question(StartPart id, std::string label, Answer answer) {  // none is chosen before somebody does
  FormPart out = part(FormKind::question, id, std::move(label));
  out.choices = {{.label = say("start.no"), .chosen = answer == Answer::no}, {.label = say("start.yes"), .chosen = answer == Answer::yes}};
  return out;
}

FormPart caution(std::string head, std::string text) {
  FormPart out = part(FormKind::caution, StartPart::said, std::move(head));
  out.detail = std::move(text);
  out.icon = screens::Icon::caution;
  return out;
}

Answer answer_of(std::uint32_t choice) { return choice == 1 ? Answer::yes : Answer::no; }

}  // namespace

screens::StartView StartDesk::view(Desk& desk) {
  const Settings& now = desk.settings;
  screens::StartView view;
  view.title = say("start.title");
  view.paragraphs = {say("start.caution_1"), say("start.caution_2"), say("start.about")};
  if (desk.book.opening().cleared) view.paragraphs.insert(view.paragraphs.begin(), say("trouble.cleared_title") + ". " + say("trouble.cleared_body"));
  view.ramp_words = say("start.ramp");
  for (std::size_t i = 0; i < kHealthQuestions; ++i) view.questions.push_back(question(kHealth[i].part, say(kHealth[i].text), now.health[i]));
  if (std::find(std::begin(now.health), std::end(now.health), Answer::yes) != std::end(now.health))
    view.questions.push_back(caution(say("start.doctor_head"), say("start.doctor")));
  view.questions.push_back(part(FormKind::words, StartPart::said, say("start.answers_stay")));
  view.questions.push_back(question(StartPart::under_18, say("start.under_18"), under_18_));
  if (under_18_ == Answer::yes) {
    FormPart with = part(FormKind::choices, StartPart::with_you, say("start.with_you"));
    for (std::uint32_t i = 0; i < std::size(kWith); ++i) with.choices.push_back({.label = say(kWith[i]), .chosen = with_you_ == i});
    view.questions.push_back(std::move(with));
    FormPart young = part(FormKind::words, StartPart::said, say("setup.young"));
    view.questions.push_back(std::move(young));
    if (with_you_ == kNobody) view.questions.push_back(caution(say("start.alone_head"), say("start.alone")));
  }
  view.name_label = say("start.name");
  view.name = name_;
  view.name_refused = name_refused_;
  FormPart device = part(FormKind::choices, StartPart::device, say("setup.device"));
  constexpr const char* kUsers[] = {"setup.user_swimmer", "setup.user_shared", "setup.user_coach"};
  for (std::size_t i = 0; i < std::size(kUsers); ++i) device.choices.push_back({.label = say(kUsers[i]), .chosen = i == static_cast<std::size_t>(now.user)});
  if (now.is_coach()) device.detail = say("start.coach_help");
  FormPart born = part(FormKind::field, StartPart::born, say("start.born"));
  born.value = born_;
  born.refused = born_refused_;
  born.number = true;
  born.detail = say("start.born_help");
  FormPart group = part(FormKind::choices, StartPart::group, say("setup.group"));
  for (const auto& [word, text] : kGroups) group.choices.push_back({.label = say(text), .chosen = group_ == word});
  view.facts = {std::move(device), std::move(born), std::move(group)};
  view.start_words = say("start.start");
  view.take_in_words = say("start.take_in");
  view.demo_words = desk.demo ? "" : say("start.demo");
  FormPart help = part(FormKind::keys, StartPart::help, "");
  help.choices = {{.label = say("start.help"), .icon = screens::Icon::caution, .urgent = true}};
  view.last = {std::move(help)};
  if (help_) view.last.push_back(caution(say("setup.stop"), say("start.help_words")));
  return view;
}

void StartDesk::answer(Desk& desk, const screens::StartAnswer& given) {
  for (std::size_t i = 0; i < kHealthQuestions; ++i)
    if (kHealth[i].part == given.part) {
      desk.settings.health[i] = answer_of(given.choice);
      if (!desk.settings.write(desk.book)) desk.announce(true, say("setup.not_kept"));
      return;
    }
  switch (given.part) {
    case StartPart::under_18: under_18_ = answer_of(given.choice); break;
    case StartPart::with_you: with_you_ = given.choice; break;
    case StartPart::born:
      born_ = given.text;
      born_refused_.clear();
      break;
    case StartPart::group:
      if (given.choice < std::size(kGroups)) group_ = kGroups[given.choice].first;
      break;
    case StartPart::device:
      if (tablet_is_locked(desk)) {
        desk.announce(true, say("pin.device_locked"));
        break;
      }
      desk.settings.user = static_cast<DeviceUser>(std::min<std::uint32_t>(given.choice, 2));
      desk.settings.user_said = true;
      name_refused_.clear();
      if (!desk.settings.write(desk.book)) desk.announce(true, say("setup.not_kept"));
      break;
    case StartPart::help: help_ = !help_; break;
    default: break;
  }
}

void StartDesk::start(Desk& desk) {
  const bool named = name_.find_first_not_of(' ') != std::string::npos;
  if (named || !desk.settings.is_coach()) {
    NewAthlete who;
    who.name = name_;
    who.group = group_;
    if (born_.find_first_not_of(' ') != std::string::npos) {
      std::uint64_t year = 0;
      const auto read = std::from_chars(born_.data(), born_.data() + born_.size(), year);
      if (read.ec != std::errc{} || read.ptr != born_.data() + born_.size()) {
        born_refused_ = say("setup.born_refused");
        desk.announce(true, born_refused_);
        return;
      }
      who.birth_year = year;
    }
    const auto made = desk.book.add_athlete(who, desk.author());
    if (!made) {
      const bool name = made.error().text == "value.name";
      (name ? name_refused_ : born_refused_) = name ? say("start.name_refused") : say(made.error());
      desk.announce(true, name ? name_refused_ : born_refused_);
      return;
    }
    desk.be_here(*made);
    if (!desk.settings.give_health_to(desk.book, *made)) desk.announce(true, say("setup.not_kept"));
  }
  *this = {};  // nobody else begins with what this person said
  desk.settings.started = true;
  if (!desk.settings.write(desk.book)) desk.announce(true, say("setup.not_kept"));
  desk.go(desk.settings.is_coach() ? screens::Place::squad : screens::Place::session);
}

screens::NoticeView StartDesk::who(Desk& desk) {
  screens::NoticeView view;
  view.title = say("who.title");
  if (const std::size_t in_sight = scopes_by_name(desk).size(); in_sight > 0) view.paragraphs = {say("who.body", {report::number(in_sight)})};
  for (Person& person : everybody(desk)) view.keys.push_back({std::move(person.label), false});
  view.keys.push_back({say("who.other"), false});
  view.keys.push_back({say("who.coach"), false});
  return view;
}

void StartDesk::say_who(Desk& desk, std::uint32_t key) {
  const auto people = everybody(desk);
  if (key < people.size()) return desk.be_here(people[key].scope);
  if (tablet_is_locked(desk)) return desk.announce(true, say("pin.device_locked"));
  if (key == people.size()) {
    *this = {};
    somebody_else_ = true;
    Settings::forget_person(desk.book);  // the answers about health are another one's
    desk.settings = Settings::read(desk.book);
  } else if (key == people.size() + 1) {
    desk.settings.user = DeviceUser::coach;
    desk.settings.user_said = desk.settings.started = true;
    if (!desk.settings.write(desk.book)) desk.announce(true, say("setup.not_kept"));
    if (const auto scopes = scopes_by_name(desk); !scopes.empty()) desk.be_here(scopes.front());
    desk.go(screens::Place::squad);
  }
}

void StartDesk::act(Desk& desk, const screens::StartIntent& intent) {
  std::visit(Overloaded{[&](const screens::SetDraftName& set) {
                          name_ = set.name;
                          name_refused_.clear();
                        },
                        [&](const screens::Start&) { start(desk); },
                        [&](const screens::AskForBundle&) { desk.exchange.ask_for_file(); },
                        [&](const screens::LookAround&) { desk.exchange.look_around(); },
                        [&](const screens::StartAnswer& given) { answer(desk, given); }},
             intent);
}

}  // namespace slipway::app
