// The made-up club through sync and store, beside U: the same data as plain rows in SQLite, upserted by the same
// library in the same run. Prints every bar of the speed page with its ratio, met or not; exit 1 if a gate is broken.
//
//   slipway_sync_bench [athletes]     60 by default; 6 is the tenth
//
// Times are CPU time, over files in memory for both sides, so that a busy machine and a slow disk say little; what is
// durable is measured once more over the disk where there is one. "wasm N" lines are for the ratio of bar 9.
#include <sqlite3.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <map>

#include "bench/counted_memory.h"
#include "kit/club.h"
#include "kit/plain_files.h"
#include "ops/fold.h"
#include "ops/held.h"
#include "ops/registry.h"
#include "ops/views.h"
#include "store/columns.h"
#include "store/database.h"
#include "store/store.h"
#include "sync/bundle.h"

using namespace slipway;

namespace {

double ms_now() { return static_cast<double>(std::clock()) * 1000.0 / CLOCKS_PER_SEC; }

template <class Work>
double ms_of(const Work& work) {
  const double start = ms_now();
  work();
  return ms_now() - start;
}

template <class Work>
double median_ms(int times, const Work& work) {
  std::vector<double> all;
  for (int i = 0; i < times; ++i) all.push_back(ms_of(work));
  std::nth_element(all.begin(), all.begin() + times / 2, all.end());
  return all[static_cast<std::size_t>(times / 2)];
}

template <class T>
T sure(model::Result<T> result) {
  if (result) return std::move(*result);
  std::fprintf(stderr, "sync_bench: %s\n", result.error().text.c_str());
  std::exit(1);
}
void sure(bool fine, const char* what) {
  if (fine) return;
  std::fprintf(stderr, "sync_bench: %s\n", what);
  std::exit(1);
}

// bar NUMBER NAME: FIGURE UNIT; RATIO of the bar.
void bar(const char* number, const char* name, double figure, double limit, const char* unit) {
  std::printf("bar %-4s %-44s %12.3f %-6s bar %12.3f  %s %.2f of it\n", number, name, figure, unit, limit,
              figure <= limit ? "met," : "NOT MET,", figure / limit);
}

std::size_t bytes_in(const kit::PlainFiles& files) {
  std::size_t all = 0;
  for (const auto& [name, content] : files.content) all += content.size();
  return all;
}

// ---- the club, as rows and as bundles ---------------------------------------------------------------------

struct Made {
  std::vector<kit::ClubAthlete> athletes;
  std::vector<model::Bytes> bundles;  // three an athlete
  model::Bytes week;                  // what the first device of the first athlete adds
  kit::ClubAthlete week_rows;
  std::uint64_t ops = 0, openings = 0;
  std::size_t bytes = 0, plain_bytes = 0;
};

sync::Bundle bundle_of(const ops::StreamId& by, const std::vector<ops::ChainedOp>& ops, const ops::Held& held) {
  return {.device = model::DeviceId::from(by.inc.view()),
          .created_by = by.inc,
          .export_counter = 1,
          .scopes = {by.scope},
          .holdings = held.holdings(),
          .chunks = ops::make_chunks(ops)};
}

Made make(std::uint64_t athletes) {
  Made made;
  kit::Club club;
  for (std::uint64_t a = 0; a < athletes; ++a) {
    made.athletes.push_back(club.next());
    kit::ClubPens pens(a);
    pens.write(made.athletes.back());
    ops::Held held;
    for (std::uint64_t device = 0; device < kit::kClubDevices; ++device)
      for (const ops::ChainedOp& op : pens.ops(device)) held.add(op);
    for (std::uint64_t device = 0; device < kit::kClubDevices; ++device) {
      const sync::Bundle bundle = bundle_of(pens.stream(device), pens.ops(device), held);
      made.bundles.push_back(sure(sync::write_bundle(bundle)));
      made.bytes += made.bundles.back().size();
      made.plain_bytes += sure(sync::write_bundle(bundle, {}, sync::Packing::plain)).size();
    }
    made.ops += held.op_count();
    made.openings += pens.openings();
    if (a > 0) continue;
    const std::size_t before = pens.ops(0).size();
    made.week_rows = kit::club_week();
    pens.write(made.week_rows);
    const std::vector<ops::ChainedOp> fresh(pens.ops(0).begin() + static_cast<std::ptrdiff_t>(before), pens.ops(0).end());
    for (const ops::ChainedOp& op : fresh) held.add(op);
    made.week = sure(sync::write_bundle(bundle_of(pens.stream(0), fresh, held)));
  }
  return made;
}

// ---- U: plain rows -----------------------------------------------------------------------------------------

class Rows {
 public:
  explicit Rows(host::Files& files) : random_(1), database_(files, random_, "rows.db") {
    sure(database_.open());
    sure(database_.execute(
             "CREATE TABLE IF NOT EXISTS sets(id INTEGER PRIMARY KEY, athlete INT, session INT, week INT, exercise INT, number INT,"
             " reps INT, load INT, rir INT, rest INT, note TEXT, done_at INT, changed_at INT)"),
         "no table");
    sure(database_.execute("CREATE INDEX IF NOT EXISTS by_what ON sets(athlete, exercise, week)"), "no index");
  }

