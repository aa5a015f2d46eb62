// What every fallible step of Slipway answers with.
//
// An expected failure (a damaged file, a full disk, a value out of range) is a
// value: an Error with a kind to branch on and a text id plus arguments from
// which `report` makes the sentence a person reads. A bug is an assertion.
// Each failure is handled once: shown, or passed up, never both.
#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace slipway::model {

enum class ErrorKind {
  invalid,        // a value outside what is allowed; nothing was stored
  not_found,      // named thing is not here
  foreign,        // this is not a file of ours
  damaged,        // ours, but broken: cut, flipped, lengths that disagree
  newer_version,  // made by a newer version than this one
  too_large,      // over a limit that is checked before allocating
  full,           // no room on the storage
  busy,           // somebody else holds the store
  io,             // the storage refused or failed
  no_permission,  // the storage or file may not be touched
  sealed,         // opens only with a key or passphrase that was not given
  unconfirmed,    // a person has to say yes first; nothing was done
};

// `text` names a row of the text table ("bundle.hash"); `args` fill its {0}, {1} …
// in order. Args are facts (a file name, a byte offset, a number), never words.
struct Error {
  ErrorKind kind = ErrorKind::invalid;
  std::string text;
  std::vector<std::string> args;

  friend bool operator==(const Error&, const Error&) = default;
};

struct Done {  // success without anything to hand over
  friend bool operator==(const Done&, const Done&) = default;
};

template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : held_(std::in_place_index<0>, std::move(value)) {}
  Result(Error error) : held_(std::in_place_index<1>, std::move(error)) {}

  explicit operator bool() const { return held_.index() == 0; }
  bool ok() const { return held_.index() == 0; }

  T& value() & { assert(ok()); return std::get<0>(held_); }
  const T& value() const& { assert(ok()); return std::get<0>(held_); }
  T&& value() && { assert(ok()); return std::get<0>(std::move(held_)); }
  T& operator*() & { return value(); }
  const T& operator*() const& { return value(); }
  T&& operator*() && { return std::move(*this).value(); }
  T* operator->() { return &value(); }
  const T* operator->() const { return &value(); }

  const Error& error() const { assert(!ok()); return std::get<1>(held_); }

 private:
  std::variant<T, Error> held_;
};

inline Error error(ErrorKind kind, std::string text, std::vector<std::string> args = {}) {
  return Error{kind, std::move(text), std::move(args)};
}

}  // namespace slipway::model
