#include "sync/container.h"

#include <algorithm>
#include <array>

#include "ops/chain.h"
#include "ops/op.h"

namespace slipway::sync {

namespace {

// The first byte catches channels of 7 bits, the line ends those that rewrite text.
constexpr std::array<std::uint8_t, 8> kMagic = {0x89, 0x53, 0x4C, 0x57, 0x0D, 0x0A, 0x1A, 0x0A};
constexpr std::size_t kHashBytes = 32;
constexpr std::size_t kCheckBytes = 8;

bool is_known(std::uint64_t type) {
  return type == section::manifest || type == section::ranges || type == section::ops || type == section::signature ||
         type == section::sealed || type == section::squad;
}
constexpr bool is_critical_section(std::uint64_t type) { return (type & 1U) != 0; }

std::size_t varint_length(std::uint64_t value) {
  std::size_t length = 1;
  for (; value >= 0x80; value >>= 7) ++length;
  return length;
}

const model::Bytes& stored_of(const FramePlan::Section& section) {
  return section.codec == kStoredPlain ? section.raw : section.packed;
}

model::ShortHash check_of(model::ByteView stored) { return model::shorten(ops::blake2b(stored)); }

}  // namespace

std::string section_name(std::uint64_t type) {
  switch (type) {
    case section::manifest: return "manifest";
    case section::ranges: return "ranges";
    case section::ops: return "ops";
    case section::signature: return "signature";
    case section::sealed: return "sealed";
    case section::squad: return "squad";
    default: return std::to_string(type);
  }
}

bool has_magic(model::ByteView file) {
  return file.size() >= kMagic.size() && std::equal(kMagic.begin(), kMagic.end(), file.begin());
}

model::Error no_magic(model::ByteView file, const Door& door) {
  if (file.empty()) return door.no(model::ErrorKind::foreign, "bundle.empty", "file", 0);
  const std::size_t compared = std::min(file.size(), kMagic.size());
  // "SLW" alone still tells our file from a stranger's, whatever became of the signs around it.
  const bool says_slw = compared >= 4 && std::equal(kMagic.begin() + 1, kMagic.begin() + 4, file.begin() + 1);
  if (!says_slw) return door.no(model::ErrorKind::foreign, "bundle.not_ours", "magic", 0);
  if (std::equal(kMagic.begin(), kMagic.begin() + static_cast<std::ptrdiff_t>(compared), file.begin()))
    return door.damaged("bundle.cut", "magic", file.size());
  return door.damaged("bundle.mangled", "magic", 0);
}

const Frame::Section* Frame::find(std::uint64_t type) const {
  for (const Section& section : sections)
    if (section.type == type) return &section;
  return nullptr;
}

model::Bytes write_frame(const FramePlan& plan) {
  model::Bytes versions;
  for (const std::uint64_t number : {plan.major, plan.minor, plan.min_reader, plan.flags})
    ops::put_varint(versions, number);

  model::Bytes table;
  for (const std::uint64_t number : {std::uint64_t{plan.header.size()}, std::uint64_t{plan.sections.size()}})
    ops::put_varint(table, number);
  std::uint64_t content = plan.header.size();
  for (const FramePlan::Section& section : plan.sections) {
    const model::Bytes& stored = stored_of(section);
    const std::uint64_t raw = section.codec == kStoredPlain ? stored.size() : section.raw_length;
    for (const std::uint64_t number : {section.type, section.codec, std::uint64_t{stored.size()}, raw})
      ops::put_varint(table, number);
    model::append(table, check_of(stored).view());
    content += stored.size();
  }

  // The length counts the number that says it.
  const std::uint64_t rest = kMagic.size() + versions.size() + table.size() + content + kHashBytes;
  std::uint64_t total = rest + 1;
  while (rest + varint_length(total) != total) total = rest + varint_length(total);

  model::Bytes file(kMagic.begin(), kMagic.end());
  file.reserve(static_cast<std::size_t>(total));
  model::append(file, versions);
  ops::put_varint(file, total);
  model::append(file, table);
  model::append(file, plan.header);
  for (const FramePlan::Section& section : plan.sections) model::append(file, stored_of(section));
  model::append(file, ops::blake2b(file).view());
  return file;
}

namespace {

// One reading of one frame; each step answers Done or the refusal.
class FrameReader {
 public:
  FrameReader(model::ByteView file, const Door& door, const Limits& limits)
      : file_(file), door_(door), limits_(limits), cursor_(file) {}

  model::Result<Frame> read() {
    using Step = model::Result<model::Done> (FrameReader::*)();
    for (const Step step : {&FrameReader::magic_and_versions, &FrameReader::whole_file, &FrameReader::table,
                            &FrameReader::header_and_sections})
      if (auto done = (this->*step)(); !done) return done.error();
    return std::move(frame_);
  }

 private:
  struct Row {
    std::uint64_t type = 0, codec = 0, stored = 0, raw = 0;
    model::ByteView check;
  };