  void merge(const std::vector<const kit::ClubAthlete*>& athletes) {
    sure(database_.execute("BEGIN"), "begin");
    sqlite3_stmt* put = prepare(
        "INSERT INTO sets VALUES(?,?,?,?,?,?,?,?,?,?,?,?,?) ON CONFLICT(id) DO UPDATE SET reps=excluded.reps, load=excluded.load, "
        "rir=excluded.rir,"
        " changed_at=excluded.changed_at WHERE excluded.changed_at>changed_at");
    sqlite3_stmt* drop = prepare("DELETE FROM sets WHERE id=?");
    for (const kit::ClubAthlete* athlete : athletes) {
      std::vector<std::pair<std::int64_t, std::pair<std::size_t, const kit::ClubEdit*>>> edits;
      for (const kit::ClubSet& set : athlete->sets) upsert(put, *athlete, set, set.done_ms);
      for (const kit::ClubEdit& edit : athlete->edits) edits.push_back({edit.at_ms, {edit.set, &edit}});
      std::sort(edits.begin(), edits.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
      std::map<std::size_t, kit::ClubSet> now;
      for (const auto& [at, what] : edits) {
        kit::ClubSet& set = now.emplace(what.first, athlete->sets[what.first]).first->second;
        const kit::ClubEdit& edit = *what.second;
        (edit.field == kit::ClubField::reps ? set.reps : edit.field == kit::ClubField::load ? set.load_g : set.rir) = edit.value;
        upsert(put, *athlete, set, at);
      }
      for (const kit::ClubRemoval& removal : athlete->removals) {
        sqlite3_bind_int64(drop, 1, static_cast<sqlite3_int64>(athlete->sets[removal.set].record));
        run(drop);
      }
    }
    sqlite3_finalize(put);
    sqlite3_finalize(drop);
    sure(database_.execute("COMMIT"), "commit");
  }

  kit::ClubAnswer query() {
    sqlite3_stmt* all = prepare(
        "SELECT count(*), sum(g), sum(b) FROM (SELECT sum(reps*load) g, max(load*(30+reps)) b FROM sets GROUP BY athlete, exercise, week)");
    sure(sqlite3_step(all) == SQLITE_ROW, "no answer");
    const kit::ClubAnswer answer{static_cast<std::uint64_t>(sqlite3_column_int64(all, 0)),
                                 static_cast<std::uint64_t>(sqlite3_column_int64(all, 1)),
                                 static_cast<std::uint64_t>(sqlite3_column_int64(all, 2))};
    sqlite3_finalize(all);
    return answer;
  }

 private:
  sqlite3_stmt* prepare(const char* sql) {
    sqlite3_stmt* statement = nullptr;
    sure(sqlite3_prepare_v2(database_.handle(), sql, -1, &statement, nullptr) == SQLITE_OK, sql);
    return statement;
  }
  static void run(sqlite3_stmt* statement) {
    sure(sqlite3_step(statement) == SQLITE_DONE, "a row was refused");
    sqlite3_reset(statement);
  }
  static void upsert(sqlite3_stmt* put, const kit::ClubAthlete& athlete, const kit::ClubSet& set, std::int64_t changed_ms) {
    const kit::ClubSession& session = athlete.sessions[set.session];
    int at = 0;
    for (const std::uint64_t value :
         {set.record, athlete.number, session.id, session.week, set.exercise, set.number, set.reps, set.load_g, set.rir, set.rest_s})
      sqlite3_bind_int64(put, ++at, static_cast<sqlite3_int64>(value));
    if (set.note.empty())
      sqlite3_bind_null(put, ++at);
    else
      sqlite3_bind_text(put, ++at, set.note.data(), static_cast<int>(set.note.size()), SQLITE_STATIC);
    sqlite3_bind_int64(put, ++at, set.done_ms);
    sqlite3_bind_int64(put, ++at, changed_ms);
    run(put);
  }

  kit::FixedRandom random_;
  store::Database database_;
};

// ---- ours ----------------------------------------------------------------------------------------------------

class Ours {
 public:
  explicit Ours(host::Files& files) : random_(2), store_(sure(store::Store::open(files, random_, {std::nullopt, model::Token16{}}))) {}

