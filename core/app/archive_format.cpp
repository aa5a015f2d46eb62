// FORMAT.txt of an archive: the words of the text table, then every kind and field of the registry.
#include "app/archive.h"
#include "ops/registry.h"
#include "report/words.h"
#include "store/store.h"

namespace slipway::app {

namespace {

constexpr std::string_view kBlank = "-";  // a row of the text table is never empty

std::string wire_words(ops::Wire wire) {
  switch (wire) {
    case ops::Wire::unsigned_int: return report::say("archive.wire_unsigned");
    case ops::Wire::signed_int: return report::say("archive.wire_signed");
    case ops::Wire::text: return report::say("archive.wire_text");
    case ops::Wire::bytes: return report::say("archive.wire_bytes");
    case ops::Wire::unsigned_list: return report::say("archive.wire_list");
    case ops::Wire::refs: return report::say("archive.wire_refs");
  }
  return "";
}

std::string field_lines(std::uint32_t kind) {
  std::string text;
  for (const ops::FieldInfo& field : ops::fields())
    if (field.kind == kind)
      text += report::say("archive.field", {std::to_string(field.tag), std::string(field.name), wire_words(field.wire), field.unit.empty() ? "-" : std::string(field.unit),
                                            std::string(field.meaning)}) +
              "\n";
  return text;
}

}  // namespace

std::string format_text() {
  std::string text;
  for (const std::string& line : report::text_lines("archive.format", {std::to_string(store::kSchemaVersion)})) text += (line == kBlank ? "" : line) + "\n";
  text += "\n" + report::say("archive.common_fields") + "\n" + field_lines(0);
  for (const ops::KindInfo& kind : ops::kinds())
    text += "\n" + report::say("archive.kind", {std::to_string(kind.kind), std::string(kind.name), std::string(kind.meaning)}) + "\n" + field_lines(kind.kind);
  return text;
}

}  // namespace slipway::app
