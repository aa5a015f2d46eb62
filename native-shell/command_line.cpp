#include "command_line.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <iostream>

#include "report/words.h"
#include "whole_files.h"

namespace slipway::native {

namespace {

using report::say;

std::string lines(const std::string& about) {
  std::string text;
  for (const std::string& line : report::text_lines("cli.lines." + about)) text += (text.empty() ? "" : "\n") + line;
  return text;
}

class Words {
 public:
  explicit Words(Request& request) : request_(request), app_(say("cli.about"), "slipway") {
    app_.get_formatter()->column_width(kColumn);
    app_.require_subcommand(0, 1);
    app_.fallthrough();  // the options for every command may stand anywhere
    app_.footer(lines("start"));
    app_.set_help_flag("--help,-h", say("cli.option_help"));
    for_every_command();
    for_the_window();
    demo();
    athletes();
    entries();
    plans();
    libraries();
    comments();
    bundles();
    keys();
    profiles();
    erasing();
    coming();
    adults();
    command(app_, "check", "cli.check", Command::check);
    questions();
  }
  CLI::App& app() { return app_; }

 private:
  // Without it a minus would wrap around to a very large number.
  const CLI::Validator whole{[](std::string& text) {
                               const bool digits = !text.empty() && text.find_first_not_of("0123456789") == std::string::npos;
                               if (digits) text.erase(0, std::min(text.find_first_not_of('0'), text.size() - 1));  // "010" is ten, not octal
                               return digits ? std::string() : say("cli.whole", {text});
                             },
                             ""};
  static CLI::Validator one_of(const std::vector<std::string>& words) {
    std::string all;
    for (const std::string& word : words) all += (all.empty() ? "" : ", ") + word;
    return {[words, all](std::string& text) {
              return std::find(words.begin(), words.end(), text) != words.end() ? std::string() : say("cli.one_of", {text, all});
            },
            "{" + all + "}"};
  }
  static constexpr std::size_t kColumn = 34;  // where the meanings begin in the help

  CLI::App& command(CLI::App& above, const std::string& word, const std::string& text, Command which) {
    CLI::App& made = group(above, word, text);
    made.footer(lines(text.substr(text.find('.') + 1)) + "\n" + lines("common"));
    made.callback([this, which, &made] {
      if (made.get_subcommands().empty()) request_.command = which;
    });
    return made;
  }
  CLI::App& group(CLI::App& above, const std::string& word, const std::string& text) { return *above.add_subcommand(word, say(text)); }

  void for_every_command() {
    app_.add_option("--store", request_.store, say("cli.store_help"))->type_name("FOLDER");
    app_.add_flag("--json", request_.json, say("cli.option_json"));
    static const std::map<std::string, app::Author> authors{
        {"swimmer", app::Author::swimmer}, {"coach", app::Author::coach}, {"helper", app::Author::helper}};
    app_.add_option_function<std::string>("--as", [this](const std::string& who) { request_.author = authors.at(who); }, say("cli.option_as"))
        ->type_name("WHO")
        ->check(one_of({"swimmer", "coach", "helper"}).description(""));
    app_.add_option("--profile-passphrase-file", request_.profile_passphrase_files, say("cli.option_profile_passphrase"))->type_name("FILE")->expected(1)->take_all();
    app_.add_option("--at", request_.at, say("cli.option_at"))->type_name("MOMENT");
  }

  void for_the_window() {
    app_.add_option("files", request_.files, say("cli.option_files"))->type_name("FILE");
    WindowWish& wish = request_.window;
    const std::string part = say("cli.window");
    app_.add_option("--size", wish.size, say("cli.option_size"))->type_name("WxH")->group(part);
    app_.add_option("--theme", wish.theme, say("cli.option_theme"))->type_name("THEME")->check(one_of({"daylight", "night"}))->group(part);
    app_.add_option("--text-size", wish.text_percent, say("cli.option_text_size"))
        ->type_name("PERCENT")
        ->check(one_of({"100", "125", "150", "200"}))
        ->group(part);
    app_.add_flag("--say", wish.say, say("cli.option_say"))->group(part);
    app_.add_option("--shot", wish.shot, say("cli.option_shot"))->type_name("FILE.ppm")->group(part);
  }

