// What codec 1 knows of one column, for both directions (private): a coder that reads
// fills in the value, a coder that writes takes it. No column ever fails; what makes no
// sense is refused when the op it becomes is read.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "ops/range_coder.h"

namespace slipway::ops {

// One of 2^kBits symbols, learned.
template <unsigned kBits>
class Symbol {
 public:
  template <class Coder>
  void code(Coder& coder, unsigned& symbol) {
    unsigned node = 1;
    for (unsigned bit = kBits; bit-- > 0;) {
      bool yes = (symbol >> bit & 1U) != 0;
      coder.decide(chances_[node], yes);
      node = node << 1 | (yes ? 1U : 0U);
    }
    symbol = node - (1U << kBits);
  }

 private:
  std::array<Chance, std::size_t{1} << kBits> chances_;
};

// Any number: how many bits it has, the first few below the highest one learned, the rest as they are.
class Number {
 public:
  template <class Coder>
  void code(Coder& coder, std::uint64_t& value) {
    unsigned width = 0;
    if constexpr (!Coder::kReading)
      for (std::uint64_t rest = value; rest != 0; rest >>= 1) ++width;
    if (width >= kRaw) width = kRaw;
    widths_.code(coder, width);
    if (width == kRaw) {
      coder.direct(64, value);
      return coder.refuse_unless(value >> (kRaw - 1) != 0);
    }
    if constexpr (Coder::kReading) value = width == 0 ? 0 : 1;
    if (width < 2) return;
    const unsigned left = width - 1, learned = width < kLearnedWidths ? (left < kLearnedBits ? left : kLearnedBits) : 0;
    std::uint64_t read = 1;
    unsigned node = 1;
    for (unsigned i = 0; i < learned; ++i) {
      bool yes = (value >> (left - 1 - i) & 1U) != 0;
      coder.decide(top_[width][node], yes);
      node = node << 1 | (yes ? 1U : 0U);
      read = read << 1 | (yes ? 1U : 0U);
    }
    std::uint64_t below = value;
    coder.direct(left - learned, below);
    if constexpr (Coder::kReading) value = read << (left - learned) | below;
  }

 private:
  static constexpr unsigned kRaw = 63;  // a value of 63 bits or more
  static constexpr unsigned kLearnedWidths = 24, kLearnedBits = 4;
  Symbol<6> widths_;
  std::array<std::array<Chance, 1U << kLearnedBits>, kLearnedWidths> top_;
};

// Is it the same as before? Asked only while the answer is mostly yes.
class Sameness {
 public:
  template <class Coder>
  bool code(Coder& coder, bool same) {
    if (steady_ <= 0) return false;
    coder.decide(chance_, same);
    return same;
  }
  // Where it was asked, "no" is said only of what differs.
  template <class Coder>
  void checked(Coder& coder, bool said, bool same) const {
    if constexpr (Coder::kReading)
      if (steady_ > 0) coder.refuse_unless(said == same);
  }
  void learn(bool same) {
    if (same)
      steady_ += steady_ < kMost ? 1 : 0;
    else
      steady_ -= steady_ > kLeast ? 2 : 0;
  }

 private:
  static constexpr int kMost = 8, kLeast = -6;
  int steady_ = 4;
  Chance chance_;
};

// Numbers that come again: the same as before, one of the last ones that differed, or a new one.
class Values {
 public:
  template <class Coder>
  void code(Coder& coder, std::uint64_t& value) {
    const bool same = sameness_.code(coder, value == last_);
    if (same) {
      value = last_;
    } else {
      unsigned place = kNew;
      if constexpr (!Coder::kReading) {
        place = 0;
        while (place < kNew && !(place < count_ && recent_[place] == value)) ++place;
      }
      places_.code(coder, place);
      if (place == kNew || place >= count_) {
        fresh_.code(coder, value);
        if constexpr (Coder::kReading) {
          bool among = false;
          for (unsigned i = 0; i < count_; ++i) among = among || recent_[i] == value;
          coder.refuse_unless(place == kNew && !among);
        }
        recent_[next_] = value;
        next_ = (next_ + 1) % kNew;
        count_ = count_ < kNew ? count_ + 1 : kNew;
      } else {
        value = recent_[place];
      }
    }
    sameness_.checked(coder, same, value == last_);
    sameness_.learn(value == last_);
    last_ = value;
  }

