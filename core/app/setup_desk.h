// The Setup place: what this device remembers for itself, an athlete's facts and kit, the
// cautions, and what is true of the storage. Fields are kept by a key of their page; choices
// of the device at once.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/desk.h"
#include "screens/setup_screen.h"

namespace slipway::app {

class SetupDesk {
 public:
  screens::SetupView view(Desk& desk);
  void act(Desk& desk, const screens::SetupIntent& intent);
  void leave();

  // In place of any page while the athlete here is locked.
  screens::SetupView locked_view(Desk& desk);
  void act_locked(Desk& desk, const screens::SetupIntent& intent);

  void open(screens::Setting page);  // device, facts, kit, units, sound, cautions, storage, copies, erase or about
  void open_consent(Desk& desk);  // of the athlete here
  void open_facts(Desk& desk, const std::optional<model::ScopeId>& scope);  // nothing: of somebody new

  static std::vector<model::ScopeId> may_erase(Desk& desk);

 private:
  struct Facts {  // half typed, with what stood there when the page was opened
    std::optional<model::ScopeId> of;
    std::string name, born, mass;
    std::string group;
    std::vector<std::string> limits;
    std::vector<bool> days;
    bool gate = false;
    std::string name_refused = {}, born_refused = {}, mass_refused = {};
  };

  struct KeyDraft {  // half typed
    std::string name, passphrase, sheet, refused;
    bool unwrapped = false, recovers = false;
  };

  struct PinDraft {  // half typed
    std::string given, own, tablet;
    std::string given_refused, own_refused, tablet_refused;
  };

  struct SealDraft {  // half typed
    std::string passphrase, again, refused;
  };

  struct Consents {  // half said
    std::optional<model::ConsentBy> from = {};
    Answer answers[4] = {};
    std::string refused = {};
  };

  struct Erasing {  // half said
    std::optional<model::ScopeId> who = {};
    std::size_t reason = 0;
    std::string typed = {}, refused = {};
  };

  screens::SetupView list(Desk& desk);
  void device_page(Desk& desk, screens::SetupView& view);
  void facts_page(Desk& desk, screens::SetupView& view);
  void consent_page(Desk& desk, screens::SetupView& view);
  void kit_page(Desk& desk, screens::SetupView& view);
  void units_page(Desk& desk, screens::SetupView& view);
  void sound_page(Desk& desk, screens::SetupView& view);
  void cautions_page(Desk& desk, screens::SetupView& view);
  void storage_page(Desk& desk, screens::SetupView& view);
  void copies_page(Desk& desk, screens::SetupView& view);
  void erase_page(Desk& desk, screens::SetupView& view);
  void about_page(Desk& desk, screens::SetupView& view);
  void keys_page(Desk& desk, screens::SetupView& view);
  void lock_page(Desk& desk, screens::SetupView& view);
  void passphrase_page(Desk& desk, screens::SetupView& view);
  static std::string sealed_state(Desk& desk);
  static void protects_parts(screens::SetupView& view);  // what protects from what, in short form
  void coach_key_parts(Desk& desk, screens::SetupView& view);
  void new_key_parts(screens::SetupView& view);

  void answer(Desk& desk, const screens::SetupAnswer& answer);
  void answer_device(Desk& desk, const screens::SetupAnswer& answer);
  void answer_facts(Desk& desk, const screens::SetupAnswer& answer);
  void answer_consent(Desk& desk, const screens::SetupAnswer& answer);
  void answer_kit(Desk& desk, const screens::SetupAnswer& answer);
  void answer_keys(Desk& desk, const screens::SetupAnswer& answer);
  void answer_lock(Desk& desk, const screens::SetupAnswer& answer);
  void answer_passphrase(Desk& desk, const screens::SetupAnswer& answer);
  void give_pin(Desk& desk, const std::string& said);
  void make_key(Desk& desk);
  void hand_out_sheet(Desk& desk);
  screens::FormPart backup_passphrase() const;
  void answer_copies(Desk& desk, const screens::SetupAnswer& answer);
  void answer_erase(Desk& desk, const screens::SetupAnswer& answer);
  void keep_facts(Desk& desk);
  void keep_consent(Desk& desk);
  static std::string consent_line(const model::Athlete& athlete, model::Day today);
  bool shows_mass(Desk& desk);
  static Facts facts_of(Desk& desk, const std::optional<model::ScopeId>& scope);

  std::optional<screens::Setting> page_;
  std::optional<Facts> facts_;
  std::optional<Consents> consent_;
  KeyDraft key_;
  PinDraft pin_;
  SealDraft seal_;
  Erasing erasing_;
  struct BackupAsked {
    std::string passphrase, refused;
  };
  BackupAsked backup_;
  std::string copy_said_;  // of the export or backup that was just made
  std::string load_, load_refused_;
};

// Bundled software and its licences, one a line.
std::vector<std::string> credits();

}  // namespace slipway::app