  void demo() {
    CLI::App& made = command(app_, "demo", "cli.demo", Command::demo);
    day(made);
  }

  void athletes() {
    CLI::App& of = group(app_, "athlete", "cli.athlete");
    CLI::App& add = command(of, "add", "cli.athlete_add", Command::athlete_add);
    add.add_option("name", request_.name, say("cli.option_name"))->type_name("NAME")->required();
    add.add_option("--born", request_.born, say("cli.option_born"))->type_name("YEAR")->transform(whole);
    command(of, "list", "cli.athlete_list", Command::athlete_list);
    who(command(of, "show", "cli.athlete_show", Command::athlete_show));
    CLI::App& set = command(of, "set", "cli.athlete_set", Command::athlete_set);
    who(set);
    CLI::App& kit = command(of, "kit", "cli.athlete_kit", Command::athlete_kit);
    who(kit);
    word(kit, "name", request_.kit, "cli.option_kit_name");
    kit.add_option("--loads", request_.loads, say("cli.option_kit_loads"))->type_name("LIST");
    kit.add_option("--bands", request_.bands, say("cli.option_kit_bands"))->type_name("LIST");
    kit.add_option("--equipment", request_.equipment, say("cli.option_kit_equipment"))->type_name("LIST");
    set.add_option("fact", request_.field, say("cli.option_fact"))->type_name("FACT")->required();
    set.add_option("value", request_.value, say("cli.option_fact_value"))->type_name("VALUE")->required();
  }

  void entries() {
    CLI::App& log = command(app_, "log", "cli.log", Command::log);
    log.require_subcommand(0, 1);
    log.add_option("who", request_.who, say("cli.option_who"))->type_name("WHO");
    auto* reps = log.add_option("--reps", request_.reps, say("cli.option_reps"))->type_name("N")->transform(whole);
    dose(log);
    log.add_option("--round", request_.round, say("cli.option_round"))->type_name("N")->transform(whole);
    log.add_option("--exercise", request_.exercise, say("cli.option_exercise"))->type_name("RUNG");
    log.add_option("--kit", request_.kit, say("cli.option_kit"))->type_name("NAME");
    log.add_flag("--left-out", request_.left_out, say("cli.option_left_out"));
    log.add_option("--side", request_.side, say("cli.option_side_done"))->type_name("SIDE");
    entry_marks(log);
    log.add_flag("--warm-up", request_.warm_up, say("cli.option_warm_up"));
    log.add_flag("--as-written", request_.as_written, say("cli.option_as_written"))->excludes(reps);
    day(log);
    CLI::App& change = command(log, "change", "cli.log_change", Command::log_change);
    entry(change);
    change.add_option("--reps", request_.reps, say("cli.option_reps_now"))->type_name("N")->transform(whole);
    dose(change);
    change.add_flag("--left-out", request_.left_out, say("cli.option_left_out"));
    change.add_option("--side", request_.side, say("cli.option_side_done"))->type_name("SIDE");
    entry_marks(change);
    entry(command(log, "back", "cli.log_back", Command::log_back));
    CLI::App& move = command(log, "move", "cli.log_move", Command::log_move);
    who(move);
    word(move, "from", request_.since, "cli.option_from_day");
    word(move, "to", request_.to, "cli.option_to_day");
    notes(log);
  }

  void entry_marks(CLI::App& of) {
    of.add_flag("--form-broke", request_.form_broke, say("cli.option_form_broke"));
    of.add_flag("--two-more", request_.two_more, say("cli.option_two_more"));
  }

