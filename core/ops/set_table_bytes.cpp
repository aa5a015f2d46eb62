// The stored form of a table of sets:
//   table := check8 version incs words open awaited sessions rows others
// check: the first 8 bytes of the hash of what follows. Columns: set_columns.h; those that mostly go on from
// what stands before are kept as the step to it, zigzag.
#include <algorithm>

#include "ops/set_columns.h"
#include "ops/set_table.h"

namespace slipway::ops {

namespace {

constexpr std::size_t kCheckBytes = 8;
constexpr std::uint64_t kMostRows = std::uint64_t{1} << 22;

using Numbers = std::vector<std::uint64_t>;

template <class Cell>
Numbers plain(const std::vector<Cell>& cells) {
  return {cells.begin(), cells.end()};
}

std::uint64_t step(std::uint64_t from, std::uint64_t to) { return zigzag(static_cast<std::int64_t>(to - from)); }
std::uint64_t stepped(std::uint64_t from, std::uint64_t by) { return from + static_cast<std::uint64_t>(unzigzag(by)); }

template <class Cell>
Numbers steps(const std::vector<Cell>& cells) {
  Numbers out;
  out.reserve(cells.size());
  std::uint64_t before = 0;
  for (const Cell cell : cells) {
    out.push_back(step(before, static_cast<std::uint64_t>(cell)));
    before = static_cast<std::uint64_t>(cell);
  }
  return out;
}

// Where a set is the first of its session its time is told from the day, else from the set before and the rest taken.
std::uint64_t foretold_done(const SetTable& table, std::size_t row) {
  constexpr std::int64_t kDayMs = 86'400'000;
  const std::uint32_t session = table.session[row];
  if (row > 0 && table.session[row - 1] == session) return static_cast<std::uint64_t>(table.done_ms[row - 1]) + table.rest_ms[row];
  const bool dated = session != 0 && table.sessions[session - 1].day;
  return static_cast<std::uint64_t>(dated ? table.sessions[session - 1].day->since_1970 * kDayMs : 0);
}
bool opens_session(const SetTable& table, std::size_t row) { return row == 0 || table.session[row - 1] != table.session[row]; }

// A load goes on from the last one of its exercise.
class LastLoads {
 public:
  explicit LastLoads(std::size_t exercises) : last_(exercises + 1) {}
  std::uint64_t& of(std::uint32_t exercise) {
    if (last_[exercise] == 0) last_[exercise] = latest_;
    return last_[exercise];
  }
  void is(std::uint32_t exercise, std::uint64_t load) { last_[exercise] = latest_ = load; }

 private:
  std::vector<std::uint64_t> last_;
  std::uint64_t latest_ = 0;
};

// Signed numbers, from the lowest of them on.
void put_signed_column(model::Bytes& out, const std::vector<std::int64_t>& values) {
  std::int64_t lowest = 0;
  if (!values.empty()) lowest = *std::min_element(values.begin(), values.end());
  put_varint(out, zigzag(lowest));
  Numbers above;
  above.reserve(values.size());
  for (const std::int64_t value : values) above.push_back(static_cast<std::uint64_t>(value) - static_cast<std::uint64_t>(lowest));
  put_column(out, above);
}

void put_keys(model::Bytes& out, const std::vector<model::OpKey>& keys) {
  put_varint(out, keys.size());
  for (const model::OpKey& key : keys) {
    model::append(out, key.inc.view());
    put_varint(out, key.seq);
    model::append(out, key.hash.view());
  }
}

class Reader {
 public:
  explicit Reader(model::ByteView bytes) : bytes_(bytes) {}

  bool broken() const { return broken_; }
  bool ended() const { return !broken_ && at_ == bytes_.size(); }

