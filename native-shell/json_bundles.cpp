#include <algorithm>
#include <map>

#include "json_parts.h"
#include "ops/registry.h"
#include "report/words.h"

namespace slipway::native::json {

namespace {

Json of_payload(const ops::Field& field, const model::IncarnationId& home) {
  switch (field.wire) {
    case ops::Wire::unsigned_int:
      if (const auto value = ops::read_unsigned(field)) return *value;
      break;
    case ops::Wire::signed_int:
      if (const auto value = ops::read_signed(field)) return *value;
      break;
    case ops::Wire::text:
      if (const auto value = ops::read_text(field)) return std::string(*value);
      break;
    case ops::Wire::unsigned_list:
      if (const auto value = ops::read_list(field)) return *value;
      break;
    case ops::Wire::refs:
      if (const auto keys = ops::read_refs(field, home)) {
        Json all = Json::array();
        for (const model::OpKey& key : *keys) all.push_back(model::to_text(key));
        return all;
      }
      break;
    case ops::Wire::bytes: break;
  }
  return {{"hex", model::hex(field.payload)}};
}

// A load is a list of three: value, decimals, unit.
Json loads(const std::vector<std::uint64_t>& list) {
  Json all = Json::array();
  for (std::size_t at = 0; at + 2 < list.size(); at += 3) {
    const auto decimals = static_cast<std::uint8_t>(std::min<std::uint64_t>(list[at + 1], 3));
    const auto unit = list[at + 2] == static_cast<std::uint64_t>(model::Unit::lb) ? model::Unit::lb : model::Unit::kg;
    all.push_back(of(model::Quantity{ops::unzigzag(list[at]), decimals, unit}));
  }
  return all;
}

Json of_field(const ops::Field& field, std::string_view name, const model::IncarnationId& home) {
  if (name == "load" || name == "loads" || name == "written_load")
    if (const auto list = ops::read_list(field); list && !list->empty() && list->size() % 3 == 0) return name == "loads" ? loads(*list) : loads(*list).front();
  return of_payload(field, home);
}

using KindOf = std::map<model::OpKey, std::uint32_t>;

// A change carries the tags of the record it changes; nothing if that one is elsewhere.
std::uint32_t kind_of_fields(const ops::ChainedOp& op, const KindOf& kinds) {
  if (op.op.kind != ops::kind::change) return op.op.kind;
  const ops::Field* target = op.op.find(ops::tag::target);
  const auto keys = target == nullptr ? std::nullopt : ops::read_refs(*target, op.stream.inc);
  if (!keys || keys->empty()) return op.op.kind;
  const auto found = kinds.find(keys->front());
  return found == kinds.end() ? op.op.kind : found->second;
}

Json fields(const ops::ChainedOp& op, const KindOf& kinds) {
  Json all = Json::object();
  const std::uint32_t kind = kind_of_fields(op, kinds);
  for (const ops::Field& field : op.op.fields) {
    const ops::FieldInfo* info = ops::find_field(field.tag < ops::tag::own ? op.op.kind : kind, field.tag);
    const std::string name = info == nullptr ? "tag " + std::to_string(field.tag) : std::string(info->name);
    all[name] = of_field(field, name, op.stream.inc);
  }
  return all;
}

model::ClaimedTime claimed(const ops::Op& op) {
  model::ClaimedTime time;
  if (const ops::Field* field = op.find(ops::tag::claimed_local_ms)) time.local_ms = ops::read_signed(*field).value_or(0);
  if (const ops::Field* field = op.find(ops::tag::utc_offset_min))
    time.utc_offset_min = static_cast<std::int32_t>(std::clamp<std::int64_t>(ops::read_signed(*field).value_or(0), -1440, 1440));
  return time;
}

Json op_answer(const ops::ChainedOp& op, const KindOf& kinds) {
  const ops::KindInfo* info = ops::find_kind(op.op.kind);
  const ops::Field* author = op.op.find(ops::tag::author);
  return {{"lam", op.op.lam},
          {"incarnation", op.stream.inc.hex()},
          {"seq", op.seq},
          {"entry", model::to_text(op.key())},
          {"athlete", op.stream.scope.hex()},
          {"kind", info == nullptr ? "kind " + std::to_string(op.op.kind) : std::string(info->name)},
          {"author", report::author_word(author == nullptr ? 0 : ops::read_unsigned(*author).value_or(0))},
          {"claimed", model::iso(claimed(op.op))},
          {"fields", fields(op, kinds)}};
}

Json listed_ops(const Looked& looked) {
  KindOf kinds;
  for (const ops::ChainedOp& op : looked.ops) kinds[op.key()] = op.op.kind;
  Json all = Json::array();
  for (const ops::ChainedOp& op : looked.ops) all.push_back(op_answer(op, kinds));
  return all;
}

Json listed_sets(const Looked& looked) {
  Json all = Json::array();
  for (const LookedSet& looked_set : looked.sets) {
    Json one = of(looked_set.set);
    one["athlete"] = looked_set.athlete;
    one["day"] = of(looked_set.day);
    one["claimed"] = model::iso(looked_set.set.by.claimed);
    one["taken_back"] = looked_set.taken_back;
    all.push_back(std::move(one));
  }
  return all;
}

Json holdings(const sync::Bundle& bundle) {
  Json all = Json::array();
  for (const auto& [stream, holding] : bundle.holdings)
    all.push_back({{"athlete", stream.scope.hex()}, {"incarnation", stream.inc.hex()}, {"ranges", ops::to_text(holding.ranges)},
                   {"forked", holding.forked}});
  return all;
}

const char* word(sync::Envelope::How how) {
  switch (how) {
    case sync::Envelope::How::open: return "open";
    case sync::Envelope::How::to_keys: return "to_keys";
    case sync::Envelope::How::by_passphrase: return "by_passphrase";
  }
  return "";
}

const char* word(app::Sender::State state) {
  switch (state) {
    case app::Sender::State::not_signed: return "not_signed";
    case app::Sender::State::unknown: return "unknown";
    case app::Sender::State::other_key: return "other_key";
    case app::Sender::State::known: return "known";
    case app::Sender::State::own: return "own";
  }
  return "";
}

Json squad_answer(const sync::Squad& squad) {
  return {{"coach", squad.coach}, {"digits", sync::compare_digits(squad.seal_to.view())}, {"device", squad.device.hex()},
          {"signing_digits", sync::compare_digits(squad.signer.view())}};
}

Json file_answer(const MergedFile& file) {
  Json one{{"file", file.file}, {"refused", !file.taken.has_value()}};
  if (!file.taken) {
    one["error"] = of(file.why);
    return one;
  }
  const app::TakenIn& taken = *file.taken;
  one["hash"] = taken.file_hash.hex();
  one["fresh"] = taken.fresh;
  one["known"] = taken.known;
  one["fresh_sets"] = taken.fresh_sets;
  one["not_understood"] = taken.not_understood;
  one["forks"] = taken.forks;
  one["missing"] = taken.missing;
  one["own_past"] = taken.own_past;
  one["envelope"] = word(taken.envelope);
  one["sender"] = taken.squad ? Json() : Json{{"state", word(taken.sender.state)}, {"device", taken.sender.device.hex()}, {"digits", taken.sender.digits}};
  one["squad"] = taken.squad ? squad_answer(*taken.squad) : Json();
  one["of_erased"] = taken.dropped;
  return one;
}

}  // namespace

std::string failed(const model::Error& why) { return text({{"error", of(why)}}); }

std::string made(const Made& made) {
  return text({{"file", made.file},
               {"bytes", made.bytes},
               {"text", made.text},
               {"hash", made.hash},
               {"athletes", people(made.athletes)},
               {"ops", made.ops},
               {"sets", made.sets},
               {"envelope", word(made.envelope)},
               {"coach", made.coach.empty() ? Json() : Json(made.coach)}});
}

std::string keys(const KeysShown& shown) {
  Json known = Json::array();
  for (const app::DeviceKeys::Known& one : shown.known) known.push_back({{"device", one.device.hex()}, {"digits", sync::compare_digits(one.key.view())}});
  Json coach;
  if (shown.coach) coach = {{"name", shown.coach->name}, {"digits", sync::compare_digits(shown.coach->open.view())}, {"wrapped", shown.coach->wrapped}};
  return text({{"device", shown.device}, {"signing_digits", shown.digits}, {"coach", coach}, {"squad", shown.squad ? squad_answer(*shown.squad) : Json()}, {"known", known}});
}

std::string profiles(const std::vector<app::Book::SealedProfile>& all) {
  Json rows = Json::array();
  for (const app::Book::SealedProfile& one : all) rows.push_back({{"athlete", one.scope.hex()}, {"name", one.name}, {"open", one.open}});
  return text({{"profiles", rows}});
}

std::string file_written(const std::string& file) { return text({{"file", file}}); }

std::string merged(const Merged& merged) {
  Json files = Json::array();
  std::uint64_t refused = 0;
  for (const MergedFile& file : merged.files) {
    files.push_back(file_answer(file));
    refused += file.taken ? 0 : 1;
  }
  return text({{"files", files}, {"refused", refused}, {"contradictions", merged.contradictions}, {"digests", of(merged.digests)}});
}

std::string looked(const Looked& looked) {
  const sync::Bundle& bundle = looked.bundle.bundle;
  return text({{"file", looked.file},
               {"bytes", looked.bytes},
               {"hash", looked.bundle.file_hash.hex()},
               {"form", std::to_string(bundle.major) + "." + std::to_string(bundle.minor)},
               {"device", bundle.device.hex()},
               {"incarnation", bundle.created_by.hex()},
               {"export_counter", bundle.export_counter},
               {"envelope", word(looked.bundle.envelope)},
               {"signer", looked.bundle.signature ? Json(sync::compare_digits(looked.bundle.signature->signer.view())) : Json()},
               {"athletes", people(looked.athletes)},
               {"holdings", holdings(bundle)},
               {"sets", listed_sets(looked)},
               {"ops", listed_ops(looked)},
               {"digests", of(looked.digests)}});
}

std::string checked(const Checked& checked) {
  Json findings = Json::array();
  for (const model::Error& finding : checked.report.findings) findings.push_back(of(finding));
  return text({{"sound", checked.report.findings.empty()},
               {"findings", findings},
               {"athletes", checked.athletes},
               {"ops", checked.report.ops},
               {"chunks", checked.report.chunks},
               {"contradictions", checked.contradictions},
               {"digests", of(checked.report.digests)},
               {"form", checked.form},
               {"read_only", checked.read_only},
               {"missing", of(checked.missing)},
               {"last_report", checked.last_report ? Json(*checked.last_report) : Json()}});
}

}  // namespace slipway::native::json
