// The one drawing vocabulary of the screens: every wrapper draws AND writes its node.
//
// A wrapper that can be worked answers true (or the new value) when a hand, a key or an
// Action by node id asked for it. Node ids are hashes of key paths, never of words.
// Layout comes before clipping: what is scrolled away still writes its node. Boxes are
// in content coordinates: of the scroll area while one is open, else of the page.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "model/tree.h"
#include "screens/icons.h"
#include "screens/theme.h"

namespace slipway::screens {

using Box = model::Rect;

struct Size {
  float width = 0, height = 0;
};

enum class Align : std::uint8_t { left, centre, right };

struct Pen {  // how words are written
  Step step = Step::say;
  Token token = Token::ink;
  bool bold = false;
  Align align = Align::left;
};

enum class KeyKind : std::uint8_t { main, plain, pain };

struct KeyFace {
  std::string_view words = {};
  std::string_view spoken = {};      // empty: the words
  std::string_view detail = {};      // second line
  std::string_view hint = {};
  KeyKind kind = KeyKind::plain;
  Icon icon = Icon::none;
  Step step = Step::cue;
  bool stacked = false;         // the icon above the words
  bool disabled = false;        // dashed; whoever draws it says why in words beside it
  bool outlined = false;        // a main key that does not invite: just pressed, extra, will wait
  bool resting_lip = true;      // false: face down, the key was just pressed
  bool main_of_page = false;    // Ctrl+Enter works it
};

struct ChoiceFace {
  std::string_view label = {};
  std::string_view spoken = {};
  bool chosen = false;
  std::string_view key = {};    // part of the key path; empty: its place in the row
};

struct StepperFace {
  std::string_view spoken = {};      // "Reps"
  std::string_view fewer = {}, more = {}; // names of the two keys
  std::string_view refused = {};     // message, empty if the value is fine
  std::int64_t now = 0, low = 0, high = 0;
};

struct FieldFace {
  std::string_view spoken = {};
  std::string_view value = {};
  std::string_view refused = {};
  bool number = false;          // the phone's number pad
};

struct TabFace {
  std::string_view key = {};         // part of the key path
  std::string_view words = {};
  Icon icon = Icon::none;
  bool current = false;
  std::string_view count = {};       // what waits there, in a small box at the icon
  std::string_view hint = {};        // and in words
};

enum class BarStyle : std::uint8_t { foot, rail };  // at the thumb; at the left

struct CellAnswer {
  bool pressed = false;
  bool down = false;            // to be drawn pressed
};

class Ui {
 public:
  struct Inside;
  explicit Ui(Inside& inside) : in_(inside) {}
  Ui(const Ui&) = delete;
  Ui& operator=(const Ui&) = delete;

  // --- the page -----------------------------------------------------------------------------------
  Box page() const;             // the whole page
  Box page_room() const;        // the page less the insets
  Box ground() const;           // the open area from edge to edge, else the page
  Box room() const;             // what of it may be used: less the insets
  float text_scale() const;
  float px(Step step) const;    // em size now
  float line(Step step) const;  // height of one running line now
  float baseline(Step step) const;  // from the top of a line to the feet of its letters
  // Width in touch units; large text lowers it, so that 200 % on a tablet is laid out like a phone.
  float touch_units(float width) const { return width / text_scale() / kTouch; }
  bool escape_pressed() const;  // Escape, and no field used it
  void hold(const Hand& hand) { hand_ = hand; }  // for what is drawn from here on
  const Hand& hand() const { return hand_; }
  float gap() const { return hand_.gloves ? metrics::kGloveGap : metrics::kGap; }  // between keys
  float choice_gap() const { return hand_.gloves ? metrics::kGloveGap : metrics::kChoiceGap; }

  // --- key paths and structure --------------------------------------------------------------------
  class Scope {                 // closes what it opened when it goes
   public:
    Scope(Ui& ui, std::uint8_t closes) : ui_(&ui), closes_(closes) {}
    Scope(const Scope&) = delete;
    Scope& operator=(const Scope&) = delete;
    ~Scope() { ui_->close(closes_); }

