// Keys: the coach's own, the coach this store seals to, and the devices that were met.
#include "answers.h"
#include "commands.h"
#include "report/recovery_sheet.h"
#include "report/words.h"
#include "whole_files.h"

namespace slipway::native {

namespace {

using report::say;

model::Result<KeysShown> shown(Desk& desk) {
  app::DeviceKeys& keys = desk.book().keys();
  const auto signing = keys.signing_key();
  return KeysShown{.device = desk.book().opening().device.hex(),
                   .digits = signing ? sync::compare_digits(signing->open.view()) : "",
                   .coach = keys.coach(),
                   .squad = keys.squad(),
                   .known = keys.known()};
}

int answer_shown(Desk& desk) {
  const auto all = shown(desk);
  if (!all) return desk.refuse(all.error());
  return desk.answer(json::keys(*all), words::keys(*all));
}

int answer_written(Desk& desk, const std::string& path, model::ByteView bytes, const char* text) {
  const auto written = desk.write_out(path, bytes, desk.request().replace ? IfThere::replace : IfThere::refuse);
  if (!written) return desk.refuse(written.error());
  return desk.answer(json::file_written(path), say(text, {path}) + "\n");
}

}  // namespace

model::Result<std::string> asked_passphrase(const Request& asked) {
  if (asked.passphrase_file.empty()) return std::string();
  return first_line_of(asked.passphrase_file);
}

model::Result<std::string> first_line_of(const std::string& file) {
  const auto bytes = read_whole(file);
  if (!bytes) return bytes.error();
  const std::string_view text = model::as_text(*bytes);
  const std::string first(text.substr(0, text.find_first_of("\r\n")));
  if (first.empty()) return model::error(model::ErrorKind::invalid, "cli.passphrase_empty", {file});
  return first;
}

int run_key_make(Desk& desk) {
  const Request& asked = desk.request();
  const auto passphrase = asked_passphrase(asked);
  if (!passphrase) return desk.refuse(passphrase.error());
  if (const auto opened = desk.open(IfNoStore::begin_one); !opened) return desk.refuse(opened.error());
  const auto made = desk.book().keys().make_coach_key(asked.name, *passphrase, asked.replace);
  if (!made) return desk.refuse(made.error());
  return answer_shown(desk);
}

int run_key_show(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  return answer_shown(desk);
}

int run_key_sheet(Desk& desk) {
  const Request& asked = desk.request();
  const auto passphrase = asked_passphrase(asked);
  if (!passphrase) return desk.refuse(passphrase.error());
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  app::DeviceKeys& keys = desk.book().keys();
  if (!passphrase->empty())
    if (const auto unlocked = keys.unlock_coach_key(*passphrase); !unlocked) return desk.refuse(unlocked.error());
  const auto lines = keys.recovery_lines();
  if (!lines) return desk.refuse(lines.error());
  const auto coach = keys.coach();
  const report::RecoverySheet sheet{coach->name, model::iso(model::day_of(desk.book().now())), sync::compare_digits(coach->open.view()), *lines};
  const std::string paper = asked.out.ends_with(".html") ? report::recovery_sheet_page(sheet) : report::recovery_sheet_text(sheet);
  return answer_written(desk, asked.out, model::as_bytes(paper), "cli.said_sheet");
}

int run_key_recover(Desk& desk) {
  const Request& asked = desk.request();
  const auto passphrase = asked_passphrase(asked);
  if (!passphrase) return desk.refuse(passphrase.error());
  const auto sheet = read_whole(asked.files.front());
  if (!sheet) return desk.refuse(sheet.error());
  if (model::as_text(*sheet).starts_with("<")) return desk.refuse(model::error(model::ErrorKind::invalid, "cli.key_sheet_page", {asked.files.front()}));
  if (const auto opened = desk.open(IfNoStore::begin_one); !opened) return desk.refuse(opened.error());
  const auto done = desk.book().keys().recover_coach_key(model::as_text(*sheet), asked.name, *passphrase, asked.replace);
  if (!done) return desk.refuse(done.error());
  return answer_shown(desk);
}

int run_key_squad(Desk& desk) {
  const Request& asked = desk.request();
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto file = desk.book().keys().squad_file();
  if (!file) return desk.refuse(file.error());
  const std::string armoured = asked.text ? sync::armour(*file) : "";
  return answer_written(desk, asked.out, asked.text ? model::as_bytes(armoured) : model::ByteView(*file), "cli.said_squad");
}

int run_key_leave(Desk& desk) {
  if (const auto opened = desk.open(IfNoStore::refuse); !opened) return desk.refuse(opened.error());
  const auto before = shown(desk);
  if (!before) return desk.refuse(before.error());
  const auto left = desk.book().keys().leave_squad();
  if (!left) return desk.refuse(left.error());
  const auto after = shown(desk);
  if (!after) return desk.refuse(after.error());
  const std::string said = before->squad ? say("cli.said_left", {before->squad->coach}) : say("cli.said_no_squad");
  return desk.answer(json::keys(*after), said + "\n" + words::keys(*after));
}

}  // namespace slipway::native
