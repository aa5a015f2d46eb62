// The self-check of a calm moment (sync-and-storage 9).
#include <algorithm>

#include "app/book.h"
#include "app/book_scope.h"

namespace slipway::app {

namespace {

constexpr std::string_view kCheckedDay = "looked.day";  // of the last whole check
constexpr std::string_view kReport = "looked.report";
constexpr std::string_view kCopyDay = "copy.day";  // since when the copy of an older form is known
constexpr std::int32_t kWeek = 7, kCopyDays = 30;

std::optional<model::Day> read_day_of(const std::optional<model::Bytes>& bytes) {
  if (!bytes) return std::nullopt;
  const auto day = model::read_day(model::as_text(*bytes));
  return day ? std::optional<model::Day>(*day) : std::nullopt;
}

std::string report_of(model::Day day, const std::vector<model::Error>& findings, const Digests& digests) {
  std::string text = model::iso(day);
  for (const model::Error& finding : findings) {
    text += "\n" + finding.text;
    for (const std::string& arg : finding.args) text += " | " + arg;
  }
  return text + "\nops " + digests.ops.hex() + "\nviews " + digests.views.hex() + "\n";
}

}  // namespace

model::Result<Book::SelfCheck> Book::self_check() {
  SelfCheck done;
  if (waiting() > 0) return done;
  store_->keep_ballast();
  const model::Day today = model::day_of(now());
  const auto last = read_day_of(local(kCheckedDay));
  // A day in the future is a device clock that was set back: checked once more than needed.
  const bool due = view_due_ || derived_differed_ || !last || today < *last || today.since_1970 - last->since_1970 >= kWeek;
  if (!due && file_checked_) return done;
  if (!due) {
    const auto quick = store_->quick_check();
    if (!quick) return quick.error();
    done.findings = *quick;
  } else {
    const bool differed = derived_differed_;  // before this look
    const auto whole = check();
    if (!whole) return whole.error();
    done.findings = whole->findings;
    if (differed && std::none_of(done.findings.begin(), done.findings.end(), is_of_the_view)) done.findings.push_back(model::error(model::ErrorKind::damaged, "check.differs"));
    view_due_ = false;
  }
  file_checked_ = true;
  if (opening().read_only) return done;
  if (!done.findings.empty()) {
    set_local(kReport, model::as_bytes(report_of(today, done.findings, digests())));
    // Where an entry itself can not be read, what is shown stays: it was read when the store was opened.
    if (std::all_of(done.findings.begin(), done.findings.end(), is_of_the_view)) {
      if (const auto rebuilt = rebuild(); !rebuilt) return rebuilt.error();
      done.rebuilt = true;
    }
  }
  if (due) set_local(kCheckedDay, model::as_bytes(model::iso(today)));
  let_copy_go();
  return done;
}

// The entries are the truth: everything shown is made from them again.
model::Result<model::Done> Book::rebuild() {
  if (const auto dropped = store_->drop_derived(); !dropped) return dropped.error();
  scopes_.clear();
  held_ = {};
  turned_ += 1;
  derived_differed_ = false;
  if (const auto read = read_all(Trust::ops_only); !read) return read.error();
  return tidy();
}

void Book::let_copy_go() {
  if (!store_->has_copy()) return;
  if (!store_->sealed().empty()) {  // it holds in the clear what is sealed here; sealing was cut short before it went
    static_cast<void>(store_->drop_copy());
    return;
  }
  const model::Day today = model::day_of(now());
  const auto since = read_day_of(local(kCopyDay));
  if (!since || today < *since) {
    set_local(kCopyDay, model::as_bytes(model::iso(today)));
  } else if (today.since_1970 - since->since_1970 >= kCopyDays) {
    if (store_->drop_copy()) set_local(kCopyDay, {});
  }
}

std::optional<std::string> Book::last_report() {
  const auto bytes = local(kReport);
  return bytes && !bytes->empty() ? std::optional<std::string>(model::as_text(*bytes)) : std::nullopt;
}

}  // namespace slipway::app