   private:
    Ui* ui_;
    std::uint8_t closes_;
  };
  [[nodiscard]] Scope in(std::string_view key);
  [[nodiscard]] Scope in(std::string_view key, std::size_t index);
  // A node that holds those written until the Scope ends; without a box it gets their union.
  [[nodiscard]] Scope group(std::string_view key, model::Node node);
  [[nodiscard]] Scope group(std::string_view key, model::Role role, std::string_view name, const Box& box = {});
  // The page's one scroll area; `rect` is on the page. Content below its foot scrolls.
  [[nodiscard]] Scope area(std::string_view key, std::string_view name, const Box& rect);
  // A panel that takes the focus when it comes and gives it back when it goes.
  [[nodiscard]] Scope sheet(std::string_view key, model::Node node);

  // Runs `part` without drawing, nodes or presses: to learn how high it will be.
  float measure(const std::function<float()>& part);

  // --- marks: drawn, no node ----------------------------------------------------------------------
  Size size_of(std::string_view words, const Pen& pen, float width) const;
  // Wraps at `width`; returns the height used.
  float write(std::string_view words, const Pen& pen, float x, float y, float width);
  // Centred in the box's height, wrapped at its width.
  void write_in(std::string_view words, const Pen& pen, const Box& box);
  float width_of(std::string_view words, const Pen& pen) const;  // of one line
  void strike(const Box& words, Token token);
  void fill(const Box& box, Token token, float corner = 0);
  void edge(const Box& box, Token token, float thickness, float corner = 0);  // drawn inside the box
  void dashed_edge(const Box& box, Token token);
  void rule(float x1, float y1, float x2, float y2, Token token, float thickness);
  void polygon(std::span<const GridPoint> points, Token token);               // convex, clockwise
  void polyline(std::span<const GridPoint> points, Token token, float thickness);
  void icon(Icon icon, float x, float y, float size, Token token);

  // --- words with a node; they return the height used ---------------------------------------------
  float heading(std::string_view key, std::string_view words, const Pen& pen, float x, float y, float width);
  float text(std::string_view key, std::string_view words, const Pen& pen, float x, float y, float width);
  // A node with nothing drawn by this call: its owner draws the parts.
  void node(std::string_view key, model::Node node);
  void spoken(std::string_view key, std::string_view name, const Box& box, model::Role role = model::Role::text);
  void announce(const model::Announcement& said);

  // --- controls -----------------------------------------------------------------------------------
  float key_height(const KeyFace& face, float width, float least) const;
  float key_width(const KeyFace& face) const;   // in which its words stand on one line
  bool key(std::string_view key, const KeyFace& face, const Box& box);
  // Cells of a grid, which is one stop of Tab with arrows inside. `node.rect` is the cell.
  CellAnswer cell(std::string_view key, model::Node node);
  std::optional<std::uint32_t> choices(std::string_view key, std::string_view spoken, std::span<const ChoiceFace> faces, const Box& box,
                                       float least = metrics::kChoice);
  float choices_height(std::span<const ChoiceFace> faces, float width, float least = metrics::kChoice) const;
  std::optional<std::int64_t> stepper(std::string_view key, const StepperFace& face, const Box& box);
  std::optional<std::string> text_field(std::string_view key, const FieldFace& face, const Box& box);
  std::optional<std::uint32_t> bar(std::string_view key, std::string_view spoken, std::span<const TabFace> tabs, const Box& box, BarStyle style);
  float bar_height(BarStyle style) const;
  float rail_width(bool short_page) const;

 private:
  Hand hand_;
  struct Place {
    std::uint32_t position = 0, set_size = 0;
  };
  void close(std::uint8_t what);  // for Scope
  bool tab_pressed(const TabFace& tab, const Pen& pen, const Box& place, BarStyle style, Place at);
  void face(const KeyFace& face, const Box& box, bool down);
  void stepper_key(std::string_view key, std::string_view spoken, Icon icon, bool at_end, const Box& box, std::int64_t& steps);
  bool typed_elsewhere(model::NodeId id);
  std::optional<std::string> edited(model::NodeId id, const std::string& value, const Pen& pen, const Box& box, bool refused);

  Inside& in_;
};

}  // namespace slipway::screens
