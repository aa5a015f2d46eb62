#include "ops/set_table.h"

#include <algorithm>
#include <map>
#include <type_traits>
#include <unordered_map>

#include "ops/read_values.h"
#include "ops/registry.h"

namespace slipway::ops {

namespace {

using model::OpKey;

struct Value {
  std::uint64_t value = 0;
  std::int64_t claimed_ms = 0;
};

// What stands of one field, readable values only, in drawing order.
template <class T, class Put>
void standing(const Record& record, std::uint32_t tag, Reader<T> read, Put put) {
  for (const Written& written : record.visible(tag)) {
    const Field field{tag, written.wire, written.payload};
    if (const auto value = read(field)) put(*value, written.by.claimed.local_ms);
  }
}
template <class T, class Put>
void standing(const ChainedOp& op, std::uint32_t tag, Reader<T> read, Put put) {
  const Field* field = op.op.find(tag);
  if (!field) return;
  if (const auto value = read(*field)) put(*value, std::int64_t{0});  // of one value nobody asks when
}

std::optional<OpKey> session_of(const Record& record) { return first_ref(record, set_tag::session); }
std::optional<OpKey> session_of(const ChainedOp& op) {
  const Field* field = op.op.find(set_tag::session);
  if (!field) return std::nullopt;
  const auto keys = read_refs(*field, op.stream.inc);
  return keys && keys->size() == 1 ? std::optional<OpKey>(keys->front()) : std::nullopt;
}

std::uint64_t grams_as_number(const model::Quantity& load) { return zigzag(model::grams(load)); }

std::optional<std::string_view> to_view(const Field& field) { return read_text(field); }

// A record that was created: by one op and nothing else, or all that is known of it.
struct Made {
  OpKey key;
  const ChainedOp* op = nullptr;
  bool acted_on = false;  // then the fold says
};

bool by_place(const Made& a, const Made& b) { return a.key < b.key; }

class Builder {
 public:
  explicit Builder(SetTable& table) : table_(table) {
    for (std::size_t i = 0; i < table_.exercises.size(); ++i) words_.emplace(table_.exercises[i], static_cast<std::uint32_t>(i + 1));
  }

  void collect(const std::vector<ChainedOp>& ops) {
    made_.reserve(ops.size());
    for (const ChainedOp& op : ops)
      if (creates_record(op.op.kind)) made_.push_back({op.key(), &op, false});
    std::sort(made_.begin(), made_.end(), by_place);
    // Said twice is said once. Two that share a name with different content: the fold knows which stands.
    std::size_t kept = 0;
    for (std::size_t i = 0; i < made_.size(); ++i) {
      if (kept > 0 && made_[kept - 1].key == made_[i].key) {
        if (!(made_[kept - 1].op->hash == made_[i].op->hash)) {
          made_[kept - 1].acted_on = true;
          acting_.push_back(made_[i].op);
        }
        continue;
      }
      made_[kept++] = made_[i];
    }
    made_.resize(kept);
    for (const ChainedOp& op : ops) {
      if (op.op.kind != kind::change && op.op.kind != kind::take_back) continue;
      const Field* field = op.op.find(tag::target);
      const auto target = field ? read_refs(*field, op.stream.inc) : std::nullopt;
      if (!target || target->size() != 1) continue;
      Made* record = find(target->front());
      if (!record) {
        awaited_.push_back(target->front());
        continue;
      }
      record->acted_on = true;
      acting_.push_back(&op);
    }
    if (made_.empty()) return;
    fold_.emplace(made_.front().op->stream.scope);
    for (const Made& one : made_)
      if (one.acted_on) fold_->add(*one.op);
    for (const ChainedOp* op : acting_) fold_->add(*op);
  }

  const std::vector<OpKey>& awaited() const { return awaited_; }
  const std::vector<Made>& made() const { return made_; }

  void put_rows() {
    for (const Made& one : made_) note_inc(one.key.inc);
    for (const Made& one : made_)
      if (kind_of(one) == kind::session) put_session(one);
    for (const Made& one : made_)
      if (kind_of(one) == kind::set) put_set(one);
  }

  std::map<OpKey, std::uint32_t> sessions;  // place in the table + 1

