#!/usr/bin/env python3
"""Several devices, one log: whatever the order of the files, the same store comes of it."""
import itertools
import os
import random
import shutil

from kit import ANSWER_IS_NO, DONE, LONG, World, case, equal, holds, note, run_cases

HISTORIES = 40 if LONG else 4
STEPS = 14
FIRST_SEED = int(os.environ.get("SLIPWAY_SEED", random.randrange(1 << 30)))
LOADS = [8, 10, 12, 14, 16, 18, 20, 24]


def three_devices(world):
    """Otter is added on the first device and carried to the others."""
    devices = [world.store(f"device{i}") for i in range(3)]
    devices[0].run("athlete", "add", "Otter")
    start = devices[0].make("start.slip")
    for device in devices[1:]:
        device.merge(start)
    return devices


def random_step(chance, device):
    """Answers the entry of a set that was acknowledged, or None."""
    author = chance.choice(["swimmer", "coach", "helper"])
    what = chance.choice(["log", "log", "log", "load", "load", "change", "back"])
    at = f"20{chance.randrange(10, 70)}-03-0{chance.randrange(1, 10)}T1{chance.randrange(10)}:30:00+0{chance.randrange(3)}:00"
    common = ["--as", author, "--at", at]
    if what == "log":
        return device.json(*common, "log", "Otter", "--reps", chance.randrange(1, 13), "--round", chance.randrange(1, 5), "--day", f"2026-03-0{chance.randrange(1, 5)}")["entry"]
    if what == "load":
        device.run(*common, "plan", "set", "Otter", "load", f"{chance.choice(LOADS)}kg")
    else:
        entries = sorted(device.sets("Otter"))
        if not entries:
            return None
        entry = chance.choice(entries)
        if what == "change":
            device.run(*common, "log", "change", entry, "--reps", chance.randrange(1, 13))
        else:
            device.run(*common, "log", "back", entry)
    return None


def merged_in(world, name, files):
    store = world.store(name)
    for file in files:
        report = store.merge(file, code=None)["files"][0]
        equal(report["refused"], False, f"{file.name} into {name}")
    return store


def live_apart(chance, devices):
    """Random edits, and now and then a file on the way, so that devices know parts of each other. Answers the sets acknowledged."""
    logged = set()
    for step in range(STEPS):
        logged.add(random_step(chance, chance.choice(devices)))
        if chance.randrange(5) == 0:
            carried = chance.choice(devices).make(f"way{step}.slip")
            chance.choice(devices).merge(carried, code=None)
    return logged - {None}


def entries_of(device):
    shown = device.json("athlete", "show", "Otter")
    return set(device.sets("Otter")) | {one["entry"] for one in shown["taken_back"]}


def every_order(world, devices, files):
    """The digests and number of ops after each order of merging, in new stores and in the devices themselves."""
    seen = {}
    for order in itertools.permutations(range(len(files))):
        store = merged_in(world, "m" + "".join(map(str, order)), [files[i] for i in order])
        seen[f"order {order}"] = (store.digests(), store.ops())
    for i, device in enumerate(devices):
        for j, file in enumerate(files):
            if i != j:
                device.merge(file, code=None)
        seen[f"device {i}"] = (device.digests(), device.ops())
    return seen


def one_history(seed):
    """Answers how many fields were left written twice."""
    world, chance = World(), random.Random(seed)
    try:
        devices = three_devices(world)
        logged = live_apart(chance, devices)
        files = [device.make(f"last{i}.slip") for i, device in enumerate(devices)]
        seen = every_order(world, devices, files)
        first = next(iter(seen.values()))
        for order, answer in seen.items():
            equal(answer, first, f"{order}, SLIPWAY_SEED={seed}")
        for device in devices:
            equal(entries_of(device), logged, f"every set is there, SLIPWAY_SEED={seed}")
        return len(devices[0].json("athlete", "show", "Otter")["contradictions"])
    finally:
        world.leave()


@case(f"three devices, random edits of a plan field and of sets: every order of merging gives the same two digests ({HISTORIES} histories)")
def all_orders(world):
    del world  # each history has its own
    twice = sum(one_history(FIRST_SEED + history) for history in range(HISTORIES))
    note(f"seeds {FIRST_SEED} to {FIRST_SEED + HISTORIES - 1}; {twice} fields were left written twice")


