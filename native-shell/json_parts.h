// The pieces that several JSON answers share. For the json_*.cpp files alone: no other file
// includes this, because the library is slow to compile.
#pragma once

#include <nlohmann/json.hpp>

#include "answers.h"

namespace slipway::native::json {

using Json = nlohmann::ordered_json;

Json of(const std::string& word);
Json of(std::uint64_t value);
Json of(const model::Quantity& load);
Json of(model::Day day);
Json of(const std::vector<std::uint64_t>& values);
Json of(const model::Finish& said);
Json of(const model::Programme& programme);
Json of(const model::Writer& by);
Json of(const Person& who);
Json of(const model::SetDone& set);
Json of(const model::Prescription& plan);
Json of(const model::Error& why);
Json of(const app::Digests& digests);
Json of(const std::vector<app::MissingStretch>& gaps);
Json people(const std::vector<Person>& who);
Json contradictions(const model::Athlete& athlete);
// Everything said about a body and by adults, and what was shown, as lists; only since that day.
void put_facts(Json& out, const model::Athlete& athlete, const std::optional<model::Day>& since);
Json sessions(const model::Athlete& athlete, const std::optional<model::Day>& since);
Json plans(const model::Athlete& athlete);
Json kits(const model::Athlete& athlete);
Json needs(const std::vector<app::NeedFact>& facts);

template <class T>
Json of(const std::optional<T>& value) {
  return value ? of(*value) : Json();
}

template <class T>
Json values(const model::Versions<T>& versions) {
  Json all = Json::array();
  for (const auto& version : versions.all) all.push_back({{"value", of(version.value)}, {"by", of(version.by)}});
  return all;
}

template <class T>
Json of(const model::Versions<T>& versions) {
  return {{"value", versions.empty() ? Json() : of(versions.all.front().value)},
          {"contradiction", versions.contradiction()},
          {"values", values(versions)}};
}

std::string text(const Json& answer);  // a foreign sign in a file name is replaced, never fatal

}  // namespace slipway::native::json
