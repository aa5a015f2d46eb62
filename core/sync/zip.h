// Several files in one: a zip [APPNOTE 6.3], deflated, written and read in memory.
//
// The zip library is met here and nowhere else. Written the same for the same parts: no dates, no owners.
// Reading takes out one part: never more than its limit and one byte, and its check must agree.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "model/bytes.h"
#include "model/result.h"
#include "sync/door.h"

namespace slipway::sync {

class ZipWriter {
 public:
  ZipWriter();
  ~ZipWriter();
  ZipWriter(const ZipWriter&) = delete;
  ZipWriter& operator=(const ZipWriter&) = delete;

  void begin(const std::string& part);  // the part before it is over
  void add(model::ByteView bytes);
  // Errors: too_large "memory.out" if any step had not enough memory.
  model::Result<model::Bytes> finish();

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

bool is_zip(model::ByteView file);
// Errors: not_found, damaged, too_large (args: file name, part).
model::Result<model::Bytes> read_zip_part(model::ByteView file, const std::string& part, const Door& door, std::uint64_t most_bytes);

}  // namespace slipway::sync
