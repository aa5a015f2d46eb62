#include "app/sealed_desk.h"

#include "app/local_names.h"
#include "app/profile_lock.h"
#include "app/setup_parts.h"
#include "report/words.h"

namespace slipway::app {

using report::say;
using screens::Setting;
using screens::SetupView;

namespace {

constexpr Setting kPassphrase{1500}, kOpen{1501}, kOther{1502}, kLost{1503}, kName{1504}, kRemove{1505}, kPin{1506}, kGivePin{1507};

}  // namespace

void SealedDesk::ask(const model::ScopeId& scope) {
  leave();
  scope_ = scope;
}

void SealedDesk::leave() { *this = {}; }

bool SealedDesk::asks(Desk& desk) const {
  if (!scope_) return false;
  const auto profile = desk.book.sealed_profile(*scope_);
  return profile && !profile->open;
}

SetupView SealedDesk::view(Desk& desk) {
  const auto profile = desk.book.sealed_profile(*scope_);
  const std::string name = profile ? profile->name : "";
  SetupView view;
  view.title = say("sealed.asked_title", {name});
  view.line = say("sealed.asked_line", {name});
  view.parts.push_back(field_part(kPassphrase, say("sealed.passphrase"), passphrase_));
  view.parts.back().refused = refused_;
  view.parts.push_back(keys_part(kOpen, {{.label = say("sealed.give")}}, true));
  std::vector<std::string> labels;
  for (Person& person : others(desk)) labels.push_back(std::move(person.label));
  labels.push_back(say("sealed.else"));
  view.parts.push_back(choices_part(kOther, say("sealed.other", {name}), labels, std::string::npos));
  view.parts.push_back(heading_part(say("sealed.lost_head")));
  view.parts.push_back(words_part(say("sealed.lost"), ""));
  if (desk.may_write()) lost_parts(desk, name, view);
  return view;
}

// From a shared tablet an adult alone removes anybody.
void SealedDesk::lost_parts(Desk& desk, const std::string& name, SetupView& view) {
  const bool shared = desk.settings.user == DeviceUser::shared && desk.lock != nullptr;
  if (shared && !desk.lock->has_pin(desk.book, std::nullopt)) {
    view.parts.push_back(words_part(say("sealed.tablet_unset"), ""));
  } else if (tablet_is_locked(desk)) {
    view.parts.push_back(field_part(kPin, say("pin.tablet_give"), pin_));
    view.parts.back().number = true;
    view.parts.back().refused = pin_refused_;
    view.parts.push_back(keys_part(kGivePin, {{.label = say("sealed.give_pin")}}, false));
  } else if (!lost_) {
    view.parts.push_back(keys_part(kLost, {{.label = say("sealed.give_up", {name})}}, false));
  } else {
    view.parts.push_back(field_part(kName, say("sealed.type_name", {name}), typed_));
    view.parts.back().refused = typed_refused_;
    view.parts.push_back(keys_part(kRemove, {{.label = say("sealed.remove")}}, false));
  }
}

std::string left_out_words(Desk& desk) {
  const std::size_t shut = shut_profiles(desk).size();
  return shut == 0 ? std::string() : count_words(shut, "sealed.left_out_one", "sealed.left_out_many");
}

void SealedDesk::open(Desk& desk) {
  const auto opened = desk.book.open_profile(*scope_, passphrase_);
  passphrase_.clear();
  const auto profile = desk.book.sealed_profile(*scope_);
  if (!told(desk, opened, say("sealed.said_open", {profile ? profile->name : ""}))) {
    refused_ = say(opened.error());
    return;
  }
  const model::ScopeId scope = *scope_;
  leave();
  desk.be_here(scope);
}

void SealedDesk::remove(Desk& desk) {
  const auto profile = desk.book.sealed_profile(*scope_);
  const auto removed = desk.book.drop_profile(*scope_, typed_);
  if (!told(desk, removed, say("sealed.said_removed", {profile ? profile->name : ""}))) {
    typed_refused_ = say(removed.error());
    return;
  }
  leave();
  desk.athlete_gone();
}

std::vector<Person> SealedDesk::others(Desk& desk) const {
  auto all = everybody(desk);
  std::erase_if(all, [this](const Person& person) { return person.scope == *scope_; });
  return all;
}

void SealedDesk::choose(Desk& desk, std::size_t choice) {
  const auto all = others(desk);
  leave();
  if (choice < all.size()) return desk.be_here(all[choice].scope);  // a shut one is asked for there
  desk.book.set_local(kHereName, {});
  desk.athlete_gone();
}

void SealedDesk::act(Desk& desk, const screens::SetupIntent& intent) {
  const auto* given = std::get_if<screens::SetupAnswer>(&intent);
  if (given == nullptr || !asks(desk)) return;
  if (given->setting == kPassphrase) {
    passphrase_ = given->text;
    refused_.clear();
  } else if (given->setting == kOpen) {
    open(desk);
  } else if (given->setting == kOther) {
    choose(desk, given->choice);
  } else if (given->setting == kPin) {
    pin_ = given->text;
    pin_refused_.clear();
  } else if (given->setting == kGivePin && desk.lock != nullptr) {
    const auto opened = desk.lock->give_pin(desk.book, *scope_, pin_);
    pin_.clear();
    if (!told(desk, opened, "")) pin_refused_ = say(opened.error());
    else if (tablet_is_locked(desk)) pin_refused_ = say("pin.wrong");  // the swimmer's own
  } else if (given->setting == kLost) {
    lost_ = true;
  } else if (given->setting == kName) {
    typed_ = given->text;
    typed_refused_.clear();
  } else if (given->setting == kRemove) {
    const bool shared = desk.settings.user == DeviceUser::shared && desk.lock != nullptr;
    if (tablet_is_locked(desk) || (shared && !desk.lock->has_pin(desk.book, std::nullopt))) return;  // it locked meanwhile
    remove(desk);
  }
}

}  // namespace slipway::app
