#include "store_place.h"

#include "ops/chain.h"
#include "places.h"
#include "whole_files.h"

namespace slipway::native {

namespace {

using model::ErrorKind;

std::string token_file(const std::string& folder) {
  const std::string name = ops::blake2b(model::as_bytes(folder)).hex();
  constexpr std::size_t kSigns = 32;
  return state_folder() + "/" + name.substr(0, kSigns) + ".token";
}

model::Result<model::Done> put_token(const std::string& file, const model::Token16& token) {
  if (state_folder().empty()) return model::error(ErrorKind::not_found, "cli.no_home");
  if (auto made = make_folder(folder_of(file)); !made) return model::error(made.error().kind, "cli.token_place", {file});
  if (auto put = write_whole(file, token.view(), IfThere::replace); !put) return model::error(put.error().kind, "cli.token_place", {file});
  return model::Done{};
}

}  // namespace

model::Result<StorePlace> StorePlace::take(const std::string& folder, IfNoStore if_none, host::Random& random) {
  StorePlace place;
  place.folder_ = folder.empty() ? data_folder() : folder;
  while (place.folder_.size() > 1 && place.folder_.ends_with('/')) place.folder_.pop_back();
  if (place.folder_.empty()) return model::error(ErrorKind::not_found, "cli.no_home");
  // A folder that was named is made too, but not the folders above it: those are a slip of the pen.
  const bool may_make = folder.empty() || is_folder(folder_of(absolute(place.folder_)));
  if (if_none == IfNoStore::begin_one && may_make)
    if (const auto made = make_folder(place.folder_); !made) return made.error();
  const bool there = is_folder(place.folder_);
  place.folder_ = absolute(place.folder_);
  const std::string database = place.folder_ + "/" + std::string(store::kDatabaseName);
  if (if_none == IfNoStore::refuse && (there || folder.empty()) && is_missing(database))
    return model::error(ErrorKind::not_found, "cli.no_store", {place.folder_});
  auto files = PosixFiles::open_folder(place.folder_);
  if (!files) return files.error();
  place.files_ = std::move(*files);

  place.token_file_ = token_file(place.folder_);
  const auto found = read_whole(place.token_file_);
  if (found && found->size() == place.tokens_.fresh.bytes.size()) place.tokens_.found_outside = model::Token16::from(*found);
  random.fill(place.tokens_.fresh.bytes);
  if (const auto put = put_token(place.token_file_, place.tokens_.fresh); !put) return put.error();
  return place;
}

model::Result<model::Done> StorePlace::opened(const store::Opening& opening) const {
  if (!opening.read_only || !tokens_.found_outside) return model::Done{};
  return put_token(token_file_, *tokens_.found_outside);
}

}  // namespace slipway::native
