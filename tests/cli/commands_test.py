#!/usr/bin/env python3
"""Every command from outside: what it does, its exit codes, its JSON, its help."""
import re
import sqlite3

from kit import ANSWER_IS_NO, BAD_INPUT, DONE, STORAGE_TROUBLE, TOP, WRONG_USE, case, equal, holds, run_cases

AT = "2026-03-02T18:42:07+01:00"
COMMANDS = [["demo"], ["athlete", "add"], ["athlete", "list"], ["athlete", "show"], ["log"], ["log", "change"], ["log", "back"],
            ["athlete", "set"], ["athlete", "kit"], ["next"], ["squad"], ["report"], ["log", "move"], ["log", "finish"], ["log", "check"], ["log", "pain"],
            ["log", "settled"], ["log", "over"], ["log", "sore"], ["log", "flag"], ["log", "mass"], ["log", "ill"], ["coach", "sign-off"],
            ["coach", "withdraw"], ["coach", "tick-in"], ["coach", "consent"], ["coach", "clear"], ["coach", "overrule"],
            ["plan", "set"], ["plan", "show"], ["plan", "add"], ["plan", "drop"], ["plan", "move"], ["plan", "copy"], ["library", "add"],
            ["library", "list"], ["note", "add"], ["note", "list"], ["note", "change"], ["note", "back"], ["keep"], ["bundle", "preview"],
            ["bundle", "peers"], ["bundle", "taken"], ["bundle", "make"], ["bundle", "look"], ["bundle", "merge"], ["inbox"],
            ["key", "make"], ["key", "show"], ["key", "sheet"], ["key", "recover"], ["key", "squad"], ["key", "leave"], ["profile", "list"],
            ["profile", "seal"], ["profile", "unseal"], ["profile", "drop"], ["export"], ["import"], ["backup"], ["restore"],
            ["erase", "athlete"], ["erase", "status"], ["check"], ["compute"], ["decide"]]
FACTS = {"decisions", "pains", "soreness", "checks", "red_flags", "clearances", "sign_offs", "tick_ins", "consents", "body_masses",
         "illnesses", "overrulings", "swaps"}
FIELD = {"value", "contradiction", "values"}
BY = {"author", "incarnation", "entry", "lam", "claimed"}
SET = {"entry", "exercise", "round", "reps", "load", "rir", "written_reps", "written_load", "as_written", "left_out", "side", "warm_up",
       "form_broke", "two_more", "corrected",
       "revived", "by"}


def keys(answer, wanted, what):
    equal(set(answer), set(wanted), f"keys of {what}")


@case("an athlete is added, listed and shown")
def added(world):
    store = world.store("s")
    answer = store.json("athlete", "add", "Otter", "--born", 2010)
    keys(answer, {"athlete", "kept"}, "athlete add")
    equal((answer["athlete"]["name"], answer["kept"]), ("Otter", True), "added")
    holds(re.fullmatch("[0-9a-f]{32}", answer["athlete"]["id"]), "an id is 32 signs")
    listed = store.json("athlete", "list")["athletes"]
    equal(listed, [{"id": answer["athlete"]["id"], "name": "Otter", "birth_year": 2010, "sessions": 0, "sets": 0, "contradictions": 0,
                    "not_understood": 0}], "athlete list")
    shown = store.json("athlete", "show", "Otter")
    keys(shown, FACTS | {"id", "name", "birth_year", "group", "limitations", "training_days", "form_gate", "plan", "kits", "sessions", "taken_back",
                         "contradictions", "came_back", "not_understood"}, "athlete show")
    keys(shown["name"], FIELD, "a field")
    keys(shown["name"]["values"][0]["by"], BY, "a writer")
    equal(shown["plan"][0]["exercise"]["value"], "SQ4", "the first plan")
    holds([load["grams"] for load in shown["kits"][0]["loads"]] == sorted(load["grams"] for load in shown["kits"][0]["loads"]), "a kit rises")
    for named in (answer["athlete"]["id"], answer["athlete"]["id"][:6], "Otter"):
        equal(store.json("athlete", "show", named)["id"], answer["athlete"]["id"], f"shown by {named}")


