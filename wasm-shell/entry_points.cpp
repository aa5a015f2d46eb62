// What worker.js calls. One Shell lives as long as the worker.
#include <emscripten.h>

#include <memory>

#include "browser_files.h"
#include "report/words.h"
#include "shell.h"
#include "store/forgetting_files.h"

namespace {

using namespace slipway;

std::unique_ptr<web::Shell> shell;

model::NodeId node_id(std::uint32_t high, std::uint32_t low) { return (static_cast<model::NodeId>(high) << 32) | low; }

// passing: pages that perhaps go with the window.
enum class Place : std::int32_t { kept = 0, memory = 1, busy = 2, no_permission = 3, failed = 4, full = 5, pages = 6, passing = 7 };

std::unique_ptr<host::Files> files_at(Place place) {
  const auto refused = [](host::IoStatus why) { return std::make_unique<web::BrowserFiles>(web::Shelf::main, why); };
  switch (place) {
    case Place::kept:
    case Place::pages:
    case Place::passing: return std::make_unique<web::BrowserFiles>();
    case Place::memory: return std::make_unique<store::ForgettingFiles>();
    case Place::busy: return refused(host::IoStatus::busy);
    case Place::no_permission: return refused(host::IoStatus::no_permission);
    case Place::full: return refused(host::IoStatus::full);
    case Place::failed: break;
  }
  return refused(host::IoStatus::failed);
}

}  // namespace

#define SLIPWAY_CALL extern "C" EMSCRIPTEN_KEEPALIVE

SLIPWAY_CALL bool slipway_start(bool draws) {
  shell = std::make_unique<web::Shell>(draws);
  return shell->draws();
}

// Tokens are 16 bytes each; `found` is null if the second place held none.
SLIPWAY_CALL void slipway_open(std::int32_t place, const std::uint8_t* found, const std::uint8_t* fresh) {
  constexpr std::size_t kTokenBytes = 16;
  store::OpenTokens tokens;
  tokens.fresh = model::Token16::from({fresh, kTokenBytes});
  if (found != nullptr) tokens.found_outside = model::Token16::from({found, kTokenBytes});
  const auto where = static_cast<Place>(place);
  shell->open(files_at(where), tokens, {.storage_kept = where != Place::memory && where != Place::passing});
}

// Takes what lies in an older place beside this store into it. True: all of it is kept here now.
SLIPWAY_CALL bool slipway_take_in_beside() {
  web::BrowserFiles beside(web::Shelf::beside);
  return shell->app().take_in_from_beside(beside);
}

// A newer store: it is looked at, and nothing in it is written.
SLIPWAY_CALL bool slipway_only_looks() {
  const app::Book* book = shell->app().book();
  return book != nullptr && book->opening().read_only;
}

SLIPWAY_CALL void slipway_settled() { shell->app().settled(); }
SLIPWAY_CALL void slipway_look_around() { shell->look_around(); }
SLIPWAY_CALL void slipway_close() { shell->close(); }
SLIPWAY_CALL void slipway_open_elsewhere() { shell->app().open_elsewhere(); }
SLIPWAY_CALL void slipway_taken_over() {
  shell->app().rescue();
  shell->close();
  shell->app().taken_over();
}

SLIPWAY_CALL void slipway_surface(float width, float height, float pixel_ratio, float top, float right, float bottom, float left,
                                  float text_scale) {
  shell->surface({width, height, pixel_ratio, top, right, bottom, left, text_scale});
}

SLIPWAY_CALL void slipway_look(std::int32_t theme, bool reduced_motion) {
  shell->look({static_cast<screens::ThemeName>(theme), reduced_motion});
}

SLIPWAY_CALL void slipway_hidden(bool hidden) {
  if (hidden) shell->app().hide();
  shell->hidden(hidden);
}

SLIPWAY_CALL void slipway_act(std::uint32_t high, std::uint32_t low, std::int32_t kind, const char* value, std::size_t size,
                              bool by_pointer) {
  shell->act({node_id(high, low), static_cast<model::ActionKind>(kind), std::string(value, size)}, by_pointer);
}

