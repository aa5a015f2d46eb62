// The stored form of a fold. Numbers are canonical varints:
//
//   state    := version scope16 lam incs keys stamps records not_understood
//   incs     := count inc16*                                  rising
//   keys     := count (inc# seq hash8)*                       rising; every op named anywhere
//   stamps   := count (key# lam author time offset start)*    rising; time and offset zigzag
//   records  := count (key# (0 | 1 kind stamp# key#s) fields key#s take_backs key#s key#s endings)*
//   fields   := count (tag values key#s)*                     values, what they cover
//   values   := count (stamp# wire length payload)*
//   take_backs := count stamp#*    endings := count (stamp# how)*    key#s := count key#*
//
// "#" is a place in the table before it; every list rises, every entry of a table is
// used, so that equal folds have equal bytes and nothing else can be read.
#include <algorithm>
#include <limits>
#include <tuple>

#include "ops/fold.h"

namespace slipway::ops {

namespace {

using model::OpKey;

auto stamp_order(const Stamp& stamp) {
  const model::ClaimedTime& claimed = stamp.claimed;
  return std::tie(stamp.key, stamp.lam, stamp.author, claimed.local_ms, claimed.utc_offset_min, claimed.since_start_min);
}
struct ByContent {
  bool operator()(const Stamp& a, const Stamp& b) const { return stamp_order(a) < stamp_order(b); }
};

// The sorted distinct things of one kind, and the place of each.
template <class T, class Less>
class Places {
 public:
  void note(const T& thing) {
    if (all_.empty() || !(all_.back() == thing)) all_.push_back(thing);
  }
  void close() {
    std::sort(all_.begin(), all_.end(), Less{});
    all_.erase(std::unique(all_.begin(), all_.end()), all_.end());
  }
  std::uint64_t of(const T& thing) {
    if (last_ >= all_.size() || !(all_[last_] == thing))  // the same op is asked for field after field
      last_ = static_cast<std::size_t>(std::lower_bound(all_.begin(), all_.end(), thing, Less{}) - all_.begin());
    return last_;
  }
  const std::vector<T>& all() const { return all_; }

 private:
  std::vector<T> all_;
  std::size_t last_ = 0;
};

class StateWriter {
 public:
  model::Bytes write(const Fold& fold) {
    for (const auto& [id, record] : fold.records()) note(id, record);
    note(fold.not_understood());
    stamps_.close();
    for (const Stamp& stamp : stamps_.all()) keys_.note(stamp.key);
    keys_.close();
    for (const OpKey& key : keys_.all()) incs_.note(key.inc);
    incs_.close();

    number(kFoldVersion);
    model::append(out_, fold.scope().view());
    number(fold.lam());
    put_tables();
    number(fold.records().size());
    for (const auto& [id, record] : fold.records()) put(id, record);
    put(fold.not_understood());
    return std::move(out_);
  }

 private:
  void note(const std::set<OpKey>& keys) {
    for (const OpKey& key : keys) keys_.note(key);
  }
  void note(const OpKey& id, const Record& record) {
    keys_.note(id);
    if (record.created) stamps_.note(*record.created);
    note(record.acts->replaces);
    for (const auto& [tag, field] : record.acts->fields) {
      for (const auto& [key, written] : field.values) stamps_.note(written.by);
      note(field.covered);
    }
    note(record.acts->changed_by);
    for (const auto& [key, stamp] : record.acts->take_backs) stamps_.note(stamp);
    note(record.acts->take_backs_saw);
    note(record.acts->kept_against);
    for (const auto& [key, ending] : record.acts->endings) stamps_.note(ending.by);
  }

