// compute and decide: questions in JSON, on the command line or a line each on standard input; no store is opened.
#include <iostream>

#include "answers.h"
#include "commands.h"
#include "report/words.h"

namespace slipway::native {

namespace {

constexpr std::size_t kMostLineBytes = 4U << 20;  // a question of a whole season is far below it

using Solve = model::Result<std::string> (*)(const Request&, std::string_view);

// Answers keep the order of the questions, one line each; a bad line is answered as such and stops nobody.
int answer_lines(const Request& request, Solve solve) {
  int code = kDone;
  std::uint64_t number = 0;
  for (std::string line; std::getline(std::cin, line);) {
    number += 1;
    if (line.find_first_not_of(" \t\r") == std::string::npos) continue;
    const auto solved = line.size() <= kMostLineBytes
                            ? solve(request, line)
                            : model::Result<std::string>(model::error(model::ErrorKind::too_large, "ask.line_long", {std::to_string(kMostLineBytes)}));
    if (!solved) code = kBadInput;
    std::cout << (solved ? *solved : json::failed_line(solved.error(), number)) << "\n";
    if (!std::cout) break;
  }
  std::cout.flush();
  if (std::cout) return code;
  std::cerr << "slipway: " << report::say("cli.no_output") << "\n";
  return kStorageTrouble;
}

int answer_one(Desk& desk, Solve solve) {
  const auto solved = solve(desk.request(), desk.request().value);
  if (!solved) return desk.refuse(solved.error());
  return desk.answer(*solved, *solved + "\n");
}

int run(Desk& desk, Solve solve) { return desk.request().value.empty() ? answer_lines(desk.request(), solve) : answer_one(desk, solve); }

}  // namespace

int run_compute(Desk& desk) {
  return run(desk, [](const Request& request, std::string_view input) { return json::computed(request.name, input); });
}

int run_decide(Desk& desk) {
  return run(desk, [](const Request&, std::string_view input) { return json::decided(input); });
}

}  // namespace slipway::native
