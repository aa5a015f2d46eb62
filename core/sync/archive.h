// SlipIn and SlipOut: the bounded pair of cereal archives behind the door (private).
//
// cereal walks the structs; every byte goes through here. A number wider than a byte is
// a canonical varint, so it has one form and no byte order. A size is read as 64 bit,
// checked against the bytes left and an element budget, and narrowed only then: 32-bit
// and 64-bit builds say the same. Elements are read one by one, nothing is allocated on
// a file's word. The first refusal is kept; from there on everything reads as zero.
// Include this in .cpp files of this room only.
#pragma once

#include <cstdint>
#include <limits>
#include <utility>

#include <cereal/cereal.hpp>

#include "model/bytes.h"
#include "model/planted.h"
#include "ops/op.h"
#include "sync/travels.h"

namespace slipway::sync {

class SlipOut : public cereal::OutputArchive<SlipOut, cereal::AllowEmptyClassElision> {
  using Base = cereal::OutputArchive<SlipOut, cereal::AllowEmptyClassElision>;

 public:
  SlipOut() : Base(this) {}

  template <class... Ts>
  SlipOut& operator()(const Ts&... values) {
    static_assert((may_travel<Ts>() && ...), "this type must not travel in a bundle: see travels.h");
    (put(values), ...);
    return *this;
  }

  void number(std::uint64_t value) { ops::put_varint(out_, value); }
  void raw(model::ByteView bytes) { model::append(out_, bytes); }
  model::Bytes bytes() && { return std::move(out_); }

 private:
  template <class T>
  void put(const T& value) {
    if constexpr (std::is_enum_v<T>)
      number(static_cast<std::uint64_t>(value));
    else
      Base::operator()(value);
  }

  model::Bytes out_;
};

class SlipIn : public cereal::InputArchive<SlipIn, cereal::AllowEmptyClassElision> {
  using Base = cereal::InputArchive<SlipIn, cereal::AllowEmptyClassElision>;

 public:
  SlipIn(model::ByteView bytes, std::uint64_t element_budget)
      : Base(this), bytes_(bytes), element_budget_(element_budget) {}

  template <class... Ts>
  SlipIn& operator()(Ts&... values) {
    static_assert((may_travel<Ts>() && ...), "this type must not travel in a bundle: see travels.h");
    (get(values), ...);
    return *this;
  }

  bool refused() const { return refused_; }
  bool finished() const { return !refused_ && at_ == bytes_.size(); }  // whole, and nothing left over
  bool over_budget() const { return over_budget_; }
  std::size_t at() const { return at_; }

  std::uint64_t number(std::uint64_t highest) {
    std::uint64_t value = 0;
    if (refused_ || !ops::get_varint(bytes_, at_, value) || value > highest) return refuse();
    return value;
  }

  void raw(std::span<std::uint8_t> to) {
    if (refused_ || to.size() > bytes_.size() - at_) {
      refuse();
      return;
    }
    std::memcpy(to.data(), bytes_.data() + at_, to.size());
    at_ += to.size();
  }

  // Every element takes at least one byte, so a size beyond the bytes left is a lie.
  std::size_t size() {
    std::uint64_t claimed = number(std::numeric_limits<std::uint64_t>::max());
    if (model::kPlanted == 7) claimed = static_cast<std::uint32_t>(claimed);
    if (claimed > bytes_.size() - at_) return static_cast<std::size_t>(refuse());
    if (claimed > element_budget_) {
      over_budget_ = true;
      return static_cast<std::size_t>(refuse());
    }
    element_budget_ -= claimed;
    return static_cast<std::size_t>(claimed);
  }

 private:
  template <class T>
  void get(T& value) {
    if constexpr (std::is_enum_v<T>)
      value = static_cast<T>(number(count_of(T{}) - 1));
    else
      Base::operator()(value);
  }

  std::uint64_t refuse() {
    refused_ = true;
    return 0;
  }

  model::ByteView bytes_;
  std::size_t at_ = 0;
  std::uint64_t element_budget_ = 0;
  bool refused_ = false;
  bool over_budget_ = false;
};

template <class T, std::enable_if_t<std::is_integral_v<T>, int> = 0>
void save(SlipOut& out, const T& value) {
  out.number(value);
}
template <class T, std::enable_if_t<std::is_integral_v<T>, int> = 0>
void load(SlipIn& in, T& value) {
  value = static_cast<T>(in.number(std::numeric_limits<T>::max()));
}

template <class Tag, std::size_t N>
void save(SlipOut& out, const model::FixedBytes<Tag, N>& value) {
  out.raw(value.view());
}
template <class Tag, std::size_t N>
void load(SlipIn& in, model::FixedBytes<Tag, N>& value) {
  in.raw(value.bytes);
}

template <class T>
void save(SlipOut& out, const std::vector<T>& values) {
  out.number(values.size());
  for (const T& value : values) out(value);
}
template <class T>
void load(SlipIn& in, std::vector<T>& values) {
  values.clear();
  for (std::size_t left = in.size(); left > 0 && !in.refused(); --left) in(values.emplace_back());
}

}  // namespace slipway::sync

CEREAL_SETUP_ARCHIVE_TRAITS(slipway::sync::SlipIn, slipway::sync::SlipOut)
