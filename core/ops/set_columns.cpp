#include "ops/set_columns.h"

#include <algorithm>
#include <cstring>

#include "ops/op.h"

namespace slipway::ops {

namespace {

constexpr unsigned kMostWidth = 56;  // one value lies within eight bytes, wherever it begins
constexpr std::size_t kMostDistinct = 4096;
enum Way : std::uint8_t { beside_base = 0, by_place = 1, changes = 2 };

unsigned width_of(std::uint64_t value) {
  unsigned width = 0;
  for (; value != 0; value >>= 1) ++width;
  return width;
}

class Packer {
 public:
  explicit Packer(model::Bytes& out) : out_(out) {}
  void put(std::uint64_t value, unsigned width) {
    waiting_ |= value << count_;
    count_ += width;
    for (; count_ >= 8; count_ -= 8) {
      out_.push_back(static_cast<std::uint8_t>(waiting_));
      waiting_ >>= 8;
    }
  }
  void close() {
    if (count_ > 0) out_.push_back(static_cast<std::uint8_t>(waiting_));
  }

 private:
  model::Bytes& out_;
  std::uint64_t waiting_ = 0;
  unsigned count_ = 0;  // below 8 between two values
};

void pack(model::Bytes& out, const std::vector<std::uint64_t>& values, unsigned width) {
  Packer packer(out);
  for (const std::uint64_t value : values) packer.put(value, width);
  packer.close();
}

template <class Use>  // (place, value)
bool unpack(model::ByteView bytes, std::size_t& at, std::size_t count, unsigned width, Use use) {
  const std::uint64_t length = (std::uint64_t{count} * width + 7) / 8;
  if (width > kMostWidth || length > bytes.size() - at) return false;
  const std::uint8_t* from = bytes.data() + at;
  const std::uint64_t mask = (std::uint64_t{1} << width) - 1;
  std::size_t i = 0;
  const std::size_t left = bytes.size() - at;
  // Eight bytes at once, as long as they are there.
  for (std::uint64_t bit = 0; i < count && bit / 8 + 8 <= left; ++i, bit += width) {
    std::uint64_t word = 0;
    std::memcpy(&word, from + bit / 8, 8);
    use(i, word >> (bit % 8) & mask);
  }
  for (; i < count; ++i) {
    const std::uint64_t bit = std::uint64_t{i} * width;
    std::uint64_t word = 0;
    for (std::uint64_t byte = bit / 8; byte < length && byte < bit / 8 + 8; ++byte) word |= std::uint64_t{from[byte]} << (8 * (byte - bit / 8));
    use(i, word >> (bit % 8) & mask);
  }
  at += static_cast<std::size_t>(length);
  return true;
}

std::size_t varint_size(std::uint64_t value) {
  std::size_t size = 1;
  for (; value >= 0x80; value >>= 7) ++size;
  return size;
}

model::Bytes beside_its_base(const std::vector<std::uint64_t>& values) {
  model::Bytes out{beside_base};
  std::uint64_t base = values.empty() ? 0 : values.front();
  for (const std::uint64_t value : values) base = std::min(base, value);
  // What each width would cost: those that do not fit are spelled out behind it.
  std::vector<std::uint64_t> of_width(65);
  for (const std::uint64_t value : values) of_width[width_of(value - base)] += 2 + varint_size(value - base);
  unsigned best = kMostWidth;
  std::uint64_t least = ~std::uint64_t{0}, behind = 0;
  for (unsigned width = 64; width-- > 0;) {
    behind += of_width[width + 1];
    if (width > kMostWidth) continue;
    const std::uint64_t cost = (values.size() * width + 7) / 8 + behind;
    if (cost <= least) {
      least = cost;
      best = width;
    }
  }
  put_varint(out, base);
  out.push_back(static_cast<std::uint8_t>(best));
  std::vector<std::uint64_t> low(values.size());
  model::Bytes exceptions;
  std::uint64_t count = 0;
  std::size_t last = 0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const std::uint64_t apart = values[i] - base;
    if (width_of(apart) <= best) {
      low[i] = apart;
      continue;
    }
    put_varint(exceptions, i - last);
    put_varint(exceptions, apart);
    last = i;
    ++count;
  }
  pack(out, low, best);
  put_varint(out, count);
  model::append(out, exceptions);
  return out;
}

// Empty: too many.
model::Bytes by_its_place(const std::vector<std::uint64_t>& values) {
  std::vector<std::uint64_t> sorted = values;
  std::sort(sorted.begin(), sorted.end());
  std::vector<std::pair<std::size_t, std::uint64_t>> distinct;  // how often, what
  for (const std::uint64_t value : sorted) {
    if (distinct.empty() || distinct.back().second != value) distinct.push_back({0, value});
    ++distinct.back().first;
  }
  if (distinct.empty() || distinct.size() > kMostDistinct) return {};
  std::stable_sort(distinct.begin(), distinct.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  model::Bytes out{by_place};
  put_varint(out, distinct.size());
  std::vector<std::pair<std::uint64_t, std::uint64_t>> place_of;
  for (std::size_t i = 0; i < distinct.size(); ++i) {
    put_varint(out, distinct[i].second);
    place_of.push_back({distinct[i].second, i});
  }
  std::sort(place_of.begin(), place_of.end());
  std::vector<std::uint64_t> places;
  places.reserve(values.size());
  for (const std::uint64_t value : values)
    places.push_back(std::lower_bound(place_of.begin(), place_of.end(), std::pair<std::uint64_t, std::uint64_t>{value, 0})->second);
  model::append(out, beside_its_base(places));
  return out;
}

model::Bytes shortest(const std::vector<std::uint64_t>& values, bool may_tell_changes) {
  model::Bytes best = beside_its_base(values);
  if (model::Bytes other = by_its_place(values); !other.empty() && other.size() < best.size()) best = std::move(other);
  if (!may_tell_changes) return best;
  std::vector<std::uint64_t> marks, changed;
  std::uint64_t before = 0;
  for (const std::uint64_t value : values) {
    marks.push_back(value == before ? 0 : 1);
    if (value != before) changed.push_back(value);
    before = value;
  }
  model::Bytes told{changes};
  pack(told, marks, 1);
  model::append(told, shortest(changed, false));
  return told.size() < best.size() ? told : best;
}

}  // namespace

void put_column(model::Bytes& out, const std::vector<std::uint64_t>& values) { model::append(out, shortest(values, true)); }

bool get_column(model::ByteView bytes, std::size_t& at, std::size_t count, std::vector<std::uint64_t>& values) {
  if (at >= bytes.size()) return false;
  const std::uint8_t way = bytes[at++];
  values.resize(count);
  if (way == beside_base) {
    std::uint64_t base = 0, exceptions = 0, gap = 0, apart = 0;
    if (!get_varint(bytes, at, base) || at >= bytes.size()) return false;
    const unsigned width = bytes[at++];
    if (!unpack(bytes, at, count, width, [&](std::size_t i, std::uint64_t value) { values[i] = base + value; })) return false;
    if (!get_varint(bytes, at, exceptions)) return false;
    for (std::uint64_t place = 0; exceptions > 0; --exceptions) {
      if (!get_varint(bytes, at, gap) || !get_varint(bytes, at, apart) || gap >= count || place + gap >= count) return false;
      place += gap;
      values[static_cast<std::size_t>(place)] = base + apart;
    }
    return true;
  }
  if (way == by_place) {
    std::uint64_t distinct = 0;
    if (!get_varint(bytes, at, distinct) || distinct == 0 || distinct > kMostDistinct) return false;
    std::vector<std::uint64_t> table(static_cast<std::size_t>(distinct));
    for (std::uint64_t& value : table)
      if (!get_varint(bytes, at, value)) return false;
    if (at >= bytes.size() || bytes[at] != beside_base || !get_column(bytes, at, count, values)) return false;
    std::uint64_t highest = 0;
    for (const std::uint64_t place : values) highest = std::max(highest, place);
    if (highest >= distinct) return false;
    for (std::uint64_t& value : values) value = table[static_cast<std::size_t>(value)];
    return true;
  }
  if (way != changes) return false;
  std::vector<std::uint64_t> marks(count);
  std::size_t changed = 0;
  const auto mark = [&](std::size_t i, std::uint64_t yes) {
    marks[i] = yes;
    changed += static_cast<std::size_t>(yes);
  };
  if (!unpack(bytes, at, count, 1, mark) || at >= bytes.size() || bytes[at] == changes) return false;
  std::vector<std::uint64_t> told;
  if (!get_column(bytes, at, changed, told)) return false;
  std::uint64_t before = 0;
  std::size_t next = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (marks[i] != 0) before = told[next++];
    values[i] = before;
  }
  return true;
}

}  // namespace slipway::ops
