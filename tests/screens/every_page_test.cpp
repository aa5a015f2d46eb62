// What holds on every page at every size.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "kit/desk_views.h"
#include "kit/screen_kit.h"
#include "model/assets.h"
#include "screens/ui_inside.h"

using namespace slipway;
using namespace slipway::screens;
using kit::NullWindow;
using kit::PageSize;
using model::Answers;
using model::Node;
using model::Role;

namespace {

constexpr float kHairBreadth = 1.5F;  // the soft edge of a line
constexpr float kTextScales[] = {1, 1.25F, 1.5F, 2};

std::vector<kit::NamedPage> all_pages() {
  std::vector<kit::NamedPage> pages = kit::every_page();
  for (kit::NamedPage& page : kit::desk_pages()) pages.push_back(std::move(page));
  return pages;
}

template <class Check>
void on_every_page(const std::vector<PageSize>& sizes, Check check) {
  const auto pages = all_pages();
  for (const PageSize& size : sizes)
    for (const auto& page : pages) {
      CAPTURE(page.name);
      CAPTURE(size.width);
      CAPTURE(size.height);
      check(page, size);
    }
}

bool apart(const model::Rect& a, const model::Rect& b) {
  return a.x + a.width <= b.x || b.x + b.width <= a.x || a.y + a.height <= b.y || b.y + b.height <= a.y;
}

std::vector<Node> worked(const model::Tree& tree) {
  std::vector<Node> nodes;
  std::copy_if(tree.nodes.begin(), tree.nodes.end(), std::back_inserter(nodes), [](const Node& node) { return node.answers != Answers::nothing; });
  return nodes;
}

}  // namespace

TEST_CASE("drawing alone asks for nothing") {
  on_every_page(kit::agreed_sizes(), [](const kit::NamedPage& page, const PageSize& size) {
    NullWindow window(size);
    CHECK(window.draw(page.view).intents.empty());
    CHECK(window.wants_frame_in_ms() == 0);
  });
}

TEST_CASE("the same view gives the same tree and the same picture, byte for byte") {
  on_every_page({{390, 844}, {1440, 900}}, [](const kit::NamedPage& page, const PageSize& size) {
    std::string bytes;
    model::Tree tree;
    {
      NullWindow window(size);
      tree = window.draw(page.view).tree;
      bytes = kit::drawn_bytes();
      CHECK(bytes.size() > 1000);
      CHECK(window.draw(page.view).tree == tree);
      CHECK(kit::drawn_bytes() == bytes);
    }
    NullWindow another(size);
    CHECK(another.draw(page.view).tree == tree);
    CHECK(kit::drawn_bytes() == bytes);
  });
}

TEST_CASE("every target is at least 48 by 48, and no two lie on each other") {
  on_every_page(kit::agreed_sizes(), [](const kit::NamedPage& page, const PageSize& size) {
    NullWindow window(size);
    const auto nodes = worked(window.draw(page.view).tree);
    CHECK_FALSE(nodes.empty());
    for (std::size_t a = 0; a < nodes.size(); ++a) {
      CAPTURE(nodes[a].name);
      CHECK(nodes[a].rect.width >= kTouch);
      CHECK(nodes[a].rect.height >= kTouch);
      for (std::size_t b = a + 1; b < nodes.size(); ++b) {
        CAPTURE(nodes[b].name);
        CHECK((nodes[a].area != nodes[b].area || apart(nodes[a].rect, nodes[b].rect)));
      }
    }
  });
}

TEST_CASE("nothing stands or is drawn outside the page's width, at any text size; what is too high scrolls") {
  for (const float scale : kTextScales)
    on_every_page({{360, 640}, {390, 844}, {430, 932}, {844, 390}, {768, 1024}, {1024, 768}, {1440, 900}},
                  [scale](const kit::NamedPage& page, const PageSize& size) {
                    CAPTURE(scale);
                    NullWindow window(size);
                    window.input.text_scale = scale;
                    const auto tree = window.draw(page.view).tree;
                    for (const Node& node : tree.nodes) {
                      CAPTURE(node.name);
                      const auto area = std::find_if(tree.areas.begin(), tree.areas.end(), [&](const auto& one) { return one.id == node.area; });
                      const float width = area == tree.areas.end() ? size.width : area->rect.width;
                      CHECK(node.rect.x >= 0);
                      CHECK(node.rect.y >= 0);
                      CHECK(node.rect.x + node.rect.width <= width);
                      const float foot = area == tree.areas.end() ? size.height : area->content_height;
                      CHECK(node.rect.y + node.rect.height <= foot);
                    }
                    const auto drawn = kit::drawn_extent();
                    CHECK(drawn.left >= -kHairBreadth);
                    CHECK(drawn.right <= size.width + kHairBreadth);
                  });
}

TEST_CASE("no words lie on other words or on a key, at any text size") {
  const auto is_leaf = [](const Node& node) {
    return node.answers != Answers::nothing || node.role == Role::text || node.role == Role::heading || node.role == Role::status;
  };
  for (const float scale : kTextScales)
    for (const PageSize& size : std::vector<PageSize>{{360, 640}, {390, 844}, {844, 390}, {1024, 768}, {1440, 900}})
      for (const auto& page : kit::desk_pages()) {
        CAPTURE(page.name);
        CAPTURE(size.width);
        CAPTURE(scale);
        NullWindow window(size);
        window.input.text_scale = scale;
        const auto tree = window.draw(page.view).tree;
        std::vector<Node> leaves;
        std::copy_if(tree.nodes.begin(), tree.nodes.end(), std::back_inserter(leaves), is_leaf);
        for (std::size_t a = 0; a < leaves.size(); ++a)
          for (std::size_t b = a + 1; b < leaves.size(); ++b) {
            CAPTURE(leaves[a].name);
            CAPTURE(leaves[b].name);
            CHECK((leaves[a].area != leaves[b].area || apart(leaves[a].rect, leaves[b].rect)));
          }
      }
}

