// The pages that only this shell has: a store that cannot be had, a bundle to pick, a
// bundle that was written. They stand before the app's own page until they are left.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "model/result.h"
#include "screens/start_screen.h"

namespace slipway::native {

struct OwnPage {
  screens::NoticeView view;
  std::vector<std::function<void()>> keys;  // what each key of the view does
  bool may_leave = true;                    // by Escape
};

using Deed = std::function<void()>;

OwnPage page_of_trouble(const model::Error& why, Deed try_again);           // the store cannot be had
OwnPage page_of_refused_files(const std::vector<model::Error>& all, Deed back);
OwnPage page_of_handed_over(const std::string& path, Deed back);
// What could neither be kept nor written to that folder: the window holds the only copy.
OwnPage page_of_unkept(const std::string& folder, Deed try_again, Deed let_go);
OwnPage page_to_pick(const std::vector<std::string>& files, const std::function<void(const std::string&)>& take, Deed back);

// Bundles by their name's end, the newest first, few enough for one page.
std::vector<std::string> bundles_in(const std::vector<std::string>& folders);

}  // namespace slipway::native
