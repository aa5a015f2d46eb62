// Private to ops: from a record's registers to typed values. What is not of the type
// that is asked for is not there.
#pragma once

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "model/athlete.h"
#include "ops/fold.h"
#include "ops/op.h"

namespace slipway::ops {

Stamp stamp_of(const ChainedOp& op);  // as the fold keeps it
model::Writer writer_of(const Stamp& stamp);

// Readers from a stored payload to a typed value.
std::optional<std::uint64_t> to_unsigned(const Field& field);
std::optional<std::int64_t> to_signed_ms(const Field& field);  // within the calendar
std::optional<std::string> to_string(const Field& field);
std::optional<std::vector<std::string>> to_words(const Field& field);  // separated by one space
std::optional<std::vector<std::uint64_t>> to_list(const Field& field);
std::optional<model::Quantity> to_quantity(const Field& field);
std::optional<std::vector<model::Quantity>> to_quantities(const Field& field);
std::optional<model::Day> to_day(const Field& field);

template <class T>
using Reader = std::optional<T> (*)(const Field&);

// The values that stand.
template <class T>
model::Versions<T> versions(const Record& record, std::uint32_t tag, Reader<T> read) {
  model::Versions<T> out;
  for (const Written& written : record.visible(tag)) {
    const auto value = read(Field{tag, written.wire, written.payload});
    if (value) out.all.push_back({*value, writer_of(written.by)});
  }
  return out;
}

template <class T>
std::optional<T> first_value(const Record& record, std::uint32_t tag, Reader<T> read) {
  const auto all = versions<T>(record, tag, read);
  return all.empty() ? std::nullopt : std::optional<T>(*all.first());
}

// What the creating op said, whatever was written over it: of kinds that are never edited.
template <class T>
std::optional<T> own_value(const Record& record, std::uint32_t tag, Reader<T> read) {
  const auto own = record.own(tag);
  return own ? read(*own) : std::nullopt;
}

// Yes or no of a mark that several may have set: standing values that say yes, and no.
struct Marks {
  bool any_yes = false, any_no = false;
};
Marks marks(const Record& record, std::uint32_t tag);
bool own_mark(const Record& record, std::uint32_t tag);

std::optional<model::RecordId> first_ref(const Record& record, std::uint32_t tag);
std::vector<model::RecordId> own_refs(const Record& record, std::uint32_t tag);

// A fact together with those it replaces.
template <class Noun>
struct Told {
  Noun noun;
  const std::set<model::OpKey>* replaces = nullptr;
};

// Those that no other fact about the same thing replaces, in the order they were in.
// same(a, b): are they about one thing? A fact about something else replaces nothing.
template <class Noun, class Same>
std::vector<Noun> standing(const std::vector<Told<Noun>>& all, Same same) {
  std::map<model::OpKey, std::size_t> places;
  for (std::size_t i = 0; i < all.size(); ++i) places.emplace(all[i].noun.id, i);
  std::vector<bool> replaced(all.size());
  for (const Told<Noun>& told : all)
    for (const model::OpKey& key : *told.replaces) {
      const auto found = places.find(key);
      if (found != places.end() && same(told.noun, all[found->second].noun)) replaced[found->second] = true;
    }
  std::vector<Noun> left;
  for (std::size_t i = 0; i < all.size(); ++i)
    if (!replaced[i]) left.push_back(all[i].noun);
  return left;
}

// Created records of a kind that nobody took back, oldest first, each read by `read`; those
// that `read` can make nothing of are left out.
template <class Noun>
std::vector<Told<Noun>> told(const Fold& fold, std::uint32_t kind, std::optional<Noun> (*read)(const model::RecordId&, const Record&)) {
  std::vector<Told<Noun>> all;
  for (const model::RecordId& id : fold.of_kind(kind)) {
    const Record& record = *fold.find(id);
    if (record.taken_back()) continue;
    if (auto noun = read(id, record)) all.push_back({std::move(*noun), &record.acts->replaces});
  }
  return all;
}

template <class Noun>
std::vector<Noun> nouns_of(std::vector<Told<Noun>> all) {
  std::vector<Noun> out;
  for (Told<Noun>& told : all) out.push_back(std::move(told.noun));
  return out;
}

// views_facts.cpp: everything of model/athlete_facts.h.
void read_facts(const Fold& fold, model::Athlete& athlete);
// views_training.cpp: programme, finish, decisions, overrules, swaps, races, key swims.
void read_training(const Fold& fold, model::Athlete& athlete);
struct FinishOf {
  model::RecordId id, session;
  model::Finish finish;
  model::Writer by;
};
std::vector<FinishOf> read_finishes(const Fold& fold);  // the standing ones, newest first

}  // namespace slipway::ops
