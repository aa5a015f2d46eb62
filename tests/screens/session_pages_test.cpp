// What holds on every page of the Session place at every width and text size.
#include <doctest/doctest.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "kit/session_views.h"

using namespace slipway;
using namespace slipway::screens;
using kit::NullWindow;
using kit::PageSize;
using model::Answers;
using model::Node;
using model::Role;

namespace {

constexpr float kScales[] = {1, 1.25F, 1.5F, 2};
constexpr float kSoftEdge = 1.5F;
const std::vector<PageSize> kSizes{{360, 640}, {360, 844}, {390, 844}, {430, 932}, {768, 1024}, {1024, 768}, {1440, 900}, {844, 390}};

template <class Check>
void on_session_pages(Check check) {
  const auto pages = kit::session_pages();
  for (const PageSize& size : kSizes)
    for (const float scale : kScales)
      for (const auto& page : pages) {
        CAPTURE(page.name);
        CAPTURE(size.width);
        CAPTURE(size.height);
        CAPTURE(scale);
        NullWindow window(size);
        window.input.text_scale = scale;
        check(window, page);
      }
}

// Of a node's scroll area, as it lies on the page.
model::Rect on_page(const model::Tree& tree, const Node& node) {
  model::Rect rect = node.rect;
  for (const auto& area : tree.areas)
    if (area.id == node.area) {
      rect.x += area.rect.x;
      rect.y += area.rect.y - area.scroll_y;
    }
  return rect;
}

bool inside(const model::Rect& small, const model::Rect& large) {
  return small.x >= large.x - kSoftEdge && small.y >= large.y - kSoftEdge && small.x + small.width <= large.x + large.width + kSoftEdge &&
         small.y + small.height <= large.y + large.height + kSoftEdge;
}

// The letters that are seen whole: upright rectangles with a piece of the font's picture in them.
std::vector<model::Rect> letters() {
  std::vector<model::Rect> found;
  for (const ImDrawList* list : ImGui::GetDrawData()->CmdLists)
    for (const ImDrawCmd& command : list->CmdBuffer) {
      const ImVec4& clip = command.ClipRect;
      const auto corner = [&](unsigned index) -> const ImDrawVert& { return list->VtxBuffer[static_cast<int>(command.VtxOffset) + list->IdxBuffer[static_cast<int>(index)]]; };
      for (unsigned i = command.IdxOffset; i + 2 < command.IdxOffset + command.ElemCount; i += 3) {
        const ImDrawVert& a = corner(i);
        const ImDrawVert& b = corner(i + 1);
        const ImDrawVert& c = corner(i + 2);
        const bool upright = a.pos.y == b.pos.y && b.pos.x == c.pos.x && b.pos.x > a.pos.x && c.pos.y > b.pos.y;
        const bool of_the_font = a.uv.y == b.uv.y && b.uv.x == c.uv.x && b.uv.x > a.uv.x && c.uv.y > b.uv.y;
        const model::Rect letter{a.pos.x, a.pos.y, c.pos.x - a.pos.x, c.pos.y - a.pos.y};
        const bool cut = a.pos.y < clip.y || c.pos.y > clip.w;  // at the head or foot of what scrolls
        if (upright && of_the_font && !cut) found.push_back(letter);
      }
    }
  return found;
}

bool holds_middle(const model::Rect& large, const model::Rect& small) {
  const float x = small.x + small.width / 2;
  const float y = small.y + small.height / 2;
  return x > large.x && x < large.x + large.width && y > large.y && y < large.y + large.height;
}

}  // namespace

TEST_CASE("every target of the Session place is at least 48 by 48 and clear of the others, at every width and text size") {
  on_session_pages([](NullWindow& window, const kit::NamedPage& page) {
    const auto tree = window.draw(page.view).tree;
    std::vector<Node> worked;
    std::copy_if(tree.nodes.begin(), tree.nodes.end(), std::back_inserter(worked), [](const Node& node) { return node.answers != Answers::nothing; });
    CHECK(worked.size() >= 2);
    for (std::size_t a = 0; a < worked.size(); ++a) {
      CAPTURE(worked[a].name);
      if (worked[a].rect.width < 48 || worked[a].rect.height < 48) FAIL_CHECK("too small: " << worked[a].rect.width << " by " << worked[a].rect.height);
      for (std::size_t b = a + 1; b < worked.size(); ++b) {
        const model::Rect one = worked[a].rect;
        const model::Rect other = worked[b].rect;
        const bool apart = one.x + one.width <= other.x + 0.01F || other.x + other.width <= one.x + 0.01F || one.y + one.height <= other.y + 0.01F ||
                           other.y + other.height <= one.y + 0.01F;
        if (worked[a].area == worked[b].area && !apart) FAIL_CHECK("lies on " << worked[b].name);
      }
    }
  });
}

