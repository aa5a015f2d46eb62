// The oracle: what a set of deeds must look like, worked out a second way. Plain sets and
// numbers; no bytes, no hashes, nothing of core/ops. If this and the fold ever disagree,
// one of them is wrong.
#pragma once

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace slipway::kit {

struct Deed {
  enum class What : std::uint8_t { begin, change, take_back, end_pain, unknown };

  What what = What::unknown;
  int record = -1;                             // the deed that began the record it is about
  std::uint32_t kind = 0;                      // of begin
  std::map<std::uint32_t, std::int64_t> says = {};  // field tag, value
  std::set<int> saw = {};                      // deeds it covers; of begin, records it replaces
  std::uint64_t how = 0;                       // of end_pain
  // The order in which deeds are drawn: a count, and a name to settle equal counts.
  std::uint64_t count = 0;
  std::string name = {};
};

class OpModel {
 public:
  using Hand = std::set<int>;  // the deeds somebody holds, by their number

  int add(Deed deed);
  const Deed& deed(int number) const { return deeds_[static_cast<std::size_t>(number)]; }
  std::size_t size() const { return deeds_.size(); }

  // What somebody with this hand sees of a record, to be named in `saw`.
  std::set<int> writers_seen(const Hand& hand, int record, std::uint32_t tag) const;
  std::set<int> touches_seen(const Hand& hand, int record) const;
  std::set<int> take_backs_seen(const Hand& hand, int record) const;
  std::uint64_t highest_count(const Hand& hand) const;

  // One line a record, oldest first, then what was not understood:
  //   "10 #4 revived 18=1 19=8|9" · "12 #7 stands 17=2 ended=1,2" · "unknown 3"
  std::string view(const Hand& hand) const;

  // What counts of facts about body and permissions, worked out by hand from handbook 6.8 and 7.1:
  //   "form 1: 3 on 2" · "may 2: 0 on 1" · "sore 1 on 2: #7=2 #9=1" · "ticked #4 withdrawn" · "flag #5=1"
  //   · "cleared #6" · "word 2" · "prefers 1=3" · "programme #8 #3"
  std::string counting(const Hand& hand) const;
  // Facts of this kind that stand, about what is said in `about`: to be named by the next one.
  std::set<int> facts_seen(const Hand& hand, std::uint32_t kind, const std::map<std::uint32_t, std::int64_t>& about) const;

 private:
  struct Sheet;  // everything said about one record
  std::map<int, Sheet> sheets(const Hand& hand) const;
  bool drawn_before(int a, int b) const;
  std::string line(int record, const Sheet& sheet) const;
  bool gone(const Hand& hand, int record) const;  // taken back for good
  bool withdrawn(const Hand& hand, int record) const;
  std::int64_t own(int record, std::uint32_t tag) const;
  std::int64_t shown(const Hand& hand, int record, std::uint32_t tag) const;

  std::vector<Deed> deeds_;
};

}  // namespace slipway::kit
