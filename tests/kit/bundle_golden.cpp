// Writes tests/bundles/<name>.h: the bytes of a format, and what must be read from them.
#include <algorithm>

#include "kit/bundle_kit.h"

namespace slipway::kit {

namespace {

constexpr std::size_t kBytesARow = 24;

std::string rows_of(model::ByteView bytes) {
  std::string text;
  for (std::size_t at = 0; at < bytes.size(); at += kBytesARow) {
    text += "   ";
    for (const std::uint8_t byte : bytes.subspan(at, std::min(kBytesARow, bytes.size() - at)))
      text += " 0x" + model::hex({&byte, 1}) + ',';
    text += '\n';
  }
  return text;
}

}  // namespace

std::string golden_header(std::string_view name, sync::Packing packing) {
  std::string text =
      "// Bundles of format 1 as bytes, written once by the golden test (see golden_test.cpp).\n"
      "// Every later version must read them. Kept as bytes in a header: wasm tests have no files.\n"
      "#pragma once\n\n#include <cstddef>\n#include <cstdint>\n#include <string_view>\n\n"
      "namespace slipway::bundles::";
  text += name;
  text += " {\n\n";
  std::string list;
  for (const ReferenceFile& file : reference_files(packing)) {
    const sync::ReadBundle read = read_of(file.bytes);
    text += "inline constexpr std::uint8_t k_" + file.name + "[] = {\n" + rows_of(file.bytes) + "};\n\n";
    list += "    {\"" + file.name + "\", k_" + file.name + ", sizeof(k_" + file.name + "), " + std::to_string(read.ops.size()) + ",\n     \"" +
            held_of(read.ops).digest().hex() + "\",\n     \"" + read.file_hash.hex() + "\"},\n";
  }
  text +=
      "struct Golden {\n  std::string_view name;\n  const std::uint8_t* bytes;\n  std::size_t size;\n  std::size_t ops;\n"
      "  std::string_view ops_digest;  // ops::Held::digest\n  std::string_view file_hash;\n};\n"
      "inline constexpr Golden kAll[] = {\n" +
      list + "};\n\n}  // namespace slipway::bundles::";
  text += name;
  text += '\n';
  return text;
}

}  // namespace slipway::kit