  CLI::App& note(CLI::App& of, const std::string& name, const std::string& text, Command which) {
    CLI::App& made = command(of, name, text, which);
    who(made);
    if (of.get_name() != "log") day(made);  // those of "log" have its --day
    return made;
  }
  void word(CLI::App& of, const char* name, std::string& into, const char* text) {
    of.add_option(name, into, say(text))->type_name(upper(name))->required();
  }
  void count(CLI::App& of, const char* name, std::optional<std::uint64_t>& into, const char* text) {
    of.add_option(name, into, say(text))->type_name("N")->transform(whole);
  }
  static std::string upper(std::string name) {
    std::transform(name.begin(), name.end(), name.begin(), [](char sign) { return sign >= 'a' && sign <= 'z' ? static_cast<char>(sign - 'a' + 'A') : sign; });
    return name;
  }

  void notes(CLI::App& log) {
    CLI::App& finish = note(log, "finish", "cli.note_finish", Command::note_finish);
    count(finish, "--effort", request_.effort, "cli.option_effort");
    count(finish, "--minutes", request_.minutes, "cli.option_minutes");
    finish.add_option("--short", request_.short_reason, say("cli.option_short"))->type_name("WHY");
    note(log, "check", "cli.note_check", Command::note_check);
    CLI::App& pain = note(log, "pain", "cli.note_pain", Command::note_pain);
    word(pain, "part", request_.region, "cli.option_part");
    pain.add_option("--band", request_.band, say("cli.option_band"))->type_name("HOW");
    count(pain, "--amount", request_.amount, "cli.option_amount");
    pain.add_option("--side", request_.side, say("cli.option_side"))->type_name("SIDE");
    pain.add_option("--at-exercise", request_.exercise, say("cli.option_at_exercise"))->type_name("RUNG");
    CLI::App& settled = note(log, "settled", "cli.note_settled", Command::note_settled);
    word(settled, "part", request_.region, "cli.option_part");
    word(settled, "answer", request_.yes_no, "cli.option_settled");
    CLI::App& over = note(log, "over", "cli.note_over", Command::note_over);
    word(over, "part", request_.region, "cli.option_part");
    over.add_flag("--slip", request_.slip, say("cli.option_slip"));
    CLI::App& sore = note(log, "sore", "cli.note_sore", Command::note_sore);
    word(sore, "part", request_.region, "cli.option_sore_part");
    count(sore, "--days", request_.days, "cli.option_sore_days");
    sore.add_flag("--hinders", request_.hinders, say("cli.option_hinders"));
    word(note(log, "flag", "cli.note_flag", Command::note_flag), "sign", request_.flag, "cli.option_flag");
    word(note(log, "mass", "cli.note_mass", Command::note_mass), "mass", request_.value, "cli.option_mass");
    word(note(log, "ill", "cli.note_illness", Command::note_illness), "state", request_.state, "cli.option_illness");
  }

  void coming() {
    CLI::App& next = note(app_, "next", "cli.next", Command::next);
    next.add_option("--kit", request_.kit, say("cli.option_kit"))->type_name("NAME");
    day(command(app_, "squad", "cli.squad", Command::squad));
    CLI::App& report = note(app_, "report", "cli.report", Command::report);
    report.add_option("--since", request_.since, say("cli.option_since"))->type_name("ISO");
  }