SLIPWAY_CALL void slipway_focus(std::uint32_t high, std::uint32_t low, bool by_key) { shell->focus(node_id(high, low), by_key); }
SLIPWAY_CALL void slipway_pointer(std::int32_t move, float x, float y) { shell->pointer(static_cast<web::PointerMove>(move), x, y); }
SLIPWAY_CALL void slipway_key(std::int32_t key, bool control) { shell->key(static_cast<web::ShellKey>(key), control); }
SLIPWAY_CALL void slipway_scroll(std::uint32_t high, std::uint32_t low, float y) { shell->scroll(node_id(high, low), y); }
SLIPWAY_CALL void slipway_undo() { shell->app().undo_last(); }

SLIPWAY_CALL void slipway_take_in(const char* name, std::size_t name_size, const std::uint8_t* bytes, std::size_t size) {
  shell->app().take_in(std::string(name, name_size), {bytes, size});
}

// The browser could not read it, or it is larger than any bundle.
SLIPWAY_CALL void slipway_not_read(const char* name, std::size_t name_size, bool is_large) {
  const std::string file(name, name_size);
  shell->app().not_read(file, is_large ? model::error(model::ErrorKind::too_large, "file.too_large", {file}) : model::error(model::ErrorKind::io, "file.unreadable", {file}));
}
SLIPWAY_CALL std::uint32_t slipway_unkept() {
  const app::Book* book = shell->app().book();
  return book == nullptr || book->saving() ? 0 : static_cast<std::uint32_t>(book->waiting());
}
SLIPWAY_CALL void slipway_not_handed_over() { shell->app().not_handed_over(); }
// 1: granted, 2: not, 3: cleared after a week (app::Persisted).
SLIPWAY_CALL void slipway_persisted(int answer) {
  if (answer >= 1 && answer <= 3) shell->app().persisted(static_cast<app::Persisted>(answer));
}
SLIPWAY_CALL void slipway_room_left(double bytes) { shell->app().room_left(bytes > 0 ? static_cast<std::uint64_t>(bytes) : 0); }
SLIPWAY_CALL void slipway_tick() { shell->app().tick(); }
SLIPWAY_CALL void slipway_idle() { shell->app().idle(); }
SLIPWAY_CALL void slipway_context_restored() { shell->context_restored(); }

SLIPWAY_CALL bool slipway_wants_frame() { return shell->wants_frame(); }
SLIPWAY_CALL std::uint32_t slipway_frame() {
  shell->frame();
  return shell->frames();
}
SLIPWAY_CALL std::uint32_t slipway_moves_in_ms() { return shell->moves_in_ms(); }
SLIPWAY_CALL std::uint32_t slipway_wakes_in_ms() { return shell->app().next_wake_ms(); }

// For tests: how many sets are held, of everybody.
SLIPWAY_CALL std::uint32_t slipway_sets() {
  std::size_t count = 0;
  if (app::Book* book = shell->app().book())
    for (const model::ScopeId& scope : book->scopes())
      for (const model::Session& session : book->athlete(scope).sessions) count += session.sets.size();
  return static_cast<std::uint32_t>(count);
}

// For tests: what a whole check finds, in words; empty: sound.
SLIPWAY_CALL const char* slipway_findings() {
  static std::string text;
  text.clear();
  app::Book* book = shell->app().book();
  const auto checked = book ? book->check() : model::Result<app::CheckReport>(model::Error{});
  if (!checked) text = "no check";
  if (checked)
    for (const model::Error& finding : checked->findings) text += report::say(finding) + "\n";
  return text.c_str();
}

// For tests: the two digests in hex, a space between; empty while no store is open.
SLIPWAY_CALL const char* slipway_digests() {
  static std::string text;
  text.clear();
  if (app::Book* book = shell->app().book()) {
    const app::Digests digests = book->digests();
    text = digests.ops.hex() + " " + digests.views.hex();
  }
  return text.c_str();
}
