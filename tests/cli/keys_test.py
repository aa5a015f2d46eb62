#!/usr/bin/env python3
"""Keys at the command line: pairing by files, sealed bundles, recovery sheets; and a second opener, on other
primitives, that opens what the program sealed."""
import json
import os
import subprocess
import sys

from bundle_reader import raw_bytes
from kit import ANSWER_IS_NO, BAD_INPUT, DONE, TOP, WRONG_USE, case, equal, holds, run_cases

OPENER = TOP / "tests" / "cli" / "seal_opener.mjs"
READER = TOP / "tests" / "cli" / "bundle_reader.py"
PASSPHRASE = "starting blocks at dawn"


def passphrase_file(world, name="words.txt", words=PASSPHRASE):
    path = world.file(name)
    path.write_text(words + "\n")
    return path


def squad(world):
    """A coach with a key, and a swimmer who has taken the squad file in."""
    coach, swimmer = world.store("coach"), world.store("swimmer")
    words = passphrase_file(world)
    coach.json("key", "make", "--name", "Heron", "--passphrase-file", words)
    squad_file = world.file("squad.slip")
    coach.run("key", "squad", "--out", squad_file)
    swimmer.run("athlete", "add", "Wren", "--born", "2000")
    swimmer.merge(squad_file)
    return coach, swimmer, words


def second_opener(*words):
    modules = os.environ.get("NODE_PATH", "") + os.pathsep + str(TOP / "build/third-party/node/node_modules")
    done = subprocess.run(["node", str(OPENER), *map(str, words)], capture_output=True, text=True, check=False,
                          env={**os.environ, "NODE_PATH": modules})
    return done.returncode, (json.loads(done.stdout) if done.returncode == 0 else done.stderr)


def entries(path):
    done = subprocess.run([sys.executable, str(READER), str(path)], capture_output=True, text=True, check=False)
    equal(done.returncode, 0, f"the second reader: {done.stderr}")
    return done.stdout.splitlines()[1:]


@case("a squad file taken in, the swimmer's bundles are sealed for the coach, and only the coach's key opens them")
def _(world):
    coach, swimmer, words = squad(world)
    swimmer.run("log", "Wren", "--reps", "8")
    made = swimmer.json("bundle", "make", "--out", world.file("week.slip"))
    equal((made["envelope"], made["coach"]), ("to_keys", "Heron"), "how it was made")
    holds(b"Wren" not in world.file("week.slip").read_bytes(), "no name can be seen from outside")
    stranger = world.store("stranger")
    before = coach.digests()
    for store, more, wanted in ((stranger, (), "bundle.sealed_other"), (coach, (), "bundle.sealed_locked"),
                                (coach, ("--passphrase-file", passphrase_file(world, "wrong.txt", "starting blocks at dusk")), "bundle.sealed_wrong")):
        got = store.json("bundle", "merge", world.file("week.slip"), *more, code=BAD_INPUT)["files"][0]["error"]
        equal((got["kind"], got["id"]), ("sealed", wanted), "why it was refused")
        holds("week.slip" in got["say"], "the file is named")
    asked = coach.json("bundle", "merge", world.file("week.slip"), "--passphrase-file", words, code=ANSWER_IS_NO)["files"][0]["error"]
    equal((asked["kind"], asked["id"]), ("unconfirmed", "bundle.unknown_device"), "a stranger's bundle is asked about")
    digits = swimmer.json("key", "show")["signing_digits"]
    holds(digits in asked["say"], "the digits to compare are said")
    equal(coach.digests(), before, "the coach's store after all that was refused")
    taken = coach.json("bundle", "merge", world.file("week.slip"), "--passphrase-file", words, "--from-unknown")["files"][0]
    equal((taken["sender"]["state"], taken["sender"]["digits"], taken["fresh_sets"]), ("unknown", digits, 1), "what was taken in")
    equal(coach.digests(), swimmer.digests(), "both stores")
    swimmer.run("log", "Wren", "--reps", "9")
    next_one = coach.json("bundle", "merge", swimmer.make("next.slip"), "--passphrase-file", words)["files"][0]
    equal((next_one["sender"]["state"], next_one["fresh_sets"]), ("known", 1), "the next bundle")


