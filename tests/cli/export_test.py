#!/usr/bin/env python3
"""Everything a store holds goes out in open forms that Python's own csv, json, zipfile and sqlite3 read, and comes back as the
same set of entries. The encoder below is written from FORMAT.txt alone."""
import base64
import csv
import hashlib
import io
import json
import os
import re
import sqlite3
import zipfile

from kit import ANSWER_IS_NO, BAD_INPUT, STORAGE_TROUBLE, case, equal, holds, run_cases

PARTS = ["FORMAT.txt", "ops.jsonl", "sessions.csv", "sets.csv", "pain.csv", "plans.json", "slipway.db"]
WIRES = {"number": (0, 1), "text": (2,), "bytes": (3,), "numbers": (4,), "entries": (5,)}
UNITS = {"kg": 1, "lb": 2, "m": 3, "yd": 4, "cm": 5, "in": 6}


# ---- a reader of ops.jsonl, from FORMAT.txt --------------------------------------------------------------

def varint(value):
    out = b""
    while value >= 0x80:
        out += bytes([value & 0x7F | 0x80])
        value >>= 7
    return out + bytes([value])


def zigzag(value):
    return value << 1 if value >= 0 else (-value << 1) - 1


class Format:
    """The tables of kinds and fields at the end of FORMAT.txt."""

    def __init__(self, text):
        self.kinds, self.fields, kind = {}, {}, None
        for line in text[text.index("KINDS AND FIELDS"):].splitlines()[1:]:
            if line.startswith("of every kind"):
                kind = ""
            elif head := re.match(r"(\d+) ([a-z_]+): ", line):
                kind = head[2]
                self.kinds[kind] = int(head[1])
            elif row := re.match(r"(\d+)  ([a-z_]+)  ([a-z, ]+)  (\S+)  (.*)", line):
                self.fields[kind, row[2]] = (int(row[1]), row[3], row[4])

    def field(self, kind, name):
        if ("", name) in self.fields:
            return self.fields["", name]
        if kind == "change":
            kind, name = name.split(".")
        return self.fields[kind, name]


def quantities(value):
    return b"".join(varint(zigzag(one["value"])) + varint(one["decimals"]) + varint(UNITS[one["unit"]])
                    for one in (value if isinstance(value, list) else [value]))


def entry(text, home):
    incarnation, seq, hash8 = text.split(":")
    start = b"\x00" if incarnation == home else b"\x01" + bytes.fromhex(incarnation)
    return start + varint(int(seq)) + bytes.fromhex(hash8)


def field_bytes(form, op, name, value):
    if name.isdigit():
        return int(name), value["wire"], base64.b64decode(value["base64"])
    tag, kind, unit = form.field(op["kind"], name)
    if kind == "number":
        return tag, 0, varint(value)
    if kind == "number, with sign":
        return tag, 1, varint(zigzag(value))
    if kind == "text":
        return tag, 2, value.encode()
    if kind == "bytes":
        return tag, 3, base64.b64decode(value)
    if kind == "numbers":
        return tag, 4, quantities(value) if unit == "quantity" else b"".join(map(varint, value))
    return tag, 5, b"".join(entry(one, op["incarnation"]) for one in value)


def op_bytes(form, op):
    fields = sorted(field_bytes(form, op, name, value) for name, value in op["fields"].items())
    kind = op["kind"] if isinstance(op["kind"], int) else form.kinds[op["kind"]]
    body = b"".join(varint(tag) + bytes([wire]) + varint(len(payload)) + payload for tag, wire, payload in fields)
    return varint(op["lam"]) + varint(kind) + varint(len(fields)) + body


def blake(data):
    return hashlib.blake2b(data, digest_size=32).digest()


def proven(form, lines):
    """Every op's hash from what its line says; answers them."""
    ops, last = [], None
    for op in lines:
        stream = bytes.fromhex(op["athlete"]) + bytes.fromhex(op["incarnation"])
        if "before" in op:
            before = bytes.fromhex(op["before"])
        elif op["seq"] == 1:
            before = blake(b"slipway stream 0" + stream)
        else:
            before = bytes.fromhex(last["hash"])
            equal((op["athlete"], op["incarnation"], op["seq"]), (last["athlete"], last["incarnation"], last["seq"] + 1), "the line above")
        equal(blake(before + op_bytes(form, op)).hex(), op["hash"], f"hash of {op}")
        ops.append(op)
        last = op
    return ops


