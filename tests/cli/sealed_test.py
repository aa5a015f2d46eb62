#!/usr/bin/env python3
"""Swimmers that a passphrase seals in the store [sync-and-storage 10.1], at the command line."""
from kit import ANSWER_IS_NO, BAD_INPUT, DONE, WRONG_USE, case, equal, holds, run_cases

PASSPHRASE = "three wet towels"


def words_file(world, words=PASSPHRASE, name="words.txt"):
    path = world.file(name)
    path.write_text(words + "\n")
    return path


def sealed(world):
    """A store with two swimmers, one of them sealed."""
    store = world.store("phone")
    store.run("athlete", "add", "Wren", "--born", "1990")
    store.run("athlete", "add", "Robin", "--born", "1991")
    store.run("log", "Wren", "--reps", "8")
    store.run("log", "pain", "Wren", "shoulder", "--amount", "4", "--as", "swimmer")
    store.run("note", "add", "Wren", "ask about the elbow")
    before = store.digests()
    words = words_file(world)
    made = store.json("profile", "seal", "Wren", "--passphrase-file", words)
    equal([(one["name"], one["open"]) for one in made["profiles"]], [("Wren", True)], "who is sealed")
    return store, words, before


def bytes_of(world, store):
    return b"".join(path.read_bytes() for path in sorted(world.top.rglob("*")) if path.is_file() and "phone" in str(path))


@case("what is sealed cannot be read in any file of the store, and opens whole with the passphrase")
def _(world):
    store, words, before = sealed(world)
    for text in (b"ask about the elbow", b"shoulder"):
        holds(text not in bytes_of(world, store), f"{text} can be read")
    holds(b"Wren" in bytes_of(world, store), "the name stays readable, as is said")
    open_it = ("--profile-passphrase-file", words)
    equal(store.json("check", *open_it)["digests"], before, "the digests")
    equal(store.json("check", *open_it)["findings"], [], "findings")
    shown = store.json("athlete", "show", "Wren", *open_it)
    equal(len(shown["sessions"][0]["sets"]), 1, "sets")
    store.run("log", "Wren", "--reps", "7", *open_it)
    equal(len(store.json("athlete", "show", "Wren", *open_it)["sessions"][0]["sets"]), 2, "sets after one more")


@case("without the passphrase a command says who is not looked at, does nothing for them, and leaves the store as it is")
def _(world):
    store, words, _before = sealed(world)
    listed = store.run("athlete", "list")
    holds("Wren" not in listed.out and "Robin" in listed.out, f"the list: {listed}")
    holds("Wren is sealed" in listed.err and "--profile-passphrase-file" in listed.err, f"what is said: {listed.err}")
    digests = store.digests()
    for command in (("log", "Wren", "--reps", "8"), ("next", "Wren"), ("profile", "unseal", "Wren"), ("export", "--athlete", "Wren", "--out", world.file("a.zip"))):
        refused = store.json(*command, code=BAD_INPUT)["error"]
        equal((refused["kind"], refused["id"]), ("sealed", "profile.shut"), f"{command}")
    wrong = store.json("next", "Wren", "--profile-passphrase-file", words_file(world, "three dry towels", "wrong.txt"), code=BAD_INPUT)["error"]
    equal(wrong["id"], "key.passphrase_wrong", "a wrong passphrase")
    equal(store.digests(), digests, "the digests")
    made = store.json("bundle", "make", "--out", world.file("all.slip"))
    robin = store.json("athlete", "list")["athletes"][0]
    equal([(one["id"], one["name"]) for one in made["athletes"]], [(robin["id"], "Robin")], "what goes out")
    holds(b"ask about the elbow" not in world.file("all.slip").read_bytes(), "the comment goes out")


