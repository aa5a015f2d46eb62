// Slipway on the desktop: a window, or one command.
#include <csignal>

#include "command_line.h"
#include "commands.h"
#include "window.h"

int main(int count, char** words) {
  using namespace slipway::native;
  // A reader that closes the pipe early is an answer that could not be given, not a killed program.
  std::signal(SIGPIPE, SIG_IGN);
  // A limit on file sizes is a full storage, said in words.
  std::signal(SIGXFSZ, SIG_IGN);
  const auto read = read_command_line(count, words);
  if (const int* code = std::get_if<int>(&read)) return *code;
  const Request& request = std::get<Request>(read);
  return request.command == Command::window ? run_window(request) : run_command(request);
}