TEST_CASE("nothing to press lies inside a safe-area inset") {
  for (const auto& page : all_pages()) {
    CAPTURE(page.name);
    NullWindow window;
    window.input.inset_top = 47;
    window.input.inset_bottom = 34;
    const auto tree = window.draw(page.view).tree;
    for (const Node& node : worked(tree)) {
      CAPTURE(node.name);
      CHECK(node.rect.y >= 47);
      if (node.area == 0) CHECK(node.rect.y + node.rect.height <= 844 - 34);
    }
    for (const auto& area : tree.areas) CHECK(area.content_height >= area.rect.height);
  }
}

TEST_CASE("every interactive item Dear ImGui was given has a node that can be worked, or is a cell") {
  on_every_page(kit::agreed_sizes(), [](const kit::NamedPage& page, const PageSize& size) {
    NullWindow window(size);
    window.draw(page.view);
    kit::start_hooks();
    kit::forget_hooked_items();
    const auto tree = window.draw(page.view).tree;
    const auto items = kit::hooked_items();
    std::set<std::uint32_t> known;
    for (const Node& node : worked(tree)) {
      known.insert(item_id(node.id));
      known.insert(field_item_id(node.id));
    }
    CHECK(items.size() >= worked(tree).size());
    for (const std::uint32_t item : items) CHECK(known.count(item) == 1);
  });
}

TEST_CASE("node ids are never shared, and a parent is read before its children") {
  on_every_page(kit::agreed_sizes(), [](const kit::NamedPage& page, const PageSize& size) {
    NullWindow window(size);
    const auto tree = window.draw(page.view).tree;
    std::set<model::NodeId> seen;
    std::set<std::uint32_t> items;
    for (const Node& node : tree.nodes) {
      CAPTURE(node.name);
      CHECK(node.id != 0);
      CHECK(seen.insert(node.id).second);
      CHECK(items.insert(item_id(node.id)).second);
      CHECK((node.parent == 0 || seen.count(node.parent) == 1));
    }
  });
}

TEST_CASE("ids follow the place on the page, not the words: a translated key keeps its id") {
  NullWindow window;
  SessionView view = kit::ready_session();
  window.draw(kit::app_with(view));
  const auto log = window.node(Role::button, view.next[0].log_spoken).id;
  view.next[0].log_words = "Log one more";
  view.next[0].log_spoken = "Log one more, 10 at 22 kilograms";
  window.draw(kit::app_with(view));
  CHECK(window.node(Role::button, "Log one more, 10 at 22 kilograms").id == log);
}

TEST_CASE("whatever can be worked has a name") {
  on_every_page({{390, 844}}, [](const kit::NamedPage& page, const PageSize& size) {
    NullWindow window(size);
    for (const Node& node : worked(window.draw(page.view).tree)) CHECK_FALSE(node.name.empty());
  });
}

TEST_CASE("there is one main key a page that Ctrl+Enter works, or none") {
  NullWindow window;
  const auto view = kit::app_with(kit::ready_session());
  window.draw(view);
  const auto shown = window.strike(view, kit::Key::enter, false, true);
  CHECK(kit::only<SessionIntent, LogAsWritten>(shown.intents) != nullptr);
}

TEST_CASE("no word a person reads has an exclamation mark") {
  const std::string_view texts = model::asset("texts.table");
  REQUIRE_FALSE(texts.empty());
  CHECK(texts.find('!') == std::string_view::npos);
}

TEST_CASE("a key that is scrolled away still has its node and answers by name") {
  NullWindow window({390, 420});
  window.input.text_scale = 2;
  const auto view = kit::app_with(kit::ready_session());
  window.draw(view);
  const Node& key = window.node(Role::button, "Hand over");
  const auto& area = window.last().areas.front();
  REQUIRE(key.rect.y > area.rect.height);
  CHECK(kit::only<SessionIntent, HandOver>(window.press(view, Role::button, "Hand over").intents) != nullptr);
}

TEST_CASE("a page scrolled by the wheel or by the browser moves its keys under the mouse") {
  NullWindow window({390, 420});
  window.input.text_scale = 2;
  const auto view = kit::app_with(kit::ready_session());
  window.draw(view);
  const float most = window.last().areas.front().content_height - window.last().areas.front().rect.height;
  REQUIRE(most > 100);
  CHECK(window.wheel(view, -1).tree.areas.front().scroll_y > 0);
  window.input.scrolled = {{window.last().areas.front().id, most + 500}};
  CHECK(window.draw(view).tree.areas.front().scroll_y == doctest::Approx(most));
  window.input.scrolled.clear();
  CHECK(kit::only<SessionIntent, HandOver>(window.click(view, Role::button, "Hand over").intents) != nullptr);
}

TEST_CASE("a pressed key stays down for a moment and then the water is still again") {
  NullWindow window;
  const auto view = kit::app_with(kit::ready_session());
  window.press(view, Role::button, "Change");
  CHECK(window.wants_frame_in_ms() == 80);
  window.input.seconds_since_last = 0.1F;
  window.draw(view);
  CHECK(window.wants_frame_in_ms() == 0);
}
