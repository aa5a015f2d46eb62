// libFuzzer target for the open forms: JSON, ops as lines, zips. clang++ -fsanitize=fuzzer,address,undefined.
#include <cstdio>
#include <cstdlib>
#include <map>

#include "model/json.h"
#include "ops/held.h"
#include "sync/op_lines.h"

using namespace slipway;

namespace {

// What was read, written and read again, is the same set.
bool comes_back(const sync::ReadBundle& read) {
  std::map<model::ScopeId, std::vector<ops::ChainedOp>> by_athlete;
  ops::Held held, again;
  for (const ops::ChainedOp& op : read.ops) {
    held.add(op);
    by_athlete[op.stream.scope].push_back(op);
  }
  std::string text = sync::op_lines_head({}, {}, held.op_count());
  for (auto& [scope, ops] : by_athlete) text += sync::op_lines_of(std::move(ops));
  const auto back = sync::read_entries(model::as_bytes(text), "again");
  if (!back) return false;
  for (const ops::ChainedOp& op : back->ops) again.add(op);
  return again.digest() == held.digest();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const model::ByteView input(data, size);
  (void)model::read_json(model::as_text(input));
  const auto read = sync::read_entries(input, "corpus");
  if (!read || comes_back(*read)) return 0;
  std::fprintf(stderr, "broken promise: another set came back\n");
  std::abort();
}