  std::uint64_t number() {
    std::uint64_t value = 0;
    if (!broken_ && !get_varint(bytes_, at_, value)) broken_ = true;
    return broken_ ? 0 : value;
  }
  std::uint64_t count(std::uint64_t most) {
    const std::uint64_t value = number();
    if (value > most) broken_ = true;
    return broken_ ? 0 : value;
  }
  model::ByteView take(std::uint64_t length) {
    if (broken_ || length > bytes_.size() - at_) {
      broken_ = true;
      return {};
    }
    const model::ByteView taken = bytes_.subspan(at_, static_cast<std::size_t>(length));
    at_ += taken.size();
    return taken;
  }
  std::vector<model::OpKey> keys() {
    std::vector<model::OpKey> all;
    for (std::uint64_t left = count(bytes_.size()); left > 0 && !broken_; --left) {
      model::OpKey key;
      key.inc = model::IncarnationId::from(take(sizeof(key.inc.bytes)));
      key.seq = number();
      key.hash = model::ShortHash::from(take(sizeof(key.hash.bytes)));
      all.push_back(key);
    }
    return all;
  }
  const Numbers& column(std::size_t count) {
    if (!broken_ && !get_column(bytes_, at_, count, column_)) broken_ = true;
    if (broken_) column_.assign(count, 0);
    return column_;
  }
  template <class Cell>
  void plain_into(std::vector<Cell>& cells, std::size_t count, std::uint64_t most) {
    const Numbers& numbers = column(count);
    cells.resize(count);
    std::uint64_t highest = 0;
    for (std::size_t i = 0; i < count; ++i) {
      highest = std::max(highest, numbers[i]);
      cells[i] = static_cast<Cell>(numbers[i]);
    }
    if (highest > most) broken_ = true;
  }
  template <class Cell>
  void steps_into(std::vector<Cell>& cells, std::size_t count, std::uint64_t most) {
    const Numbers& numbers = column(count);
    cells.resize(count);
    std::uint64_t at = 0, highest = 0;
    for (std::size_t i = 0; i < count; ++i) {
      at = stepped(at, numbers[i]);
      highest = std::max(highest, at);
      cells[i] = static_cast<Cell>(at);
    }
    if (highest > most) broken_ = true;
  }