 private:
  Made* find(const OpKey& key) {
    const auto found = std::lower_bound(made_.begin(), made_.end(), Made{key, nullptr, false}, by_place);
    return found != made_.end() && found->key == key ? &*found : nullptr;
  }
  const Record& record(const Made& one) const { return *fold_->find(one.key); }
  std::uint32_t kind_of(const Made& one) const { return one.acted_on ? record(one).kind : one.op->op.kind; }

  void note_inc(const model::IncarnationId& inc) {
    if (place_of(inc) == table_.incs.size()) table_.incs.push_back(inc);
  }
  std::uint32_t place_of(const model::IncarnationId& inc) {
    if (last_inc_ < table_.incs.size() && table_.incs[last_inc_] == inc) return last_inc_;
    last_inc_ = static_cast<std::uint32_t>(std::find(table_.incs.begin(), table_.incs.end(), inc) - table_.incs.begin());
    return last_inc_;
  }

  void put_session(const Made& one) {
    SetTable::Session session{place_of(one.key.inc), one.key.seq, true, {}};
    const auto put_day = [&](const model::Day& day, std::int64_t) {
      if (!session.day) session.day = day;
    };
    if (one.acted_on) {
      session.here = !record(one).taken_back();
      standing<model::Day>(record(one), session_tag::training_day, to_day, put_day);
    } else {
      standing<model::Day>(*one.op, session_tag::training_day, to_day, put_day);
    }
    table_.sessions.push_back(session);
    sessions.emplace(one.key, static_cast<std::uint32_t>(table_.sessions.size()));
  }

  void put_set(const Made& one) {
    table_.inc.push_back(place_of(one.key.inc));
    table_.seq.push_back(one.key.seq);
    if (one.acted_on) {
      const Record& known = record(one);
      put_fields(known, (known.acted_on() ? unsigned{SetTable::edited} : 0U) | (known.taken_back() ? unsigned{SetTable::taken_back} : 0U));
      table_.done_ms.push_back(known.created->claimed.local_ms);
    } else {
      put_fields(*one.op, 0);
      table_.done_ms.push_back(stamp_of(*one.op).claimed.local_ms);
    }
  }

  // One field of the row: the first value goes into the column, of a contradiction all go beside it.
  template <class Column, class T, class Source, class AsNumber>
  void put_field(const Source& source, std::uint32_t tag, Reader<T> read, AsNumber as_number, Column& column, unsigned flag, unsigned& flags) {
    values_.clear();
    standing<T>(source, tag, read, [&](const T& value, std::int64_t claimed) { values_.push_back({as_number(value), claimed}); });
    using Cell = typename Column::value_type;
    const std::uint64_t first = values_.empty() ? 0 : values_.front().value;
    column.push_back(std::is_signed_v<Cell> ? static_cast<Cell>(unzigzag(first)) : static_cast<Cell>(first));
    if (values_.empty()) return;
    flags |= flag;
    if (values_.size() == 1) return;
    flags |= SetTable::contradictory;
    for (const Value& value : values_)
      table_.others.push_back({static_cast<std::uint32_t>(table_.flags.size()), tag, value.value, value.claimed_ms});
  }

  template <class Source>
  void put_fields(const Source& source, unsigned flags) {
    const auto as_it_is = [](std::uint64_t value) { return value; };
    table_.session.push_back(session_place(session_of(source)));
    put_field<std::vector<std::uint32_t>, std::string_view>(
        source, set_tag::exercise, to_view, [&](std::string_view word) { return std::uint64_t{word_place(word)}; }, table_.exercise, 0, flags);
    put_field<std::vector<std::uint64_t>, std::uint64_t>(source, set_tag::reps, to_unsigned, as_it_is, table_.reps, SetTable::has_reps, flags);
    put_field<std::vector<std::int64_t>, model::Quantity>(source, set_tag::load, to_quantity, grams_as_number, table_.load_g, SetTable::has_load, flags);
    put_field<std::vector<std::uint64_t>, std::uint64_t>(source, set_tag::rir, to_unsigned, as_it_is, table_.rir, SetTable::has_rir, flags);
    put_field<std::vector<std::uint64_t>, std::uint64_t>(source, set_tag::rest_ms, to_unsigned, as_it_is, table_.rest_ms, SetTable::has_rest, flags);
    if (said_yes(source, set_tag::warm_up)) flags |= SetTable::warm_up;
    if (said_yes(source, set_tag::left_out)) flags |= SetTable::left_out;
    table_.flags.push_back(static_cast<std::uint16_t>(flags));
  }

