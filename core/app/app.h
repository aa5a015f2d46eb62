// The app behind both windows: intents in, views out.
//
// A shell makes one App, opens a store with it (or says why it can not), and from then
// on runs frames: view() -> screens draw it -> act() for each intent. Time enters by
// tick(); nothing here draws, blocks or starts threads.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/book.h"
#include "host/clock.h"
#include "host/exchange.h"
#include "host/random.h"
#include "screens/app_screen.h"
#include "screens/theme.h"

namespace slipway::app {

inline constexpr std::uint64_t kDeafMs = 700;  // after a log the main key is deaf [design: wet screen, our judgement]
inline constexpr std::uint64_t kLittleRoomMiB = 20;  // sync-and-storage 9

struct OpenFacts {
  bool storage_kept = true;   // false: memory only, this window forgets
  bool demo = false;          // the made-up squad is put into an empty store
  Author author = Author::swimmer;
};

// What the browser says of clearing the storage. a_week: it clears what a page keeps after seven days without a visit.
enum class Persisted : std::uint8_t { unknown, granted, refused, a_week };

class App {
 public:
  App(host::Clock& clock, host::Random& random, host::Exchange& exchange);
  ~App();

  // Opens the store over these files, which outlive it. A failure becomes a notice.
  void open(host::Files& files, const store::OpenTokens& tokens, const OpenFacts& facts);
  void close();            // lets go of the files: taken over, page hidden for good
  void open_elsewhere();   // another window holds the store
  void taken_over();       // another window has just taken it

  // Before the store is let go for good: what it has not kept is tried once more and leaves as a file if it is refused again.
  // True: such a file went out.
  bool rescue();

  void take_in(const std::string& file_name, model::ByteView file);
  void not_read(const std::string& file_name, const model::Error& why);  // the outside has no bytes of it: told as a refused file
  // Takes over a store in an older place of this browser: entries of every kind, keys, PINs and settings. True: nothing
  // would be lost with that place.
  bool take_in_from_beside(host::Files& older);
  void not_handed_over();  // the file just handed to the outside did not leave: a share sheet closed, a folder that is full
  void settled();          // a storage that answers later has answered
  void persisted(Persisted answer);
  void room_left(std::uint64_t bytes);  // on the storage, where the outside knows; under kLittleRoomMiB it is said
  void hide();             // the page goes out of sight: the draft is saved
  void tick();             // time has passed: next_wake_ms() ran out, or the page is back
  void idle();             // nothing to do for a while: chunks are folded, derived state saved
  void undo_last();        // Ctrl+Z: takes back the last kept entry
  void escape();           // Escape: closes the open change

  // How this device wants to look, where it was set; else as the system says. Forced colours win.
  screens::ThemeName theme(screens::ThemeName of_the_system);
  float text_scale(float of_the_system);

  const screens::AppView& view();
  void act(const screens::Intent& intent);

  // The view changed since this was last asked.
  bool wants_draw();
  // Milliseconds until tick() must be called; 0: not until something happens.
  std::uint32_t next_wake_ms();

  Book* book() { return book_.get(); }  // for shells' checks and tests

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
  std::unique_ptr<Book> book_;
};

}  // namespace slipway::app