# ---- the parts -------------------------------------------------------------------------------------------

class Export:
    def __init__(self, path):
        with zipfile.ZipFile(path) as parts:
            equal(parts.testzip(), None, "CRCs")
            self.parts = {name: parts.read(name) for name in parts.namelist()}
            holds(all(info.date_time == (1980, 1, 1, 0, 0, 0) for info in parts.infolist()), "no dates")

    def text(self, name):
        return self.parts[name].decode("utf-8")

    def rows(self, name):
        text = self.text(name)
        holds(text.endswith("\r\n"), "lines end in CR LF")
        return [{key: value[1:] if value.startswith("'") else value for key, value in row.items()}
                for row in csv.DictReader(io.StringIO(text, newline=""), strict=True)]

    def lines(self):
        return [json.loads(line) for line in self.text("ops.jsonl").splitlines()]


def export(store, name, *words, **more):
    path = store.world.file(name)
    return path, store.json("export", "--out", path, *words, **more)


def some_words(value):
    return "" if value is None or value is False else "yes" if value is True else str(value)


def first(field):
    return some_words(field["value"])


def set_row(who, session, one, taken_back):
    load = one["load"]["value"]
    written = one["written_load"]
    return {
        "athlete": who["id"], "name": first(who["name"]), "day": session, "set": one["entry"], "exercise": one["exercise"], "round": str(one["round"]),
        "reps": first(one["reps"]), "load": load["typed"] if load else "", "unit": load["unit"] if load else "", "load_g": str(load["grams"]) if load else "",
        "rir": first(one["rir"]), "written_reps": some_words(one["written_reps"]), "written_load": written["typed"] if written else "",
        "written_unit": written["unit"] if written else "", "side": some_words(one["side"]), "warm_up": some_words(one["warm_up"]),
        "form_broke": some_words(one["form_broke"]), "two_more": some_words(one["two_more"]), "left_out": some_words(one["left_out"]),
        "corrected": some_words(one["corrected"]), "revived": some_words(one["revived"]), "taken_back": some_words(taken_back),
        "done": one["by"]["claimed"], "author": one["by"]["author"], "device": one["by"]["incarnation"]}


def shown_sets(people):
    rows = {}
    for who in people:
        for session in who["sessions"]:
            for one in session["sets"]:
                rows[one["entry"]] = set_row(who, first(session["day"]) if isinstance(session["day"], dict) else session["day"], one, False)
        for one in who["taken_back"]:
            rows[one["entry"]] = set_row(who, None, one, True)
    return rows


def everybody(store):
    return [store.json("athlete", "show", who["id"]) for who in store.json("athlete", "list")["athletes"]]


def busy_store(world, name="s"):
    """The made-up squad, with what it lacks: a name like a formula, a line written twice, a set taken back, pain that ended."""
    store = world.store(name)
    store.run("demo")
    store.run("athlete", "add", "=Otter, \"O\"")
    who = store.json("athlete", "list")["athletes"]
    otter = next(one["id"] for one in who if one["name"].startswith("="))
    other = world.store(name + "2")
    other.merge(store.make(name + "-start.slip"), code=None)
    for device, reps in ((store, 5), (other, 6)):
        device.run("plan", "set", otter, "reps", reps)
    logged = store.json("log", otter, "--reps", 7, "--load", "22.5kg")["entry"]
    store.run("log", "back", store.json("log", otter, "--reps", 3, "--round", 2)["entry"])
    other.merge(store.make(name + "-next.slip"), code=None)
    for device, reps in ((store, 8), (other, 9)):
        device.run("log", "change", logged, "--reps", reps)
    store.run("log", "pain", otter, "shoulder", "--amount", 4, "--side", "left")
    store.run("log", "settled", otter, "shoulder", "yes")
    store.merge(other.make(name + "-back.slip"), code=None)
    return store, otter


# ---- the cases -------------------------------------------------------------------------------------------

