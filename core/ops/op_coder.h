// Codec 1's view of ops: what can be foretold of the next one, and only the rest is coded
// (private; format.md says the same for other readers).
//
// An op is its shape (kind, tags, wires: mostly one that was there before), its lam, and
// its fields, each by a column of its kind and tag: numbers that come again, words that
// come again, loads beside the last load of the same exercise, rounds counted on, times
// beside the time before and the rest taken, references as a distance in the stream. The
// hash of a reference travels only where the op meant is not in the same file before it.
//
// One class for both directions: reading, `out` grows by the op's canonical bytes;
// writing, they are given. Bytes of any stranger may be read: what comes out may be no op
// at all, and never is more than a step's worth longer than kMaxOpBytes. A reader holds every choice against the one
// the writer would have made, and the coder has failed where they differ: one set of ops has one form.
#pragma once

#include <algorithm>
#include <map>
#include <memory>
#include <tuple>
#include <vector>

#include "ops/chain.h"
#include "ops/op.h"
#include "ops/registry.h"
#include "ops/coded_columns.h"
#include "ops/coded_refs.h"

namespace slipway::ops {

template <class Coder>
class OpCoder {
 public:
  // `streams` sorted: the manifest's table.
  OpCoder(Coder& coder, const std::vector<StreamId>& streams) : coder_(coder), refs_(coder, streams) {}

  // The next ops are those from `first_seq` on of a stream, one after the other.
  void begin(std::size_t stream, std::uint64_t first_seq) {
    if (stream != refs_.stream()) lam_ = 0;
    refs_.begin(stream, first_seq);
  }

  void code(const Op* op, model::Bytes& out) {
    Shape& shape = next_shape(op);
    std::uint64_t ahead = op ? op->lam - lam_ - 1 : 0;
    lams_.code(coder_, ahead);
    lam_ += ahead + 1;
    bool opened = op && has_nonce(*op);
    coder_.decide(shape.opens, opened);
    std::uint64_t nonce = 0;
    if (opened) {
      if (op) nonce = as_number(op->find(tag::nonce)->payload);
      coder_.direct(64, nonce);
      starts_known_ = false;
    }
    if constexpr (Coder::kReading) {
      put_varint(out, lam_);
      put_varint(out, shape.kind);
      put_varint(out, shape.fields.size() + (opened ? 1 : 0));
    }
    key_ = Words::kNone;
    refs_.begin_op();
    rest_ = 0;
    time_ = 0;
    std::size_t at = 0;  // fields of the op and of the shape stand in the same order, but for the nonce
    given_.assign(shape.fields.size(), nullptr);
    if (op)
      for (const Field& field : op->fields)
        if (!(opened && field.tag == tag::nonce)) given_[at++] = &field;
    rest_payload_.clear();  // what the others are foretold by comes first
    time_payload_.clear();
    if (shape.rest_at < shape.fields.size()) code_rest(shape.fields[shape.rest_at], given_[shape.rest_at], rest_payload_);
    if (shape.time_at < shape.fields.size()) code_time(shape, given_[shape.time_at], time_payload_);
    bool nonce_due = opened;
    for (std::size_t i = 0; i < shape.fields.size(); ++i) {
      const FieldShape& field = shape.fields[i];
      payload_.clear();
      const bool coded = i == shape.rest_at || i == shape.time_at;
      if (!coded) code_field(shape, field, given_[i]);
      if constexpr (Coder::kReading) {
        if (nonce_due && field.tag > tag::nonce) put_nonce(out, nonce, nonce_due);
        const bool nonce_like = field.tag == tag::nonce && field.wire == Wire::bytes && payload_.size() == 8;
        coder_.refuse_unless(!nonce_like);
        put_field(out, field.tag, field.wire, i == shape.rest_at ? rest_payload_ : i == shape.time_at ? time_payload_ : payload_);
        if (out.size() > kMaxOpBytes) return;
      }
    }
    if (Coder::kReading && nonce_due) put_nonce(out, nonce, nonce_due);
    if (shape.kind == kind::session) ++sessions_;
  }

  // The hash of the op just coded.
  void stands(const model::Hash32& hash) { refs_.stands(hash); }

