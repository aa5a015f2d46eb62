#!/usr/bin/env python3
"""A folder that bundles arrive in: swept, or watched while they arrive."""
import fcntl
import os
import signal
import subprocess
import time

from kit import BAD_INPUT, DONE, EXE, LONGEST_S, case, equal, holds, run_cases


def swimmers(world, names, folder, *words):
    """Each on a phone of their own, with one set; their bundles lie in the folder."""
    folder.mkdir(exist_ok=True)
    for name in names:
        store = world.store(f"phone-{name}")
        store.run("athlete", "add", name, "--born", 1990)
        store.run("log", name)
        store.run("bundle", "make", "--out", folder / f"{name.lower()}.slip{'.txt' if '--text' in words else ''}", *words)


@case("a folder is swept: each file on its own, what is broken by name, what is no bundle left alone")
def swept(world):
    inbox = world.file("inbox")
    swimmers(world, ["Otter", "Fen", "Sol"], inbox)
    swimmers(world, ["Tam"], inbox, "--text")
    (inbox / "notes.txt").write_text("see you on Monday")
    (inbox / ".hidden.slip").write_bytes(b"no")
    (inbox / "older").mkdir()
    swimmers(world, ["Pip"], inbox / "older")
    whole = (inbox / "sol.slip").read_bytes()
    (inbox / "sol.slip").write_bytes(whole[:-20])
    before = {path: path.read_bytes() for path in inbox.iterdir() if path.is_file()}

    desk = world.store("desk")
    answer = desk.json("inbox", inbox, code=BAD_INPUT)
    names = [file["file"].rsplit("/", 1)[-1] for file in answer["files"]]
    equal(names, ["fen.slip", "otter.slip", "sol.slip", "tam.slip.txt"], "files, by name")
    equal([file["refused"] for file in answer["files"]], [False, False, True, False], "refused")
    holds("sol.slip" in answer["files"][2]["error"]["say"], "the broken one by name")
    equal(sorted(one["name"] for one in desk.json("athlete", "list")["athletes"]), ["Fen", "Otter", "Tam"], "who came in")
    equal({path: path.read_bytes() for path in inbox.iterdir() if path.is_file()}, before, "the folder is as it was")

    (inbox / "sol.slip").write_bytes(whole)
    digests = desk.digests()
    again = desk.json("inbox", inbox)
    equal([file["fresh"] > 0 for file in again["files"]], [False, False, True, False], "only what is new")
    holds(desk.digests() != digests, "it is here now")
    equal(desk.json("inbox", inbox)["digests"], desk.digests(), "a third time: nothing new")


@case("no folder, an empty one: said in words, and the store is not touched")
def nothing(world):
    desk = world.store("desk")
    refused = desk.run("inbox", world.file("nowhere"), code=BAD_INPUT)
    holds("nowhere" in refused.err, refused.err)
    world.file("empty").mkdir()
    holds("no bundle there" in desk.run("inbox", world.file("empty")).out, "empty")
    holds("slipway inbox" in desk.run("bundle", "merge", world.file("empty"), code=BAD_INPUT).out, "merge says where folders go")


@case("a watched folder: a copy that is still going on is waited for, and the store is free in between")
def watched(world):
    inbox, desk = world.file("inbox"), world.store("desk")
    swimmers(world, ["Otter"], world.file("stick"))
    whole = (world.file("stick") / "otter.slip").read_bytes()
    inbox.mkdir()
    watcher = subprocess.Popen([EXE, "--store", str(desk.folder), "inbox", str(inbox), "--watch"], env=world.environment(), cwd=world.top,
                               stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    try:
        with open(inbox / "otter.slip", "wb") as slow:  # written in pieces, each within the time it must stand still
            step = len(whole) // 4 + 1
            for start in range(0, len(whole), step):
                slow.write(whole[start:start + step])
                slow.flush()
                os.fsync(slow.fileno())
                time.sleep(1)
        deadline = time.monotonic() + LONGEST_S
        while True:
            holds(time.monotonic() < deadline, "waited in vain for the bundle")
            time.sleep(0.5)
            listed = desk.run("athlete", "list", code=None)  # between two looks the store is free
            if listed.code == DONE and "Otter" in listed.out:
                break
        watcher.send_signal(signal.SIGTERM)
        out, err = watcher.communicate(timeout=LONGEST_S)
        equal(watcher.returncode, DONE, f"ends when told: {err}")
        equal(out.count("otter.slip"), 1, f"taken in once: {out}")
        holds("Refused" not in out, f"and not while it was half there: {out}")
    finally:
        if watcher.poll() is None:
            watcher.kill()
            watcher.wait()


@case("a watched folder: what cannot be had at one look is had at a later one")
def patient(world):
    inbox, desk = world.file("inbox"), world.store("desk")
    swimmers(world, ["Otter", "Fen"], world.file("stick"))
    desk.run("athlete", "add", "Pip")
    inbox.mkdir()
    watcher = subprocess.Popen([EXE, "--store", str(desk.folder), "inbox", str(inbox), "--watch"], env=world.environment(), cwd=world.top,
                               stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)

    def until_here(name):
        deadline = time.monotonic() + LONGEST_S
        while True:
            holds(watcher.poll() is None, "the watch has ended")
            holds(time.monotonic() < deadline, f"waited in vain for {name}")
            time.sleep(0.5)
            listed = desk.run("athlete", "list", code=None)
            if listed.code == DONE and name in listed.out:
                return

    try:
        with open(desk.folder / "slipway.lock", "rb") as held:  # as another Slipway holds it
            fcntl.flock(held, fcntl.LOCK_EX)
            (inbox / "otter.slip").write_bytes((world.file("stick") / "otter.slip").read_bytes())
            time.sleep(7)  # it has stood still, and the store cannot be had
            holds(watcher.poll() is None, "the watch has ended on a busy store")
        until_here("Otter")
        inbox.rename(world.file("away"))  # a stick that is pulled
        time.sleep(5)
        world.file("away").rename(inbox)
        (inbox / "fen.slip").write_bytes((world.file("stick") / "fen.slip").read_bytes())
        until_here("Fen")
        watcher.send_signal(signal.SIGTERM)
        out, err = watcher.communicate(timeout=LONGEST_S)
        equal(watcher.returncode, DONE, f"ends when told: {err}")
        equal(err.count("is free"), 1, f"said once: {err}")
        equal((out.count("otter.slip"), out.count("fen.slip")), (1, 1), f"each taken in once: {out}")
    finally:
        if watcher.poll() is None:
            watcher.kill()
            watcher.wait()


run_cases()
