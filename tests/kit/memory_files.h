// host::Files in memory, in two halves: the disk that stays, and a process that uses it.
//
// Like the real storages, a file that one process has open is busy for every other one,
// and a file is there only when it is not empty.
#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>

#include "host/files.h"
#include "model/bytes.h"

namespace slipway::kit {

struct MemoryDisk {
  std::map<std::string, model::Bytes, std::less<>> files;
  std::set<std::string, std::less<>> in_use;
};

class MemoryFiles : public host::Files {
 public:
  explicit MemoryFiles(MemoryDisk& disk) : disk_(disk) {}

  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override;
  host::IoStatus remove(std::string_view name) override;
  bool exists(std::string_view name) override;

 private:
  MemoryDisk& disk_;
};

// What every kind of storage in memory does with bytes.
std::size_t read_bytes(const model::Bytes& from, std::uint64_t offset, std::span<std::uint8_t> into);
void write_bytes(model::Bytes& to, std::uint64_t offset, std::span<const std::uint8_t> bytes);

}  // namespace slipway::kit