 private:
  model::ByteView bytes_;
  std::size_t at_ = 0;
  bool broken_ = false;
  Numbers column_;
};

constexpr std::uint64_t kAny = ~std::uint64_t{0};

}  // namespace

model::Bytes SetTable::write() const {
  model::Bytes out(kCheckBytes);
  put_varint(out, kSetTableVersion);
  put_varint(out, incs.size());
  for (const model::IncarnationId& one : incs) model::append(out, one.view());
  put_varint(out, exercises.size());
  for (const std::string& word : exercises) {
    put_varint(out, word.size());
    model::append(out, model::as_bytes(word));
  }
  put_keys(out, open_sessions);
  put_keys(out, awaited);

  put_varint(out, sessions.size());
  Numbers inc_of, seq_of, here, has_day, days;
  for (const Session& one : sessions) {
    inc_of.push_back(one.inc);
    seq_of.push_back(one.seq);
    here.push_back(one.here ? 1 : 0);
    has_day.push_back(one.day ? 1 : 0);
    days.push_back(static_cast<std::uint64_t>(static_cast<std::int64_t>(one.day ? one.day->since_1970 : 0)));
  }
  put_column(out, steps(inc_of));
  put_column(out, steps(seq_of));
  put_column(out, here);
  put_column(out, has_day);
  put_column(out, steps(days));

  put_varint(out, size());
  put_column(out, plain(flags));
  put_column(out, steps(inc));
  put_column(out, steps(seq));
  put_column(out, steps(session));
  put_column(out, plain(exercise));
  put_column(out, plain(reps));
  Numbers load;
  load.reserve(size());
  LastLoads last(exercises.size());
  for (std::size_t i = 0; i < size(); ++i) {
    load.push_back(step(last.of(exercise[i]), static_cast<std::uint64_t>(load_g[i])));
    last.is(exercise[i], static_cast<std::uint64_t>(load_g[i]));
  }
  put_column(out, load);
  put_column(out, plain(rir));
  put_column(out, plain(rest_ms));
  std::vector<std::int64_t> opening, later;
  for (std::size_t i = 0; i < size(); ++i)
    (opens_session(*this, i) ? opening : later).push_back(static_cast<std::int64_t>(static_cast<std::uint64_t>(done_ms[i]) - foretold_done(*this, i)));
  put_signed_column(out, opening);
  put_signed_column(out, later);

  put_varint(out, others.size());
  std::uint64_t row = 0;
  for (const Other& one : others) {
    put_varint(out, one.row - row);
    put_varint(out, one.tag);
    put_varint(out, one.value);
    put_varint(out, zigzag(one.claimed_ms));
    row = one.row;
  }
  const model::Hash32 check = blake2b(model::ByteView(out).subspan(kCheckBytes));
  std::copy_n(check.bytes.begin(), kCheckBytes, out.begin());
  return out;
}

std::optional<SetTable> SetTable::read(model::ByteView bytes) {
  if (bytes.size() < kCheckBytes) return std::nullopt;
  const model::ByteView said = bytes.first(kCheckBytes);
  bytes = bytes.subspan(kCheckBytes);
  if (!model::equal(said, model::shorten(blake2b(bytes)).view())) return std::nullopt;
  Reader in(bytes);
  if (in.number() != kSetTableVersion) return std::nullopt;
  SetTable table;
  for (std::uint64_t left = in.count(bytes.size()); left > 0 && !in.broken(); --left)
    table.incs.push_back(model::IncarnationId::from(in.take(sizeof(model::IncarnationId))));
  for (std::uint64_t left = in.count(bytes.size()); left > 0 && !in.broken(); --left)
    table.exercises.emplace_back(model::as_text(in.take(in.number())));
  table.open_sessions = in.keys();
  table.awaited = in.keys();

  const std::uint64_t last_inc = table.incs.empty() ? 0 : table.incs.size() - 1;
  const auto session_count = static_cast<std::size_t>(in.count(kMostRows));
  table.sessions.resize(session_count);
  std::vector<std::uint64_t> numbers;
  in.steps_into(numbers, session_count, last_inc);
  for (std::size_t i = 0; i < session_count; ++i) table.sessions[i].inc = static_cast<std::uint32_t>(numbers[i]);
  in.steps_into(numbers, session_count, kAny);
  for (std::size_t i = 0; i < session_count; ++i) table.sessions[i].seq = numbers[i];
  in.plain_into(numbers, session_count, 1);
  for (std::size_t i = 0; i < session_count; ++i) table.sessions[i].here = numbers[i] != 0;
  std::vector<std::uint64_t> has_day;
  in.plain_into(has_day, session_count, 1);
  in.steps_into(numbers, session_count, kAny);
  for (std::size_t i = 0; i < session_count; ++i)
    if (has_day[i] != 0) table.sessions[i].day = model::Day{static_cast<std::int32_t>(static_cast<std::int64_t>(numbers[i]))};

  const auto rows = static_cast<std::size_t>(in.count(kMostRows));
  in.plain_into(table.flags, rows, 0xFFFF);
  in.steps_into(table.inc, rows, last_inc);
  in.steps_into(table.seq, rows, kAny);
  in.steps_into(table.session, rows, session_count);
  in.plain_into(table.exercise, rows, table.exercises.size());
  in.plain_into(table.reps, rows, kAny);
  if (in.broken()) return std::nullopt;  // from here on rows are looked up by what stands in others
  const Numbers& loads = in.column(rows);
  table.load_g.resize(rows);
  LastLoads last(table.exercises.size());
  for (std::size_t i = 0; i < rows; ++i) {
    const std::uint64_t load = stepped(last.of(table.exercise[i]), loads[i]);
    table.load_g[i] = static_cast<std::int64_t>(load);
    last.is(table.exercise[i], load);
  }
  in.plain_into(table.rir, rows, kAny);
  in.plain_into(table.rest_ms, rows, kAny);
  std::size_t openings = 0;
  for (std::size_t i = 0; i < rows; ++i) openings += opens_session(table, i) ? 1 : 0;
  const auto first_lowest = static_cast<std::uint64_t>(unzigzag(in.number()));
  const Numbers opening = in.column(openings);
  const auto later_lowest = static_cast<std::uint64_t>(unzigzag(in.number()));
  const Numbers& later = in.column(rows - openings);
  if (in.broken()) return std::nullopt;
  table.done_ms.resize(rows);
  std::size_t next_opening = 0, next_later = 0;
  for (std::size_t i = 0; i < rows; ++i) {
    const std::uint64_t apart = opens_session(table, i) ? first_lowest + opening[next_opening++] : later_lowest + later[next_later++];
    table.done_ms[i] = static_cast<std::int64_t>(foretold_done(table, i) + apart);
  }

  std::uint64_t row = 0;
  for (std::uint64_t left = in.count(bytes.size()); left > 0 && !in.broken(); --left) {
    row += in.count(rows);
    Other other;
    other.row = static_cast<std::uint32_t>(row);
    other.tag = static_cast<std::uint32_t>(in.count(0xFFFFFFFF));
    other.value = in.number();
    other.claimed_ms = unzigzag(in.number());
    if (row >= rows) return std::nullopt;
    table.others.push_back(other);
  }
  if (!in.ended()) return std::nullopt;
  return table;
}

}  // namespace slipway::ops