@case("what a swimmer hands over can be left open, sealed by a passphrase, or looked at by who may open it")
def _(world):
    coach, swimmer, words = squad(world)
    equal(swimmer.json("bundle", "make", "--open", "--out", world.file("open.slip"))["envelope"], "open", "left open")
    holds(b"Wren" in raw_bytes(world.file("open.slip").read_bytes()), "an open bundle is open")
    file_words = passphrase_file(world, "file.txt", "two widths underwater")
    equal(swimmer.json("bundle", "make", "--passphrase-file", file_words, "--out", world.file("words.slip"))["envelope"], "by_passphrase", "by a passphrase")
    world.run("bundle", "look", world.file("words.slip"), code=BAD_INPUT)
    looked = world.run("--json", "bundle", "look", world.file("words.slip"), "--passphrase-file", file_words).json
    equal([one["name"] for one in looked["athletes"]], ["Wren"], "seen with the passphrase")
    equal(looked["signer"], swimmer.json("key", "show")["signing_digits"], "who signed")
    sealed = swimmer.make("sealed.slip", "--for-coach", "--text")
    holds(sealed.read_text().isascii(), "a sealed bundle travels as text")
    equal(coach.json("bundle", "look", sealed, "--passphrase-file", words)["envelope"], "to_keys", "seen with the coach's key")
    swimmer.json("key", "leave")
    equal(swimmer.json("bundle", "make", "--out", world.file("left.slip"))["envelope"], "open", "after the squad was left")
    equal(swimmer.json("bundle", "make", "--for-coach", "--out", world.file("none.slip"), code=BAD_INPUT)["error"]["id"], "key.no_squad", "no coach to seal for")


