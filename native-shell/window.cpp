#include "window.h"

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <iterator>
#include <utility>

#include "app/app.h"
#include "own_pages.h"
#include "places.h"
#include "posix_host.h"
#include "report/words.h"
#include "screens/app_screen.h"
#include "store/forgetting_files.h"
#include "store_place.h"
#include "surface.h"
#include "tree_lines.h"
#include "whole_files.h"
#include "window_place.h"

namespace slipway::native {

namespace {

using report::say;

constexpr int kCopiesMost = 99;              // of one name in a folder
constexpr int kRoundsMost = 8;               // intents that lead to intents: more would be a bug
constexpr float kLongestPause = 0.25F;       // seconds a frame may count at most: a sleep is no motion
constexpr std::uint64_t kIdleAfterMs = 3000; // nothing asked for this long: time to tidy the store

class Window : public host::Exchange {
 public:
  Window(const Request& request, std::optional<model::ClaimedTime> moment)
      : request_(request), clock_(moment), app_(clock_, random_, *this) {}
  int run(const WindowPlace& place);

  void hand_over(std::string_view file_name, std::span<const std::uint8_t> bytes) override;
  void ask_for_file() override;
  void take_over() override { open_store(); }
  void open_again() override { open_store(); }
  void look_around() override { look_around_ = true; }
  void ask_to_persist() override { app_.persisted(app::Persisted::granted); }  // a disk is not cleared by a browser
  void signal(bool, bool) override {}  // the desk has the clock in sight
  void stay_awake(bool) override {}    // and a screen that its owner has set as they like it

 private:
  void open_store();
  void open_demo();
  void take_in(const std::vector<std::string>& paths);
  void take_in_waiting();
  void heed(Happened happened);
  void frame();
  model::Tree settle();
  void act(std::vector<screens::Intent> intents, std::vector<screens::PressKey> presses);
  std::uint32_t wait_ms();
  void leave() { page_.reset(); }
  bool may_end();
  std::string out_folder() const;
  void remember();

  const Request& request_;
  PosixClock clock_;
  PosixRandom random_;
  std::optional<StorePlace> place_;  // outlives the app's book
  store::ForgettingFiles demo_files_;
  app::App app_;
  screens::Stage stage_;
  std::unique_ptr<Surface> surface_;