  template <class Source>
  bool said_yes(const Source& source, std::uint32_t tag) {
    std::optional<std::uint64_t> first;
    standing<std::uint64_t>(source, tag, to_unsigned, [&](std::uint64_t value, std::int64_t) {
      if (!first) first = value;
    });
    return first == 1U;
  }

  std::uint32_t session_place(const std::optional<OpKey>& key) {
    if (!key) return 0;
    if (last_session_ && *key == *last_session_) return last_session_place_;
    const auto found = sessions.find(*key);
    if (found == sessions.end()) {
      if (!find(*key)) awaited_.push_back(*key);
      return 0;
    }
    last_session_ = *key;
    return last_session_place_ = found->second;
  }

  std::uint32_t word_place(std::string_view word) {
    if (last_word_ > 0 && table_.exercises[last_word_ - 1] == word) return last_word_;
    const auto found = words_.emplace(std::string(word), static_cast<std::uint32_t>(table_.exercises.size() + 1));
    if (found.second) table_.exercises.emplace_back(word);
    return last_word_ = found.first->second;
  }

  SetTable& table_;
  std::vector<Made> made_;
  std::vector<const ChainedOp*> acting_;
  std::vector<OpKey> awaited_;
  std::optional<Fold> fold_;  // of the records that more than one op speaks of
  std::unordered_map<std::string, std::uint32_t> words_;
  std::vector<Value> values_;
  std::uint32_t last_inc_ = 0, last_word_ = 0, last_session_place_ = 0;
  std::optional<OpKey> last_session_;
};

void sort_once(std::vector<OpKey>& keys) {
  std::sort(keys.begin(), keys.end());
  keys.erase(std::unique(keys.begin(), keys.end()), keys.end());
}

}  // namespace

SetTable SetTable::of(const std::vector<ChainedOp>& ops) {
  SetTable table;
  Builder builder(table);
  builder.collect(ops);
  builder.put_rows();
  table.awaited = builder.awaited();
  sort_once(table.awaited);
  for (const auto& [key, place] : builder.sessions) {
    if (!table.open_sessions.empty() && table.open_sessions.back().inc == key.inc) table.open_sessions.pop_back();
    table.open_sessions.push_back(key);
  }
  return table;
}

bool SetTable::has(const OpKey& key) const {
  const auto place = std::find(incs.begin(), incs.end(), key.inc);
  const auto inc_place = static_cast<std::uint32_t>(place - incs.begin());
  if (place == incs.end()) return false;
  const auto here = [&](const Session& one) { return one.inc == inc_place && one.seq == key.seq; };
  if (std::any_of(sessions.begin(), sessions.end(), here)) return true;
  const auto first = std::lower_bound(inc.begin(), inc.end(), inc_place), last = std::upper_bound(first, inc.end(), inc_place);
  return std::binary_search(seq.begin() + (first - inc.begin()), seq.begin() + (last - inc.begin()), key.seq);
}

bool SetTable::add(const std::vector<ChainedOp>& later) {
  SetTable after = *this;
  Builder builder(after);
  // A session is joined by its whole name; in the table it stands under incarnation and seq.
  const auto session_at = [&](const OpKey& key) {
    const auto same = [&](const Session& one) { return incs[one.inc] == key.inc && one.seq == key.seq; };
    return static_cast<std::uint32_t>(std::find_if(sessions.begin(), sessions.end(), same) - sessions.begin()) + 1;
  };
  for (const OpKey& key : open_sessions) builder.sessions.emplace(key, session_at(key));
  builder.collect(later);
  for (const Made& one : builder.made())
    if (std::binary_search(awaited.begin(), awaited.end(), one.key) || has(one.key)) return false;
  builder.put_rows();
  // What was named and is not among the new ones: a record of the table, one of another kind, or one that nobody has.
  for (const OpKey& key : builder.awaited())
    if (has(key)) return false;
  *this = std::move(after);
  return true;
}

}  // namespace slipway::ops