@case("a set is logged as written, with the moment its device claims")
def as_written(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter", "--born", 1990)
    answer = store.json("log", "Otter", "--at", AT)
    keys(answer, {"athlete", "entry", "day", "taken_back", "set", "kept"}, "log")
    keys(answer["set"], SET, "a set")
    one = answer["set"]
    equal((one["exercise"], one["round"], one["reps"]["value"], one["load"]["value"]), ("SQ4", 1, 8, {"typed": "8", "unit": "kg", "grams": 8000}), "as written")
    equal((one["as_written"], one["written_reps"], one["rir"]["value"]), (True, 8, None), "and no more is claimed")
    equal((answer["day"], one["by"]["claimed"], one["by"]["author"]), ("2026-03-02", "2026-03-02T18:42:07.000+01:00", "coach"), "who and when")
    more = [store.json("log", "Otter", "--as-written", "--at", AT)["set"] for _ in range(3)]
    equal([(one["exercise"], one["round"]) for one in more], [("VP4", 1), ("PU3", 1), ("SQ4", 2)], "round by round, as the circuit is written")
    other = store.json("log", "Otter", "--at", AT, "--day", "2026-03-04")["set"]
    equal((other["exercise"], other["round"]), ("SQ6", 1), "another day is the other session, and begins again")


@case("a set says what was done, whatever was written")
def as_done(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    one = store.json("--as", "swimmer", "log", "Otter", "--reps", 6, "--load", "45lb", "--rir", 1, "--round", 3, "--at", AT)["set"]
    equal((one["reps"]["value"], one["load"]["value"], one["rir"]["value"], one["round"]), (6, {"typed": "45", "unit": "lb", "grams": 20412}, 1, 3), "as done")
    equal((one["as_written"], one["by"]["author"]), (False, "swimmer"), "not as written")
    bare = store.json("log", "Otter", "--exercise", "SQ2", "--reps", 12, "--at", AT)["set"]
    equal((bare["exercise"], bare["load"]["value"], bare["written_reps"]), ("SQ2", None, None), "a rung that was not written")
    equal(store.json("log", "Otter", "--no-load", "--at", AT)["set"]["load"]["value"], None, "without a load")
    out = store.json("log", "Otter", "--left-out", "--at", AT)["set"]
    equal((out["left_out"], out["as_written"]), (True, False), "left out")


@case("a logged set is changed and taken back, and the history keeps it")
def mended(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    entry = store.json("log", "Otter", "--at", AT)["entry"]
    changed = store.json("log", "change", entry, "--reps", 7, "--rir", 0)
    equal((changed["set"]["reps"]["value"], changed["set"]["rir"]["value"], changed["set"]["corrected"]), (7, 0, True), "changed")
    for option, field in ((["--form-broke"], "form_broke"), (["--two-more"], "two_more")):
        equal(store.json("log", "change", entry, *option)["set"][field], True, f"log change {option}")
    begun = len(store.json("athlete", "show", "Otter")["sessions"])
    store.json("log", "Otter", "--reps", 99999, "--day", "2026-03-01", code=BAD_INPUT)
    equal(len(store.json("athlete", "show", "Otter")["sessions"]), begun, "what is refused begins no session")
    short = entry.split(":")[2][:8]
    equal(store.json("log", "change", short, "--load", "10 kg")["entry"], entry, "named by the first signs of its last part")
    back = store.json("log", "back", short)
    keys(back, {"athlete", "entry", "day", "taken_back", "set", "kept"}, "log back")
    equal(back["taken_back"], True, "taken back")
    ahead = store.json("log", "move", "Otter", "2026-03-02", "2026-03-09", "--at", AT, code=BAD_INPUT)["error"]
    equal((ahead["id"], ahead["args"]), ("cli.move_ahead", ["2026-03-09"]), "a session is not moved to a day to come")
    shown = store.json("athlete", "show", "Otter")
    equal([len(session["sets"]) for session in shown["sessions"]], [0], "sets that count")
    equal([one["entry"] for one in shown["taken_back"]], [entry], "the history")
    equal(store.json("log", "back", entry, code=BAD_INPUT)["error"]["id"], "cli.already_back", "twice")
    digests = store.digests()
    equal(store.json("log", "change", entry, "--reps", 6, code=BAD_INPUT)["error"]["id"], "cli.change_back", "a change brings nothing back unsaid")
    equal(store.digests(), digests, "the digests")


@case("each field of a plan can be set, and what is out of range is not stored")
def plan(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    for field, value, key, stored in (("sets", 4, "sets", 4), ("reps", 10, "reps", 10), ("rir", 3, "rir", 3), ("rest", 90, "rest_ms", 90000),
                                      ("load", "22,5", "load", {"typed": "22.5", "unit": "kg", "grams": 22500}), ("exercise", "SQ5", "exercise", "SQ5")):
        answer = store.json("plan", "set", "Otter", field, value)
        equal((answer["field"], answer["kept"], answer["plan"][0][key]["value"]), (field, True, stored), f"plan set {field}")
    shown = store.json("plan", "show", "Otter")
    keys(shown, {"athlete", "plan", "counts"}, "plan show")
    equal(shown["counts"], {"exercise": "SQ5", "sets": 4, "reps": 10, "load": {"typed": "22.5", "unit": "kg", "grams": 22500}, "rir": 3}, "counts")
    before = store.digests()
    for field, value, text in (("sets", 0, "value.sets"), ("reps", 101, "value.reps"), ("reps", 0, "value.plan_reps"), ("rir", 5, "value.rir"), ("rest", 601, "value.rest"),
                               ("load", "heavy", "quantity.unreadable"), ("load", "501", "value.load"), ("exercise", "SQ99", "value.exercise"),
                               ("colour", "blue", "value.field")):
        equal(store.json("plan", "set", "Otter", field, value, code=BAD_INPUT)["error"]["id"], text, f"plan set {field} {value}")
    equal(store.digests(), before, "digests")


@case("a bundle is made, looked at without a store, and merged")
def bundles(world):
    store, other = world.store("s"), world.store("t")
    store.run("athlete", "add", "Otter")
    plan = store.ops()
    logged = [store.json("log", "Otter", "--exercise", "SQ3", "--reps", 8, "--at", f"2026-03-02T18:4{minute}:00+01:00")["entry"] for minute in range(3)]
    store.run("log", "change", logged[1], "--reps", 5)
    answer = store.json("bundle", "make", "--out", world.file("a.slip"))
    keys(answer, {"file", "bytes", "text", "hash", "athletes", "ops", "sets", "envelope", "coach"}, "bundle make")
    equal((answer["sets"], answer["bytes"], answer["ops"]), (3, world.file("a.slip").stat().st_size, store.ops()), "made")
    looked = world.run("--json", "bundle", "look", world.file("a.slip")).json
    keys(looked, {"file", "bytes", "hash", "form", "device", "incarnation", "export_counter", "athletes", "holdings", "sets", "ops", "digests", "envelope",
                  "signer"}, "bundle look")
    equal([one["entry"] for one in looked["sets"]], logged, "sets in order")
    equal([one["claimed"] for one in looked["sets"]], [f"2026-03-02T18:4{minute}:00.000+01:00" for minute in range(3)], "claimed times")
    equal([one["reps"]["value"] for one in looked["sets"]], [8, 5, 8], "the change is seen")
    order = [(op["lam"], op["incarnation"], op["seq"]) for op in looked["ops"]]
    equal(order, sorted(order), "order of ops")
    written = [op["kind"] for op in looked["ops"]]
    equal(written[:3] + written[plan:plan + 1] + written[-4:], ["athlete", "kit", "programme", "session", "set", "set", "set", "change"], "kinds")
    equal({kind: written.count(kind) for kind in ("prescription", "decision")}, {"prescription": plan - 3, "decision": store.ops() - plan - 5}, "the plan and the doses shown")
    equal(looked["ops"][-1]["fields"]["reps"], 5, "a field by name")
    equal(looked["holdings"][0]["ranges"], f"1..{store.ops()}", "ranges")
    equal((looked["digests"], looked["hash"]), (store.digests(), answer["hash"]), "digests and hash")
    holds(not (world.home / ".local/share").exists(), "look touches no store")
    merged = other.merge(world.file("a.slip"))
    keys(merged, {"files", "refused", "contradictions", "digests"}, "bundle merge")
    keys(merged["files"][0], {"file", "refused", "hash", "fresh", "known", "fresh_sets", "not_understood", "forks", "missing", "own_past", "of_erased",
                             "envelope", "sender", "squad"}, "a merged file")
    equal((merged["files"][0]["fresh"], merged["files"][0]["fresh_sets"], merged["digests"]), (store.ops(), 3, store.digests()), "merged")
    world.file("no.slip").write_bytes(b"no bundle")
    other.run("bundle", "merge", world.file("no.slip"), code=BAD_INPUT)
    taken = other.json("bundle", "taken")["files"]
    keys(taken[0], {"file", "hash", "claimed", "fresh", "known", "not_understood", "forks"}, "bundle taken")
    equal([(one["file"], one["hash"], one["fresh"], one["known"]) for one in taken],
          [(merged["files"][0]["file"], answer["hash"], store.ops(), 0)], "what was taken in, without what was refused")
    holds(merged["files"][0]["file"] in other.run("bundle", "taken").out, "in words too")
    holds((other.folder / "slipway-ballast").exists(), "what is taken in is looked after: room is kept in reserve")
    equal(store.json("bundle", "taken")["files"], [], "nothing yet")


@case("a bundle of one athlete holds nothing of another, and text carries the same")
def chosen(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    heron = store.json("athlete", "add", "Heron")["athlete"]["id"]
    store.run("log", "Heron")
    raw = store.make("o.slip", "--athlete", "Otter").read_bytes()
    holds(bytes.fromhex(heron) not in raw and b"Heron" not in raw, "Heron is not in Otter's bundle")
    both = store.json("bundle", "make", "--athlete", "Otter", "--athlete", "Heron", "--out", world.file("b.slip"))
    equal(sorted(person["name"] for person in both["athletes"]), ["Heron", "Otter"], "both")
    text = store.make("t.slip.txt", "--text").read_text("ascii")
    holds(len(text.splitlines()) > 2, "text has lines")
    equal(world.store("t").merge(world.file("t.slip.txt"))["digests"], store.digests(), "digests by text")


@case("no file of the store is ever written over, whatever is said")
def own_files(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    digests = store.digests()
    for name in ("slipway.db", "slipway.db-journal", "slipway-ballast"):
        for command in (("bundle", "make"), ("backup",), ("export",)):
            refused = store.json(*command, "--out", world.file(f"s/{name}"), "--replace", code=BAD_INPUT)["error"]
            equal(refused["id"], "cli.store_file", f"{command} over {name}")
    equal(store.digests(), digests, "the digests")


@case("a file that is there is not written over unless it is said")
def no_overwrite(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    path = world.file("precious.txt")
    path.write_text("a letter")
    equal(store.json("bundle", "make", "--out", path, code=BAD_INPUT)["error"]["id"], "cli.file_there", "refused")
    equal(path.read_text(), "a letter", "the letter")
    for words in ([], ["--replace"]):
        equal(store.json("bundle", "make", "--out", world.top, *words, code=BAD_INPUT)["error"]["id"], "cli.out_folder", "a folder")
    store.run("bundle", "make", "--out", path, "--replace")
    holds(path.read_bytes().startswith(b"\x89SLW"), "replaced")
    equal([other.name for other in world.top.iterdir() if other.name.startswith(".")], [], "nothing half-written is left")
    equal(store.json("bundle", "make", "--out", world.file("nowhere/a.slip"), code=STORAGE_TROUBLE)["error"]["id"], "file.unwritable", "no folder")


@case("the made-up squad goes into an empty store only, and is the same every time")
def demo(world):
    store, other = world.store("s"), world.store("t")
    people = store.json("demo", "--day", "2026-03-02")["athletes"]
    holds(len(people) >= 3, "some people")
    other.run("demo", "--day", "2026-03-02")
    equal(store.digests(), other.digests(), "digests")
    third = world.store("u")
    third.run("athlete", "add", "Otter")
    before = third.digests()
    equal(third.json("demo", code=BAD_INPUT)["error"]["id"], "cli.demo_not_empty", "refused")
    equal(third.digests(), before, "digests")


@case("check says that a store is sound, how much it holds, and two digests")
def check(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    answer = store.json("check")
    plan = len(store.json("athlete", "show", "Otter")["plan"])
    keys(answer, {"sound", "findings", "athletes", "ops", "chunks", "contradictions", "digests", "form", "read_only", "missing", "last_report"}, "check")
    equal((answer["sound"], answer["findings"], answer["athletes"], answer["ops"], answer["read_only"]), (True, [], 1, 3 + plan, False), "check")  # the athlete, a kit, a programme and its lines
    for digest in ("ops", "views"):
        holds(re.fullmatch("[0-9a-f]{64}", answer["digests"][digest]), f"digest of {digest}")
    holds(answer["digests"]["ops"] != answer["digests"]["views"], "two different digests")
    store.run("log", "Otter")
    after = store.json("check")["digests"]
    holds(after["ops"] != answer["digests"]["ops"] and after["views"] != answer["digests"]["views"], "a set changes both")
    (store.folder / "slipway.db").write_bytes(b"")
    gone = store.json("check", code=ANSWER_IS_NO)
    equal((gone["sound"], [why["id"] for why in gone["findings"]]), (False, ["cli.note_cleared"]), "an empty file in place of the store is not a sound store")


@case("what is shown and differs from the entries is made again from them by check, which leaves a report to pass on")
def made_again(world):
    store = world.store("s")
    store.run("demo")
    before = store.json("check")
    equal((before["sound"], before["last_report"]), (True, None), "before")
    file = sqlite3.connect(store.folder / "slipway.db")
    with file:
        one, other = file.execute("SELECT scope FROM set_columns ORDER BY length(bytes) DESC LIMIT 2").fetchall()
        file.execute("UPDATE set_columns SET bytes=(SELECT bytes FROM set_columns WHERE scope=?) WHERE scope=?", (*one, *other))
    file.close()
    answer = store.run("--json", "check", code=ANSWER_IS_NO)
    equal([why["id"] for why in answer.json["findings"]], ["check.differs"], "found")
    holds("made again" in answer.err, "and made again")
    holds("check.differs" in answer.json["last_report"] and "Wren" not in answer.json["last_report"], "a report without names")
    after = store.json("check")
    equal((after["sound"], after["digests"]), (True, before["digests"]), "sound again, with the same entries")


@case("where no store was, the command that begins one says so and where, so that a slip in --store is seen")
def begun(world):
    store = world.store("s")
    file = world.file("all.slip")
    store.run("athlete", "add", "Otter")
    store.run("bundle", "make", "--out", file)
    slip = world.store("slip")
    holds(str(slip.folder) in slip.run("bundle", "merge", "--from-unknown", file).err, "the first time")
    equal(slip.run("athlete", "list").err, "", "once")


@case("a number with zeros before it is that number, and one that is far too large is refused")
def zeros(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    for typed, reps in (("010", 10), ("08", 8), ("0007", 7)):
        equal(store.json("log", "Otter", "--reps", typed)["set"]["reps"]["value"], reps, f"--reps {typed}")
    store.run("log", "finish", "Otter", "--effort", "2000000000000000001", code=BAD_INPUT)
    store.run("plan", "add", "Otter", "SQ4", "--sets", "3", "--reps", "8", "--rest", "18446744073709552", code=BAD_INPUT)


@case("a plan and an athlete of one name: a fact is the athlete's, a line asks which is meant; of lines that are alike none is chosen")
def alike(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    store.run("library", "add", "Otter")
    store.run("athlete", "set", "Otter", "group", "masters")
    equal(store.json("athlete", "show", "Otter")["group"]["value"], "masters", "the athlete's fact")
    equal(store.json("plan", "set", "Otter", "load", "12", code=BAD_INPUT)["error"]["id"], "cli.library_ambiguous", "a line of which")
    other = world.store("t")
    other.run("athlete", "add", "Wren")
    for _ in range(2):
        other.run("plan", "add", "Wren", "HP3", "--sets", "3", "--reps", "8")
    equal(other.json("plan", "set", "Wren", "reps", "9", "--exercise", "HP3", code=BAD_INPUT)["error"]["id"], "cli.entry_ambiguous", "two lines")


@case("a backup shows nobody the texts that go out: a bundle still names them")
def texts_after_backup(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    texts = store.json("bundle", "preview")["first_time"]
    holds(texts, "there is a text")
    store.run("backup", "--out", world.file("all.zip"))
    equal(store.json("bundle", "preview")["first_time"], texts, "after a backup")


@case("plans of nobody can be exported and handed on")
def libraries_alone(world):
    store = world.store("s")
    store.run("library", "add", "Base")
    store.run("plan", "add", "Base", "SQ4", "--sets", "3", "--reps", "8")
    store.run("export", "--out", world.file("all.zip"))
    store.run("bundle", "make", "--libraries", "--out", world.file("base.slip"))
    other = world.store("t")
    other.run("bundle", "merge", "--from-unknown", world.file("base.slip"))
    equal(other.digests(), store.digests(), "taken in")


@case("wrong use is exit code 2 and says what is there")
def wrong_use(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    before = store.ops()
    for words in (["dance"], ["athlete"], ["athlete", "dance"], ["athlete", "add"], ["log"], ["log", "Otter", "--reps", "many"],
                  ["log", "Otter", "--reps", "-1"], ["log", "Otter", "--colour", "blue"], ["log", "change"], ["log", "change", "abcd"],
                  ["log", "Otter", "--reps", "5", "--as-written"], ["plan", "set", "Otter", "reps"], ["bundle", "make"], ["bundle", "merge"],
                  ["log", "check", "Otter", "Berg"], ["log", "finish", "Otter", "Berg", "--effort", "7"], ["log", "back", "3f2a", "77c1"],
                  ["log", "change", "3f2a", "--reps", "8", "--no-load"], ["log", "change", "3f2a", "--reps", "8", "--warm-up"],
                  ["log", "sore", "Otter", "hips_thighs", "--side", "left"], ["log", "move", "Otter", "2026-01-01", "2026-01-02", "--day", "2026-01-03"],
                  ["check", "more"], ["check", "--theme", "night"], ["--as", "captain", "check"], ["--size", "big"]):
        answer = store.run(*words, code=WRONG_USE)
        equal(answer.out, "", f"output of {words}")
        holds(answer.err.startswith("slipway: "), f"{words} says why: {answer.err!r}")
        holds("captain" not in words or '"captain" is none of: swimmer, coach, helper' in answer.err, f"what there is: {answer.err!r}")
    equal(store.ops(), before, "nothing was stored")


@case("bad input is exit code 3, by name, and nothing is stored")
def bad_input(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter", "--born", 2010)
    store.run("log", "Otter")
    before = store.digests()
    for words, text in ((["log", "Heron"], "athlete.unknown"), (["athlete", "show", "Heron"], "athlete.unknown"),
                        (["log", "Otter", "--reps", 101], "value.reps"), (["log", "Otter", "--rir", 5], "value.rir"),
                        (["log", "Otter", "--load", "501kg"], "value.load"), (["log", "Otter", "--load", "x"], "quantity.unreadable"),
                        (["log", "Otter", "--round", 21], "value.round"), (["log", "Otter", "--exercise", "SQ99", "--reps", 1], "value.exercise"),
                        (["log", "Otter", "--exercise", "SQ2"], "cli.reps_needed"), (["log", "Otter", "--day", "monday"], "day.unreadable"),
                        (["log", "Otter", "--at", "noon"], "cli.moment_unreadable"), (["log", "Otter", "--at", "2026-02-30T10:00:00Z"], "cli.moment_unreadable"),
                        (["log", "change", "00000000", "--reps", 1], "record.unknown"), (["log", "back", "00000000"], "record.unknown"),
                        (["athlete", "add", " "], "value.name"), (["athlete", "add", "x" * 61], "value.name"),
                        (["athlete", "add", "Heron", "--born", 1899], "value.birth_year"), (["bundle", "look", "nofile"], "file.missing"),
                        (["bundle", "look", "."], "cli.folder")):
        equal(store.json(*words, code=BAD_INPUT)["error"]["id"], text, str(words))
        holds("[" not in store.run(*words, code=BAD_INPUT).err, f"{words} is told in words")
    equal(store.digests(), before, "digests")


@case("two athletes of one name are told apart by their ids")
def same_name(world):
    store = world.store("s")
    first = store.json("athlete", "add", "Otter")["athlete"]["id"]
    second = store.json("athlete", "add", "Otter")["athlete"]["id"]
    error = store.json("log", "Otter", code=BAD_INPUT)["error"]
    equal(error["id"], "athlete.ambiguous", "refused")
    holds(first[:8] in error["say"] and second[:8] in error["say"], "both ids are named")
    equal(store.json("log", second)["athlete"]["id"], second, "by id")


@case("every command's help documents its JSON in words that are there")
def help_texts(world):
    everything = world.run("--help").out
    for command in COMMANDS:
        text = world.run(*command, "--help").out
        holds("JSON: " in text and "In JSON: " in text, f"{command} documents its JSON")
        holds("[cli." not in text, f"{command} has all its words")
        everything += text
    rows = (TOP / "assets/texts.table").read_text("utf8").splitlines()
    lines = [row.split(" | ", 1)[1].strip() for row in rows if row.startswith("cli.lines.")]
    holds(len(lines) > 20, "the help has lines")
    for line in lines:
        holds(line in everything, f"no help shows: {line}")


@case("an answer for people has no gaps in its words")
def plain_words(world):
    store, other = world.store("s"), world.store("t")
    answers = [store.run("athlete", "add", "Otter"), store.run("log", "Otter", "--reps", 7, "--rir", 1, "--day", "2026-03-02")]
    store.make("a.slip")
    other.merge(world.file("a.slip"))
    answers += [store.run("plan", "set", "Otter", "load", "10kg"), other.run("plan", "set", "Otter", "load", "12kg")]
    answers += [store.run("bundle", "merge", other.make("b.slip"), code=ANSWER_IS_NO), store.run("bundle", "look", world.file("b.slip"))]
    entry = store.json("log", "Otter")["entry"]
    answers += [store.run("log", "change", entry, "--reps", 3), store.run("log", "back", entry), store.run("athlete", "list"),
                store.run("athlete", "show", "Otter"), store.run("plan", "show", "Otter"), store.run("check"),
                store.run("bundle", "make", "--out", world.file("c.slip")), world.store("u").run("demo")]
    for answer in answers:
        holds(answer.out.endswith("\n") and "[" not in answer.out and "{" not in answer.out, f"words: {answer}")
    shown = store.run("athlete", "show", "Otter").out
    holds("Written twice:" in shown and "10\u00a0kg" in shown and "12\u00a0kg" in shown, f"both values are shown: {shown}")


@case("without --store the usual folder is used")
def usual_folder(world):
    equal(world.run("--json", "athlete", "list", code=STORAGE_TROUBLE).json["error"]["id"], "cli.no_store", "before")
    world.run("athlete", "add", "Otter")
    holds((world.home / ".local/share/slipway/slipway.db").is_file(), "the store")
    equal(len(list((world.home / ".local/state/slipway").iterdir())), 1, "the token outside it")
    environment = {**world.environment(), "XDG_DATA_HOME": str(world.file("data")), "XDG_STATE_HOME": str(world.file("state"))}
    world.run("athlete", "add", "Heron", env=environment)
    holds(world.file("data/slipway/slipway.db").is_file() and world.file("state/slipway").is_dir(), "XDG folders")
    without = {name: value for name, value in world.environment().items() if name != "HOME"}
    equal(world.run("--json", "athlete", "list", env=without, code=STORAGE_TROUBLE).json["error"]["id"], "cli.no_home", "no home")


@case("reading commands begin no store")
def no_store_begun(world):
    store = world.store("empty")
    for words in (["athlete", "list"], ["athlete", "show", "x"], ["log", "x"], ["plan", "show", "x"], ["check"], ["bundle", "make", "--out", "a.slip"]):
        equal(store.json(*words, code=STORAGE_TROUBLE)["error"]["id"], "cli.no_store", str(words))
    equal(list(store.folder.iterdir()), [], "files in the folder")
    equal(store.run("athlete", "add", "Otter", code=DONE).code, DONE, "adding begins one")


run_cases()
