// Stores of every form there has been, as bytes: written once by the program of that form, read for ever.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "kit/memory_files.h"
#include "model/ids.h"
#include "model/result.h"
#include "store/store.h"

namespace slipway::kit {

// What must be found in a golden store.
struct GoldenContent {
  std::size_t ops = 0;
  std::string ops_digest;            // ops::Held::digest
  std::string draft;                 // the local value
  std::vector<std::string> imports;  // file names
  std::uint64_t next_export = 0;     // the next export counter

  friend bool operator==(const GoldenContent&, const GoldenContent&) = default;
};

// A closed store of today's form: own entries, two bundles, derived state of one swimmer, a draft, two exports.
MemoryDisk store_of_today();
model::Result<GoldenContent> golden_content(store::Store& store);  // asks for the next export counter, so it writes

// The store that a golden header describes; the stretches are {at, size}, their bytes stand one after the other.
MemoryDisk disk_of_stretches(std::size_t size, std::span<const std::size_t[2]> stretches, model::ByteView bytes);

// tests/store/schema_N.h: the stretches of the database that are not zero, and its content.
std::string golden_store_header();

}  // namespace slipway::kit