  // One file, all or nothing, as the app takes it in.
  void take(model::ByteView file) {
    sync::ReadBundle read = sure(sync::read_bundle(file, "club.slip"));
    const model::Hash32 file_hash = read.file_hash;
    const std::size_t ops_read = read.ops.size();
    std::optional<ops::PackedRun> run = std::move(read.run);
    const sync::Taking taking = sure(sync::plan_taking(std::move(read), held_, store_->opening().inc, "club.slip"));
    store::ImportLine line;
    line.bundle_hash = file_hash;
    line.fresh = taking.fresh.size();
    // All of it is new, and much: it stays packed as it came.
    if (run && taking.fresh.size() == ops_read && ops_read >= store::kLeastPackedOps)
      sure(store_->take_in({}, line, {}, {&*run, 1}));
    else
      sure(store_->take_in(ops::make_chunks(taking.fresh), line));
    held_.add(taking.fresh);
  }

  ops::Fold fold_of(const model::ScopeId& scope) {
    ops::Fold fold(scope);
    for (const ops::Chunk& chunk : sure(store_->chunks(scope)))
      for (const ops::ChainedOp& op : sure(ops::read_chunk(chunk))) fold.add(op);
    return fold;
  }

  std::uint64_t read_all() {
    std::uint64_t ops = 0;
    for (const model::ScopeId& scope : sure(store_->scopes()))
      for (const ops::Chunk& chunk : sure(store_->chunks(scope)))
        for (const ops::ChainedOp& op : sure(ops::read_chunk(chunk))) {
          held_.add(op);
          ++ops;
        }
    return ops;
  }

  // What one device wrote from a place on; all of it from 1.
  model::Bytes export_from(const model::ScopeId& scope, const model::IncarnationId& inc, std::uint64_t first_seq) {
    const ops::StreamId stream{scope, inc};
    sync::Bundle bundle{.device = model::DeviceId::from(inc.view()),
                        .created_by = inc,
                        .export_counter = 1,
                        .scopes = {scope},
                        .holdings = held_.holdings(scope),
                        .chunks = {}};
    std::optional<ops::PackedRun> run;
    if (first_seq == 1) run = sure(store_->whole_run(stream));
    if (run) {
      bundle.runs.push_back(std::move(*run));
    } else {
      bundle.chunks = sure(store_->chunks_from(stream, first_seq));
      if (first_seq > 1) bundle.chunks = without_before(bundle.chunks, first_seq);
    }
    return sure(sync::write_bundle(bundle));
  }

  // What is done in a calm moment: small chunks are folded, sets are laid out in columns.
  void tidy() {
    for (const model::ScopeId& scope : sure(store_->scopes())) {
      sure(store_->fold_chunks(scope));
      sure(store::save_sets(*store_, scope));
    }
  }

  // Every set of every athlete in memory.
  std::vector<ops::SetTable> sets() {
    std::vector<ops::SetTable> all;
    for (const model::ScopeId& scope : scopes()) all.push_back(sets_of(scope));
    return all;
  }
  ops::SetTable sets_of(const model::ScopeId& scope) { return sure(store::read_sets(*store_, scope)); }

  std::vector<model::ScopeId> scopes() { return sure(store_->scopes()); }