@case("every part of an export is read by Python's own modules and agrees with what the program shows")
def parts_agree(world):
    store, otter = busy_store(world)
    path, told = export(store, "all.zip")
    out = Export(path)
    equal(list(out.parts), PARTS, "parts")
    equal((told["parts"], told["left_out"], told["bytes"]), (PARTS, [], path.stat().st_size), "told")
    people = everybody(store)
    shown = shown_sets(people)
    rows = out.rows("sets.csv")
    equal(len(rows), len(shown), "sets")
    for row in rows:
        wanted = shown[row["set"]]
        if wanted["day"] is None:
            wanted["day"] = row["day"]
        equal({key: row[key] for key in wanted}, wanted, "a set")
    holds(any(row["other_values"] for row in rows) and any(row["taken_back"] for row in rows), "the hard ones are among them")
    sessions = out.rows("sessions.csv")
    equal(sorted((row["session"], int(row["sets"])) for row in sessions),
          sorted((one["entry"], len(one["sets"])) for who in people for one in who["sessions"]), "sessions")
    pains = out.rows("pain.csv")
    wanted = [(who["id"], one["entry"], one["region"], str(one["band"]), some_words(one["amount"]), some_words(one["resolved"]), one["by"]["claimed"])
              for who in people for one in who["pains"]]
    equal(sorted((row["athlete"], row["report"], row["region"], row["band"], row["amount"], row["resolved"], row["reported"]) for row in pains), sorted(wanted), "pain")
    counts = (len(people), len(sessions), sum(not row["taken_back"] for row in rows), len(pains))
    equal((told["athletes"], told["sessions"], told["sets"], told["pains"]), counts, "counts")


@case("plans.json holds the plan, the kit and every value that stands")
def plans_agree(world):
    store, otter = busy_store(world)
    path, _ = export(store, "all.zip")
    plans = {one["id"]: one for one in json.loads(Export(path).text("plans.json"))["athletes"]}
    people = everybody(store)
    equal(sorted(plans), sorted(who["id"] for who in people), "athletes")
    seen_twice = 0
    for who in people:
        mine = plans[who["id"]]
        equal([one["value"] for one in mine["name"]], [one["value"] for one in who["name"]["values"]], "name")
        equal([one["name"] for one in mine["kits"]], [one["name"] for one in who["kits"]], "kits")
        for line, wanted in zip(mine["lines"], who["plan"], strict=True):
            equal(line["entry"], wanted["entry"], "line")
            for field in ("exercise", "sets", "reps", "load", "rir", "rest_ms"):
                equal([one["value"] for one in line[field]], [one["value"] for one in wanted[field]["values"]], f"{field} of {line['entry']}")
                seen_twice += len(line[field]) > 1
    holds(seen_twice > 0, "a line written twice is among them")


@case("a reader written from FORMAT.txt alone proves every op of ops.jsonl")
def second_reader(world):
    store, _ = busy_store(world)
    path, told = export(store, "all.zip")
    out = Export(path)
    head, *lines = out.lines()
    form = Format(out.text("FORMAT.txt"))
    ops = proven(form, lines)
    equal((head["slipway"], head["ops"], len(ops)), ("ops", store.ops(), told["ops"]), "count")
    holds(len({op["kind"] for op in ops}) > 12, "most kinds are among them")
    equal(head["units"]["prescription.rest_ms"], "ms", "units")
    changed = {**lines[5], "lam": lines[5]["lam"] + 1}
    holds(blake(b"" + op_bytes(form, changed)) != blake(b"" + op_bytes(form, lines[5])), "the reader would notice")


@case("slipway.db is a sound SQLite file with every op, and without what is private to the device")
def database(world):
    store, _ = busy_store(world)
    path, told = export(store, "all.zip")
    out = Export(path)
    file = world.file("copy.db")
    file.write_bytes(out.parts["slipway.db"])
    tool = sqlite3.connect(file)
    equal(tool.execute("PRAGMA integrity_check").fetchall(), [("ok",)], "integrity")
    equal(tool.execute("SELECT sum(last_seq-first_seq+1) FROM chunk").fetchone()[0], told["ops"], "ops")
    equal([tool.execute(f"SELECT count(*) FROM {table}").fetchone()[0] for table in ("local", "import_log")], [0, 0], "private")
    equal(tool.execute("SELECT count(*) FROM meta WHERE name='token'").fetchone()[0], 0, "token")
    tool.close()
    token = sqlite3.connect(store.folder / "slipway.db").execute("SELECT value FROM meta WHERE name='token'").fetchone()[0]
    holds(token not in out.parts["slipway.db"] and b".slip" not in out.parts["slipway.db"], "not in freed pages either")


