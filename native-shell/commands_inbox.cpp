// A folder that bundles arrive in: a shared drive, a memory stick. What is new there is taken in, each
// file on its own; nothing in the folder is moved, changed or deleted.
#include <csignal>
#include <ctime>
#include <filesystem>
#include <functional>
#include <iostream>
#include <map>
#include <utility>

#include "report/words.h"
#include "taking_in.h"

namespace slipway::native {

namespace {

namespace fs = std::filesystem;

constexpr std::time_t kLookEverySeconds = 2;

volatile std::sig_atomic_t told_to_end = 0;
void end_soon(int) { told_to_end = 1; }

struct Seen {  // a file as it stood at a look
  std::uintmax_t bytes = 0;
  fs::file_time_type changed = {};
  friend bool operator==(const Seen&, const Seen&) = default;
};
using Look = std::map<std::string, Seen>;  // by path, so in the order of names

bool is_bundle_name(const std::string& name) { return !name.starts_with('.') && (name.ends_with(".slip") || name.ends_with(".slip.txt")); }

// The bundles in the folder itself; those below it are somebody's filing.
model::Result<Look> look_into(const std::string& folder) {
  Look found;
  std::error_code trouble;
  for (fs::directory_iterator at(folder, trouble), end; !trouble && at != end; at.increment(trouble)) {
    if (!is_bundle_name(at->path().filename().string())) continue;
    std::error_code gone;  // meanwhile: then it is not here
    if (!at->is_regular_file(gone) || gone) continue;
    const Seen seen{at->file_size(gone), at->last_write_time(gone)};
    if (!gone) found.emplace(at->path().string(), seen);
  }
  if (trouble) return model::error(model::ErrorKind::not_found, "cli.no_inbox", {folder});
  return found;
}

// With the store open.
int take_all(Desk& desk, const std::vector<std::string>& paths, const std::function<void(const MergedFile&)>& looked_at) {
  Merged merged;
  const auto wish = asked_wish(desk.request());
  if (!wish) return desk.refuse(wish.error());
  for (const std::string& path : paths) {
    merged.files.push_back(take_file(desk.book(), path, *wish));
    looked_at(merged.files.back());
    if (!desk.request().json) std::cout << words::merged_file(merged.files.back()) << std::flush;
  }
  return answer_taken(desk, std::move(merged));
}

// Of what lies in it: the same file is refused again. Else it may be read, or kept, at the next look.
bool is_for_good(const model::Error& why) {
  switch (why.kind) {
    case model::ErrorKind::io:
    case model::ErrorKind::full:
    case model::ErrorKind::busy:
    case model::ErrorKind::no_permission:
    case model::ErrorKind::not_found: return false;
    default: return true;
  }
}

void wait_a_little() {
  const timespec pause{kLookEverySeconds, 0};
  ::nanosleep(&pause, nullptr);  // a signal ends it early
}

// A file is taken in once it stood still between two looks: a copy that is still going on is not cut off. The store is
// held only while something is taken in, so that a window or another command may have it in between.
int watch(const Request& asked) {
  std::signal(SIGINT, end_soon);
  std::signal(SIGTERM, end_soon);
  const std::string& folder = asked.files.front();
  Look before, done;
  bool seen_once = false, said_busy = false;
  for (; told_to_end == 0; wait_a_little()) {
    const auto now = look_into(folder);
    if (!now && !seen_once) return Desk(asked).refuse(now.error());
    if (!now) continue;  // a stick that was pulled, a share that is away for a moment
    seen_once = true;
    std::vector<std::string> ready;
    for (const auto& [path, seen] : *now) {
      const auto earlier = before.find(path), taken = done.find(path);
      if (earlier != before.end() && earlier->second == seen && (taken == done.end() || !(taken->second == seen))) ready.push_back(path);
    }
    if (!ready.empty()) {
      Desk desk(asked);
      const auto opened = desk.open(IfNoStore::begin_one);
      if (!opened && opened.error().kind == model::ErrorKind::busy) {  // a window or another command has it: at the next look
        if (!std::exchange(said_busy, true)) std::cerr << "slipway: " << report::say("cli.inbox_waits") << "\n";
        continue;
      }
      if (!opened) return desk.refuse(opened.error());
      said_busy = false;
      std::size_t looked_at = 0;
      const int code = take_all(desk, ready, [&](const MergedFile& file) {
        ++looked_at;
        if (file.taken || is_for_good(file.why)) done[file.file] = now->at(file.file);
      });
      if (code == kStorageTrouble || looked_at == 0) return code;  // nothing was looked at: what was asked for can not be had
    }
    before = *now;
  }
  return kDone;
}

}  // namespace

int run_inbox(Desk& desk) {
  const Request& asked = desk.request();
  if (asked.watch) return watch(asked);
  const auto found = look_into(asked.files.front());
  if (!found) return desk.refuse(found.error());
  std::vector<std::string> paths;
  for (const auto& [path, seen] : *found) paths.push_back(path);
  if (paths.empty() && !asked.json) std::cout << report::say("cli.inbox_empty", {asked.files.front()}) << "\n";
  if (const auto opened = desk.open(IfNoStore::begin_one); !opened) return desk.refuse(opened.error());
  return take_all(desk, paths, [](const MergedFile&) {});
}

}  // namespace slipway::native