 private:
  static std::vector<ops::Chunk> without_before(const std::vector<ops::Chunk>& chunks, std::uint64_t first_seq) {
    std::vector<ops::ChainedOp> wanted;
    for (const ops::Chunk& chunk : chunks)
      for (ops::ChainedOp& op : sure(ops::read_chunk(chunk)))
        if (op.seq >= first_seq) wanted.push_back(std::move(op));
    return ops::make_chunks(wanted);
  }

  kit::FixedRandom random_;
  std::unique_ptr<store::Store> store_;
  ops::Held held_;  // in memory, as the book has it
};

// The query, over columns. The newest value of each field counts, as the check of the club wants it (the app shows both).
void query_sets(const ops::SetTable& table, kit::ClubAnswer& answer) {
  constexpr std::int32_t kFirstDay = 19'240, kWeeks = 53 * 4;  // from 5 September 2022
  std::vector<std::uint32_t> week_of(table.sessions.size() + 1);
  for (std::size_t i = 0; i < table.sessions.size(); ++i) {
    const std::int32_t week = (table.sessions[i].day.value_or(model::Day{kFirstDay}).since_1970 - kFirstDay) / 7;
    week_of[i + 1] = static_cast<std::uint32_t>(std::clamp(week, 0, kWeeks - 1));
  }
  std::vector<std::uint64_t> best((table.exercises.size() + 1) * kWeeks);
  std::uint64_t grams = 0;
  const auto count = [&](std::size_t i, std::uint64_t reps, std::uint64_t load) {
    if ((table.flags[i] & ops::SetTable::taken_back) != 0) return;
    std::uint64_t& top = best[table.exercise[i] * kWeeks + week_of[table.session[i]]];
    top = std::max(top, load * (30 + reps));
    grams += load * reps;
  };
  for (std::size_t i = 0; i < table.size(); ++i)
    if ((table.flags[i] & ops::SetTable::contradictory) == 0) count(i, table.reps[i], static_cast<std::uint64_t>(table.load_g[i]));
  for (std::size_t at = 0; at < table.others.size();) {
    const std::uint32_t row = table.others[at].row;
    const ops::SetTable::Other *reps = nullptr, *load = nullptr;
    for (; at < table.others.size() && table.others[at].row == row; ++at) {
      const ops::SetTable::Other& one = table.others[at];
      const ops::SetTable::Other** newest = one.tag == ops::set_tag::reps ? &reps : one.tag == ops::set_tag::load ? &load : nullptr;
      if (newest && (!*newest || one.claimed_ms > (*newest)->claimed_ms)) *newest = &one;
    }
    count(row, reps ? reps->value : table.reps[row], static_cast<std::uint64_t>(load ? ops::unzigzag(load->value) : table.load_g[row]));
  }
  answer.grams += grams;
  for (const std::uint64_t top : best) {
    answer.groups += top != 0 ? 1 : 0;
    answer.best += top;
  }
}

// Files in memory with room to grow, as a disk has it.
void copy_into(kit::PlainFiles& files, const kit::PlainFiles& from) {
  for (const auto& [name, content] : from.content) {
    files.content[name].reserve(content.size() + (1U << 20));
    model::append(files.content[name], content);
  }
}

// The everyday case, each time on a store of its own.
double week_into(const kit::PlainFiles& held, const model::Bytes& week) {
  std::vector<double> all;
  for (int i = 0; i < 5; ++i) {
    kit::PlainFiles files;
    copy_into(files, held);
    Ours ours(files);
    ours.read_all();  // what is held is known since the opening
    all.push_back(ms_of([&] { ours.take(week); }));
  }
  std::sort(all.begin(), all.end());
  return all[2];
}

struct Gates {
  kit::ClubAnswer answer;
  std::uint64_t pairs_lost = 0, ops_changed = 0, orders_differ = 0;
};

// Another order, everything twice.
void check_order(const Made& made, std::size_t athlete, const ops::Fold& held, Gates& gates) {
  ops::Fold other(held.scope());
  std::vector<ops::ChainedOp> all;
  for (std::size_t device = kit::kClubDevices; device-- > 0;)
    for (ops::ChainedOp& op : sure(sync::read_bundle(made.bundles[athlete * kit::kClubDevices + device], "club.slip")).ops)
      all.push_back(std::move(op));
  kit::Dice dice(athlete);
  dice.shuffle(all);
  for (int twice = 0; twice < 2; ++twice)
    for (const ops::ChainedOp& op : all) other.add(op);
  gates.orders_differ += model::equal(other.write_state(), held.write_state()) ? 0 : 1;
  std::uint64_t edits = 0;
  for (const auto& [id, record] : held.records()) edits += record.kind == ops::kind::set ? record.touched_by().size() - 1 : 0;
  gates.pairs_lost += made.athletes[athlete].edits.size() - edits;
}

}  // namespace

int main(int argc, char** argv) {
  const std::uint64_t athletes = argc > 1 ? std::strtoull(argv[1], nullptr, 10) : kit::kClubAthletes;
  const double part = static_cast<double>(athletes) / static_cast<double>(kit::kClubAthletes);
  bench::count_sqlite();
  const Made made = make(athletes);
  kit::ClubAnswer expected;
  std::uint64_t sets = 0;
  std::vector<const kit::ClubAthlete*> rows_in;
  for (const kit::ClubAthlete& athlete : made.athletes) {
    expected.add(athlete);
    sets += athlete.sets.size();
    rows_in.push_back(&athlete);
  }
  std::printf("club: %llu athletes, %llu sets, %llu ops, %llu openings; plain bundles %.3f MB\n", static_cast<unsigned long long>(athletes),
              static_cast<unsigned long long>(sets), static_cast<unsigned long long>(made.ops),
              static_cast<unsigned long long>(made.openings), static_cast<double>(made.plain_bytes) / 1e6);

  kit::PlainFiles row_files, our_files;
  double upsert = 0, rows_query = 0, rows_open = 0, rows_week = 0;
  kit::ClubAnswer rows_answer;
  {
    Rows rows(row_files);
    upsert = ms_of([&] { rows.merge(rows_in); });
    rows_query = median_ms(3, [&] { rows_answer = rows.query(); });
  }
  {
    std::vector<double> weeks;
    for (int i = 0; i < 5; ++i) {
      kit::PlainFiles files;
      copy_into(files, row_files);
      Rows rows(files);
      rows.query();
      weeks.push_back(ms_of([&] { rows.merge({&made.week_rows}); }));
    }
    std::sort(weeks.begin(), weeks.end());
    rows_week = weeks[2];
  }
  rows_open = median_ms(3, [&] { Rows(row_files).query(); });
  std::printf("U: upsert of everything %.1f ms, open and GROUP BY %.1f ms, GROUP BY %.1f ms, 30 rows %.3f ms, %.3f MB\n", upsert, rows_open,
              rows_query, rows_week, static_cast<double>(bytes_in(row_files)) / 1e6);

  kit::PlainFiles tenth;  // the store when it held six athletes
  double merge = 0, tidy = 0, open_all = 0, week = 0, week_at_a_tenth = 0, export_week = 0, export_all = 0, query = 0, warm = 0, proven = 0;
  double merge_peak = 0, open_peak = 0, hold_peak = 0;
  Gates gates;
  {
    Ours ours(our_files);
    for (std::size_t i = 0; i < made.bundles.size(); ++i) {
      bench::begin_peak();
      merge += ms_of([&] { ours.take(made.bundles[i]); });
      merge_peak = std::max(merge_peak, bench::peak_mib());
      if (i + 1 == 6 * kit::kClubDevices) tenth.content = our_files.content;
    }
    tidy = ms_of([&] { ours.tidy(); });
  }
  proven = median_ms(3, [&] { sure(Ours(our_files).read_all() == made.ops, "another count of ops"); });
  bench::begin_peak();
  open_all = median_ms(3, [&] {
    std::size_t rows = 0;
    Ours ours(our_files);
    for (const model::ScopeId& scope : ours.scopes()) rows += ours.sets_of(scope).size();
    sure(rows == sets, "another count of sets");
  });
  open_peak = bench::peak_mib();
  {
    Ours ours(our_files);
    query = median_ms(3, [&] {
      gates.answer = {};
      for (const model::ScopeId& scope : ours.scopes()) query_sets(ours.sets_of(scope), gates.answer);
    });
    bench::begin_peak();
    const std::vector<ops::SetTable> all = ours.sets();
    hold_peak = bench::peak_mib();
    kit::ClubAnswer again;
    warm = median_ms(3, [&] {
      again = {};
      for (const ops::SetTable& table : all) query_sets(table, again);
    });
    sure(again == gates.answer, "another answer when warm");
  }
  const std::size_t store_bytes = bytes_in(our_files);
  week = week_into(our_files, made.week);
  if (!tenth.content.empty()) week_at_a_tenth = week_into(tenth, made.week);
  {
    Ours ours(our_files);
    ours.read_all();
    ours.take(made.week);
    kit::ClubPens first(0);
    const std::uint64_t held = sure(sync::read_bundle(made.bundles.front(), "club.slip")).ops.size();
    export_week = median_ms(
        3, [&] { sure(model::equal(ours.export_from(first.scope(), first.stream(0).inc, held + 1), made.week), "another week"); });
  }
  {
    // Everything again from bundles alone.
    kit::PlainFiles files;
    Ours ours(files);
    for (const model::Bytes& file : made.bundles) ours.take(file);
    export_all = ms_of([&] {
      for (std::uint64_t a = 0; a < athletes; ++a)
        for (std::uint64_t device = 0; device < kit::kClubDevices; ++device) {
          kit::ClubPens pens(a);
          const model::Bytes again = ours.export_from(pens.scope(), pens.stream(device).inc, 1);
          gates.ops_changed += model::equal(again, made.bundles[a * kit::kClubDevices + device]) ? 0 : 1;
        }
    });
    for (std::uint64_t a = 0; a < athletes; ++a) {
      kit::ClubPens pens(a);
      check_order(made, static_cast<std::size_t>(a), ours.fold_of(pens.scope()), gates);
    }
  }
  bar("1", "merge of everything, beside 0.35 U", merge, 0.35 * upsert, "ms");
  bar("2", "merge of everything, 9.4 s / 45 (under Node)", merge, 9'400 * part / 45, "ms");
  bar("3", "the week taken in, beside 2 upserts of 30 rows", week, 2 * rows_week, "ms");
  if (week_at_a_tenth > 0) bar("3b", "  and beside 1.3 of it in a store of a tenth", week, 1.3 * week_at_a_tenth, "ms");
  bar("4", "open and read all, beside 0.2 open + GROUP BY", open_all, 0.2 * rows_open, "ms");
  if (open_peak > 0) {
    bar("4m", "  peak memory of it, one athlete's columns at a time", open_peak, 32, "MiB");
    bar("4n", "  peak memory with everybody's columns held at once", hold_peak, 32, "MiB");
    std::printf("beside   peak memory of taking in one bundle, its file and what the store grows by included: %.1f MiB\n", merge_peak);
  }
  bar("5", "all bundles", static_cast<double>(made.bytes) / 1e6, 2.36 * part, "MB");
  bar("5s", "  stretch", static_cast<double>(made.bytes) / 1e6, 1.6 * part, "MB");
  bar("6", "the week's bundle", static_cast<double>(made.week.size()), 640, "B");
  bar("6s", "  stretch", static_cast<double>(made.week.size()), 440, "B");
  bar("7", "export of the week", export_week, 1, "ms");
  bar("7b", "export of everything, beside 0.15 U", export_all, 0.15 * upsert, "ms");
  bar("8", "the query, cold, beside 0.2 GROUP BY", query, 0.2 * rows_query, "ms");
  bar("8w", "  warm, beside 0.05", warm, 0.05 * rows_query, "ms");
  std::printf("beside   calm moment after the merge %.1f ms; every entry read and proven %.1f ms\n", tidy, proven);
  std::printf("wasm 9   merge %.1f ms, query %.1f ms: to be compared with the native run\n", merge, query);
  bar("10", "store on disk, beside 0.2 of the rows", static_cast<double>(store_bytes) / 1e6,
      0.2 * static_cast<double>(bytes_in(row_files)) / 1e6, "MB");
  const bool exact = gates.answer == expected && rows_answer.groups == expected.groups;
  const bool whole = gates.pairs_lost == 0 && gates.orders_differ == 0 && gates.ops_changed == 0 && exact;
  std::printf("gate 11  edits lost %llu, orders that differ %llu, bundles not given back %llu, the query's answer %s: %s\n",
              static_cast<unsigned long long>(gates.pairs_lost), static_cast<unsigned long long>(gates.orders_differ),
              static_cast<unsigned long long>(gates.ops_changed), exact ? "exact" : "WRONG", whole ? "held" : "BROKEN");
  return whole ? 0 : 1;
}