  void adults() {
    CLI::App& coach = group(app_, "coach", "cli.coach");
    const auto of_adult = [&](const char* name, const char* text, Command which) -> CLI::App& {
      CLI::App& made = note(coach, name, text, which);
      made.add_option("--role", request_.role, say("cli.option_role"))->type_name("ROLE")->default_val("coach");
      return made;
    };
    const auto with_note = [&](CLI::App& made) { made.add_option("--note", request_.note, say("cli.option_note"))->type_name("TEXT"); };
    CLI::App& sign_off = of_adult("sign-off", "cli.sign_off", Command::sign_off);
    word(sign_off, "exercise", request_.exercise, "cli.option_rung");
    word(sign_off, "level", request_.level, "cli.option_level");
    sign_off.add_option("--load", request_.load, say("cli.option_load"))->type_name("LOAD");
    count(sign_off, "--reps", request_.reps, "cli.option_seen_reps");
    with_note(sign_off);
    CLI::App& withdraw = of_adult("withdraw", "cli.withdraw", Command::withdraw);
    word(withdraw, "exercise", request_.exercise, "cli.option_rung");
    with_note(withdraw);
    of_adult("tick-in", "cli.tick_in", Command::tick_in).add_flag("--second-adult", request_.second_adult, say("cli.option_second_adult"));
    CLI::App& consent = note(coach, "consent", "cli.consent", Command::consent);
    word(consent, "thing", request_.state, "cli.option_thing");
    word(consent, "answer", request_.yes_no, "cli.option_yes_no");
    consent.add_option("--from", request_.from, say("cli.option_from"))->type_name("WHO")->default_val("guardian");
    CLI::App& clear = of_adult("clear", "cli.clear", Command::clear);
    word(clear, "part", request_.region, "cli.option_covers");
    clear.add_flag("--clinician-allowed", request_.clinician, say("cli.option_clinician"));
    with_note(clear);
    CLI::App& overrule = note(coach, "overrule", "cli.overrule", Command::overrule);
    word(overrule, "row", request_.row, "cli.option_row");
    overrule.add_option("--exercise", request_.exercise, say("cli.option_rung"))->type_name("RUNG");
    count(overrule, "--sets", request_.sets, "cli.option_sets");
    count(overrule, "--reps", request_.reps, "cli.option_own_reps");
    overrule.add_option("--load", request_.load, say("cli.option_load"))->type_name("LOAD");
    with_note(overrule);
  }

  void plans() {
    CLI::App& plan = group(app_, "plan", "cli.plan");
    CLI::App& set = command(plan, "set", "cli.plan_set", Command::plan_set);
    who(set);
    set.add_option("field", request_.field, say("cli.option_field"))->type_name("FIELD")->required();
    set.add_option("value", request_.value, say("cli.option_value"))->type_name("VALUE")->required();
    set.add_option("--exercise", request_.exercise, say("cli.option_line_exercise"))->type_name("RUNG");
    who(command(plan, "show", "cli.plan_show", Command::plan_show));
    CLI::App& add = command(plan, "add", "cli.plan_add", Command::plan_add);
    who(add);
    word(add, "exercise", request_.exercise, "cli.option_rung");
    add.add_option("--sets", request_.sets, say("cli.option_line_sets"))->type_name("N")->transform(whole)->required();
    add.add_option("--reps", request_.reps, say("cli.option_line_reps"))->type_name("N")->transform(whole)->required();
    count(add, "--high", request_.reps_high, "cli.option_line_high");
    dose(add);
    add.add_option("--band", request_.band, say("cli.option_line_band"))->type_name("NAME");
    add.add_option("--grip", request_.grip, say("cli.option_line_grip"))->type_name("GRIP");
    count(add, "--rest", request_.rest_s, "cli.option_line_rest");
    add.add_option("--session", request_.session, say("cli.option_line_session"))->type_name("S")->check(one_of({"A", "B"}));
    count(add, "--block", request_.block, "cli.option_line_block");
    count(add, "--place", request_.place, "cli.option_line_place");
    CLI::App& drop = command(plan, "drop", "cli.plan_drop", Command::plan_drop);
    who(drop);
    entry(drop);
    CLI::App& move = command(plan, "move", "cli.plan_move", Command::plan_move);
    who(move);
    entry(move);
    move.add_option("--after", request_.to, say("cli.option_after"))->type_name("ENTRY");
    CLI::App& copy = command(plan, "copy", "cli.plan_copy", Command::plan_copy);
    word(copy, "from", request_.from, "cli.option_copy_from");
    word(copy, "to", request_.to, "cli.option_copy_to");
    copy.add_flag("--beside", request_.beside, say("cli.option_beside"));
  }

  void libraries() {
    CLI::App& library = group(app_, "library", "cli.library");
    word(command(library, "add", "cli.library_add", Command::library_add), "name", request_.name, "cli.option_library");
    command(library, "list", "cli.library_list", Command::library_list);
  }

