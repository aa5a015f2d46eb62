#!/usr/bin/env python3
"""What is refused at the door: by name and place, with the store as it was, and the untouched
file is accepted in the same run."""
import hashlib
import json
import pathlib
import random
import sqlite3
import subprocess
import sys

from kit import BAD_INPUT, LONG, STORAGE_TROUBLE, case, equal, holds, run_cases

HASH_BYTES = 32
FLIPS = 2000 if LONG else 60


def sealed(body):
    """A bundle's bytes with the hash that its end must have."""
    return body + hashlib.blake2b(body, digest_size=HASH_BYTES).digest()


def good_and_store(world):
    """A bundle with something in it, and a store with something else."""
    maker, store = world.store("maker"), world.store("s")
    maker.run("athlete", "add", "Otter")
    for _ in range(4):
        maker.run("log", "Otter")
    store.run("athlete", "add", "Heron")
    store.run("log", "Heron")
    return maker.make("good.slip"), store


def refused(world, store, name, content, ids, before):
    bad = world.file(name)
    bad.write_bytes(content)
    answer = store.merge(bad, code=BAD_INPUT)
    error = answer["files"][0]["error"]
    holds(error["id"] in ids, f"{name}: refused as {error['id']}, wanted {ids}")
    holds(name in error["args"][0] and name in error["say"], f"{name}: the file is named: {error}")
    holds("[" not in error["say"], f"{name}: told in words: {error['say']}")
    equal((answer["refused"], answer["digests"]), (1, before), f"{name}: digests")
    return error