@case("an export taken in gives the same store: same ops, same views; taken in again, nothing new")
def comes_back(world):
    store, _ = busy_store(world)
    path, told = export(store, "all.zip")
    lines = world.file("ops.jsonl")
    lines.write_bytes(Export(path).parts["ops.jsonl"])
    for name, file in (("zip", path), ("lines", lines)):
        other = world.store(name)
        report = other.json("import", file, code=None)
        equal((report["files"][0]["fresh"], report["digests"]), (told["ops"], store.digests()), name)
        again = other.json("import", file, code=None)["files"][0]
        equal((again["fresh"], again["known"]), (0, told["ops"]), "again")
        equal(Export(export(other, name + "2.zip")[0]).lines()[1:], Export(path).lines()[1:], "exported again")
    half = world.store("half")
    half.merge(store.make("one.slip", "--athlete", store.json("athlete", "list")["athletes"][0]["id"]), code=None)
    equal(half.json("import", lines, code=None)["digests"], store.digests(), "into a store that holds some of it")


@case("a name like a formula is text in the table, and itself again without the apostrophe")
def formula(world):
    store, otter = busy_store(world)
    out = Export(export(store, "all.zip", "--athlete", otter)[0])
    raw = list(csv.DictReader(io.StringIO(out.text("sets.csv"), newline="")))
    equal({row["name"] for row in raw}, {"'=Otter, \"O\""}, "raw")
    equal({row["name"] for row in out.rows("sets.csv")}, {"=Otter, \"O\""}, "read")


@case("an export of one athlete carries nobody else: no id, no name, not in the freed room of its database")
def one_athlete(world):
    store, otter = busy_store(world)
    out = Export(export(store, "one.zip", "--athlete", otter)[0])
    everything = b"".join(out.parts.values())
    others = [who for who in store.json("athlete", "list")["athletes"] if who["id"] != otter]
    holds(len(others) > 3, "a squad")
    for who in others:
        for sign in (who["id"].encode(), bytes.fromhex(who["id"]), who["name"].encode()):
            holds(sign not in everything, f"{who['name']} is in it")
    holds(bytes.fromhex(otter) in out.parts["slipway.db"], "the one is in it")


@case("a changed line is refused by file and line, and nothing of the file is taken in")
def changed_line(world):
    store, _ = busy_store(world)
    lines = Export(export(store, "all.zip")[0]).text("ops.jsonl").splitlines(keepends=True)
    wrong = len(lines) // 2
    at = lines[wrong].index('"lam":') + 6
    changed = lines[wrong][:at] + str(int(lines[wrong][at]) % 9 + 1) + lines[wrong][at + 1:]
    file = world.file("edited.jsonl")
    file.write_text("".join([*lines[:wrong], changed, *lines[wrong + 1:]]), encoding="utf-8", newline="")
    other = world.store("other")
    other.run("athlete", "add", "Heron")
    before = other.digests()
    refused = other.json("import", file, code=BAD_INPUT)["files"][0]["error"]
    equal((refused["id"], refused["args"][:2]), ("lines.hash", [str(file), str(wrong + 1)]), "refused")
    holds(str(file) in refused["say"] and str(wrong + 1) in refused["say"], refused["say"])
    equal(other.digests(), before, "nothing was taken in")


@case("a file that is there already stays, unless it is to be replaced")
def stays(world):
    store, _ = busy_store(world)
    path, _ = export(store, "all.zip")
    before = path.read_bytes()
    equal(export(store, "all.zip", code=BAD_INPUT)[1]["error"]["id"], "cli.file_there", "refused")
    equal(path.read_bytes(), before, "as it was")
    export(store, "all.zip", "--replace")