  void comments() {
    CLI::App& note = group(app_, "note", "cli.comment");
    const auto of = [&](const char* name, const char* text, Command which) -> CLI::App& {
      CLI::App& made = command(note, name, text, which);
      who(made);
      return made;
    };
    CLI::App& add = of("add", "cli.comment_add", Command::comment_add);
    word(add, "text", request_.note, "cli.option_comment");
    add.add_option("--about", request_.entry, say("cli.option_about"))->type_name("ENTRY");
    add.add_flag("--coach-only", request_.coach_only, say("cli.option_coach_only"));
    of("list", "cli.comment_list", Command::comment_list);
    CLI::App& change = of("change", "cli.comment_change", Command::comment_change);
    entry(change);
    word(change, "text", request_.note, "cli.option_comment");
    entry(of("back", "cli.comment_back", Command::comment_back));
    CLI::App& keep = command(app_, "keep", "cli.keep_it", Command::keep_it);
    who(keep);
    entry(keep);
  }

  void going_out(CLI::App& of) {
    of.add_option("--athlete", request_.athletes, say("cli.option_athlete"))->type_name("WHO")->expected(1)->take_all();
    of.add_option("--to", request_.peer, say("cli.option_peer"))->type_name("DEVICE");
    of.add_flag("--libraries", request_.libraries, say("cli.option_libraries"));
    of.add_flag("--coach-notes", request_.coach_notes, say("cli.option_coach_notes"));
  }

  void bundles() {
    CLI::App& bundle = group(app_, "bundle", "cli.bundle");
    CLI::App& make = command(bundle, "make", "cli.bundle_make", Command::bundle_make);
    going_out(make);
    going_out(command(bundle, "preview", "cli.bundle_preview", Command::bundle_preview));
    command(bundle, "peers", "cli.bundle_peers", Command::bundle_peers);
    command(bundle, "taken", "cli.bundle_taken", Command::bundle_taken);
    make.add_option("--out", request_.out, say("cli.option_out"))->type_name("FILE")->required();
    make.add_flag("--text", request_.text, say("cli.option_text"));
    make.add_flag("--replace", request_.replace, say("cli.option_replace"));
    auto* for_coach = make.add_flag("--for-coach", request_.for_coach, say("cli.option_for_coach"));
    auto* open = make.add_flag("--open", request_.open, say("cli.option_open"))->excludes(for_coach);
    passphrase(make, "cli.option_seal_passphrase")->excludes(for_coach)->excludes(open);
    CLI::App& look = command(bundle, "look", "cli.bundle_look", Command::bundle_look);
    look.add_option("file", request_.files, say("cli.option_bundle"))->type_name("FILE")->required()->expected(1);
    passphrase(look, "cli.option_passphrase");
    CLI::App& merge = command(bundle, "merge", "cli.bundle_merge", Command::bundle_merge);
    merge.add_option("files", request_.files, say("cli.option_bundles"))->type_name("FILE")->required();
    passphrase(merge, "cli.option_passphrase");
    merge.add_flag("--from-unknown", request_.from_unknown, say("cli.option_from_unknown"));
    CLI::App& inbox = command(app_, "inbox", "cli.inbox", Command::inbox);
    inbox.add_option("folder", request_.files, say("cli.option_inbox"))->type_name("FOLDER")->required()->expected(1);
    CLI::App& out = command(app_, "export", "cli.export", Command::export_all);
    out.add_option("--athlete", request_.athletes, say("cli.option_export_athlete"))->type_name("WHO")->expected(1)->take_all();
    out.add_option("--out", request_.out, say("cli.option_export_out"))->type_name("FILE.zip")->required();
    out.add_flag("--replace", request_.replace, say("cli.option_replace"));
    CLI::App& in = command(app_, "import", "cli.import", Command::import_files);
    in.add_option("files", request_.files, say("cli.option_imports"))->type_name("FILE")->required();
    passphrase(in, "cli.option_passphrase");
    in.add_flag("--from-unknown", request_.from_unknown, say("cli.option_from_unknown"));
    CLI::App& backup = command(app_, "backup", "cli.backup", Command::backup);
    backup.add_option("--out", request_.out, say("cli.option_backup_out"))->type_name("FILE.zip")->required();
    backup.add_flag("--replace", request_.replace, say("cli.option_replace"));
    passphrase(backup, "cli.option_seal_passphrase");
    CLI::App& restore = command(app_, "restore", "cli.restore", Command::restore);
    restore.add_option("file", request_.files, say("cli.option_restore"))->type_name("FILE")->required()->expected(1);
    passphrase(restore, "cli.option_passphrase");
    restore.add_flag("--from-unknown", request_.from_unknown, say("cli.option_from_unknown"));
    inbox.add_flag("--watch", request_.watch, say("cli.option_watch"));
    passphrase(inbox, "cli.option_passphrase");
    inbox.add_flag("--from-unknown", request_.from_unknown, say("cli.option_from_unknown"));
  }
  CLI::Option* passphrase(CLI::App& of, const char* text) { return of.add_option("--passphrase-file", request_.passphrase_file, say(text))->type_name("FILE"); }