@case("an export of everybody says who is left out; nobody is taken for an empty store, and a twin is told")
def _(world):
    store, words, _before = sealed(world)
    made = store.json("export", "--out", world.file("all.zip"), code=ANSWER_IS_NO)
    equal([(one["id"], one["args"]) for one in made["left_out"]], [("profile.shut", ["Wren"])], "who is left out")
    equal(store.json("export", "--out", world.file("whole.zip"), "--profile-passphrase-file", words)["left_out"], [], "with the passphrase")
    backed_up = store.json("backup", "--out", world.file("backup.zip"), code=ANSWER_IS_NO)
    equal((backed_up["left_out"], backed_up["athletes"]), (["Wren"], 1), "a backup")
    equal(store.json("squad")["sealed"], ["Wren"], "who is not looked at")
    holds("Nobody needs you" not in store.run("squad").out, "nobody knows what the sealed one needs")
    store.run("profile", "seal", "Robin", "--passphrase-file", words_file(world, "another passphrase", "other.txt"))
    both = ("--profile-passphrase-file", words, "--profile-passphrase-file", world.file("other.txt"))
    equal(store.json("backup", "--out", world.file("both.zip"), *both)["left_out"], [], "both opened")
    store.run("profile", "unseal", "Robin", *both)
    holds("Wren" in store.run("athlete", "add", "Wren").out, "the twin is told")
    ambiguous = store.json("log", "Wren", "--reps", "8", code=BAD_INPUT)["error"]
    equal(ambiguous["id"], "athlete.ambiguous", "one of two")
    alone = world.store("alone")
    alone.run("athlete", "add", "Teal")
    alone.run("profile", "seal", "Teal", "--passphrase-file", words)
    equal(alone.json("demo", code=BAD_INPUT)["error"]["id"], "cli.demo_not_empty", "the made-up squad beside somebody sealed")
    equal(alone.json("bundle", "make", "--out", world.file("b.slip"), code=BAD_INPUT)["error"]["id"], "profile.shut", "a bundle of nobody open")
    equal(alone.json("export", "--out", world.file("c.zip"), code=BAD_INPUT)["error"]["id"], "profile.shut", "an export of nobody open")


@case("a bundle with something of a sealed swimmer is refused by file and name, and taken in once they are open")
def _(world):
    store, words, _before = sealed(world)
    coach = world.store("coach")
    open_it = ("--profile-passphrase-file", words)
    store.run("bundle", "make", "--out", world.file("wren.slip"), "--athlete", "Wren", *open_it)
    coach.merge(world.file("wren.slip"))
    coach.run("note", "add", "Wren", "good week")
    coach.run("bundle", "make", "--out", world.file("back.slip"))
    digests = store.digests()
    refused = store.json("bundle", "merge", world.file("back.slip"), code=BAD_INPUT)["files"][0]["error"]
    equal((refused["id"], refused["args"]), ("profile.shut_file", [str(world.file("back.slip")), "Wren"]), "why it is refused")
    equal(store.digests(), digests, "the digests")
    taken = store.json("bundle", "merge", world.file("back.slip"), *open_it)["files"][0]
    holds(taken["fresh"] >= 1, f"what came: {taken}")
    holds(b"good week" not in bytes_of(world, store), "what came can be read")


@case("the seal is taken away with the passphrase; dropped without it, another device's bundle brings the swimmer back")
def _(world):
    store, words, before = sealed(world)
    open_it = ("--profile-passphrase-file", words)
    store.run("bundle", "make", "--out", world.file("wren.slip"), "--athlete", "Wren", *open_it)
    coach = world.store("coach")
    coach.merge(world.file("wren.slip"))
    coach.run("bundle", "make", "--out", world.file("back.slip"))
    store.run("profile", "drop", "Wren", "--type-name", "Robin", code=BAD_INPUT)
    store.run("profile", "drop", "Wren", code=WRONG_USE)
    equal(store.json("profile", "drop", "Wren", "--type-name", "Wren")["profiles"], [], "who is sealed")
    store.merge(world.file("back.slip"))
    equal(store.digests(), before, "the digests")
    store.run("log", "Wren", "--reps", "6")
    store.run("bundle", "make", "--out", world.file("again.slip"))
    coach.merge(world.file("again.slip"))
    equal(coach.digests()["ops"], store.digests()["ops"], "ops at the coach's and here")
    store.json("profile", "seal", "Wren", "--passphrase-file", words)
    store.json("profile", "unseal", "Wren", *open_it)
    equal(store.run("profile", "list").out.strip(), "Nobody is sealed here.", "who is sealed")
    equal(coach.digests()["ops"], store.digests()["ops"], "ops after sealing and unsealing")


@case("a profile cannot be sealed without a passphrase, with a short one, or twice")
def _(world):
    store, words, _before = sealed(world)
    store.run("profile", "seal", "Robin", code=WRONG_USE)
    equal(store.json("profile", "seal", "Robin", "--passphrase-file", words_file(world, "short", "short.txt"), code=BAD_INPUT)["error"]["id"],
          "key.passphrase_short", "a short one")
    equal(store.json("profile", "seal", "Wren", "--passphrase-file", words, "--profile-passphrase-file", words, code=BAD_INPUT)["error"]["id"],
          "profile.sealed_already", "twice")
    equal(store.run("profile", "list", code=DONE).out.count("sealed"), 1, "how many")


run_cases()
