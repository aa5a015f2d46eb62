// Setup: copies that leave this device (export, backup) and come back; and erasing an athlete for good.
#include <algorithm>

#include "app/archive.h"
#include "app/backup.h"
#include "app/sealed_desk.h"
#include "app/setup_desk.h"
#include "app/setup_parts.h"
#include "report/words.h"

namespace slipway::app {

using report::number;
using report::say;
using screens::FormPart;
using screens::Icon;
using screens::Setting;
using screens::SetupView;

namespace {

constexpr EraseReason kReasons[] = {EraseReason::asked, EraseReason::left, EraseReason::long_without, EraseReason::mistake};
constexpr const char* kReasonTexts[] = {"erase.reason_asked", "erase.reason_left", "erase.reason_long", "erase.reason_mistake"};

// Whose entries a person at this device may take away with them: on a shared tablet their own, by the name it stands on.
std::vector<model::ScopeId> exported_scopes(Desk& desk) {
  if (desk.settings.is_coach() || !desk.here) return {};
  return {*desk.here};
}

bool may_back_up(Desk& desk) { return desk.settings.user != DeviceUser::shared && !desk.book.scopes().empty(); }

// Nothing personal in a file name: the day and what it is.
std::string dated(Desk& desk, const std::string& what, const char* ending = ".zip") { return "slipway-" + what + "-" + model::iso(desk.today) + ending; }

std::string name_of(Desk& desk, const model::ScopeId& scope) {
  return desk.book.athlete(scope).name.empty() ? desk.book.typed_to_erase(scope) : name_apart(desk, scope);
}

bool hand_over_export(Desk& desk, const std::vector<model::ScopeId>& scopes, std::string& said) {
  const auto archive = desk.book.export_everything(scopes);
  if (!archive) {
    announce_error(desk, archive.error());
    return false;
  }
  desk.exchange.hand_over(dated(desk, "export"), archive->zip);
  said = say(archive->left_out.empty() ? "copies.said_export" : "copies.said_export_partly", {counted_entries(archive->ops), number(archive->left_out.size())});
  desk.announce(!archive->left_out.empty(), said);
  return archive->left_out.empty();
}

}  // namespace

void SetupDesk::copies_page(Desk& desk, SetupView& view) {
  view.title = say("copies.title");
  view.line = say("copies.line");
  if (const std::string words = left_out_words(desk); !words.empty()) view.parts.push_back(words_part(words, ""));
  if (!copy_said_.empty()) view.parts.push_back(words_part(copy_said_, ""));
  if (!desk.book.scopes().empty()) {
    view.parts.push_back(words_part(say("copies.export_head"), say("copies.export_help")));
    view.parts.push_back(keys_part(Setting::export_all, {{.label = say("copies.export"), .icon = Icon::file}}, false));
  }
  if (desk.demo) return;
  view.parts.push_back(words_part(say("copies.backup_head"), say(may_back_up(desk) || desk.settings.user != DeviceUser::shared ? "copies.backup_help" : "copies.backup_shared")));
  if (may_back_up(desk)) view.parts.push_back(backup_passphrase());
  if (may_back_up(desk)) view.parts.push_back(keys_part(Setting::backup, {{.label = say("copies.backup"), .icon = Icon::file}}, false));
  if (desk.may_write()) view.parts.push_back(keys_part(Setting::restore, {{.label = say("copies.restore"), .icon = Icon::undo}}, false));
}

FormPart SetupDesk::backup_passphrase() const {
  FormPart part = field_part(Setting::backup_passphrase, say("copies.passphrase"), backup_.passphrase);
  part.detail = say("copies.passphrase_help");
  part.refused = backup_.refused;
  return part;
}

void SetupDesk::answer_copies(Desk& desk, const screens::SetupAnswer& given) {
  switch (given.setting) {
    case Setting::export_all:
      if (const auto scopes = exported_scopes(desk); hand_over_export(desk, scopes, copy_said_))
        desk.book.note_copied({.athletes = scopes, .libraries = scopes.empty(), .coach_notes = scopes.empty()});
      break;
    case Setting::backup:
      if (may_back_up(desk)) {
        const auto backup = make_backup(desk.book, backup_.passphrase);
        backup_.refused = backup ? "" : say(backup.error());
        if (!backup) return announce_error(desk, backup.error());
        const bool sealed = !backup_.passphrase.empty();
        backup_ = {};
        desk.exchange.hand_over(dated(desk, "backup", sealed ? ".slip" : ".zip"), backup->file);
        desk.book.note_copied({.libraries = true, .coach_notes = true});
        copy_said_ = say(sealed ? "copies.said_backup_sealed" : "copies.said_backup", {counted_athletes(backup->athletes), counted_entries(backup->ops)});
        desk.announce(false, copy_said_);
      }
      break;
    case Setting::backup_passphrase: backup_ = {.passphrase = given.text, .refused = {}}; break;
    case Setting::restore:
      if (desk.may_write()) desk.exchange.ask_for_file();
      break;
    default: break;
  }
}

// ---- erasing ---------------------------------------------------------------------------------------------

// A coach may erase anybody here, a swimmer with a device of their own themselves; nobody from a shared tablet.
std::vector<model::ScopeId> SetupDesk::may_erase(Desk& desk) {
  if (!desk.may_write() || desk.demo || desk.settings.user == DeviceUser::shared) return {};
  if (desk.settings.is_coach()) {
    auto scopes = scopes_by_name(desk);
    for (const model::ScopeId& scope : hidden_scopes(desk)) scopes.push_back(scope);
    return scopes;
  }
  return desk.here ? std::vector<model::ScopeId>{*desk.here} : std::vector<model::ScopeId>{};
}

void SetupDesk::erase_page(Desk& desk, SetupView& view) {
  view.title = say("erase.title");
  view.line = say("erase.line");
  const auto hidden = hidden_scopes(desk);
  const auto scopes = may_erase(desk);  // nobody reads here about those they may not erase
  const auto may = [&scopes](const model::ScopeId& scope) { return std::find(scopes.begin(), scopes.end(), scope) != scopes.end(); };
  for (const EraseRequest& request : desk.book.erase_requests()) {
    if (!may(request.scope)) continue;
    const bool out_of_sight = std::find(hidden.begin(), hidden.end(), request.scope) != hidden.end();
    FormPart asks = setup_part(screens::FormKind::caution, Setting::said, say("erase.asked_head", {name_of(desk, request.scope)}));
    asks.icon = Icon::caution;
    asks.detail = say("erase.asked_words", {request.asked_since ? day_words(*request.asked_since, desk.today) : ""});
    if (out_of_sight) asks.detail += " " + say("erase.hidden_words");
    view.parts.push_back(std::move(asks));
  }
  if (!hidden.empty() && !scopes.empty()) {
    FormPart again = keys_part(Setting::erase_show, {}, false);
    for (const model::ScopeId& scope : hidden) again.choices.push_back({.label = say("erase.show_again", {name_of(desk, scope)}), .icon = Icon::undo});
    view.parts.push_back(std::move(again));
  }
  for (const model::ScopeId& scope : desk.book.long_without_entry())
    if (may(scope)) view.parts.push_back(words_part(say("erase.long_head", {name_of(desk, scope)}), say("erase.long_words", {number(kRetentionMonths)})));
  if (!scopes.empty()) {
    std::vector<std::string> names, reasons;
    std::size_t chosen = std::string::npos;
    for (const model::ScopeId& scope : scopes) {
      if (erasing_.who == scope) chosen = names.size();
      names.push_back(name_of(desk, scope));
    }
    for (const char* text : kReasonTexts) reasons.push_back(say(text));
    view.parts.push_back(choices_part(Setting::erase_who, say("erase.who"), names, chosen));
    view.parts.push_back(choices_part(Setting::erase_reason, say("erase.why"), reasons, erasing_.reason));
    if (erasing_.who) {
      view.parts.push_back(words_part(say("erase.what_head", {name_of(desk, *erasing_.who)}), say("erase.what")));
      view.parts.push_back(words_part(say("erase.reach_head"), say("erase.not_reached")));
      view.parts.push_back(words_part("", say("erase.export_help")));
      view.parts.push_back(keys_part(Setting::erase_export, {{.label = say("erase.export"), .icon = Icon::file}}, false));
      FormPart typed = field_part(Setting::erase_name, say("erase.type_name", {desk.book.typed_to_erase(*erasing_.who)}), erasing_.typed);
      typed.refused = erasing_.refused;
      view.parts.push_back(std::move(typed));
      view.parts.push_back(keys_part(Setting::erase_key, {{.label = say("erase.key"), .icon = Icon::close}}, false));
    }
  }
  const auto gone = desk.book.erased();
  if (!gone.empty()) view.parts.push_back(heading_part(say("erase.gone_head")));
  for (const ErasedAthlete& one : gone) {
    const std::size_t reason = one.reason ? static_cast<std::size_t>(*one.reason) - 1 : std::size(kReasonTexts);
    view.parts.push_back(words_part(say("erase.gone", {one.scope.hex().substr(0, 8), reason < std::size(kReasonTexts) ? say(kReasonTexts[reason]) : say("erase.reason_unknown")}),
                                    count_words(one.confirmed_by.size(), "erase.confirmed_one", "erase.confirmed_many")));
  }
}

void SetupDesk::answer_erase(Desk& desk, const screens::SetupAnswer& given) {
  const auto scopes = may_erase(desk);
  switch (given.setting) {
    case Setting::erase_who:
      if (given.choice < scopes.size() && erasing_.who != scopes[given.choice]) erasing_ = {.who = scopes[given.choice], .reason = erasing_.reason};
      break;
    case Setting::erase_show:
      if (const auto hidden = hidden_scopes(desk); given.choice < hidden.size()) told(desk, desk.book.show_again(hidden[given.choice]), say("erase.said_shown", {name_of(desk, hidden[given.choice])}));
      break;
    case Setting::erase_reason: erasing_.reason = std::min<std::size_t>(given.choice, std::size(kReasons) - 1); break;
    case Setting::erase_name:
      erasing_.typed = given.text;
      erasing_.refused.clear();
      break;
    case Setting::erase_export:
      if (erasing_.who) hand_over_export(desk, {*erasing_.who}, copy_said_);
      break;
    case Setting::erase_key: {
      if (!erasing_.who || std::find(scopes.begin(), scopes.end(), *erasing_.who) == scopes.end()) return;
      const std::string name = name_of(desk, *erasing_.who);
      const auto erased = desk.book.erase(*erasing_.who, erasing_.typed, kReasons[erasing_.reason]);
      if (!erased) erasing_.refused = say(erased.error());
      if (!told(desk, erased, say("erase.said", {name}))) return;
      erasing_ = {};
      desk.athlete_gone();
      break;
    }
    default: break;
  }
}

}  // namespace slipway::app