  void number(std::uint64_t value) { put_varint(out_, value); }
  void put(const std::set<OpKey>& keys) {
    number(keys.size());
    for (const OpKey& key : keys) number(keys_.of(key));
  }
  void put_tables() {
    number(incs_.all().size());
    for (const model::IncarnationId& inc : incs_.all()) model::append(out_, inc.view());
    number(keys_.all().size());
    for (const OpKey& key : keys_.all()) {
      number(incs_.of(key.inc));
      number(key.seq);
      model::append(out_, key.hash.view());
    }
    number(stamps_.all().size());
    for (const Stamp& stamp : stamps_.all()) {
      number(keys_.of(stamp.key));
      number(stamp.lam);
      number(stamp.author);
      number(zigzag(stamp.claimed.local_ms));
      number(zigzag(stamp.claimed.utc_offset_min));
      number(stamp.claimed.since_start_min);
    }
  }
  void put(const Register& field) {
    number(field.values.size());
    for (const auto& [key, written] : field.values) {
      number(stamps_.of(written.by));
      out_.push_back(static_cast<std::uint8_t>(written.wire));
      number(written.payload.size());
      model::append(out_, written.payload);
    }
    put(field.covered);
  }
  // A field that only the creating op wrote to is a register of one value.
  void put_fields(const Record& record) {
    const std::vector<Field> own = record.said.all();
    number(own.size() + record.acts->fields.size());
    auto next = own.begin();
    const auto put_own = [&](std::uint64_t below) {
      for (; next != own.end() && next->tag < below; ++next) {
        number(next->tag);
        number(1);
        number(stamps_.of(*record.created));
        out_.push_back(static_cast<std::uint8_t>(next->wire));
        number(next->payload.size());
        model::append(out_, next->payload);
        number(0);
      }
    };
    for (const auto& [tag, field] : record.acts->fields) {
      put_own(tag);
      number(tag);
      put(field);
    }
    put_own(std::numeric_limits<std::uint64_t>::max());
  }
  void put(const OpKey& id, const Record& record) {
    number(keys_.of(id));
    number(record.created ? 1 : 0);
    if (record.created) {
      number(record.kind);
      number(stamps_.of(*record.created));
      put(record.acts->replaces);
    }
    put_fields(record);
    put(record.touched_by());
    number(record.acts->take_backs.size());
    for (const auto& [key, stamp] : record.acts->take_backs) number(stamps_.of(stamp));
    put(record.acts->take_backs_saw);
    put(record.acts->kept_against);
    number(record.acts->endings.size());
    for (const auto& [key, ending] : record.acts->endings) {
      number(stamps_.of(ending.by));
      number(ending.how);
    }
  }

  model::Bytes out_;
  Places<model::IncarnationId, std::less<>> incs_;
  Places<OpKey, std::less<>> keys_;
  Places<Stamp, ByContent> stamps_;
};

// Reads what StateWriter wrote. After the first thing that does not fit, broken() is
// true and nothing more is read.
class StateReader {
 public:
  explicit StateReader(model::ByteView bytes) : bytes_(bytes) {}

  bool broken() const { return broken_; }
  std::size_t at() const { return at_; }

  bool head(model::ScopeId& scope, std::uint64_t& lam) {
    check(number() == kFoldVersion);
    scope = fixed<model::ScopeId>();
    lam = lam_ = number();
    check(lam < kCounterCeiling);
    read_incs();
    read_keys();
    read_stamps();
    return !broken_;
  }

  std::map<model::RecordId, Record> records() {
    std::map<model::RecordId, Record> all;
    for (std::uint64_t left = count(); left > 0 && !broken_; --left) {
      const OpKey id = key();
      rise(all, id);
      if (!broken_) read(all.try_emplace(all.end(), id)->second, id);
    }
    return all;
  }

  std::set<OpKey> keys() {
    std::set<OpKey> all;
    for (std::uint64_t left = count(); left > 0 && !broken_; --left) {
      const OpKey next = key();
      check(all.empty() || *all.rbegin() < next);
      if (!broken_) all.insert(all.end(), next);
    }
    return all;
  }

  bool ended() const {
    const auto used = [](const std::vector<bool>& flags) { return std::find(flags.begin(), flags.end(), false) == flags.end(); };
    return !broken_ && at_ == bytes_.size() && used(inc_used_) && used(key_used_) && used(stamp_used_);
  }

 private:
  void check(bool fits) { broken_ = broken_ || !fits; }

  std::uint64_t number() {
    std::uint64_t value = 0;
    if (!broken_) check(get_varint(bytes_, at_, value));
    return value;
  }
  std::uint64_t count() {  // every entry of a list takes a byte at least
    const std::uint64_t value = number();
    check(value <= bytes_.size() - at_);
    return broken_ ? 0 : value;
  }
  model::ByteView take(std::uint64_t length) {
    check(length <= bytes_.size() - at_);
    if (broken_) return {};
    const model::ByteView taken = bytes_.subspan(at_, static_cast<std::size_t>(length));
    at_ += taken.size();
    return taken;
  }
  template <class Id>
  Id fixed() {
    return Id::from(take(sizeof(Id::bytes)));
  }
  template <class T>
  T entry(const std::vector<T>& table, std::vector<bool>& used) {
    const std::uint64_t place = number();
    check(place < table.size());
    if (broken_) return {};
    used[static_cast<std::size_t>(place)] = true;
    return table[static_cast<std::size_t>(place)];
  }
  OpKey key() { return entry(keys_, key_used_); }
  Stamp stamp() { return entry(stamps_, stamp_used_); }
  template <class Value>
  void rise(const std::map<OpKey, Value>& all, const OpKey& next) {
    check(all.empty() || all.rbegin()->first < next);
  }

