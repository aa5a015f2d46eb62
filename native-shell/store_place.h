// The place of one store on this computer: its folder, held alone, and the open token
// that lies outside it (sync-and-storage 3).
#pragma once

#include <memory>
#include <string>

#include "host/random.h"
#include "model/result.h"
#include "posix_files.h"
#include "store/store.h"

namespace slipway::native {

enum class IfNoStore : std::uint8_t { begin_one, refuse };

class StorePlace {
 public:
  // Without a folder: the usual one, made if it is missing. The folder is held from here on,
  // and only then is the second place given its fresh token, so that a second process which
  // finds the store taken changes nothing.
  // Errors: not_found (no such folder, no store in it), invalid, busy, no_permission, full, io.
  static model::Result<StorePlace> take(const std::string& folder, IfNoStore if_none, host::Random& random);

  const std::string& folder() const { return folder_; }
  PosixFiles& files() { return *files_; }
  const store::OpenTokens& tokens() const { return tokens_; }

  // Call after opening: a newer store was not written, so the second place goes back to what it was.
  model::Result<model::Done> opened(const store::Opening& opening) const;

 private:
  std::string folder_;      // absolute
  std::string token_file_;
  std::unique_ptr<PosixFiles> files_;
  store::OpenTokens tokens_;
};

}  // namespace slipway::native
