#include "own_pages.h"

#include <algorithm>
#include <filesystem>
#include <set>

#include "report/words.h"
#include "whole_files.h"

namespace slipway::native {

namespace {

namespace fs = std::filesystem;
using report::say;

constexpr std::size_t kShownFiles = 5;  // as many keys as fit a small page with its words

void add_key(OwnPage& page, std::string words, bool main, Deed deed) {
  page.view.keys.push_back({std::move(words), main});
  page.keys.push_back(std::move(deed));
}

}  // namespace

OwnPage page_of_trouble(const model::Error& why, Deed try_again) {
  OwnPage page;
  const bool busy = why.kind == model::ErrorKind::busy;
  page.view.title = say(busy ? "desktop.busy_title" : "notice.broken_title");
  page.view.paragraphs = {say(why), say("desktop.untouched")};
  page.view.trouble = !busy;
  page.may_leave = false;
  add_key(page, say("notice.try_again"), true, std::move(try_again));
  return page;
}

OwnPage page_of_refused_files(const std::vector<model::Error>& all, Deed back) {
  OwnPage page;
  page.view.title = say("desktop.file_title");
  for (const model::Error& why : all) page.view.paragraphs.push_back(say(why));
  page.view.trouble = true;
  add_key(page, say("desktop.back"), true, std::move(back));
  return page;
}

OwnPage page_of_unkept(const std::string& folder, Deed try_again, Deed let_go) {
  OwnPage page;
  page.view.title = say("desktop.unkept_title");
  page.view.paragraphs = {say("desktop.unkept_body", {folder}), say("desktop.unkept_remedy")};
  page.view.trouble = true;
  add_key(page, say("notice.try_again"), true, std::move(try_again));
  add_key(page, say("desktop.let_go"), false, std::move(let_go));
  return page;
}

OwnPage page_of_handed_over(const std::string& path, Deed back) {
  OwnPage page;
  page.view.title = say("desktop.out_title");
  page.view.paragraphs = {say("desktop.out_body", {file_name_of(path), folder_of(path)}), say("desktop.out_next")};
  add_key(page, say("desktop.back"), true, std::move(back));
  return page;
}

OwnPage page_to_pick(const std::vector<std::string>& files, const std::function<void(const std::string&)>& take, Deed back) {
  OwnPage page;
  page.view.title = say("desktop.pick_title");
  page.view.paragraphs = {say("desktop.pick_drop")};
  if (!files.empty()) page.view.paragraphs.push_back(say("desktop.pick_these"));
  for (const std::string& file : files) add_key(page, file_name_of(file), false, [take, file] { take(file); });
  add_key(page, say("desktop.back"), files.empty(), std::move(back));
  return page;
}

std::vector<std::string> bundles_in(const std::vector<std::string>& folders) {
  std::vector<std::pair<fs::file_time_type, std::string>> found;
  std::set<std::string> looked_in;
  for (const std::string& folder : folders) {
    if (!looked_in.insert(absolute(folder)).second) continue;
    std::error_code said;
    for (fs::directory_iterator at(folder, said), end; !said && at != end; at.increment(said)) {
      const std::string path = at->path().string();
      const bool copy = path.ends_with(".zip") && file_name_of(path).starts_with("slipway-");  // an export or a backup
      if (!path.ends_with(".slip") && !path.ends_with(".slip.txt") && !copy) continue;
      std::error_code unseen;
      const auto when = fs::last_write_time(at->path(), unseen);
      if (!unseen) found.emplace_back(when, path);
    }
  }
  std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first != b.first ? a.first > b.first : a.second < b.second; });
  if (found.size() > kShownFiles) found.resize(kShownFiles);
  std::vector<std::string> files;
  for (auto& [when, path] : found) files.push_back(std::move(path));
  return files;
}

}  // namespace slipway::native
