#include "kit/store_golden.h"

#include <algorithm>

#include "kit/bundle_kit.h"
#include "kit/store_kit.h"
#include "ops/fold.h"
#include "ops/held.h"
#include "ops/packed.h"
#include "store/columns.h"

namespace slipway::kit {

namespace {

constexpr std::size_t kBytesARow = 24;
constexpr std::size_t kZerosThatPart = 16;  // a run of zeros this long begins a new stretch

std::vector<ops::ChainedOp> ops_of(store::Store& store, const model::ScopeId& scope) {
  std::vector<ops::ChainedOp> all;
  const auto chunks = store.chunks(scope);
  if (!chunks) return all;
  for (const ops::Chunk& chunk : *chunks)
    if (auto read = ops::read_chunk(chunk)) all.insert(all.end(), read->begin(), read->end());
  return all;
}

void save_derived_of(store::Store& store, const model::ScopeId& scope) {
  ops::Fold fold(scope);
  ops::Held held;
  for (const ops::ChainedOp& op : ops_of(store, scope)) {
    fold.add(op);
    held.add(op);
  }
  (void)store.save_derived(scope, {ops::kFoldVersion, held.holdings(scope), fold.write_state()});
}

std::string rows_of(model::ByteView bytes) {
  std::string text;
  for (std::size_t at = 0; at < bytes.size(); at += kBytesARow) {
    text += "   ";
    for (const std::uint8_t byte : bytes.subspan(at, std::min(kBytesARow, bytes.size() - at))) text += " 0x" + model::hex({&byte, 1}) + ',';
    text += '\n';
  }
  return text;
}

struct Stretch {
  std::size_t at = 0, size = 0;
};

std::vector<Stretch> stretches_of(model::ByteView bytes) {
  std::vector<Stretch> out;
  for (std::size_t at = 0; at < bytes.size(); ++at) {
    if (bytes[at] == 0) continue;
    if (out.empty() || at - (out.back().at + out.back().size) >= kZerosThatPart) out.push_back({at, 0});
    out.back().size = at + 1 - out.back().at;
  }
  return out;
}

}  // namespace

MemoryDisk store_of_today() {
  MemoryDisk disk;
  MemoryFiles files(disk);
  Opened opened(files);
  if (!opened.open()) return {};
  Log sealed('s', 'p');  // first: sealing empties the names of what was taken in
  sealed.session();
  for (std::uint64_t reps : {6, 5, 4}) sealed.set(reps);
  (void)opened.store().append(chunks_of(sealed.ops(), 2));
  (void)opened.store().seal(scope_named('s'), model::as_bytes("lock"), test_seal());
  for (const Step& step : import_steps()) opened.perform(step);
  Log season('k', 'm');  // long enough to be kept packed
  season.session();
  for (std::uint64_t set = 0; set < store::kLeastPackedOps; ++set) season.set(5 + set % 7);
  const ops::PackedRun packed = ops::pack(season.ops(1, store::kLeastPackedOps + 1), {});
  (void)opened.store().take_in({}, {ops::blake2b(packed.bytes), "season.slip", {}, store::kLeastPackedOps + 1}, {}, {&packed, 1});
  save_derived_of(opened.store(), scope_named('w'));
  (void)opened.store().fold_chunks(scope_named('w'));
  (void)store::save_sets(opened.store(), scope_named('w'));
  for (int exports = 0; exports < 2; ++exports) (void)opened.store().next_export_counter();
  opened.close();
  return disk;
}

MemoryDisk disk_of_stretches(std::size_t size, std::span<const std::size_t[2]> stretches, model::ByteView bytes) {
  MemoryDisk disk;
  model::Bytes& file = disk.files[std::string(store::kDatabaseName)];
  file.resize(size);
  for (const auto& stretch : stretches) {
    write_bytes(file, stretch[0], bytes.first(stretch[1]));
    bytes = bytes.subspan(stretch[1]);
  }
  return disk;
}

model::Result<GoldenContent> golden_content(store::Store& store) {
  GoldenContent content;
  ops::Held held;
  const auto scopes = store.scopes();
  if (!scopes) return scopes.error();
  for (const model::ScopeId& scope : *scopes)
    for (const ops::ChainedOp& op : ops_of(store, scope)) held.add(op);
  content.ops = held.op_count();
  content.ops_digest = held.digest().hex();
  const auto state = state_of(store);
  if (!state) return state.error();
  content.draft = std::string(model::as_text(state->draft));
  content.imports = state->imports;
  const auto next = store.next_export_counter();
  if (!next) return next.error();
  content.next_export = *next;
  return content;
}

std::string golden_store_header() {
  MemoryDisk disk = store_of_today();
  const model::Bytes bytes = disk.files[std::string(store::kDatabaseName)];
  MemoryFiles files(disk);
  Opened opened(files, 3);
  opened.open();
  const auto content = golden_content(opened.store());
  const std::string form = std::to_string(store::kSchemaVersion);
  std::string all, table;
  const model::ByteView view(bytes);
  for (const Stretch& stretch : stretches_of(view)) {
    table += "    {" + std::to_string(stretch.at) + ", " + std::to_string(stretch.size) + "},\n";
    all += rows_of(view.subspan(stretch.at, stretch.size));
  }
  std::string text = "// A store of form " + form +
                     " as bytes, written once by the program that made such stores (see golden_test.cpp).\n"
                     "// Every later program must open it and lose nothing. Kept in a header: wasm tests have no files.\n"
                     "#pragma once\n\n#include <cstddef>\n#include <cstdint>\n\nnamespace slipway::stores::schema_" +
                     form +
                     " {\n\n"
                     "inline constexpr std::size_t kSize = " +
                     std::to_string(bytes.size()) +
                     ";  // zero where no stretch says otherwise\n"
                     "inline constexpr std::size_t kStretches[][2] = {\n    // at, size\n" +
                     table +
                     "};\n"
                     "inline constexpr std::uint8_t kBytes[] = {\n" +
                     all + "};\n\n";
  if (content) {
    text += "inline constexpr std::size_t kOps = " + std::to_string(content->ops) + ";\n";
    text += "inline constexpr const char* kOpsDigest = \"" + content->ops_digest + "\";\n";
    text += "inline constexpr const char* kDraft = \"" + content->draft + "\";\n";
    text += "inline constexpr const char* kImports[] = {";
    for (const std::string& name : content->imports) text += "\"" + name + "\", ";
    text += "};\ninline constexpr std::uint64_t kNextExport = " + std::to_string(content->next_export) + ";\n";
  }
  return text + "\n}  // namespace slipway::stores::schema_" + form + "\n";
}

}  // namespace slipway::kit
