// The storage the outside promises: a few flat files, opened once, kept open.
//
// Promises of every implementation: after flush() has answered ok, all bytes
// written before it survive a crash, a killed tab and a power cut; before that,
// any 512-byte sector of them may or may not. truncate() needs its own flush() to
// last; remove() lasts when it has answered. A read past the end is answered by the bytes there are.
// One storage cannot answer in time (pages in IndexedDB): there flush() only takes the bytes, whole commits and
// in order, and lasting() says how far they last.
// Twins: OPFS handles and pages (wasm-shell), POSIX (native-shell), memory, faulty and late (tests/kit).
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string_view>

namespace slipway::host {

enum class IoStatus : std::uint8_t {
  ok,
  missing,        // open without create, and there is no such file
  full,           // no room, or over quota
  busy,           // another process or tab holds it
  no_permission,
  failed,         // everything else the storage says
};

enum class OpenMode : std::uint8_t { must_exist, create_if_missing, read_only };

// Batches of what was written, numbered from 1. A batch lasts only together with all before it; one that was
// refused is not dropped but goes with the next.
struct Lasting {
  std::uint64_t handed = 0;          // the batch that holds, or will hold, what was written last
  std::uint64_t lasts = 0;           // up to this one everything survives
  IoStatus trouble = IoStatus::ok;   // why the newest batch was refused, while nothing newer is on its way

  bool all() const { return lasts >= handed; }
};

class File {
 public:
  virtual ~File() = default;  // closes
  // Reads up to into.size() bytes from offset; `got` tells how many there were.
  virtual IoStatus read(std::uint64_t offset, std::span<std::uint8_t> into, std::size_t& got) = 0;
  virtual IoStatus write(std::uint64_t offset, std::span<const std::uint8_t> bytes) = 0;
  virtual IoStatus truncate(std::uint64_t size) = 0;
  virtual IoStatus flush() = 0;
  virtual IoStatus size(std::uint64_t& out) = 0;
};

class Files {
 public:
  virtual ~Files() = default;
  virtual IoStatus open(std::string_view name, OpenMode mode, std::unique_ptr<File>& out) = 0;
  virtual IoStatus remove(std::string_view name) = 0;  // ok too if it was not there; directory synced
  virtual bool exists(std::string_view name) = 0;      // and is not empty

  virtual Lasting lasting() { return {}; }  // where flush() keeps its promise itself: nothing is on its way
  virtual void hand_again() {}              // gives what was refused to the storage once more
};

}  // namespace slipway::host