@case("a store of a newer version is exported whole, and stays as it was")
def newer(world):
    store, _ = busy_store(world)
    ops, digests = store.ops(), store.digests()
    tool = sqlite3.connect(store.folder / "slipway.db")
    tool.execute("CREATE TABLE of_a_later_version(secret TEXT)")
    tool.execute("INSERT INTO of_a_later_version VALUES('nobody here knows what this is')")
    tool.execute("PRAGMA user_version=99")
    tool.commit()
    tool.close()
    before = (store.folder / "slipway.db").read_bytes()
    path, told = export(store, "all.zip")
    equal((told["ops"], told["left_out"]), (ops, []), "whole")
    equal((store.folder / "slipway.db").read_bytes(), before, "not one byte was written")
    holds(b"nobody here knows" not in Export(path).parts["slipway.db"], "what nobody here can judge stays at home")
    other = world.store("other")
    equal(other.json("import", path, code=None)["digests"], digests, "it comes back")


@case("of a damaged store what still proves itself goes out, and what was left out is said")
def damaged(world):
    store, otter = busy_store(world)
    store.run("log", otter, "--reps", 4)  # behind what will be damaged: so what is missing shows where this comes in
    tool = sqlite3.connect(store.folder / "slipway.db")
    scope = bytes.fromhex(otter)
    inc, first_seq, last_seq, data = tool.execute("SELECT inc,first_seq,last_seq,bytes FROM chunk WHERE scope=? ORDER BY length(bytes) DESC", (scope,)).fetchone()
    broken = data[:20] + bytes([data[20] ^ 1]) + data[21:]
    tool.execute("UPDATE chunk SET bytes=? WHERE scope=? AND inc=? AND first_seq=?", (broken, scope, inc, first_seq))
    held = tool.execute("SELECT sum(last_seq-first_seq+1) FROM chunk").fetchone()[0]
    tool.commit()
    tool.close()
    store.run("athlete", "list", code=STORAGE_TROUBLE)
    path, told = export(store, "all.zip", code=ANSWER_IS_NO)
    equal(told["ops"], held - (last_seq - first_seq + 1), "all but the broken chunk")
    equal([(why["id"], why["args"]) for why in told["left_out"]], [("archive.entries_lost", ["slipway.db", str(first_seq), str(last_seq), inc.hex()[:8]])], "said")
    out = Export(path)
    equal(len(proven(Format(out.text("FORMAT.txt")), out.lines()[1:])), told["ops"], "proven")
    other = world.store("other")
    equal(other.json("import", path, code=None)["files"][0]["fresh"], told["ops"], "it comes back")
    checked = other.json("check")
    equal((checked["sound"], checked["missing"]), (True, [{"athlete": otter, "incarnation": inc.hex(), "first": first_seq, "last": last_seq}]), "what did not come is named")
    holds(f"Entries {first_seq} to {last_seq} of writer {inc.hex()[:8]}" in other.run("check").out, "in words too")


@case("of a store whose first page is gone every entry that proves itself goes out, and comes back elsewhere")
def salvaged(world):
    store, _ = busy_store(world)
    ops = store.ops()
    file = store.folder / "slipway.db"
    data = file.read_bytes()
    file.write_bytes(os.urandom(4096) + data[4096:])
    broken = file.read_bytes()
    store.run("athlete", "list", code=STORAGE_TROUBLE)
    path, told = export(store, "all.zip", code=ANSWER_IS_NO)
    equal([why["id"] for why in told["left_out"]], ["store.salvaged"], "said")
    equal(told["ops"], ops, "all entries: none of them stood on the first page")
    equal(file.read_bytes(), broken, "the damaged file stays as it is")
    equal(world.store("other").json("import", path, code=None)["files"][0]["fresh"], ops, "they come back")
    file.write_bytes(os.urandom(len(data)))
    nothing = store.json("export", "--out", world.file("none.zip"), code=STORAGE_TROUBLE)
    equal(nothing["error"]["id"], "store.nothing_whole", "where nothing is whole it does not name itself as the remedy")


if __name__ == "__main__":
    run_cases()