@case("wrong, empty, cut, bit-flipped, foreign and newer files are refused by name and place, the store as it was, and the untouched file goes in")
def door(world):
    good, store = good_and_store(world)
    raw = good.read_bytes()
    before = store.digests()
    refused(world, store, "empty.slip", b"", {"bundle.empty"}, before)
    refused(world, store, "letter.slip", b"Dear coach, here are my sets.\n", {"bundle.not_ours"}, before)
    refused(world, store, "picture.slip", b"\x89PNG\r\n\x1a\n" + bytes(200), {"bundle.not_ours"}, before)
    refused(world, store, "database.slip", (store.folder / "slipway.db").read_bytes(), {"bundle.not_ours"}, before)
    cut = refused(world, store, "cut.slip", raw[:-5], {"bundle.cut", "bundle.hash"}, before)
    holds(len(cut["args"]) >= 2, f"a place is named: {cut}")
    refused(world, store, "more.slip", raw + b"x", {"bundle.extra", "bundle.hash"}, before)
    refused(world, store, "unix.slip", raw.replace(b"\r\n", b"\n", 1), {"bundle.mangled", "bundle.not_ours"}, before)
    flipped = bytearray(raw)
    flipped[len(raw) // 2] ^= 1
    place = refused(world, store, "flipped.slip", bytes(flipped), {"bundle.hash"}, before)
    holds(len(place["args"]) >= 2, f"a place is named: {place}")
    body = bytearray(raw[:-HASH_BYTES])
    body[8] = 2  # the major number, as a varint
    body[10] = 1  # and the oldest reader that may try
    newer = refused(world, store, "newer.slip", sealed(bytes(body)), {"bundle.newer"}, before)
    equal(newer["kind"], "newer_version", "kind")
    report = store.merge(good)
    equal((report["refused"], report["files"][0]["fresh_sets"]), (0, 4), "the untouched file")
    holds(report["digests"] != before, "is in the store")


@case("one bad file among good ones stops none of them")
def among_good(world):
    good, store = good_and_store(world)
    maker = world.store("maker")
    maker.run("log", "Otter")
    later = maker.make("later.slip")
    bad = world.file("bad.slip")
    bad.write_bytes(good.read_bytes()[:100])
    answer = store.merge(bad, good, world.file("nofile.slip"), later, code=BAD_INPUT)
    equal([file["refused"] for file in answer["files"]], [True, False, True, False], "which were refused")
    equal([file["file"].rsplit("/", 1)[1] for file in answer["files"]], ["bad.slip", "good.slip", "nofile.slip", "later.slip"], "in order")
    equal((answer["refused"], answer["files"][3]["fresh"]), (2, 1), "the last one")
    equal(answer["files"][2]["error"]["id"], "file.missing", "no such file")


@case(f"any single flipped bit and any cut is refused, {FLIPS} of each tried")
def flips(world):
    good, store = good_and_store(world)
    raw = good.read_bytes()
    before = store.digests()
    chance = random.Random(20260302)
    files = []
    for i in range(FLIPS):
        content = bytearray(raw)
        content[chance.randrange(len(raw))] ^= 1 << chance.randrange(8)
        files.append(world.file(f"flip{i}.slip"))
        files[-1].write_bytes(content)
        files.append(world.file(f"cut{i}.slip"))
        files[-1].write_bytes(raw[:chance.randrange(len(raw))])
    answer = store.merge(*files, code=BAD_INPUT)
    equal((answer["refused"], answer["digests"]), (len(files), before), "all are refused")
    equal(store.digests(), before, "digests read from the disk")


@case("looking at a bad bundle is refused the same way and touches nothing")
def look(world):
    good, store = good_and_store(world)
    held = store.ops()
    bad = world.file("bad.slip")
    bad.write_bytes(good.read_bytes()[:-1])
    error = world.run("--json", "bundle", "look", bad, code=BAD_INPUT).json["error"]
    holds("bad.slip" in error["say"], f"named: {error}")
    holds(world.run("bundle", "look", bad, code=BAD_INPUT).err.startswith("slipway: "), "in words")
    equal(store.ops(), held, "the store")


def varint(content, at):
    value, shift = 0, 0
    while True:
        byte = content[at]
        at += 1
        value |= (byte & 127) << shift
        shift += 7
        if byte < 128:
            return value, at


def last_op(chunk):
    """Where the last op of a chunk's bytes begins, and the bytes."""
    at, begin = 0, 0
    while at < len(chunk):
        length, begin = varint(chunk, at)
        at = begin + length
    return begin


def with_other_reps(op):
    """The op with one bit of its reps field changed: field := tag wire length payload."""
    at = 0
    for _ in range(3):  # lam, kind, count
        _, at = varint(op, at)
    while at < len(op):
        tag, at = varint(op, at)
        at += 1
        length, at = varint(op, at)
        if tag == 19:  # reps of a set
            changed = bytearray(op)
            changed[at] ^= 1
            return bytes(changed)
        at += length
    raise AssertionError("no reps")


@case("a planted one-bit change of one entry, with its chain mended, changes both digests; without, it is found out")
def planted(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    store.run("log", "Otter", "--reps", 8)
    before = store.digests()
    database = sqlite3.connect(store.folder / "slipway.db")
    first_seq, old_before, content = database.execute(
        "SELECT first_seq, before_hash, bytes FROM chunk ORDER BY last_seq DESC LIMIT 1").fetchone()
    begin = last_op(content)
    changed = content[:begin] + with_other_reps(content[begin:])
    equal(sum(bin(a ^ b).count("1") for a, b in zip(content, changed)), 1, "bits that differ")
    database.execute("UPDATE chunk SET bytes=? WHERE first_seq=?", (changed, first_seq))
    database.commit()
    answer = store.run("--json", "check", code=None)
    holds(answer.code in (1, STORAGE_TROUBLE), f"without a mended chain it is found out: {answer}")
    holds("damaged" in answer.out, f"by its kind: {answer.out}")
    head, at = old_before, 0
    while at < len(changed):
        length, start = varint(changed, at)
        head = hashlib.blake2b(head + changed[start:start + length], digest_size=HASH_BYTES).digest()
        at = start + length
    database.execute("UPDATE chunk SET after_hash=? WHERE first_seq=?", (head, first_seq))
    database.commit()
    database.close()
    after = store.digests()
    equal([one["reps"]["value"] for one in store.sets("Otter").values()], [9], "the planted value")
    holds(after["ops"] != before["ops"], "digest of entries differs")
    holds(after["views"] != before["views"], "digest of views differs")


@case("a newer store opens to look and to hand over, is not written, and is itself again afterwards")
def newer_store(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    mark = store.json("log", "Otter")["set"]["by"]["incarnation"]
    path = store.folder / "slipway.db"

    def form(number):
        database = sqlite3.connect(path)
        before = database.execute("PRAGMA user_version").fetchone()[0]
        database.execute(f"PRAGMA user_version={number}")
        database.commit()
        database.close()
        return before

    todays = form(99)
    before = path.read_bytes()
    shown = store.run("athlete", "show", "Otter")
    holds("newer" in shown.err, f"it says so: {shown.err!r}")
    error = store.json("log", "Otter", code=STORAGE_TROUBLE)["error"]
    equal(error["id"], "store.read_only", "refused")
    equal(store.json("check")["read_only"], True, "check says so")
    world.store("t").merge(store.make("out.slip"))
    equal(path.read_bytes(), before, "not one byte is different")
    form(todays)
    equal(store.json("log", "Otter")["set"]["by"]["incarnation"], mark, "the same mark as before")


def second_reader(*words):
    done = subprocess.run([sys.executable, pathlib.Path(__file__).with_name("bundle_reader.py"), *words], capture_output=True, text=True, check=False)
    equal(done.returncode, 0, f"the reader: {done.stderr}")
    return done.stdout


@case("the second reader, written from the format alone, lists the same entries of a bundle and of its text form")
def same_reading(world):
    good_and_store(world)
    world.store("maker").make("good.slip.txt", "--text")
    for name in ("good.slip", "good.slip.txt"):
        head, *theirs = [json.loads(line) for line in second_reader(world.file(name)).splitlines()]
        looked = world.run("--json", "bundle", "look", world.file(name)).json
        equal((head["device"], head["export_counter"], head["created_by"]), (looked["device"], looked["export_counter"], looked["incarnation"]), "the head")
        found = sorted((op["scope"], op["inc"], op["seq"], op["lam"], op["hash"][:16]) for op in theirs)
        wanted = sorted((op["athlete"], op["incarnation"], op["seq"], op["lam"], op["entry"].split(":")[2]) for op in looked["ops"])
        equal(found, wanted, f"entries of {name}")
        equal(len(found), world.store("maker").ops(), "all of them")


run_cases()