  screens::FrameInput input_;
  std::vector<std::string> files_;   // to be taken in once a store is open
  std::optional<OwnPage> page_;      // before the app's page
  bool leaves_ = false;              // Escape was pressed before it
  bool told_ = true;                 // something came since the last frame
  bool look_around_ = false, demo_ = false;
  bool not_out_ = false;             // the file that was handed over could not be written
  bool let_go_ = false;              // of what could not be kept anywhere: closed all the same
  std::uint64_t last_frame_ms_ = 0, frames_ = 0;
  std::uint64_t moves_at_ms_ = 0;    // something moves: draw again then; 0: still water
  std::uint64_t idle_at_ms_ = 0;     // 0: tidied since the last entry
  int code_ = kDone;
};

void Window::open_store() {
  page_.reset();
  app_.close();
  place_.reset();
  told_ = true;
  auto place = StorePlace::take(request_.store, IfNoStore::begin_one, random_);
  if (!place) {
    page_ = page_of_trouble(place.error(), [this] { open_store(); });
    return;
  }
  place_.emplace(std::move(*place));
  app_.open(place_->files(), place_->tokens(), {.storage_kept = true, .demo = false, .author = request_.author});
  if (app_.book() == nullptr) return;  // the app says so itself
  ask_to_persist();
  if (const auto settled = place_->opened(app_.book()->opening()); !settled) page_ = page_of_trouble(settled.error(), [this] { open_store(); });
  if (!page_) take_in_waiting();
}

// What was named or dropped while no store was open waits for one.
void Window::take_in_waiting() {
  if (app_.book() != nullptr) take_in(std::exchange(files_, {}));
}

void Window::open_demo() {
  app_.close();
  place_.reset();
  demo_ = true;
  store::OpenTokens tokens;
  random_.fill(tokens.fresh.bytes);
  app_.open(demo_files_, tokens, {.storage_kept = false, .demo = true, .author = request_.author});
  told_ = true;
}

// "a.slip.txt", 2: "a-2.slip.txt".
std::string numbered(std::string_view file_name, int nth) {
  const std::size_t dot = std::min(file_name.find('.'), file_name.size());
  return std::string(file_name.substr(0, dot)) + "-" + std::to_string(nth) + std::string(file_name.substr(dot));
}

std::string Window::out_folder() const {
  if (const auto downloads = downloads_folder()) return *downloads;
  return (place_ ? place_->folder() : data_folder()) + "/out";
}

void Window::hand_over(std::string_view file_name, std::span<const std::uint8_t> bytes) {
  const std::string folder = out_folder();
  std::string path = folder + "/" + std::string(file_name);
  const auto back = [this] { leave(); };
  auto written = make_folder(folder);
  // What is there may be the only copy of somebody who was erased since: never overwritten.
  if (written) written = write_whole(path, bytes, IfThere::refuse);
  for (int nth = 2; !written && written.error().text == "cli.file_there" && nth <= kCopiesMost; ++nth) {
    path = folder + "/" + numbered(file_name, nth);
    written = write_whole(path, bytes, IfThere::refuse);
  }
  not_out_ = !written;  // the app is told when it has noted that it went out
  page_ = written ? page_of_handed_over(path, back) : page_of_refused_files({written.error()}, back);
}

void Window::ask_for_file() {
  page_ = page_to_pick(bundles_in({out_folder(), "."}), [this](const std::string& file) { take_in({file}); }, [this] { leave(); });
}

void Window::take_in(const std::vector<std::string>& paths) {
  if (paths.empty()) return;
  page_.reset();
  told_ = true;
  idle_at_ms_ = clock_.monotonic_ms() + kIdleAfterMs;
  std::vector<model::Error> unread;
  for (const std::string& path : paths) {
    const auto bytes = read_whole(path);
    if (bytes) app_.take_in(file_name_of(path), *bytes);
    else unread.push_back(bytes.error());
  }
  if (!unread.empty()) page_ = page_of_refused_files(unread, [this] { leave(); });
}

void Window::heed(Happened happened) {
  if (happened.moved) idle_at_ms_ = clock_.monotonic_ms() + kIdleAfterMs;
  if (!happened.anything) return;
  told_ = true;
  if (happened.key || happened.pointer) input_.show_focus = happened.key;
  if (happened.escape && page_ && page_->may_leave) leaves_ = true;
  if (happened.undo && !page_) app_.undo_last();
  if (happened.open && !page_ && app_.book() != nullptr) ask_for_file();
  files_.insert(files_.end(), happened.dropped.begin(), happened.dropped.end());
  take_in_waiting();
}

// One frame, and again while intents change what is to be seen.
model::Tree Window::settle() {
  model::Tree tree;
  for (int round = 0; round < kRoundsMost; ++round) {
    std::vector<screens::Intent> intents;
    std::vector<screens::PressKey> presses;
    const screens::AppView& view = app_.view();
    tree = stage_.frame(input_, [&](screens::Ui& ui) {
      if (page_) {
        auto more = screens::draw_notice_screen(ui, page_->view);
        std::move(more.begin(), more.end(), std::back_inserter(presses));
        return;
      }
      auto more = screens::draw_app_screen(ui, view);
      std::move(more.begin(), more.end(), std::back_inserter(intents));
    });
    input_.seconds_since_last = 0;
    const bool acted = !intents.empty() || !presses.empty();
    act(std::move(intents), std::move(presses));
    if (!app_.wants_draw() && !acted) break;
  }
  return tree;
}

void Window::act(std::vector<screens::Intent> intents, std::vector<screens::PressKey> presses) {
  if (!intents.empty()) idle_at_ms_ = clock_.monotonic_ms() + kIdleAfterMs;
  for (const screens::Intent& intent : intents) app_.act(intent);
  for (const screens::PressKey& press : presses) {
    if (!page_ || press.key >= page_->keys.size()) break;
    const Deed deed = page_->keys[press.key];  // it may put another page here
    deed();
  }
  if (std::exchange(not_out_, false)) app_.not_handed_over();
  if (std::exchange(look_around_, false)) open_demo();
}

void Window::frame() {
  const SurfaceSize size = surface_->size();
  const std::uint64_t now = clock_.monotonic_ms();
  if (size.width != input_.width || size.height != input_.height) idle_at_ms_ = clock_.monotonic_ms() + kIdleAfterMs;
  input_.width = size.width;
  input_.height = size.height;
  input_.pixel_ratio = size.pixel_ratio;
  input_.seconds_since_last = std::min(static_cast<float>(now - last_frame_ms_) / 1000, kLongestPause);
  last_frame_ms_ = now;
  told_ = false;
  app_.wants_draw();
  if (request_.window.theme.empty()) input_.theme = app_.theme(screens::ThemeName::daylight);
  if (request_.window.text_percent == 0) input_.text_scale = app_.text_scale(1);
  surface_->begin_frame();
  const model::Tree tree = settle();
  if (std::exchange(leaves_, false)) {  // only now: the app's own page below would hear the same key
    leave();
    told_ = true;
  }
  surface_->draw(input_.theme);
  ++frames_;
  const std::uint32_t moves_in = stage_.wants_frame_in_ms();
  moves_at_ms_ = moves_in == 0 ? 0 : now + moves_in;
  if (request_.window.say) std::cout << tree_lines(tree, frames_) << std::flush;
  if (!request_.window.shot.empty() && moves_at_ms_ == 0) {
    const auto written = write_whole(request_.window.shot, surface_->picture(), IfThere::replace);
    if (!written) {
      std::cerr << "slipway: " << say(written.error()) << "\n";
      code_ = kStorageTrouble;
    }
    surface_->close();
  }
  surface_->show();
}

// Until the app, something that moves or the idle work wants a turn; 0: until a hand or key does.
std::uint32_t Window::wait_ms() {
  const std::uint64_t now = clock_.monotonic_ms();
  std::uint64_t wait = app_.next_wake_ms();
  for (const std::uint64_t at : {moves_at_ms_, idle_at_ms_}) {
    if (at == 0) continue;
    const std::uint64_t left = at > now ? at - now : 1;
    wait = wait == 0 ? left : std::min(wait, left);
  }
  return static_cast<std::uint32_t>(wait);
}

void Window::remember() {
  if (request_.window.size.empty()) remember_place({surface_->size(), surface_->spot()});  // not what was asked for once
}

// What could not be kept is tried once more, then it leaves as a file. Where that is refused too the window holds the only copy, and
// stays till there is room or its user lets it go.
bool Window::may_end() {
  app_.hide();
  const bool rescued = app_.rescue();
  const bool out = rescued && !std::exchange(not_out_, false);
  if (rescued && !out) app_.not_handed_over();
  const bool kept = app_.book() == nullptr || app_.book()->waiting() == 0;
  if (kept || out || let_go_) {
    if (!kept) std::cerr << "slipway: " << say(out ? "desktop.rescued" : "desktop.not_rescued", {out_folder()}) << "\n";
    if (!kept) code_ = kStorageTrouble;
    return true;
  }
  page_ = page_of_unkept(out_folder(), [this] { surface_->close(); }, [this] {
    let_go_ = true;
    surface_->close();
  });
  surface_->stay();
  told_ = true;
  return false;
}

int Window::run(const WindowPlace& place) {
  std::string why;
  surface_ = Surface::open(place.size, place.at, why);
  if (!surface_) {
    std::cerr << "slipway: " << say("cli.no_window", {why}) << "\n";
    return kStorageTrouble;
  }
  input_.backend_draws = true;
  input_.theme = request_.window.theme == "night" ? screens::ThemeName::night : screens::ThemeName::daylight;
  if (request_.window.text_percent != 0) input_.text_scale = static_cast<float>(request_.window.text_percent) / 100;
  open_store();
  files_ = request_.files;
  take_in_waiting();
  while (!surface_->closing() || !may_end()) {
    if (told_ || app_.wants_draw()) frame();
    if (surface_->closing()) continue;
    heed(surface_->wait(wait_ms()));
    app_.tick();
    const std::uint64_t now = clock_.monotonic_ms();
    if (moves_at_ms_ != 0 && now >= moves_at_ms_) told_ = true;
    if (idle_at_ms_ != 0 && now >= idle_at_ms_) {
      idle_at_ms_ = 0;
      app_.idle();
      std::error_code none;
      if (const auto space = std::filesystem::space(place_ ? place_->folder() : data_folder(), none); !none) app_.room_left(space.available);
      remember();  // a program may also be ended from outside
    }
  }
  app_.close();
  remember();
  surface_.reset();
  return code_;
}

}  // namespace

int run_window(const Request& request) {
  WindowPlace place;
  std::optional<model::ClaimedTime> moment;
  const auto refuse = [](const model::Error& why) {
    std::cerr << "slipway: " << say(why) << "\n";
    return kWrongUse;
  };
  if (request.window.size.empty()) place = remembered_place();
  else if (!read_size(request.window.size, place.size)) return refuse(model::error(model::ErrorKind::invalid, "cli.size_unreadable", {request.window.size}));
  if (!request.at.empty()) {
    const auto read = read_moment(request.at);
    if (!read) return refuse(read.error());
    moment = *read;
  }
  Window window(request, moment);
  return window.run(place);
}

}  // namespace slipway::native
