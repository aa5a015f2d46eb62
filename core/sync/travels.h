// What may stand in a struct that travels, said once and held by the compiler.
//
// Unsigned integers, enums with a known count, fixed bytes (ids, hashes), plain structs
// of these and vectors of them. Everything else stays at home: pointers (a forged id is
// a type confusion), maps and lists (a claimed size costs minutes), floats (NaN, minus
// zero), bool (a byte of 2 is undefined), virtual types.
#pragma once

#include <cstdint>
#include <limits>
#include <type_traits>
#include <vector>

#include "model/ids.h"

namespace slipway::sync {

template <class T>
struct IsFixedBytes : std::false_type {};
template <class Tag, std::size_t N>
struct IsFixedBytes<model::FixedBytes<Tag, N>> : std::true_type {};

template <class T>
struct IsVector : std::false_type {};
template <class T>
struct IsVector<std::vector<T>> : std::true_type {
  using Element = T;
};

// A struct of ours says so itself: `using Travels = void;` beside its serialize().
template <class T, class = void>
struct SaysItTravels : std::false_type {};
template <class T>
struct SaysItTravels<T, typename T::Travels> : std::true_type {};

template <class T>
constexpr bool may_travel() {
  if constexpr (std::is_same_v<T, bool> || std::is_floating_point_v<T> || std::is_pointer_v<T>) {
    return false;
  } else if constexpr (std::is_integral_v<T>) {
    return std::is_unsigned_v<T> && !std::is_same_v<T, char>;
  } else if constexpr (std::is_enum_v<T>) {
    return std::is_unsigned_v<std::underlying_type_t<T>>;
  } else if constexpr (IsVector<T>::value) {
    using Element = typename IsVector<T>::Element;
    return std::is_class_v<Element> && may_travel<Element>();
  } else {
    return (IsFixedBytes<T>::value || SaysItTravels<T>::value) && !std::is_polymorphic_v<T>;
  }
}

}  // namespace slipway::sync
