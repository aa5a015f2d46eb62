// What has arrived about one record: the op that created it, and what others did to it.
//
// Most records are written once and never touched again, and a device may hold a million of them. So what the creating
// op said stays as the few bytes it was, and everything that others did stands apart, in a place of its own that most
// records do not have. Either way a field is a register: field() and visible() answer the same.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <vector>

#include "model/ids.h"
#include "model/units.h"
#include "ops/op.h"

namespace slipway::ops {

struct Stamp {  // who wrote an op and when they claim it was
  model::OpKey key;
  std::uint64_t lam = 0;
  std::uint64_t author = 0;  // tag::author, 0 = not said
  model::ClaimedTime claimed;

  friend bool operator==(const Stamp&, const Stamp&) = default;
  // Drawing order only, never survival: (lam, inc, seq, hash).
  friend bool operator<(const Stamp& a, const Stamp& b) { return a.lam != b.lam ? a.lam < b.lam : a.key < b.key; }
};

struct Written {
  Stamp by;
  Wire wire = Wire::bytes;
  Payload payload;
  friend bool operator==(const Written&, const Written&) = default;
};

struct Register {
  std::map<model::OpKey, Written> values;  // all that have arrived, superseded ones too (history)
  std::set<model::OpKey> covered;          // named in a `saw` by a writer of this field, arrived or not

  // Not covered, in drawing order (highest stamp first); equal values merged to the first.
  std::vector<Written> visible() const;
  bool in_conflict() const { return visible().size() > 1; }
  friend bool operator==(const Register&, const Register&) = default;
};

struct Ending {  // of a pain record
  Stamp by;
  std::uint64_t how = 0;  // 1 resolved, 2 withdrawn
  friend bool operator==(const Ending&, const Ending&) = default;
};

// Fields one after the other, as in an op: tag wire length payload, rising by tag.
class Said {
 public:
  bool empty() const { return bytes_.empty(); }
  std::optional<Field> find(std::uint32_t tag) const;
  std::vector<Field> all() const;
  void put(const std::vector<Field>& fields);  // instead of what was there
  void drop(std::uint32_t tag);
  friend bool operator==(const Said&, const Said&) = default;

 private:
  Payload bytes_;
};

// A value that most do not have: no room till it is written, equal to an empty one.
template <class T>
class Seldom {
 public:
  Seldom() = default;
  Seldom(const Seldom& other) : box_(other.box_ ? std::make_unique<T>(*other.box_) : nullptr) {}
  Seldom(Seldom&&) noexcept = default;
  Seldom& operator=(const Seldom& other) {
    if (this != &other) box_ = other.box_ ? std::make_unique<T>(*other.box_) : nullptr;
    return *this;
  }
  Seldom& operator=(Seldom&&) noexcept = default;
  ~Seldom() = default;

  const T& operator*() const {
    static const T none;
    return box_ ? *box_ : none;
  }
  const T* operator->() const { return &**this; }
  T& write() {
    if (!box_) box_ = std::make_unique<T>();
    return *box_;
  }
  friend bool operator==(const Seldom& a, const Seldom& b) { return *a == *b; }

 private:
  std::unique_ptr<T> box_;
};

struct Acts {  // all but what the creating op said of fields that nobody else wrote to
  std::map<std::uint32_t, Register> fields;  // those that somebody else wrote to too, with what the creating op said
  std::set<model::OpKey> changed_by;         // changes that have arrived
  std::set<model::OpKey> replaces;           // other records, named by the creating op
  std::map<model::OpKey, Stamp> take_backs;
  std::set<model::OpKey> take_backs_saw;
  std::set<model::OpKey> kept_against;  // named by changes that write nothing: take-backs that somebody saw and answered
  std::map<model::OpKey, Ending> endings;
  friend bool operator==(const Acts&, const Acts&) = default;
};

struct Record {
  std::optional<Stamp> created;   // nothing while only changes of it have arrived
  std::uint32_t kind = 0;         // 0 while not created
  Said said;                      // of the creating op: the fields that nobody else wrote to
  Seldom<Acts> acts;

  bool has(std::uint32_t tag) const;                     // somebody wrote to this field
  std::vector<std::uint32_t> tags() const;               // of all fields somebody wrote to, rising
  Register field(std::uint32_t tag) const;               // empty: nobody wrote to it
  std::vector<Written> visible(std::uint32_t tag) const;
  std::optional<Field> own(std::uint32_t tag) const;     // what the creating op said, whatever was written over it
  std::set<model::OpKey> touched_by() const;             // creating op and changes that have arrived
  bool acted_on() const { return !acts->changed_by.empty() || !acts->take_backs.empty(); }
  template <class Each>
  void each_writer(Each each) const {  // the stamps of what was written, some more than once
    if (!said.empty()) each(*created);
    for (const auto& [tag, field] : acts->fields)
      for (const auto& [key, written] : field.values) each(written.by);
  }

  bool taken_back() const;
  bool revived() const;  // taken back by somebody, kept alive by a change they had not seen, and nobody has answered
  friend bool operator==(const Record&, const Record&) = default;
};

}  // namespace slipway::ops
