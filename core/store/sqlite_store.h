// Private to the store: Store over one Database.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "store/database.h"
#include "store/store.h"

namespace slipway::store {

class SqliteStore : public Store {
 public:
  SqliteStore(host::Files& files, host::Random& random);

  model::Result<model::Done> start(bool had_file, const OpenTokens& tokens);

  const Opening& opening() const override { return opening_; }
  model::Result<model::Done> mint_incarnation() override;
  Ticket append(std::span<const ops::Chunk> chunks, std::string_view local_name, model::ByteView local_value) override;
  model::Result<model::Done> take_in(std::span<const ops::Chunk> chunks, const ImportLine& line) override;
  model::Result<std::vector<model::ScopeId>> scopes() override;
  model::Result<std::vector<ops::Chunk>> chunks(const model::ScopeId& scope) override;
  model::Result<std::uint64_t> fold_chunks(const model::ScopeId& scope) override;
  model::Result<std::optional<Derived>> derived(const model::ScopeId& scope) override;
  model::Result<model::Done> save_derived(const model::ScopeId& scope, const Derived& derived) override;
  model::Result<model::Done> drop_derived() override;
  model::Result<std::optional<model::Bytes>> local(std::string_view name) override;
  model::Result<model::Done> set_local(std::string_view name, model::ByteView value) override;
  model::Result<std::uint64_t> next_export_counter() override;
  model::Result<std::vector<ImportLine>> import_log() override;
  model::Result<Integrity> check() override;

 private:
  model::Result<model::Done> settings();
  model::Result<model::Done> schema();
  model::Result<model::Done> identify(bool had_file, const OpenTokens& tokens);
  std::optional<model::Error> read_only() const;
  bool put_chunk(const ops::Chunk& chunk);
  bool put_value(std::string_view table, std::string_view name, model::ByteView value);
  model::Result<std::optional<model::Bytes>> value(std::string_view table, std::string_view name);
  std::optional<model::Error> refuse_gap(std::span<const ops::Chunk> chunks);

  host::Random& random_;
  Database database_;
  Opening opening_;
};

// One statement of a made-up table name is not possible: the two tables of named values.
inline constexpr std::string_view kMeta = "meta", kLocal = "local";

}  // namespace slipway::store