  void keys() {
    CLI::App& key = group(app_, "key", "cli.key");
    const auto kept_how = [&](CLI::App& of) {
      of.add_option("--name", request_.name, say("cli.option_coach_name"))->type_name("NAME")->required();
      auto* file = passphrase(of, "cli.option_key_passphrase");
      of.add_flag("--unwrapped", request_.unwrapped, say("cli.option_unwrapped"))->excludes(file);
      of.add_flag("--replace", request_.replace, say("cli.option_replace_key"));
    };
    kept_how(command(key, "make", "cli.key_make", Command::key_make));
    command(key, "show", "cli.key_show", Command::key_show);
    CLI::App& sheet = command(key, "sheet", "cli.key_sheet", Command::key_sheet);
    sheet.add_option("--out", request_.out, say("cli.option_sheet_out"))->type_name("FILE")->required();
    passphrase(sheet, "cli.option_key_passphrase_now");
    sheet.add_flag("--replace", request_.replace, say("cli.option_replace"));
    CLI::App& recover = command(key, "recover", "cli.key_recover", Command::key_recover);
    recover.add_option("sheet", request_.files, say("cli.option_sheet"))->type_name("FILE")->required()->expected(1);
    kept_how(recover);
    CLI::App& squad = command(key, "squad", "cli.key_squad", Command::key_squad);
    squad.add_option("--out", request_.out, say("cli.option_out"))->type_name("FILE")->required();
    squad.add_flag("--text", request_.text, say("cli.option_text"));
    squad.add_flag("--replace", request_.replace, say("cli.option_replace"));
    command(key, "leave", "cli.key_leave", Command::key_leave);
  }

  void profiles() {
    CLI::App& profile = group(app_, "profile", "cli.profile");
    command(profile, "list", "cli.profile_list", Command::profile_list);
    CLI::App& seal = command(profile, "seal", "cli.profile_seal", Command::profile_seal);
    who(seal);
    passphrase(seal, "cli.option_new_passphrase")->required();
    who(command(profile, "unseal", "cli.profile_unseal", Command::profile_unseal));
    CLI::App& drop = command(profile, "drop", "cli.profile_drop", Command::profile_drop);
    who(drop);
    drop.add_option("--type-name", request_.typed, say("cli.option_type_name"))->type_name("NAME")->required();
  }

  void erasing() {
    CLI::App& erase = group(app_, "erase", "cli.erase");
    CLI::App& athlete = command(erase, "athlete", "cli.erase_athlete", Command::erase);
    who(athlete);
    athlete.add_option("--type-name", request_.typed, say("cli.option_type_name"))->type_name("NAME")->required();
    athlete.add_option("--reason", request_.reason, say("cli.option_reason"))->type_name("WHY")->check(one_of({"asked", "left", "long", "mistake"}))->required();
    auto* out = athlete.add_option("--export", request_.out, say("cli.option_last_export"))->type_name("FILE.zip");
    athlete.add_flag("--no-export", request_.no_export, say("cli.option_no_export"))->excludes(out);
    command(erase, "status", "cli.erase_status", Command::erase_status);
  }

