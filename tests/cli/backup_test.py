#!/usr/bin/env python3
"""Backup and restore: what comes back is what went in, nothing is replaced, and an erased athlete stays erased."""
import zipfile

from kit import BAD_INPUT, WRONG_USE, case, equal, holds, run_cases


def squad(world, name="s"):
    store = world.store(name)
    for who in ("Otter", "Heron"):
        store.run("athlete", "add", who)
        store.run("log", who, "--reps", 8)
    return store


def backup(store, name="backup.zip", **more):
    path = store.world.file(name)
    return path, store.json("backup", "--out", path, **more)


@case("a backup restored into a new folder is the same store, under a new writer")
def same(world):
    store = squad(world)
    path, made = backup(store)
    equal((made["athletes"], made["ops"], made["digests"]), (2, store.ops(), store.digests()), "made")
    new = world.store("new")
    back = new.json("restore", path)
    equal((back["fresh"], back["same_as_backup"], back["findings"], back["missing"], back["sets"]), (made["ops"], True, [], [], 2), "back")
    equal(new.digests(), store.digests(), "digests")
    marks = [one.json("log", "Otter", "--round", 2)["set"]["by"]["incarnation"] for one in (store, new)]
    holds(marks[0] != marks[1], "two writers")


@case("restoring into a store that went on replaces nothing")
def replaces_nothing(world):
    store = squad(world)
    path, _ = backup(store)
    kept = store.json("log", "Otter", "--reps", 5, "--round", 2)["entry"]
    before = store.digests()
    back = store.json("restore", path)
    equal((back["fresh"], back["same_as_backup"], store.digests()), (0, False, before), "nothing changed")
    holds(kept in store.sets("Otter"), "what was written since is there")


@case("a sealed backup comes back by its passphrase, and by nothing else")
def sealed(world):
    store = squad(world)
    right, wrong = world.file("right.txt"), world.file("wrong.txt")
    right.write_text("two widths underwater\n")
    wrong.write_text("one width on the ground\n")
    path = world.file("backup.slip")
    made = store.json("backup", "--out", path, "--passphrase-file", right)
    holds(b"Otter" not in path.read_bytes(), "sealed")
    new = world.store("new")
    new.json("restore", path, code=BAD_INPUT)
    new.json("restore", path, "--passphrase-file", wrong, code=BAD_INPUT)
    equal(new.json("bundle", "merge", path, "--passphrase-file", right, code=BAD_INPUT)["files"][0]["error"]["id"], "bundle.sealed_backup", "no bundle")
    back = new.json("restore", path, "--passphrase-file", right)
    equal((back["fresh"], back["same_as_backup"]), (made["ops"], True), "back")


@case("a backup that is cut or foreign is refused by name, and changes nothing")
def refused(world):
    store = squad(world)
    path, _ = backup(store)
    cut = world.file("cut.zip")
    cut.write_bytes(path.read_bytes()[:-30])
    foreign = world.file("foreign.zip")
    with zipfile.ZipFile(foreign, "w") as parts:
        parts.writestr("holiday.txt", "sun")
    before = store.digests()
    for file in (cut, foreign, store.make("all.slip")):
        error = store.json("restore", file, code=BAD_INPUT)["error"]
        holds(str(file) in error["say"] and "[" not in error["say"], f"named: {error['say']}")
    equal(store.digests(), before, "nothing changed")


@case("an athlete is erased with the name typed and a word about the export, and no old file brings them back")
def erased(world):
    store = squad(world)
    path, _ = backup(store)
    bundle = store.make("old.slip")
    export = world.file("all.zip")
    store.run("export", "--out", export)
    store.run("erase", "athlete", "Otter", "--type-name", "Otter", "--reason", "asked", code=WRONG_USE)
    equal(store.json("erase", "athlete", "Otter", "--type-name", "otter", "--reason", "asked", "--no-export", code=BAD_INPUT)["error"]["id"], "erase.other_name", "another name")
    there = store.json("erase", "athlete", "Otter", "--type-name", "Otter", "--reason", "left", "--export", export, code=BAD_INPUT)["error"]
    equal((there["id"], there["args"]), ("cli.file_there_only", [str(export)]), "a file in the export's place")
    last = world.file("last.zip")
    ops = store.ops()
    gone = store.json("erase", "athlete", "Otter", "--type-name", "Otter", "--reason", "left", "--export", last)
    equal((gone["erased"], gone["ops"], gone["export"]), (True, ops - store.ops(), str(last)), "told")
    holds(last.exists() and gone["ops"] > 0, "the last export is there")
    for file in (bundle, export):
        report = store.merge(file)["files"][0]
        equal((report["fresh"], report["of_erased"]), (0, gone["ops"]), file.name)
    back = store.json("restore", path)
    equal((back["fresh"], back["of_erased"], back["athletes"]), (0, gone["ops"], 1), "the backup")
    data = b"".join(file.read_bytes() for file in store.folder.iterdir() if file.is_file())
    holds(b"Otter" not in data and b"Heron" in data, "not in any file of the store")
    status = store.json("erase", "status")
    equal([(one["athlete"], one["reason"], one["confirmed_by"]) for one in status["erased"]], [(gone["athlete"], "left", [])], "status")


@case("the mark travels: the other device is asked, deletes nothing by itself, and its bundle says when it has confirmed")
def asked(world):
    store, other = squad(world), world.store("other")
    other.merge(store.make("start.slip"))
    gone = store.json("erase", "athlete", "Otter", "--type-name", "Otter", "--reason", "left", "--no-export")["athlete"]
    merged = other.run("bundle", "merge", store.make("mark.slip"))
    holds("slipway erase status" in merged.err, f"the merge says it: {merged.err!r}")
    equal(len(other.json("athlete", "list")["athletes"]), 2, "both are there")
    asks = other.json("erase", "status")["asked"]
    equal([(one["athlete"]["name"], one["reason"]) for one in asks], [("Otter", "left")], "asked")
    words = other.run("erase", "status").out
    holds("Otter" in words and "[" not in words, words)
    other.run("erase", "athlete", "Otter", "--type-name", "Otter", "--reason", "asked", "--no-export")
    store.merge(other.make("confirmed.slip"))
    status = store.json("erase", "status")["erased"]
    equal([(one["athlete"], len(one["confirmed_by"])) for one in status], [(gone, 1)], "confirmed")


@case("after two years without an entry erasing is proposed, and nothing is done")
def proposed(world):
    store = squad(world)
    store.run("--at", "2031-01-01T10:00:00+00:00", "log", "Heron", "--reps", 5, "--day", "2031-01-01")
    status = store.json("--at", "2031-01-02T10:00:00+00:00", "erase", "status")
    equal([one["name"] for one in status["long_without_entry"]], ["Otter"], "proposed")
    equal(len(store.json("athlete", "list")["athletes"]), 2, "both are there")


run_cases()