@case("a second opener on other primitives opens what was sealed, to a key and by a passphrase, and agrees on who signed")
def _(world):
    coach, swimmer, words = squad(world)
    for reps in range(5, 8):
        swimmer.run("log", "Wren", "--reps", reps)
    coach.json("key", "sheet", "--passphrase-file", words, "--out", world.file("sheet.txt"))
    shown, own = coach.json("key", "show"), swimmer.json("key", "show")
    code, got = second_opener(swimmer.make("sealed.slip"), "--sheet", world.file("sheet.txt"), "--out", world.file("inside.slip"))
    equal(code, 0, f"the second opener: {got}")
    equal(got["stanzas"], [1], "the stanzas")
    equal(got["key"], shown["coach"]["digits"], "the key on the sheet")
    equal(got["signature"]["to"], [shown["coach"]["digits"]], "for whom it was signed")
    equal(got["signature"]["signer"], own["signing_digits"], "who signed")
    equal(entries(world.file("inside.slip")), entries(swimmer.make("open.slip", "--open")), "the entries inside and those of an open bundle")
    equal(second_opener(world.file("open.slip"), "--open")[1]["signature"]["signer"], own["signing_digits"], "who signed the open one")
    file_words = passphrase_file(world, "file.txt", "two widths underwater")
    code, got = second_opener(swimmer.make("words.slip", "--passphrase-file", file_words), "--passphrase", "two widths underwater", "--out", world.file("inside2.slip"))
    equal((code, got["stanzas"] if code == 0 else got), (0, [2]), "the second opener with a passphrase")
    equal(entries(world.file("inside2.slip")), entries(world.file("open.slip")), "the entries under the passphrase")
    changed = bytearray(world.file("sealed.slip").read_bytes())
    changed[len(changed) // 2] ^= 1
    world.file("changed.slip").write_bytes(changed)
    equal(second_opener(world.file("changed.slip"), "--sheet", world.file("sheet.txt"), "--out", world.file("x"))[0], 3, "a changed file, to the second opener")
    equal(second_opener(world.file("sealed.slip"), "--passphrase", "two widths underwater", "--out", world.file("x"))[0], 3, "no key, to the second opener")


@case("a lost coach's key comes back from the sheet as it was printed; a slip in it is named by its line")
def _(world):
    coach, swimmer, words = squad(world)
    swimmer.run("log", "Wren", "--reps", "8")
    bundle = swimmer.make("week.slip")
    coach.run("key", "sheet", "--passphrase-file", words, "--out", world.file("sheet.txt"))
    coach.run("key", "sheet", "--passphrase-file", words, "--out", world.file("sheet.html"))
    sheet = world.file("sheet.txt").read_text()
    lines = [line for line in sheet.splitlines() if line and not line.startswith("#")]
    equal(len(lines), 4, "lines of the sheet")
    page = world.file("sheet.html").read_text()
    holds(all(line in page for line in lines) and "Heron" in page and "http" not in page and "<script" not in page, "the page holds the lines and fetches nothing")
    equal(world.file("sheet.txt").stat().st_mode & 0o077, 0, "who else may read the sheet's file")
    slip = list(sheet)
    at = sheet.index(lines[2])
    slip[at] = "0" if slip[at] != "0" else "2"
    world.file("slip.txt").write_text("".join(slip))
    fresh = world.store("fresh")
    why = fresh.json("key", "recover", world.file("slip.txt"), "--name", "Heron", "--unwrapped", code=BAD_INPUT)["error"]
    equal((why["id"], why["args"]), ("key.sheet_line", ["3"]), "the slip")
    why = fresh.json("key", "recover", world.file("sheet.html"), "--name", "Heron", "--unwrapped", code=BAD_INPUT)["error"]
    equal((why["id"], why["args"]), ("cli.key_sheet_page", [str(world.file("sheet.html"))]), "the page in place of the sheet")
    back = fresh.json("key", "recover", world.file("sheet.txt"), "--name", "Heron", "--unwrapped")
    equal(back["coach"]["digits"], coach.json("key", "show")["coach"]["digits"], "the key that came back")
    fresh.run("bundle", "merge", bundle, "--from-unknown")
    equal(fresh.digests(), swimmer.digests(), "what the new store holds")


@case("key and sheet lost: the new squad file is asked about, then athletes export again and nothing is lost")
def _(world):
    _, swimmer, _ = squad(world)
    swimmer.run("log", "Wren", "--reps", "8")
    old = swimmer.make("old.slip")
    fresh = world.store("fresh")
    fresh.json("key", "make", "--name", "Heron", "--unwrapped")
    fresh.json("bundle", "merge", old, code=BAD_INPUT)
    fresh.run("key", "squad", "--text", "--out", world.file("new.slip.txt"))
    why = swimmer.json("bundle", "merge", world.file("new.slip.txt"), code=ANSWER_IS_NO)["files"][0]["error"]
    equal(why["id"], "squad.other", "another coach's file")
    joined = swimmer.json("bundle", "merge", world.file("new.slip.txt"), "--from-unknown")["files"][0]["squad"]
    equal((joined["coach"], joined["digits"]), ("Heron", fresh.json("key", "show")["coach"]["digits"]), "the new pairing")
    fresh.run("bundle", "merge", swimmer.make("again.slip"), "--from-unknown")
    equal(fresh.digests(), swimmer.digests(), "what the new store holds")


@case("a wrong use of keys is told with what to do, and changes nothing")
def _(world):
    coach, _, words = squad(world)
    shown = coach.json("key", "show")
    world.run("key", "make", "--name", "Heron", code=WRONG_USE)
    world.run("key", "make", "--name", "Heron", "--unwrapped", "--passphrase-file", words, code=WRONG_USE)
    world.run("bundle", "make", "--out", "x.slip", "--open", "--for-coach", code=WRONG_USE)
    equal(coach.json("key", "make", "--name", "Heron", "--unwrapped", code=BAD_INPUT)["error"]["id"], "key.there_already", "a second key")
    holds("--replace" in coach.run("key", "make", "--name", "Heron", "--unwrapped", code=BAD_INPUT).err, "the option that is the remedy")
    equal(coach.json("key", "sheet", "--out", world.file("s.txt"), code=BAD_INPUT)["error"]["id"], "key.locked", "a sheet without the passphrase")
    empty = passphrase_file(world, "empty.txt", "")
    equal(coach.json("key", "sheet", "--passphrase-file", empty, "--out", world.file("s.txt"), code=BAD_INPUT)["error"]["id"], "cli.passphrase_empty", "an empty passphrase")
    short = passphrase_file(world, "short.txt", "seven77")
    equal(world.store("other").json("key", "make", "--name", "Heron", "--passphrase-file", short, code=BAD_INPUT)["error"]["id"], "key.passphrase_short", "a short passphrase")
    equal(coach.json("key", "show"), shown, "the keys after all that")
    holds(not world.file("s.txt").exists(), "no sheet was written")
    equal(coach.run("bundle", "look", world.file("squad.slip"), code=BAD_INPUT).code, BAD_INPUT, "a squad file is no bundle")


@case("stores that never paired merge as ever and are told who signed")
def _(world):
    one, two = world.store("one"), world.store("two")
    one.run("athlete", "add", "Wren", "--born", "2000")
    equal(two.json("bundle", "merge", one.make("a.slip"), code=DONE)["files"][0]["sender"]["state"], "unknown", "the first bundle")
    one.run("log", "Wren", "--reps", "8")
    equal(two.json("bundle", "merge", one.make("b.slip"), code=DONE)["files"][0]["sender"]["state"], "known", "the next one")


run_cases()