  void questions() {
    CLI::App& compute = command(app_, "compute", "cli.compute", Command::compute);
    compute.add_option("name", request_.name, say("cli.option_formula"))->type_name("NAME");
    compute.add_option("input", request_.value, say("cli.option_question"))->type_name("JSON");
    CLI::App& decide = command(app_, "decide", "cli.decide", Command::decide);
    decide.add_option("question", request_.value, say("cli.option_question"))->type_name("JSON");
  }

  void who(CLI::App& of) { of.add_option("who", request_.who, say("cli.option_who"))->type_name("WHO")->required(); }
  void entry(CLI::App& of) { of.add_option("entry", request_.entry, say("cli.option_entry"))->type_name("ENTRY")->required(); }
  void day(CLI::App& of) { of.add_option("--day", request_.day, say("cli.option_day"))->type_name("ISO"); }
  void dose(CLI::App& of) {
    auto* load = of.add_option("--load", request_.load, say("cli.option_load"))->type_name("LOAD");
    of.add_option("--rir", request_.rir, say("cli.option_rir"))->type_name("N")->transform(whole);
    if (of.get_name() == "log") of.add_flag("--no-load", request_.no_load, say("cli.option_no_load"))->excludes(load);
  }

  Request& request_;
  CLI::App app_;
};

// What the parser cannot see: words that fit no command, or only another one.
// What is not a subcommand's own falls to "log" above it: its day is meant by notes; anything else would be taken and never used.
std::string misfit_of_log(const Request& request, const CLI::App& app) {
  const CLI::App* log = app.get_subcommand("log");
  if (log->get_subcommands().empty()) return {};
  const bool has_day = request.command != Command::log_change && request.command != Command::log_back && request.command != Command::log_move;
  for (const CLI::Option* option : log->get_options()) {
    if (option->count() == 0 || (has_day && option->get_name() == "--day")) continue;
    const std::string name = option->get_name();
    if (name == "who") return say("cli.misfit_extra", {option->results().front()});
    return say("cli.misfit_option", {name, "log " + log->get_subcommands().front()->get_name()});
  }
  return {};
}

std::string misfit(const Request& request, const CLI::App& app) {
  const bool window = request.command == Command::window;
  if (window && !app.get_subcommands().empty())
    return request.files.empty() ? say("cli.misfit_unfinished") : say("cli.misfit_after", {request.files.front(), app.get_subcommands().front()->get_name()});
  if (!window && app.count("files") > 0) return say("cli.misfit_extra", {request.files.front()});
  for (const std::string& file : request.files)
    if (window && is_missing(file)) return say("cli.misfit_word", {file});
  for (const char* option : {"--size", "--theme", "--text-size", "--say", "--shot"})
    if (!window && app.count(option) > 0) return say("cli.misfit_window", {option});
  if (const std::string why = misfit_of_log(request, app); !why.empty()) return why;
  if (request.command == Command::erase && request.out.empty() && !request.no_export) return say("cli.misfit_export");
  if (request.command == Command::log && request.who.empty()) return say("cli.misfit_who");
  const bool makes_key = request.command == Command::key_make || request.command == Command::key_recover;
  if (makes_key && request.passphrase_file.empty() && !request.unwrapped) return say("cli.misfit_key");
  const bool changes = request.reps || request.load || request.rir || request.left_out || !request.side.empty() || request.form_broke || request.two_more;
  if (request.command == Command::log_change && !changes) return say("cli.misfit_change");
  return {};
}

int refuse(const std::string& why) {
  std::cerr << "slipway: " << why << "\n" << say("cli.misfit_help") << "\n";
  return kWrongUse;
}

}  // namespace

std::variant<Request, int> read_command_line(int count, char** given) {
  Request request;
  Words words(request);
  try {
    words.app().parse(count, given);
  } catch (const CLI::CallForHelp&) {
    std::cout << words.app().help();
    return kDone;
  } catch (const CLI::ParseError& error) {
    return refuse(error.what());
  }
  const std::string why = misfit(request, words.app());
  if (!why.empty()) return refuse(why);
  return request;
}

}  // namespace slipway::native