 private:
  static constexpr unsigned kNewShape = 63;
  static constexpr std::size_t kMany = ~std::size_t{0};
  // What a file can make us remember: more kinds and columns than the registry will have, then they share.
  static constexpr std::size_t kMostColumns = 1024, kMostKinds = 64;
  static constexpr std::int64_t kMinuteMs = 60'000, kDayMs = 86'400'000;

  struct Keyed {  // what was last said of an exercise, by the place of its word
    std::array<std::int64_t, 256> last{};
    std::array<std::uint64_t, 256> when{};  // session it was said in, from 1; 0: never
  };
  struct List {
    Values count;
    std::array<Values, 4> elements;
    Keyed loads;  // in thousandths
    std::int64_t last_load = 0;
  };
  struct Plain {
    Values length;
    Symbol<8> bytes;
  };
  struct Column {
    Values value;
    std::unique_ptr<Keyed> rounds;
    std::unique_ptr<List> list;
    std::unique_ptr<Refs> refs;
    std::unique_ptr<Words> words;
    std::unique_ptr<Plain> plain;
  };
  struct FieldShape {
    std::uint32_t tag = 0;
    Wire wire = Wire::bytes;
    Column* column = nullptr;
  };
  struct Times {
    Chance whole_minutes;
    std::array<Chance, 2> earlier;
    std::array<Number, 2> apart;
    std::int64_t last = 0;
  };
  struct Shape {
    std::uint32_t kind = 0;
    std::vector<FieldShape> fields;
    std::size_t rest_at = kMany, time_at = kMany;  // places of what foretells others, if it has them
    Chance opens;                                  // holds a nonce
    Chance stays;                                  // the next op has the same
    std::unique_ptr<Symbol<6>> next;
  };

  // ---- shapes

  static bool has_nonce(const Op& op) {
    const Field* field = op.find(tag::nonce);
    return field && field->wire == Wire::bytes && field->payload.size() == 8;
  }
  static bool is_time(const FieldShape& field) { return field.tag == tag::claimed_local_ms && field.wire == Wire::signed_int; }
  static bool is_rest(const Shape& shape, std::size_t i) {
    return shape.kind == kind::set && shape.fields[i].tag == set_tag::rest_ms && shape.fields[i].wire == Wire::unsigned_int;
  }
  static bool fits(const Shape& shape, const Op& op) {
    const bool nonce = has_nonce(op);
    if (shape.kind != op.kind || shape.fields.size() + (nonce ? 1 : 0) != op.fields.size()) return false;
    std::size_t at = 0;
    for (const Field& field : op.fields) {
      if (nonce && field.tag == tag::nonce) continue;
      if (shape.fields[at].tag != field.tag || shape.fields[at].wire != field.wire) return false;
      ++at;
    }
    return true;
  }

  Shape& next_shape(const Op* op) {
    Shape& before = last_shape_ ? *last_shape_ : first_shape_;
    bool stays = op && last_shape_ && fits(*last_shape_, *op);
    if (last_shape_) coder_.decide(before.stays, stays);
    if (stays) return *last_shape_;
    unsigned place = kNewShape;
    if (op) {
      place = 0;
      while (place < kNewShape && !(place < shapes_.size() && fits(*shapes_[place], *op))) ++place;
    }
    if (!before.next) before.next = std::make_unique<Symbol<6>>();
    before.next->code(coder_, place);
    if (place >= shapes_.size()) {
      auto fresh = std::make_unique<Shape>();
      spell(op, *fresh);
      if constexpr (Coder::kReading) {
        bool known = last_shape_ && same(*last_shape_, *fresh);
        for (const auto& one : shapes_) known = known || same(*one, *fresh);
        coder_.refuse_unless(place == kNewShape && !known);
      }
      if (shapes_.size() < kNewShape) {
        shapes_.push_back(std::move(fresh));
        last_shape_ = shapes_.back().get();
      } else {
        passing_shape_ = std::move(fresh);
        last_shape_ = passing_shape_.get();
      }
    } else {
      coder_.refuse_unless(shapes_[place].get() != last_shape_);
      last_shape_ = shapes_[place].get();
    }
    return *last_shape_;
  }

  static bool same(const Shape& a, const Shape& b) {
    const auto alike = [](const FieldShape& x, const FieldShape& y) { return x.tag == y.tag && x.wire == y.wire; };
    return a.kind == b.kind && std::equal(a.fields.begin(), a.fields.end(), b.fields.begin(), b.fields.end(), alike);
  }

