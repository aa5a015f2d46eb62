// A device of the made-up squad: its own files, clock, chance and open token, with an
// app or a bare book on it. Devices meet by bundles only.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "app/app.h"
#include "app/book.h"
#include "host/exchange.h"
#include "kit/fixed_clock.h"
#include "kit/fixed_random.h"
#include "kit/plain_files.h"
#include "report/words.h"

namespace slipway::kit {

class NotedExchange : public host::Exchange {
 public:
  struct Handed {
    std::string file_name;
    model::Bytes bytes;
  };
  std::vector<Handed> handed;
  int asked_for_file = 0, took_over = 0, opened_again = 0, looked_around = 0, asked_to_persist = 0, signals = 0;
  int beeps = 0, buzzes = 0;
  bool awake = false;

  void hand_over(std::string_view file_name, std::span<const std::uint8_t> bytes) override {
    handed.push_back({std::string(file_name), {bytes.begin(), bytes.end()}});
  }
  void ask_for_file() override { asked_for_file += 1; }
  void take_over() override { took_over += 1; }
  void open_again() override { opened_again += 1; }
  void look_around() override { looked_around += 1; }
  void ask_to_persist() override { asked_to_persist += 1; }
  void signal(bool beep, bool buzz) override {
    signals += 1;
    beeps += beep ? 1 : 0;
    buzzes += buzz ? 1 : 0;
  }
  void stay_awake(bool wanted) override { awake = wanted; }
};

class SquadDevice {
 public:
  explicit SquadDevice(std::uint64_t seed) : random(seed), app(clock, random, exchange) {}

  PlainFiles files;
  FixedClock clock;
  FixedRandom random;
  NotedExchange exchange;
  app::App app;

  // As a shell does: the fresh token goes to the second place first, then the store is opened.
  store::OpenTokens next_tokens() {
    store::OpenTokens tokens;
    tokens.found_outside = token_outside_;
    random.fill(tokens.fresh.bytes);
    token_outside_ = tokens.fresh;
    return tokens;
  }
  void open_app(const app::OpenFacts& facts = {}) { app.open(files, next_tokens(), facts); }

  app::Book& book() {
    if (!book_) {
      auto opened = app::Book::open({files, clock, random}, next_tokens());
      if (!opened) throw report::say(opened.error());
      book_ = std::move(*opened);
    }
    return *book_;
  }
  void close_book() { book_.reset(); }  // the program is gone; the files stay
  void lose_token() { token_outside_.reset(); }
  void adopt_token_of(const SquadDevice& other) { token_outside_ = other.token_outside_; }  // a copy of the whole machine

 private:
  std::optional<model::Token16> token_outside_;
  std::unique_ptr<app::Book> book_;
};

}  // namespace slipway::kit