@case("a contradiction is listed with every value, who wrote it, where and when, until somebody who saw it settles it")
def contradiction(world):
    devices = three_devices(world)
    writers = [("coach", "10kg", "2026-03-02T08:00:00.000+01:00"), ("swimmer", "12kg", "2031-01-01T00:00:00.000+00:00"),
               ("helper", "14kg", "1999-12-31T23:59:00.000-05:00")]
    incarnations = []
    for device, (author, load, at) in zip(devices, writers):
        by = device.json("--as", author, "--at", at, "plan", "set", "Otter", "load", load)["plan"][0]["load"]["values"][0]["by"]
        incarnations.append(by["incarnation"])
    files = [device.make(f"{i}.slip") for i, device in enumerate(devices)]
    coach = world.store("coach")
    equal(coach.merge(*files, code=ANSWER_IS_NO)["contradictions"], 1, "one field is written three times")
    found = coach.json("athlete", "show", "Otter")["contradictions"]
    equal([(one["of"], one["field"]) for one in found], [("plan", "load")], "which field")
    listed = {(v["by"]["author"].split()[-1], v["value"]["typed"] + "kg", v["by"]["claimed"], v["by"]["incarnation"]) for v in found[0]["values"]}
    equal(listed, {(*writer, incarnation) for writer, incarnation in zip(writers, incarnations)}, "values and writers")
    shown = coach.json("plan", "show", "Otter")
    equal((shown["plan"][0]["load"]["contradiction"], shown["counts"]["load"]["typed"]), (True, "10"), "the lighter one counts till then")
    coach.run("plan", "set", "Otter", "load", "11kg")
    equal(coach.json("athlete", "show", "Otter")["contradictions"], [], "settled")
    settled = coach.make("settled.slip")
    for device in devices:
        equal(device.merge(settled)["contradictions"], 0, "settled everywhere")
    equal(len({str(device.digests()) for device in devices + [coach]}), 1, "one store")


@case("the same value written on two devices is no contradiction")
def same_value(world):
    first, second, _ = three_devices(world)
    first.run("plan", "set", "Otter", "reps", 10)
    second.run("plan", "set", "Otter", "reps", 10)
    equal(first.merge(second.make("b.slip"), code=DONE)["contradictions"], 0, "contradictions")


@case("a set changed here while it is taken back there comes back, marked")
def revived(world):
    first, second, _ = three_devices(world)
    entry = first.json("log", "Otter")["entry"]
    second.merge(first.make("a.slip"))
    first.run("log", "back", entry)
    second.run("log", "change", entry, "--reps", 3)
    first.merge(second.make("b.slip"))
    shown = first.sets("Otter")[entry]
    equal((shown["revived"], shown["reps"]["value"]), (True, 3), "the set")


@case("a different export of the same log says nothing new, one more set says one new")
def nothing_new(world):
    first, second, _ = three_devices(world)
    for _ in range(3):
        first.run("log", "Otter")
    once, again = first.make("once.slip"), first.make("again.slip")
    holds(once.read_bytes() != again.read_bytes(), "two exports are two files")
    held = first.ops()
    coach = world.store("coach")
    holds(coach.merge(once)["files"][0]["fresh"] > 0, "the first brings something")
    second.merge(once)
    for file in (once, again, second.make("second.slip"), first.make("text.slip.txt", "--text")):
        report = coach.merge(file)["files"][0]
        equal((report["fresh"], report["known"], report["fresh_sets"]), (0, held, 0), f"{file.name} says nothing new")
    before = coach.digests()
    first.run("log", "Otter")
    report = coach.merge(first.make("more.slip"))["files"][0]
    equal((report["fresh"], report["fresh_sets"], report["known"]), (1, 1, held), "one new")
    holds(coach.digests() != before, "and the digests say so")


@case("a copied store writes under a new mark, and both copies' sets arrive")
def copied(world):
    first, _, _ = three_devices(world)
    first.run("log", "Otter")
    shutil.copytree(first.folder, world.file("copy"))
    copy = world.store("copy")
    answer = copy.run("--json", "log", "Otter", "--reps", 1)
    holds("copied or restored" in answer.err, f"said: {answer.err!r}")
    here = first.json("log", "Otter", "--reps", 2)["set"]["by"]["incarnation"]
    holds(answer.json["set"]["by"]["incarnation"] != here, "two marks")
    report = first.merge(copy.make("copy.slip"), code=None)["files"][0]
    equal((report["fresh_sets"], report["forks"]), (1, 0), "merged")
    equal(sorted(one["reps"]["value"] for one in first.sets("Otter").values()), [1, 2, 8], "all sets")


@case("a store that was put back in time gets its later entries back and forks nothing")
def put_back(world):
    first, second, _ = three_devices(world)
    first.run("log", "Otter")
    shutil.copytree(first.folder, world.file("old"))
    shutil.copytree(world.home / ".local/state", world.file("oldstate"))
    late = first.json("log", "Otter", "--reps", 5)["entry"]
    second.merge(first.make("a.slip"))
    # Folder and token put back together: nothing but the bundle can tell.
    shutil.rmtree(first.folder)
    shutil.copytree(world.file("old"), first.folder)
    shutil.rmtree(world.home / ".local/state")
    shutil.copytree(world.file("oldstate"), world.home / ".local/state")
    report = first.merge(second.make("b.slip"))["files"][0]
    equal(report["own_past"], True, "it says so")
    holds(late in first.sets("Otter"), "the later set is back")
    after = first.json("log", "Otter", "--reps", 6)["set"]["by"]["incarnation"]
    holds(after != late.split(":")[0], "from now on a new mark")
    equal(second.merge(first.make("c.slip"))["files"][0]["forks"], 0, "forks")
    equal(first.digests(), second.digests(), "digests")


run_cases()
