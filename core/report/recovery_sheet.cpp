#include "report/recovery_sheet.h"

#include "report/words.h"

namespace slipway::report {

namespace {

std::string escaped(const std::string& text) {
  std::string out;
  for (const char sign : text) switch (sign) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      default: out += sign;
    }
  return out;
}

// A name may hold anything a person can type, also a line's end.
std::string on_one_line(std::string text) {
  for (char& sign : text)
    if (static_cast<unsigned char>(sign) < ' ') sign = ' ';
  return text;
}

std::vector<std::string> head(const RecoverySheet& sheet) {
  return {say("sheet.of", {on_one_line(sheet.coach), sheet.day}), say("sheet.digits", {sheet.digits}), say("sheet.opens"), say("sheet.keep")};
}
std::vector<std::string> foot() { return {say("sheet.how"), say("sheet.signs"), say("sheet.without")}; }

}  // namespace

std::string recovery_sheet_text(const RecoverySheet& sheet) {
  std::string text = "# " + say("sheet.title") + "\n#\n";
  for (const std::string& line : head(sheet)) text += "# " + line + "\n";
  text += "\n";
  for (const std::string& line : sheet.lines) text += line + "\n";
  text += "\n";
  for (const std::string& line : foot()) text += "# " + line + "\n";
  return text;
}

std::string recovery_sheet_page(const RecoverySheet& sheet) {
  std::string page =
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>" + escaped(say("sheet.title")) +
      "</title>\n<style>body{font:12pt sans-serif;max-width:40em;margin:2em auto}pre{font:16pt monospace;line-height:1.8}</style>\n</head>\n<body>\n<h1>" +
      escaped(say("sheet.title")) + "</h1>\n";
  for (const std::string& line : head(sheet)) page += "<p>" + escaped(line) + "</p>\n";
  page += "<pre>\n";
  for (const std::string& line : sheet.lines) page += escaped(line) + "\n";
  page += "</pre>\n";
  for (const std::string& line : foot()) page += "<p>" + escaped(line) + "</p>\n";
  return page + "</body>\n</html>\n";
}

}  // namespace slipway::report