 private:
  static constexpr unsigned kNew = 31;
  Sameness sameness_;
  Symbol<5> places_;
  Number fresh_;
  std::array<std::uint64_t, kNew> recent_{};
  unsigned count_ = 0, next_ = 0;
  std::uint64_t last_ = 0;
};

// Letters of words that are new, by what stood before.
class Letters {
 public:
  template <class Coder>
  void code(Coder& coder, std::string& word, std::size_t at_most) {
    std::uint64_t length = word.size();
    length_.code(coder, length);
    coder.refuse_unless(length <= at_most);
    if constexpr (Coder::kReading) word.assign(static_cast<std::size_t>(length < at_most ? length : at_most), '\0');
    unsigned before = 0;
    for (char& letter : word) {
      unsigned symbol = static_cast<std::uint8_t>(letter);
      after_[before].code(coder, symbol);
      letter = static_cast<char>(symbol);
      before = symbol >> 5;
    }
  }

 private:
  Number length_;
  std::array<Symbol<8>, 8> after_;
};

// Text as words between single spaces; most words come again.
class Words {
 public:
  static constexpr unsigned kNone = 255;  // no place: every place is below

  // Hands back the place of the first word.
  template <class Coder>
  unsigned code(Coder& coder, Letters& letters, std::string& text, std::size_t at_most) {
    const bool same = sameness_.code(coder, text == last_);
    if (same)
      text = last_;
    else
      first_ = words(coder, letters, text, at_most);
    sameness_.checked(coder, same, text == last_);
    sameness_.learn(text == last_);
    last_ = text;
    return first_;
  }

 private:
  template <class Coder>
  unsigned words(Coder& coder, Letters& letters, std::string& text, std::size_t at_most) {
    std::uint64_t spaces = 0;
    for (const char letter : text) spaces += letter == ' ' ? 1 : 0;
    spaces_.code(coder, spaces);
    std::string rest;
    rest.swap(text);
    unsigned first = kNone;
    for (std::uint64_t nth = 0; nth <= spaces; ++nth) {
      const std::size_t end = rest.find(' ');
      std::string word = rest.substr(0, end);
      rest.erase(0, end == std::string::npos ? rest.size() : end + 1);
      const unsigned place = one(coder, letters, word, at_most);
      if (nth == 0) first = place;
      if (nth > 0) text += ' ';
      text += word;
      if (text.size() > at_most) {  // no op holds that much
        coder.refuse_unless(false);
        break;
      }
    }
    return first;
  }

  template <class Coder>
  unsigned one(Coder& coder, Letters& letters, std::string& word, std::size_t at_most) {
    unsigned place = kNone;
    if constexpr (!Coder::kReading) {
      place = 0;
      while (place < kNone && !(place < known_.size() && known_[place] == word)) ++place;
    }
    places_.code(coder, place);
    if (place < known_.size()) {
      word = known_[place];
      return place;
    }
    letters.code(coder, word, at_most);
    if constexpr (Coder::kReading) {
      bool known = word.find(' ') != std::string::npos;
      for (const std::string& one : known_) known = known || one == word;
      coder.refuse_unless(place == kNone && !known);
    }
    place = next_;
    if (known_.size() < kNone)
      known_.push_back(word);
    else
      known_[place] = word;
    next_ = (next_ + 1) % kNone;
    return place;
  }

  Sameness sameness_;
  Values spaces_;
  Symbol<8> places_;
  std::vector<std::string> known_;
  unsigned next_ = 0, first_ = kNone;
  std::string last_;
};

}  // namespace slipway::ops
