#include "screens/setup_screen.h"

#include "screens/parts.h"

namespace slipway::screens {

std::vector<SetupIntent> draw_setup_screen(Ui& ui, const SetupView& view) {
  std::vector<SetupIntent> out;
  const Box room = ui.room();
  const Box column = reading_column(ui, room);
  float y = room.y + metrics::kMargin;
  if (!view.back_words.empty()) {
    bool back = false;
    y += draw_back(ui, view.back_words, column.x, y, column.width, back) + metrics::kGap;
    if (back || ui.escape_pressed()) out.push_back(SetupBack{});
  }
  y += draw_place_head(ui, {.title = view.title, .line = view.line}, column.x, y, column.width) + metrics::kMargin;
  std::vector<FormAnswer> answers;
  draw_form(ui, view.parts, column.x, y, column.width, answers);
  for (FormAnswer& answer : answers) out.push_back(SetupAnswer{static_cast<Setting>(answer.id), answer.choice, std::move(answer.text)});
  return out;
}

}  // namespace slipway::screens
