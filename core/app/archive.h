// "Export everything": what this device holds, in forms that need no program of ours, as one zip.
//
//   ops.jsonl     every entry, without loss; taken in again it is the same set (sync/op_lines.h)
//   sessions.csv, sets.csv, pain.csv   what stands now, for a spreadsheet (report/csv.h)
//   plans.json    what is planned: athlete, kit, programme, lines, with every value that stands
//   slipway.db    the store as an SQLite file, without what is private to this device
//   FORMAT.txt    all of it described, well enough to write a reader
//
// It stands on the store alone, so that it also works where the store is read-only, newer than this program, or
// damaged in part: whatever still proves itself is in it, and what was left out is said.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "model/athlete.h"
#include "model/bytes.h"
#include "model/result.h"
#include "ops/chain.h"
#include "store/store.h"

namespace slipway::app {

struct Archive {
  model::Bytes zip;
  std::vector<std::string> parts;
  std::uint64_t athletes = 0, ops = 0, sessions = 0, sets = 0, pains = 0;
  std::vector<model::Error> left_out;  // empty: everything is in it
};

inline constexpr std::string_view kArchiveName = "slipway-export.zip";  // for handing over: nothing personal

// Of these athletes; of none named all. `waiting`: written and not kept yet, it goes out too.
// Errors: memory ran out, or the storage does not even say whom it holds.
model::Result<Archive> make_archive(store::Store& store, std::span<const ops::ChainedOp> waiting, std::vector<model::ScopeId> scopes);

// Of entries that were found in a damaged store (store/salvage.h): the same parts, without slipway.db.
model::Result<Archive> make_archive_of(std::span<const ops::Chunk> found);

// ---- the parts, each of one athlete --------------------------------------------------------------------

std::string sessions_head();
std::string sets_head();
std::string pain_head();
std::string sessions_rows(const model::Athlete& athlete);
std::string sets_rows(const model::Athlete& athlete);
std::string pain_rows(const model::Athlete& athlete);
std::string plan_object(const model::Athlete& athlete);  // JSON
std::string library_object(const model::Library& library);
std::string format_text();

}  // namespace slipway::app
