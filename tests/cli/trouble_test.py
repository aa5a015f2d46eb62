#!/usr/bin/env python3
"""The storage in trouble: busy, full, forbidden, damaged, killed. What was acknowledged is there."""
import errno
import json
import os
import random
import resource
import shutil
import signal
import sqlite3
import subprocess
import threading
import time

from kit import EXE, LONG, STORAGE_TROUBLE, case, equal, holds, note, run_cases

KILLS = 2000 if LONG else 200
LEAST_KILLED = KILLS // 8  # fewer means the kills came too late to prove anything


def held_open(world, store):
    """A process that has the store open: it waits for a bundle that never comes down a pipe."""
    pipe = world.file("pipe")
    os.mkfifo(pipe)
    process = subprocess.Popen([EXE, "--store", store.folder, "bundle", "merge", pipe], env=world.environment(),
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL)
    for _ in range(2000):  # it has the store once it opens the pipe to read
        try:
            return process, os.open(pipe, os.O_WRONLY | os.O_NONBLOCK)
        except OSError as error:
            if error.errno != errno.ENXIO:
                raise
            time.sleep(0.01)
    raise AssertionError("the holder never opened the pipe")


@case("a second process is told that the store is busy, changes nothing, and gets it when the first is done")
def busy(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    mark = store.json("log", "Otter")["set"]["by"]["incarnation"]
    holder, pipe = held_open(world, store)
    try:
        error = store.json("log", "Otter", code=STORAGE_TROUBLE)["error"]
        equal((error["kind"], error["id"]), ("busy", "store.busy"), "refused")
        holds(str(store.folder) in error["say"] and "[" not in error["say"], f"named: {error['say']}")
        tool = sqlite3.connect(store.folder / "slipway.db", timeout=0.1)
        try:
            tool.execute("SELECT count(*) FROM chunk").fetchone()
            raise AssertionError("SQLite's own tool read a store that is in use")
        except sqlite3.OperationalError as locked:
            holds("locked" in str(locked), f"SQLite's own tool finds it locked: {locked}")
        finally:
            tool.close()
    finally:
        os.close(pipe)
        holder.wait(timeout=60)
    after = store.run("--json", "log", "Otter")
    equal((after.json["set"]["by"]["incarnation"], after.err), (mark, ""), "the mark of before: the refused one had touched nothing")


@case("a holder that is killed lets the store go at once")
def killed_holder(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    holder, pipe = held_open(world, store)
    holder.kill()
    holder.wait(timeout=60)
    os.close(pipe)
    store.run("log", "Otter")


@case("Debian's SQLite opens the file of the store and finds it whole")
def outside_check(world):
    store = world.store("s")
    store.run("demo")
    store.run("athlete", "add", "Otter")
    for _ in range(5):
        store.run("log", "Otter")
    database = sqlite3.connect(store.folder / "slipway.db")
    equal(database.execute("PRAGMA integrity_check").fetchall(), [("ok",)], "integrity_check")
    equal(database.execute("PRAGMA foreign_key_check").fetchall(), [], "foreign_key_check")
    holds(database.execute("SELECT count(*) FROM chunk").fetchone()[0] > 0, "chunks are there")
    database.close()
    store.digests()
    tool = shutil.which("sqlite3")
    if tool:
        said = subprocess.run([tool, store.folder / "slipway.db", "PRAGMA integrity_check"], capture_output=True, text=True, check=False)
        equal((said.returncode, said.stdout.strip()), (0, "ok"), "the sqlite3 command")


def not_root(world):
    """How to run as somebody whom permissions stop."""
    if os.geteuid() != 0:
        return {}
    nobody = 65534
    for folder, _, files in os.walk(world.top):
        os.chown(folder, nobody, nobody)
        for file in files:
            os.chown(os.path.join(folder, file), nobody, nobody)
    # The program may lie where nobody may go.
    shutil.copy(EXE, world.file("slipway"))
    world.file("slipway").chmod(0o755)
    return {"user": nobody, "group": nobody, "extra_groups": []}


def run_as(world, who, *words, code):
    done = subprocess.run([world.file("slipway") if who else EXE, *map(str, words)], capture_output=True, text=True, env=world.environment(),
                          cwd=world.top, stdin=subprocess.DEVNULL, timeout=60, check=False, **who)
    equal(done.returncode, code, f"exit of {words}: {done.stdout} {done.stderr}")
    return done


@case("a folder that may not be written says so by name, place and remedy")
def read_only(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    store.run("log", "Otter")
    before = (store.folder / "slipway.db").read_bytes()
    who = not_root(world)
    for path, mode in ((store.folder, 0o555), (store.folder / "slipway.db", 0o444), (store.folder / "slipway.lock", 0o444)):
        was = path.stat().st_mode
        path.chmod(mode)
        if path == store.folder:
            (store.folder / "slipway.lock").unlink()
        done = run_as(world, who, "--json", "--store", store.folder, "log", "Otter", code=STORAGE_TROUBLE)
        error = json.loads(done.stdout)["error"]
        equal(error["kind"], "no_permission", str(path))
        holds(str(store.folder) in error["say"] and "Allow writing" in error["say"] and "[" not in error["say"], f"{path}: {error['say']}")
        path.chmod(was)
    equal((store.folder / "slipway.db").read_bytes(), before, "the store")
    run_as(world, who, "--store", store.folder, "log", "Otter", code=0)


@case("a folder that is named is made by what begins a store; what is no folder, or lies nowhere, says so")
def no_folder(world):
    file = world.file("file")
    file.write_text("x")
    begin, read = ["athlete", "add", "Otter"], ["check"]
    for place, words, text in ((file, begin, "cli.not_folder"), (file, read, "cli.not_folder"), (world.file("nowhere"), read, "store.no_folder"),
                               (world.file("no/where"), begin, "store.no_folder")):
        error = world.run("--json", "--store", place, *words, code=STORAGE_TROUBLE).json["error"]
        equal(error["id"], text, str(place))
        holds(str(place) in error["say"] and "--store" in error["say"], f"names it and the remedy: {error['say']}")
    holds(not world.file("nowhere").exists() and not world.file("no").exists(), "nothing was made")
    for place in ("made", "made too/"):
        world.run("--store", place, *begin)
        holds((world.file(place) / "slipway.db").is_file(), f"{place} was made")


@case("the second place of the token that cannot be written says so and leaves the store as it is")
def no_token_place(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    state = world.file("state")
    state.write_text("a file in the way")
    environment = {**world.environment(), "XDG_STATE_HOME": str(state)}
    before = (store.folder / "slipway.db").read_bytes()
    error = store.json("log", "Otter", env=environment, code=STORAGE_TROUBLE)["error"]
    equal(error["id"], "cli.token_place", "refused")
    equal((store.folder / "slipway.db").read_bytes(), before, "the store")


@case("a full storage keeps nothing half: it is said, and what was kept before is all there")
def full(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    for _ in range(3):
        store.run("log", "Otter")
    sound = store.digests()
    limit = (store.folder / "slipway.db").stat().st_size
    for room in (limit, limit // 2, 512, 0):
        refused = 0
        for _ in range(40):  # free pages may take a few more first
            answer = store.run("--json", "log", "Otter", "--round", 7, code=None,
                               preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (room, room)))
            if answer.code == 0:
                sound = store.digests()
                continue
            refused += 1
            equal(answer.code, STORAGE_TROUBLE, f"exit with room for {room}: {answer}")
            error = answer.json["error"]
            equal(error["kind"], "full", f"kind with room for {room}: {error}")
            holds("[" not in error["say"], f"in words: {error['say']}")
            break
        equal((refused, store.digests()), (1, sound), f"digests with room for {room}")
    store.run("log", "Otter", "--round", 8)


@case("a damaged store file is told by name, and is not touched")
def damaged(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    held = store.ops()
    path = store.folder / "slipway.db"
    good = path.read_bytes()
    for name, content in (("zeros", bytes(len(good))), ("half", good[:len(good) // 2]), ("a letter", b"Dear coach, " * 200)):
        path.write_bytes(content)
        answer = store.run("--json", "check", code=None)
        holds(answer.code in (1, STORAGE_TROUBLE), f"{name}: {answer}")
        words = answer.out
        holds("damaged" in words and "[cli" not in words, f"{name}: {words}")
        equal(path.read_bytes(), content, f"{name}: the file")
    path.write_bytes(good)
    equal(store.ops(), held, "the good file opens again")


class Logger(threading.Thread):
    """Logs set after set, each by a process of its own, and keeps what was acknowledged."""

    def __init__(self, world, store):
        super().__init__()
        self.world, self.store, self.acknowledged, self.begun = world, store, [], 0
        self.process, self.over, self.others = None, False, []

    def run(self):
        while not self.over:
            number = self.begun + 1
            day = f"2026-{1 + number // 28 % 12:02}-{1 + number % 28:02}"
            self.process = subprocess.Popen([EXE, "--json", "--store", self.store.folder, "log", "Otter", "--reps", str(number % 101), "--round", "1",
                                             "--day", day], env=self.world.environment(), stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                            text=True, stdin=subprocess.DEVNULL)
            self.begun = number
            out, err = self.process.communicate()
            if self.process.returncode == 0:
                self.acknowledged.append(json.loads(out)["entry"])
            elif self.process.returncode != -signal.SIGKILL:
                self.others.append((self.process.returncode, out, err))


@case(f"killed {KILLS} times while logging: every acknowledged set is there, once, and the store is sound")
def kills(world):
    store = world.store("s")
    store.run("athlete", "add", "Otter")
    chance = random.Random()
    begun = time.monotonic()
    for _ in range(3):
        store.run("log", "Otter", "--day", "2025-01-01")
    usual = (time.monotonic() - begun) / 3
    logger = Logger(world, store)
    logger.start()
    killed = 0
    try:
        for _ in range(KILLS):
            # Counted in sets and not in seconds, so that on a busy computer too some are acknowledged between two kills.
            until = logger.begun + chance.randrange(1, 4)
            while logger.begun < until:
                holds(logger.is_alive(), "the logger goes on")
                time.sleep(0.001)
            time.sleep(chance.random() * usual)  # some before the set is kept, some after
            process = logger.process
            process.kill()
            killed += process.wait() == -signal.SIGKILL
    finally:
        logger.over = True
        logger.join()
    equal(logger.others, [], "every run was done or killed")
    there = store.sets("Otter")
    lost = [entry for entry in logger.acknowledged if entry not in there]
    equal(lost, [], "lost")
    holds(len(there) <= logger.begun + 3, "no set twice")
    store.digests()
    database = sqlite3.connect(store.folder / "slipway.db")
    equal(database.execute("PRAGMA integrity_check").fetchall(), [("ok",)], "integrity_check")
    database.close()
    note(f"row 13  {killed} kills while logging, {len(logger.acknowledged)} sets acknowledged, {len(there)} there, 0 lost")
    holds(killed >= LEAST_KILLED and len(logger.acknowledged) > 0, f"enough were killed: {killed}")


@case(f"killed {KILLS // 2} times while taking bundles in: each bundle is whole or not there")
def killed_merges(world):
    maker = world.store("maker")
    maker.run("athlete", "add", "Otter")
    files = []
    for i in range(6):
        maker.run("log", "Otter", "--reps", i)
        files.append(maker.make(f"{i}.slip"))
    world_ops = maker.ops()
    holds_of = {}
    for i in range(len(files) + 1):
        probe = world.store(f"probe{i}")
        if i:
            probe.merge(*files[:i])
            holds_of[json.dumps(probe.digests(), sort_keys=True)] = i
    chance = random.Random()
    begun = time.monotonic()
    world.store("timed").merge(*files)
    usual = time.monotonic() - begun
    killed = between = 0
    for turn in range(KILLS // 2):
        store = world.store(f"t{turn}")
        process = subprocess.Popen([EXE, "--store", store.folder, "bundle", "merge", *files], env=world.environment(), stdout=subprocess.DEVNULL,
                                   stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL)
        time.sleep(chance.random() * usual)
        process.kill()
        done = process.wait() != -signal.SIGKILL
        killed += not done
        usual *= 0.7 if done else 1.0  # a warm computer is quicker than the first run: come earlier next time
        if not (store.folder / "slipway.db").exists() or (store.folder / "slipway.db").stat().st_size == 0:
            continue
        answer = store.json("check")
        equal(answer["findings"], [], "findings")
        holds(answer["ops"] == 0 or json.dumps(answer["digests"], sort_keys=True) in holds_of, f"between two bundles: {answer}")
        between += 0 < answer["ops"] < world_ops
        equal(store.merge(*files)["digests"], maker.digests(), "the rest goes in afterwards")
    note(f"{killed} of {KILLS // 2} were killed before they were done, {between} with a part of the files in")
    holds(killed >= LEAST_KILLED // 2, "enough were killed")


run_cases()
