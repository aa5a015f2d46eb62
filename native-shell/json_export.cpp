#include "json_parts.h"

namespace slipway::native::json {

std::string exported(const Exported& exported) {
  const app::Archive& archive = exported.archive;
  Json left_out = Json::array();
  for (const model::Error& why : archive.left_out) left_out.push_back(of(why));
  return text({{"file", exported.file},
               {"bytes", archive.zip.size()},
               {"parts", archive.parts},
               {"athletes", archive.athletes},
               {"ops", archive.ops},
               {"sessions", archive.sessions},
               {"sets", archive.sets},
               {"pains", archive.pains},
               {"left_out", left_out}});
}

std::string backed_up(const BackedUp& backed_up) {
  const app::Backup& backup = backed_up.backup;
  return text({{"file", backed_up.file}, {"bytes", backup.file.size()}, {"athletes", backup.athletes}, {"ops", backup.ops}, {"digests", of(backup.digests)}, {"left_out", backup.left_out}});
}

std::string restored(const RestoredFile& file) {
  const app::Restored& back = file.restored;
  Json findings = Json::array();
  for (const model::Error& finding : back.findings) findings.push_back(of(finding));
  return text({{"file", file.file},
               {"made", back.made},
               {"fresh", back.taken.fresh},
               {"known", back.taken.known},
               {"of_erased", back.taken.dropped},
               {"ops_of_backup", back.ops_of_backup},
               {"same_as_backup", back.same},
               {"settings_taken", back.settings_taken},
               {"athletes", back.athletes},
               {"sessions", back.sessions},
               {"sets", back.sets},
               {"findings", findings},
               {"missing", of(back.missing)},
               {"digests", of(back.now)}});
}

namespace {

Json reason_word(const std::optional<app::EraseReason>& reason) {
  if (!reason) return Json();
  switch (*reason) {
    case app::EraseReason::asked: return "asked";
    case app::EraseReason::left: return "left";
    case app::EraseReason::long_without: return "long";
    case app::EraseReason::mistake: return "mistake";
  }
  return Json();
}

}  // namespace

std::string erased(const ErasedFile& erased) {
  return text({{"athlete", erased.athlete.hex()},
               {"erased", true},
               {"ops", erased.ops},
               {"export", erased.last_export.empty() ? Json() : Json(erased.last_export)}});
}

std::string erasure_status(const ErasureStatus& status) {
  Json gone = Json::array(), asked = Json::array();
  for (const app::ErasedAthlete& one : status.erased) {
    Json devices = Json::array();
    for (const model::DeviceId& device : one.confirmed_by) devices.push_back(device.hex());
    gone.push_back({{"athlete", one.scope.hex()}, {"reason", reason_word(one.reason)}, {"confirmed_by", devices}});
  }
  for (const auto& [who, request] : status.asked)
    asked.push_back({{"athlete", of(who)}, {"reason", reason_word(request.reason)}, {"since", of(request.asked_since)}, {"hidden_in_app", request.hides}});
  return text({{"erased", gone}, {"asked", asked}, {"long_without_entry", people(status.long_without)}});
}

}  // namespace slipway::native::json