  model::Result<model::Done> magic_and_versions() {
    if (!has_magic(file_)) return no_magic(file_, door_);
    cursor_ = Cursor(file_, kMagic.size());
    if (file_.size() > limits_.file_bytes) return door_.too_large("file", limits_.file_bytes);
    if (!cursor_.number(frame_.major) || !cursor_.number(frame_.minor) || !cursor_.number(frame_.min_reader))
      return broken("versions");
    const bool draft = frame_.major == 0 && frame_.minor <= kLastDraft && frame_.min_reader == 0;
    if (!draft && (frame_.major != kMajor || frame_.min_reader > kMinor)) return door_.newer(frame_.major, frame_.minor);
    return model::Done{};
  }

  model::Result<model::Done> whole_file() {
    std::uint64_t total = 0;
    if (!cursor_.number(frame_.flags) || !cursor_.number(total)) return broken("length");
    if (total > limits_.file_bytes) return door_.too_large("file", limits_.file_bytes);
    if (total > file_.size()) return door_.damaged("bundle.cut", "file", file_.size());
    if (total < file_.size()) return door_.damaged("bundle.extra", "file", total);
    if (cursor_.left() < kHashBytes) return broken("length");
    const std::size_t hashed = file_.size() - kHashBytes;
    frame_.file_hash = ops::blake2b(file_.first(hashed));
    if (!model::equal(frame_.file_hash.view(), file_.subspan(hashed))) return door_.damaged("bundle.hash", "file", hashed);
    cursor_ = Cursor(file_.first(hashed), cursor_.at());  // from here on the hash is out of reach
    return model::Done{};
  }

  model::Result<model::Done> table() {
    std::uint64_t count = 0;
    if (!cursor_.number(header_length_) || !cursor_.number(count)) return broken("table");
    if (frame_.flags > (flag::sealed | flag::has_signature)) return door_.newer(frame_.major, frame_.minor);
    if (header_length_ > limits_.header_bytes) return door_.too_large("header", limits_.header_bytes);
    if (count > limits_.sections) return door_.too_large("table", limits_.sections);
    std::uint64_t raw_left = limits_.raw_bytes;
    for (std::uint64_t i = 0; i < count; ++i) {
      Row row;
      if (!cursor_.number(row.type) || !cursor_.number(row.codec) || !cursor_.number(row.stored) ||
          !cursor_.number(row.raw) || !cursor_.take(kCheckBytes, row.check))
        return broken("table");
      if (row.raw > raw_left) return door_.too_large("table", limits_.raw_bytes);
      raw_left -= row.raw;
      if (!rows_.empty() && row.type <= rows_.back().type) return broken("table");
      if (const auto known = acceptable(row); !known) return known.error();
      rows_.push_back(row);
    }
    return flags_are_true() ? model::Result<model::Done>(model::Done{}) : broken("table");
  }

  bool flags_are_true() const {
    const auto there = [&](std::uint64_t type) {
      return std::any_of(rows_.begin(), rows_.end(), [&](const Row& row) { return row.type == type; });
    };
    if (there(section::sealed) || there(section::squad))
      return rows_.size() == 1 && frame_.flags == (there(section::sealed) ? flag::sealed : 0);
    return frame_.flags == (there(section::signature) ? flag::has_signature : 0);
  }

  model::Result<model::Done> acceptable(const Row& row) const {
    if (is_known(row.type)) {
      if (row.codec == kStoredPlain) return row.raw == row.stored ? model::Result<model::Done>(model::Done{}) : broken("table");
      if (row.codec != kPackedOps || row.type != section::ops) return door_.newer(frame_.major, frame_.minor);
      if (unpacks_too_far(row.stored, row.raw)) return door_.too_large("table", kMostUnpacked);
      return model::Done{};
    }
    if (is_critical_section(row.type)) return door_.newer(frame_.major, frame_.minor);
    if (!frame_.is_newer()) return broken("table");  // our own versions write no such section
    return model::Done{};
  }

  model::Result<model::Done> header_and_sections() {
    frame_.header_at = cursor_.at();
    if (!cursor_.take(header_length_, frame_.header)) return broken("header");
    for (const Row& row : rows_) {
      const std::uint64_t at = cursor_.at();
      model::ByteView stored;
      if (!cursor_.take(row.stored, stored)) return broken("table");
      if (!model::equal(check_of(stored).view(), row.check))
        return door_.damaged("bundle.section", section_name(row.type), at);
      if (!is_known(row.type)) continue;
      const bool plain = row.codec == kStoredPlain;
      frame_.sections.push_back({row.type, plain ? stored : model::ByteView{}, at, row.codec, stored, row.raw});
    }
    if (cursor_.left() != 0) return broken("table");
    return model::Done{};
  }

  model::Error broken(std::string_view place) const { return door_.damaged("bundle.section", place, cursor_.at()); }

  model::ByteView file_;
  const Door& door_;
  const Limits& limits_;
  Cursor cursor_;
  std::uint64_t header_length_ = 0;
  std::vector<Row> rows_;
  Frame frame_;
};

}  // namespace

model::Result<Frame> read_frame(model::ByteView file, const Door& door, const Limits& limits) {
  return FrameReader(file, door, limits).read();
}

}  // namespace slipway::sync