  void read_incs() {
    for (std::uint64_t left = count(); left > 0 && !broken_; --left) {
      const auto inc = fixed<model::IncarnationId>();
      check(incs_.empty() || incs_.back() < inc);
      incs_.push_back(inc);
    }
    inc_used_.resize(incs_.size());
  }
  void read_keys() {
    for (std::uint64_t left = count(); left > 0 && !broken_; --left) {
      OpKey next;
      next.inc = entry(incs_, inc_used_);
      next.seq = number();
      next.hash = fixed<model::ShortHash>();
      check(next.seq > 0 && next.seq < kCounterCeiling && (keys_.empty() || keys_.back() < next));
      keys_.push_back(next);
    }
    key_used_.resize(keys_.size());
  }
  void read_stamps() {
    for (std::uint64_t left = count(); left > 0 && !broken_; --left) {
      Stamp next;
      next.key = key();
      next.lam = number();
      next.author = number();
      next.claimed.local_ms = unzigzag(number());
      const std::int64_t offset = unzigzag(number());
      next.claimed.utc_offset_min = static_cast<std::int32_t>(offset);
      next.claimed.since_start_min = number();
      check(next.claimed.utc_offset_min == offset && next.lam <= lam_);
      check(stamps_.empty() || ByContent{}(stamps_.back(), next));
      stamps_.push_back(next);
    }
    stamp_used_.resize(stamps_.size());
  }

  void read(Register& field) {
    for (std::uint64_t left = count(); left > 0 && !broken_; --left) {
      Written next;
      next.by = stamp();
      const model::ByteView wire = take(1);
      if (!broken_) next.wire = static_cast<Wire>(wire[0]);
      next.payload = take(number());
      rise(field.values, next.by.key);
      if (!broken_) field.values.emplace_hint(field.values.end(), next.by.key, std::move(next));
    }
    check(!field.values.empty());
    field.covered = keys();
  }
  void read_created(Record& record, const OpKey& id) {
    const std::uint64_t created = number();
    check(created <= 1);
    if (broken_ || created == 0) return;
    const std::uint64_t kind = number();
    check(kind > 0 && kind <= std::numeric_limits<std::uint32_t>::max());
    record.kind = static_cast<std::uint32_t>(kind);
    record.created = stamp();
    check(record.created->key == id);
    if (std::set<OpKey> replaces = keys(); !replaces.empty()) record.acts.write().replaces = std::move(replaces);
  }
  void read(Record& record, const OpKey& id) {
    read_created(record, id);
    std::vector<Field> own;
    std::optional<std::uint32_t> last;
    for (std::uint64_t left = count(); left > 0 && !broken_; --left) {
      const std::uint64_t tag = number();
      check(tag <= std::numeric_limits<std::uint32_t>::max() && (!last || *last < tag));
      if (broken_) return;
      last = static_cast<std::uint32_t>(tag);
      Register field;
      read(field);
      if (broken_) return;
      const Written& first = field.values.begin()->second;
      if (record.created && field.values.size() == 1 && first.by == *record.created && field.covered.empty()) own.push_back({*last, first.wire, first.payload});
      else record.acts.write().fields.emplace(*last, std::move(field));
    }
    record.said.put(own);
    std::set<OpKey> touched = keys();
    if (record.created) check(touched.erase(record.created->key) == 1);  // the creating op has touched it
    if (!touched.empty()) record.acts.write().changed_by = std::move(touched);
    read_endings(record);
  }
  void read_endings(Record& record) {
    Acts acts;
    for (std::uint64_t left = count(); left > 0 && !broken_; --left) {
      const Stamp next = stamp();
      rise(acts.take_backs, next.key);
      acts.take_backs.emplace(next.key, next);
    }
    acts.take_backs_saw = keys();
    acts.kept_against = keys();
    for (std::uint64_t left = count(); left > 0 && !broken_; --left) {
      const Stamp next = stamp();
      rise(acts.endings, next.key);
      acts.endings.emplace(next.key, Ending{next, number()});
    }
    if (acts == Acts{}) return;
    Acts& all = record.acts.write();
    all.take_backs = std::move(acts.take_backs);
    all.take_backs_saw = std::move(acts.take_backs_saw);
    all.kept_against = std::move(acts.kept_against);
    all.endings = std::move(acts.endings);
  }

  model::ByteView bytes_;
  std::size_t at_ = 0;
  bool broken_ = false;
  std::uint64_t lam_ = 0;
  std::vector<model::IncarnationId> incs_;
  std::vector<OpKey> keys_;
  std::vector<Stamp> stamps_;
  std::vector<bool> inc_used_, key_used_, stamp_used_;
};

}  // namespace

model::Bytes Fold::write_state() const { return StateWriter().write(*this); }

model::Result<Fold> Fold::read_state(model::ByteView bytes) {
  StateReader reader(bytes);
  Fold fold{model::ScopeId{}};
  if (reader.head(fold.scope_, fold.lam_)) {
    fold.records_ = reader.records();
    fold.not_understood_ = reader.keys();
  }
  if (!reader.ended()) return model::error(model::ErrorKind::damaged, "fold.damaged", {std::to_string(reader.at())});
  return fold;
}

}  // namespace slipway::ops
