// Private to the store: the tables, and the steps from each older form to the next.
//
// The form is PRAGMA user_version. A new store is made by the same steps that an old one goes,
// so both have the same schema. A step is never changed once a store of its form has left the house.
#pragma once

#include <cstdint>
#include <string_view>

#include "model/ids.h"
#include "model/result.h"
#include "store/database.h"

namespace slipway::store {

// Inside a transaction: from that form (0: nothing is there) to today's, user_version too. False: database.error().
bool climb(Database& database, int from);

// Inside a transaction: the tables of what is sealed at rest, where they are not yet. False: database.error().
bool make_sealed_tables(Database& database);

model::Result<bool> has_table(Database& database, std::string_view name);

// What must be the same before and after a copy or a step.
struct Contents {
  std::uint64_t ops = 0;
  model::Hash32 rows;  // over every chunk row with its key, damaged ones too, and every lock: equal rows, equal ops
  friend bool operator==(const Contents&, const Contents&) = default;
};
model::Result<Contents> contents_of(Database& database);

// Copies the database to a file of that name, flushed, reads the copy again and proves it: SQLite's quick check,
// op count and rows. A file of that name is replaced. Errors: of the storage; damaged (the copy is not the same).
model::Result<model::Done> copy_database(Database& database, host::Files& files, host::Random& random, const std::string& name);

}  // namespace slipway::store