TEST_CASE("no letter of the Session place leaves the key, cell or row it belongs to, nor the page") {
  on_session_pages([](NullWindow& window, const kit::NamedPage& page) {
    const float width = window.input.width;
    if (window.input.height >= 480) window.input.height = 4000;  // nothing scrolled away, so that every letter is there
    const auto tree = window.draw(page.view).tree;
    const auto drawn = letters();
    CHECK(drawn.size() > 20);
    for (const Node& node : tree.nodes) {
      const bool holds_words = node.answers != Answers::nothing || node.role == Role::rowheader || node.role == Role::columnheader ||
                               node.role == Role::text || node.role == Role::heading || node.role == Role::listitem;
      if (!holds_words || node.area == 0) continue;
      const model::Rect box = on_page(tree, node);
      if (box.y + box.height > tree.areas.front().rect.y + tree.areas.front().rect.height) continue;  // scrolled away: under the bar
      for (const model::Rect& letter : drawn)
        if (holds_middle(box, letter) && !inside(letter, box)) {
          CAPTURE(node.name);
          FAIL_CHECK("a letter at " << letter.x << ", " << letter.y << " leaves " << box.x << ", " << box.y << ", " << box.width << " by " << box.height);
          break;
        }
    }
    for (const model::Rect& letter : drawn) {
      if (letter.x >= -kSoftEdge && letter.x + letter.width <= width + kSoftEdge) continue;
      FAIL_CHECK("a letter leaves the page at " << letter.x);
    }
  });
}

TEST_CASE("no two words of the Session place are drawn on each other") {
  on_session_pages([](NullWindow& window, const kit::NamedPage& page) {
    if (window.input.height >= 480) window.input.height = 4000;
    window.draw(page.view);
    auto drawn = letters();
    std::sort(drawn.begin(), drawn.end(), [](const auto& a, const auto& b) { return a.y < b.y; });
    for (std::size_t a = 0; a < drawn.size(); ++a)
      for (std::size_t b = a + 1; b < drawn.size() && drawn[b].y < drawn[a].y + drawn[a].height; ++b) {
        const float across = std::min(drawn[a].x + drawn[a].width, drawn[b].x + drawn[b].width) - std::max(drawn[a].x, drawn[b].x);
        const float down = std::min(drawn[a].y + drawn[a].height, drawn[b].y + drawn[b].height) - drawn[b].y;
        if (across <= 3 || down <= 3) continue;  // the soft edges of two neighbours
        FAIL_CHECK("at " << drawn[a].x << ", " << drawn[a].y << " and " << drawn[b].x << ", " << drawn[b].y);
        return;
      }
  });
}

TEST_CASE("every page of the Session place looks different without colours") {
  std::set<std::string> shapes;
  for (const auto& page : kit::session_pages()) {
    CAPTURE(page.name);
    NullWindow window;
    window.draw(page.view);
    CHECK(shapes.insert(kit::drawn_shape()).second);
  }
}

TEST_CASE("the Session place has the same shape by day, by night and with forced colours") {
  for (const auto& page : kit::session_pages()) {
    CAPTURE(page.name);
    std::set<std::string> shapes, trees;
    for (const ThemeName name : {ThemeName::daylight, ThemeName::night, ThemeName::forced}) {
      NullWindow window;
      window.input.theme = name;
      trees.insert(model::dump(window.draw(page.view).tree));
      shapes.insert(kit::drawn_shape());
    }
    CHECK(shapes.size() == 1);
    CHECK(trees.size() == 1);
  }
}

TEST_CASE("on the phone as drawn what is pressed in a session lies below the middle and nothing scrolls") {
  for (const char* name : {"circuit", "rest", "rest over", "last set", "gloves", "left hand in gloves", "last set in gloves", "swapped", "pain", "finish", "check", "move or train"}) {
    CAPTURE(name);
    const auto pages = kit::session_pages();
    const auto page = std::find_if(pages.begin(), pages.end(), [name](const auto& one) { return one.name == name; });
    REQUIRE(page != pages.end());
    NullWindow window({390, 844});
    const auto tree = window.draw(page->view).tree;
    const auto& area = tree.areas.front();
    CHECK(area.content_height == area.rect.height);
    for (const Node& node : tree.nodes)
      if (node.role == Role::button && (node.name.find("Log as written") == 0 || node.name == "Change" || node.name == "Pain" || node.name == "Sore")) {
        CAPTURE(node.name);
        CHECK(node.rect.y > 422);
      }
  }
}

TEST_CASE("a change with all its parts, and pain with its extras open, need no scrolling on a phone") {
  for (const char* name : {"change of a circuit", "pain asked"}) {
    CAPTURE(name);
    const auto pages = kit::session_pages();
    const auto page = std::find_if(pages.begin(), pages.end(), [name](const auto& one) { return one.name == name; });
    REQUIRE(page != pages.end());
    NullWindow window({390, 844});
    const auto tree = window.draw(page->view).tree;
    const auto& area = tree.areas.front();
    CHECK(area.content_height == area.rect.height);
  }
}

TEST_CASE("three figures stand in a stepper also at twice the text size on the narrowest phone") {
  constexpr float kDial = 42, kFigure = 0.65F, kTwice = 2;  // px; em, of every figure of this font; text size
  const auto view = kit::app_with(kit::changing_circuit());
  NullWindow window({360, 844});
  window.input.text_scale = kTwice;
  const auto tree = window.draw(view).tree;
  const auto field = std::find_if(tree.nodes.begin(), tree.nodes.end(), [](const Node& node) { return node.role == Role::spinbutton; });
  REQUIRE(field != tree.nodes.end());
  CHECK(field->rect.width >= 3 * kFigure * kDial * kTwice + 8);
}