  void spell(const Op* op, Shape& shape) {
    std::uint64_t kind = op ? op->kind : 0, count = op ? op->fields.size() - (has_nonce(*op) ? 1 : 0) : 0;
    kinds_.code(coder_, kind);
    field_counts_.code(coder_, count);
    shape.kind = static_cast<std::uint32_t>(kind);
    coder_.refuse_unless(kind >> 32 == 0 && count <= kMaxFields);
    count = std::min<std::uint64_t>(count, kMaxFields);
    std::uint64_t next = 0;  // lowest tag that may follow
    std::size_t at = 0;
    for (std::uint64_t i = 0; i < count; ++i) {
      if (op && has_nonce(*op) && op->fields[at].tag == tag::nonce) ++at;
      std::uint64_t gap = op ? op->fields[at].tag - next : 0;
      std::uint64_t wire = op ? static_cast<std::uint64_t>(op->fields[at].wire) : 0;
      tag_gaps_.code(coder_, gap);
      unsigned told = wire < 7 ? static_cast<unsigned>(wire) : 7;
      wires_.code(coder_, told);
      if (told == 7) {
        coder_.direct(8, wire);
        coder_.refuse_unless(wire >= 7);
      } else {
        wire = told;
      }
      coder_.refuse_unless(gap >> 32 == 0 && (next + gap) >> 32 == 0);
      const auto tag = static_cast<std::uint32_t>(next + gap);
      shape.fields.push_back({tag, static_cast<Wire>(wire), &column(shape.kind, tag, static_cast<Wire>(wire))});
      if (is_rest(shape, shape.fields.size() - 1)) shape.rest_at = shape.fields.size() - 1;
      if (is_time(shape.fields.back())) shape.time_at = shape.fields.size() - 1;
      next = std::uint64_t{tag} + 1;
      ++at;
    }
  }

  Column& column(std::uint32_t kind, std::uint32_t tag, Wire wire) {
    const Place place{tag < tag::own ? 0 : kind, tag, wire};
    const auto found = columns_.find(place);
    if (found != columns_.end()) return *found->second;
    if (columns_.size() == kMostColumns) return rest_of_columns_;
    return *(columns_[place] = std::make_unique<Column>());
  }

  // ---- fields

  static void put_field(model::Bytes& out, std::uint32_t tag, Wire wire, model::ByteView payload) {
    put_varint(out, tag);
    out.push_back(static_cast<std::uint8_t>(wire));
    put_varint(out, payload.size());
    model::append(out, payload);
  }
  static std::uint64_t as_number(model::ByteView bytes) {
    std::uint64_t number = 0;
    for (const std::uint8_t byte : bytes) number = number << 8 | byte;
    return number;
  }
  static void put_nonce(model::Bytes& out, std::uint64_t nonce, bool& due) {
    model::Bytes bytes;
    for (int shift = 56; shift >= 0; shift -= 8) bytes.push_back(static_cast<std::uint8_t>(nonce >> shift));
    put_field(out, tag::nonce, Wire::bytes, bytes);
    due = false;
  }
  static std::uint64_t varint_of(const Field* field) {
    std::uint64_t value = 0;
    std::size_t at = 0;
    if (field) get_varint(field->payload, at, value);
    return value;
  }

  // `base` is what is foretold; all arithmetic wraps.
  void code_value(Column& column, const Field* given, std::uint64_t base, model::Bytes& payload, std::uint64_t& value) {
    value = varint_of(given);
    std::uint64_t apart = value - base;
    column.value.code(coder_, apart);
    value = base + apart;
    if constexpr (Coder::kReading) put_varint(payload, value);
  }

  void code_rest(const FieldShape& field, const Field* given, model::Bytes& payload) {
    std::uint64_t value = 0;
    code_value(*field.column, given, 0, payload, value);
    rest_ = static_cast<std::int64_t>(value);
  }

