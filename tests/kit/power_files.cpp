#include "kit/power_files.h"

#include <algorithm>
#include <set>

#include "kit/fixed_random.h"

namespace slipway::kit {

namespace {

using host::IoStatus;
using Kind = PowerStep::Kind;

constexpr std::uint8_t kGarbage = 0xA5;

// Which pieces of what was not flushed are there afterwards. `place` and `places`: the step among those
// that were not flushed.
bool survives(Survival survival, std::size_t place, std::size_t places, std::size_t sector) {
  switch (survival) {
    case Survival::none:
      return false;
    case Survival::all:
    case Survival::torn:
      return true;
    case Survival::even:
      return sector % 2 == 0;
    case Survival::odd:
      return sector % 2 == 1;
    case Survival::first_half:
      return place < places / 2;
    case Survival::last_half:
      return place >= places / 2;
    case Survival::scattered:
      return Dice((std::uint64_t{place} << 32) ^ sector).one_in(2);
  }
  return false;
}

void write_sectors(model::Bytes& file, const PowerStep& step, Survival survival, std::size_t place, std::size_t places) {
  const std::size_t begin = static_cast<std::size_t>(step.offset), end = begin + step.bytes.size();
  if (survival == Survival::scattered && file.size() < end) file.resize(end, kGarbage);
  for (std::size_t at = begin; at < end;) {
    const std::size_t sector = at / kSectorBytes;
    const std::size_t sector_end = std::min(end, (sector + 1) * kSectorBytes);
    const std::size_t kept = survival == Survival::torn ? std::min(sector_end, sector * kSectorBytes + kSectorBytes / 2) : sector_end;
    if (kept > at && survives(survival, place, places, sector))
      write_bytes(file, at, std::span<const std::uint8_t>(step.bytes).subspan(at - begin, kept - at));
    at = sector_end;
  }
}

bool lied_about(FlushLie lie, std::string_view file) {
  const bool journal = file.ends_with("-journal");
  return lie == FlushLie::about_all || (lie == FlushLie::about_journal && journal) || (lie == FlushLie::about_database && !journal);
}

}  // namespace

std::string_view name_of(Survival survival) {
  constexpr std::array<std::string_view, kSurvivals.size()> kNames{"none",       "all",       "even",      "odd",
                                                                   "first half", "last half", "scattered", "torn"};
  return kNames[static_cast<std::size_t>(survival)];
}

class PowerFile : public host::File {
 public:
  PowerFile(PowerFiles& owner, std::string name, std::unique_ptr<host::File> inner)
      : owner_(owner), name_(std::move(name)), inner_(std::move(inner)) {}

  IoStatus read(std::uint64_t offset, std::span<std::uint8_t> into, std::size_t& got) override { return inner_->read(offset, into, got); }
  IoStatus write(std::uint64_t offset, std::span<const std::uint8_t> bytes) override {
    owner_.steps_.push_back({Kind::write, name_, offset, {bytes.begin(), bytes.end()}});
    return inner_->write(offset, bytes);
  }
  IoStatus truncate(std::uint64_t size) override {
    owner_.steps_.push_back({Kind::truncate, name_, size, {}});
    return inner_->truncate(size);
  }
  IoStatus flush() override {
    owner_.steps_.push_back({Kind::flush, name_, 0, {}});
    return inner_->flush();
  }
  IoStatus size(std::uint64_t& out) override { return inner_->size(out); }

 private:
  PowerFiles& owner_;
  std::string name_;
  std::unique_ptr<host::File> inner_;
};

std::uint64_t PowerFiles::bytes_written() const {
  std::uint64_t sum = 0;
  for (const PowerStep& step : steps_) sum += step.bytes.size();
  return sum;
}

IoStatus PowerFiles::open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) {
  const bool is_new = live_.files.count(name) == 0;
  std::unique_ptr<host::File> inner;
  const IoStatus status = files_.open(name, mode, inner);
  if (status != IoStatus::ok) return status;
  if (is_new) steps_.push_back({Kind::create, std::string(name), 0, {}});
  out = std::make_unique<PowerFile>(*this, std::string(name), std::move(inner));
  return status;
}

IoStatus PowerFiles::remove(std::string_view name) {
  if (live_.files.count(name) != 0) steps_.push_back({Kind::remove, std::string(name), 0, {}});
  return files_.remove(name);
}

PowerLoss::PowerLoss(const PowerFiles& recorded, FlushLie lie) : recorded_(recorded), lie_(lie), durable_(recorded.start()) {
  durable_.in_use.clear();
}

bool PowerLoss::next() {
  const auto& steps = recorded_.steps();
  if (started_) {
    if (finished_ == steps.size()) return false;
    finish(steps[finished_]);
    finished_ += 1;
  }
  started_ = true;
  return true;
}

void PowerLoss::finish(const PowerStep& step) {
  if (step.kind != Kind::flush) {
    pending_.push_back(&step);
    return;
  }
  if (lied_about(lie_, step.file)) return;
  std::vector<const PowerStep*> left;
  for (const PowerStep* one : pending_) {
    if (one->kind == Kind::remove) {
      durable_.files.erase(one->file);
      std::erase_if(left, [&](const PowerStep* earlier) { return earlier->file == one->file; });
    } else if (one->file != step.file) {
      left.push_back(one);
    } else {
      model::Bytes& file = durable_.files[one->file];
      if (one->kind == Kind::write) write_bytes(file, one->offset, one->bytes);
      if (one->kind == Kind::truncate) file.resize(static_cast<std::size_t>(one->offset));
    }
  }
  pending_ = std::move(left);
}

MemoryDisk PowerLoss::survivors(Survival survival) const {
  MemoryDisk disk = durable_;
  std::set<std::string> old_ones;  // files that were removed in vain: what a new file of that name got is not theirs
  std::vector<const PowerStep*> open = pending_;
  if (finished_ < recorded_.steps().size()) open.push_back(&recorded_.steps()[finished_]);  // under way
  for (std::size_t place = 0; place < open.size(); ++place) {
    const PowerStep& step = *open[place];
    const bool whole = survives(survival, place, open.size(), static_cast<std::size_t>(step.offset) / kSectorBytes);
    const auto file = disk.files.find(step.file);
    const bool there = file != disk.files.end() && old_ones.count(step.file) == 0;  // if not, its name was lost, and what was in it
    if (step.kind == Kind::create && whole) {
      disk.files[step.file] = {};
      old_ones.erase(step.file);
    } else if (step.kind == Kind::remove && there) {
      if (whole) disk.files.erase(file);
      if (!whole) old_ones.insert(step.file);
    } else if (step.kind == Kind::write && there) {
      write_sectors(file->second, step, survival, place, open.size());
    } else if (step.kind == Kind::truncate && there && whole) {
      file->second.resize(static_cast<std::size_t>(step.offset));
    }
  }
  return disk;
}

}  // namespace slipway::kit
