#include "kit/faulty_files.h"

namespace slipway::kit {

namespace {

using Call = FaultyFiles::Call;

bool can_strike(Fault fault, Call call) {
  switch (fault) {
    case Fault::failed:
      return true;
    case Fault::short_read:
      return call == Call::read;
    case Fault::full:
      return call == Call::create || call == Call::write || call == Call::truncate || call == Call::flush;
    case Fault::silent_loss:
      return call == Call::write || call == Call::truncate;
  }
  return false;
}

class FaultyFile : public host::File {
 public:
  FaultyFile(FaultyFiles& owner, std::unique_ptr<host::File> file) : owner_(owner), file_(std::move(file)) {}

  host::IoStatus read(std::uint64_t offset, std::span<std::uint8_t> into, std::size_t& got) override {
    got = 0;
    if (!owner_.strikes(Call::read)) return file_->read(offset, into, got);
    if (owner_.fault() == Fault::short_read) return file_->read(offset, into.first(into.size() / 2), got);
    return owner_.refusal();
  }
  host::IoStatus write(std::uint64_t offset, std::span<const std::uint8_t> bytes) override {
    if (!owner_.strikes(Call::write)) return file_->write(offset, bytes);
    if (owner_.fault() == Fault::silent_loss) return host::IoStatus::ok;
    const auto half = file_->write(offset, bytes.first(bytes.size() / 2));
    return half == host::IoStatus::ok ? owner_.refusal() : half;
  }
  host::IoStatus truncate(std::uint64_t size) override {
    if (!owner_.strikes(Call::truncate)) return file_->truncate(size);
    return owner_.fault() == Fault::silent_loss ? host::IoStatus::ok : owner_.refusal();
  }
  host::IoStatus flush() override { return owner_.strikes(Call::flush) ? owner_.refusal() : file_->flush(); }
  host::IoStatus size(std::uint64_t& out) override {
    out = 0;
    return owner_.strikes(Call::size) ? owner_.refusal() : file_->size(out);
  }

 private:
  FaultyFiles& owner_;
  std::unique_ptr<host::File> file_;
};

}  // namespace

void FaultyFiles::break_at(std::uint64_t nth, Fault fault, Lasting lasting) {
  left_ = nth;
  fault_ = fault;
  lasting_ = lasting;
  struck_ = false;
}

bool FaultyFiles::strikes(Call call) {
  if (left_ == 0 || !can_strike(fault_, call)) return false;
  if (left_ > 1) {
    left_ -= 1;
    return false;
  }
  if (lasting_ == Lasting::once) left_ = 0;
  struck_ = true;
  return true;
}

host::IoStatus FaultyFiles::open(std::string_view name, host::OpenMode mode, std::unique_ptr<host::File>& out) {
  const bool creates = mode == host::OpenMode::create_if_missing && plain.content.find(name) == plain.content.end();
  if (strikes(creates ? Call::create : Call::open)) return refusal();
  std::unique_ptr<host::File> file;
  const auto status = plain.open(name, mode, file);
  if (status == host::IoStatus::ok) out = std::make_unique<FaultyFile>(*this, std::move(file));
  return status;
}

host::IoStatus FaultyFiles::remove(std::string_view name) { return strikes(Call::remove) ? refusal() : plain.remove(name); }

}  // namespace slipway::kit