  void code_time(const Shape& shape, const Field* given, model::Bytes& payload) {
    const bool all_told = times_.size() == kMostKinds && times_.count(shape.kind) == 0;
    Times& times = all_told ? rest_of_times_ : times_[shape.kind];
    const std::int64_t base = plus(shape.kind == kind::session ? times.last : last_time_, rest_);
    std::int64_t apart = minus(unzigzag(varint_of(given)), base);
    bool minutes = apart % kMinuteMs == 0, earlier = apart < 0;
    coder_.decide(times.whole_minutes, minutes);
    coder_.decide(times.earlier[minutes], earlier);
    std::uint64_t size = earlier ? 0 - static_cast<std::uint64_t>(apart) : static_cast<std::uint64_t>(apart);
    if (minutes) size /= kMinuteMs;
    times.apart[minutes].code(coder_, size);
    if constexpr (Coder::kReading) {
      coder_.refuse_unless(!minutes || size <= ~std::uint64_t{0} / kMinuteMs);
      if (minutes) size *= kMinuteMs;
      const std::uint64_t told = size;
      apart = static_cast<std::int64_t>(earlier ? 0 - size : size);
      std::uint64_t again = apart < 0 ? 0 - static_cast<std::uint64_t>(apart) : static_cast<std::uint64_t>(apart);
      coder_.refuse_unless(again == told && minutes == (apart % kMinuteMs == 0) && earlier == (apart < 0));
    }
    time_ = plus(base, apart);
    times.last = time_;
    last_time_ = time_;
    if constexpr (Coder::kReading) put_varint(payload, zigzag(time_));
  }

  void code_field(Shape& shape, const FieldShape& field, const Field* given) {
    Column& column = *field.column;
    std::uint64_t value = 0;
    switch (field.wire) {
      case Wire::unsigned_int:
        if (field.tag == tag::since_start_min) return code_since(column, given);
        if (shape.kind == kind::set && field.tag == set_tag::round) return code_round(column, given);
        return code_value(column, given, 0, payload_, value);
      case Wire::signed_int: {
        const std::int64_t day = field.tag < tag::own ? 0 : time_ / kDayMs - (time_ % kDayMs < 0 ? 1 : 0);
        std::uint64_t apart = zigzag(minus(unzigzag(varint_of(given)), day));
        column.value.code(coder_, apart);
        if constexpr (Coder::kReading) put_varint(payload_, zigzag(plus(unzigzag(apart), day)));
        return;
      }
      case Wire::text:
        return code_text(column, given);
      case Wire::unsigned_list:
        return code_list(column, given);
      case Wire::refs:
        if (!column.refs) column.refs = std::make_unique<Refs>();
        return refs_.code(*column.refs, given, payload_);
      default:
        return code_plain(column, given);
    }
  }

  // Minutes since the app started: when it started is known ever better, to the minute.
  void code_since(Column& column, const Field* given) {
    std::uint64_t base = 0, value = 0;
    if (starts_known_) base = static_cast<std::uint64_t>(floor_minutes(minus(time_, plus(start_low_, minus(start_high_, start_low_) / 2))));
    code_value(column, given, base, payload_, value);
    const std::int64_t high = static_cast<std::int64_t>(static_cast<std::uint64_t>(time_) - value * kMinuteMs);
    const std::int64_t low = plus(high, 1 - kMinuteMs);
    if (!starts_known_ || low > start_high_ || high < start_low_) {
      start_low_ = low;
      start_high_ = high;
    } else {
      start_low_ = std::max(start_low_, low);
      start_high_ = std::min(start_high_, high);
    }
    starts_known_ = true;
  }

  void code_round(Column& column, const Field* given) {
    if (!column.rounds) column.rounds = std::make_unique<Keyed>();
    Keyed& rounds = *column.rounds;
    std::uint64_t value = 0;
    const std::uint64_t base = rounds.when[key_] == sessions_ ? static_cast<std::uint64_t>(rounds.last[key_]) + 1 : 1;
    code_value(column, given, base, payload_, value);
    rounds.last[key_] = static_cast<std::int64_t>(value);
    rounds.when[key_] = sessions_;
  }

  void code_text(Column& column, const Field* given) {
    if (!column.words) column.words = std::make_unique<Words>();
    std::string text;
    if (given) text = model::as_text(given->payload);
    const unsigned first = column.words->code(coder_, letters_, text, kMaxFieldBytes);
    if (key_ == Words::kNone) key_ = first;
    if constexpr (Coder::kReading) model::append(payload_, model::as_bytes(text));
  }

