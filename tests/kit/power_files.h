// host::Files that remember every step, so that power can be lost at each of them.
//
// One run of a workload is recorded; PowerLoss then walks along it. Whatever had not been
// flushed when the power went may or may not be there, by 512-byte sector: a survival
// pattern says which. That holds for writes, truncates, new files and removed files alike,
// and for the step that was under way. A remove lasts once any later flush has answered.
// Harsher than the promise of host::Files: sectors may be torn, and a file may have grown
// with garbage in place of its bytes. Reads are no steps: losing power in one is losing it
// after the step before.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "kit/memory_files.h"

namespace slipway::kit {

inline constexpr std::size_t kSectorBytes = 512;

// What is there of that which was not flushed.
enum class Survival : std::uint8_t {
  none,
  all,
  even,  // sectors of even number
  odd,
  first_half,  // of the steps, in their order
  last_half,
  scattered,  // a toss for each sector of each step; files grow with garbage
  torn,       // of each sector written, the first 256 bytes
};
inline constexpr std::array kSurvivals{Survival::none,       Survival::all,       Survival::even,      Survival::odd,
                                       Survival::first_half, Survival::last_half, Survival::scattered, Survival::torn};
std::string_view name_of(Survival survival);

struct PowerStep {
  enum class Kind : std::uint8_t { create, write, truncate, flush, remove };
  Kind kind = Kind::write;
  std::string file;
  std::uint64_t offset = 0;  // of a truncate: the new size
  model::Bytes bytes;
};

class PowerFiles : public host::Files {
 public:
  PowerFiles() : PowerFiles(MemoryDisk{}) {}
  explicit PowerFiles(MemoryDisk start) : start_(start), live_(std::move(start)), files_(live_) {}

  const MemoryDisk& start() const { return start_; }
  const std::vector<PowerStep>& steps() const { return steps_; }
  std::uint64_t bytes_written() const;

  host::IoStatus open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) override;
  host::IoStatus remove(std::string_view name) override;
  bool exists(std::string_view name) override { return files_.exists(name); }

 private:
  friend class PowerFile;
  MemoryDisk start_, live_;
  MemoryFiles files_;
  std::vector<PowerStep> steps_;
};

// A storage that says "flushed" and has done nothing: what the harness must be able to catch.
enum class FlushLie : std::uint8_t { none, about_database, about_journal, about_all };

class PowerLoss {
 public:
  explicit PowerLoss(const PowerFiles& recorded, FlushLie lie = FlushLie::none);

  // The power goes during the next step; one more time after the last one. False: that was all.
  bool next();
  std::size_t finished_steps() const { return finished_; }
  MemoryDisk survivors(Survival survival) const;

 private:
  void finish(const PowerStep& step);

  const PowerFiles& recorded_;
  FlushLie lie_;
  MemoryDisk durable_;
  std::vector<const PowerStep*> pending_;  // in order; not flushed
  std::size_t finished_ = 0;
  bool started_ = false;
};

}  // namespace slipway::kit
