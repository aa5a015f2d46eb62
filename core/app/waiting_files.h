// Files that were dropped in and wait for a person: for a passphrase, or for a yes to what a
// stranger sent. Kept in memory alone; nothing of them is in the record until they are taken in.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/book.h"
#include "screens/exchange_screen.h"

namespace slipway::app {

class WaitingFiles {
 public:
  struct File {
    std::string name;
    model::Bytes bytes;
    TakeInWish wish;   // what was already said about it
    model::Error why;
  };
  static bool waits_for(const model::Error& why);
  static bool is_about_one(const screens::ExchangeAnswer& given);  // after it the next file stands in its place

  // Of one and the same content the newest stays.
  void add(File file);
  bool empty() const { return files_.empty(); }
  std::size_t count() const { return files_.size(); }
  void leave() { passphrase_.clear(); }
  void clear();

  // One field for all that wait for a passphrase, a pair of keys for each that waits for a yes.
  void add_parts(std::vector<screens::FormPart>& parts) const;
  // The files to be tried again, with what was said now; they no longer wait.
  std::vector<File> answer(const screens::ExchangeAnswer& given);

 private:
  std::vector<File> files_;
  std::string passphrase_;  // half typed
};

}  // namespace slipway::app