  void code_plain(Column& column, const Field* given) {
    if (!column.plain) column.plain = std::make_unique<Plain>();
    std::uint64_t length = given ? given->payload.size() : 0;
    column.plain->length.code(coder_, length);
    if (length > kMaxFieldBytes) length = kMaxFieldBytes + 1;  // refused when it is read
    for (std::uint64_t i = 0; i < length; ++i) {
      unsigned byte = given ? given->payload[static_cast<std::size_t>(i)] : 0;
      column.plain->bytes.code(coder_, byte);
      if constexpr (Coder::kReading) payload_.push_back(static_cast<std::uint8_t>(byte));
    }
  }

  void code_list(Column& column, const Field* given) {
    if (!column.list) column.list = std::make_unique<List>();
    List& list = *column.list;
    std::vector<std::uint64_t>& values = values_;
    values.clear();
    std::uint64_t value_read = 0;
    if (given)
      for (std::size_t at = 0; get_varint(given->payload, at, value_read);) values.push_back(value_read);
    std::uint64_t count = values.size();
    list.count.code(coder_, count);
    coder_.refuse_unless(count <= kMaxFieldBytes);
    if constexpr (Coder::kReading) values.resize(static_cast<std::size_t>(std::min<std::uint64_t>(count, kMaxFieldBytes + 1)));
    if (count == 3) {
      list.elements[1].code(coder_, values[1]);
      list.elements[2].code(coder_, values[2]);
      code_load(list, values);
    } else {
      for (std::size_t i = 0; i < values.size(); ++i) list.elements[std::min<std::size_t>(i, 3)].code(coder_, values[i]);
    }
    if constexpr (Coder::kReading)
      for (const std::uint64_t value : values) put_varint(payload_, value);
  }

  // (zigzag value, decimals, unit): beside the last one of the same exercise, whatever its decimals.
  void code_load(List& list, std::vector<std::uint64_t>& values) {
    std::int64_t thousandths = 1;
    for (std::uint64_t i = values[1]; i < 3; ++i) thousandths *= 10;
    const std::int64_t before = list.loads.when[key_] != 0 ? list.loads.last[key_] : list.last_load;
    const std::int64_t base = before / thousandths;
    std::uint64_t apart = zigzag(minus(unzigzag(values[0]), base));
    list.elements[0].code(coder_, apart);
    const std::int64_t value = plus(unzigzag(apart), base);
    values[0] = zigzag(value);
    list.last_load = static_cast<std::int64_t>(static_cast<std::uint64_t>(value) * static_cast<std::uint64_t>(thousandths));
    list.loads.last[key_] = list.last_load;
    list.loads.when[key_] = 1;
  }

  // Nobody's numbers overflow here: they wrap.
  static std::int64_t plus(std::int64_t a, std::int64_t b) {
    return static_cast<std::int64_t>(static_cast<std::uint64_t>(a) + static_cast<std::uint64_t>(b));
  }
  static std::int64_t minus(std::int64_t a, std::int64_t b) {
    return static_cast<std::int64_t>(static_cast<std::uint64_t>(a) - static_cast<std::uint64_t>(b));
  }
  static std::int64_t floor_minutes(std::int64_t ms) { return ms / kMinuteMs - (ms % kMinuteMs < 0 ? 1 : 0); }

  Coder& coder_;
  RefCoder<Coder> refs_;
  std::uint64_t lam_ = 0;

  std::vector<std::unique_ptr<Shape>> shapes_;
  std::unique_ptr<Shape> passing_shape_;
  Shape* last_shape_ = nullptr;
  Shape first_shape_;
  Number kinds_, field_counts_, tag_gaps_;
  Symbol<3> wires_;

  struct Place {
    std::uint32_t kind, tag;
    Wire wire;
    friend bool operator<(const Place& a, const Place& b) { return std::tie(a.kind, a.tag, a.wire) < std::tie(b.kind, b.tag, b.wire); }
  };
  std::map<Place, std::unique_ptr<Column>> columns_;
  Column rest_of_columns_;
  std::map<std::uint32_t, Times> times_;  // by kind
  Times rest_of_times_;
  Values lams_;
  Letters letters_;

  // Of the ops so far.
  std::int64_t last_time_ = 0, start_low_ = 0, start_high_ = 0;
  bool starts_known_ = false;
  std::uint64_t sessions_ = 1;
  // Of the op being coded.
  std::int64_t time_ = 0, rest_ = 0;
  unsigned key_ = Words::kNone;
  std::vector<const Field*> given_;
  std::vector<std::uint64_t> values_;
  model::Bytes payload_, rest_payload_, time_payload_;
};

}  // namespace slipway::ops
