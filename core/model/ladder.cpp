#include "model/ladder.h"

#include <cassert>

#include "model/assets.h"
#include "model/table.h"

namespace slipway::model {

namespace {

std::vector<Rung> read_rungs() {
  const auto table = read_table(asset("ladders.table"));
  assert(table.ok());  // embedded by the build: a broken table is a bug
  std::vector<Rung> out;
  if (!table) return out;
  for (std::size_t row = 0; row < table->rows.size(); ++row)
    out.push_back({.id = table->cell(row, "id"),
                   .line = table->cell(row, "line"),
                   .name = table->cell(row, "name"),
                   .short_name = table->cell(row, "short"),
                   .cue = table->cell(row, "cue"),
                   .caution = table->cell(row, "caution") == "-" ? "" : table->cell(row, "caution"),
                   .loaded = table->cell(row, "loaded") == "yes"});
  return out;
}

}  // namespace

const std::vector<Rung>& rungs() {
  static const std::vector<Rung> kRungs = read_rungs();
  return kRungs;
}

const Rung* find_rung(std::string_view id) {
  for (const Rung& rung : rungs())
    if (rung.id == id) return &rung;
  return nullptr;
}

}  // namespace slipway::model
