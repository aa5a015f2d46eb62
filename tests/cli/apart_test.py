#!/usr/bin/env python3
"""What travels apart: one swimmer alone, coaches' own notes, plans copied by value, what a device lacks,
and what was changed by one and taken away by another."""
from bundle_reader import raw_bytes
from kit import BAD_INPUT, case, equal, holds, run_cases


@case("a note for coaches only is in no bundle for a swimmer, and reaches another coach")
def coach_only(world):
    coach = world.store("coach")
    coach.run("athlete", "add", "Wren")
    coach.run("note", "add", "Wren", "for all to read")
    coach.run("note", "add", "Wren", "only for coaches", "--coach-only")
    notes = coach.json("note", "list", "Wren")["notes"]
    equal([(one["text"]["value"], one["coach_only"]) for one in notes], [("for all to read", False), ("only for coaches", True)], "the notes")
    holds("coach (coaches only): only for coaches" in coach.run("note", "list", "Wren").out, "told apart where a person reads it")
    looked = coach.json("bundle", "preview")
    equal(looked["coach_notes"], 0, "coaches' scopes that would go out")
    holds("only for coaches" not in str(looked), "the preview names it")
    file = coach.make("all.slip")
    travels = raw_bytes(file.read_bytes())
    holds(b"for all to read" in travels, "the other note is in the file")
    holds(b"only for coaches" not in travels, "it is in the file")
    phone = world.store("phone")
    phone.merge(file)
    equal(len(phone.json("note", "list", "Wren")["notes"]), 1, "notes on the phone")

    equal(coach.json("bundle", "preview", "--coach-notes")["coach_notes"], 1, "said, it goes")
    other = world.store("other")
    to_coach = coach.make("coaches.slip", "--coach-notes")
    holds(b"only for coaches" in raw_bytes(to_coach.read_bytes()), "said, it is in the file")
    other.merge(to_coach)
    equal(len(other.json("note", "list", "Wren")["notes"]), 2, "notes on another coach's device")
    equal([one["name"] for one in other.json("athlete", "list")["athletes"]], ["Wren"], "its athletes")
    coach.run("--as", "swimmer", "note", "add", "Wren", "mine", "--coach-only", code=BAD_INPUT)


@case("a plan is copied by value, and a swimmer's bundle says nothing of where it came from")
def copied(world):
    coach = world.store("coach")
    coach.run("athlete", "add", "Wren")
    library = coach.json("library", "add", "Secret plan")["libraries"][0]
    coach.run("plan", "add", "Secret plan", "SQ4", "--sets", "3", "--reps", "8")
    coach.run("plan", "add", "Secret plan", "VP4", "--sets", "2", "--reps", "5", "--place", "2")
    coach.run("plan", "move", "Secret plan", "VP4")
    plan = coach.json("plan", "copy", "Secret plan", "Wren")["plan"]
    equal([line["exercise"]["value"] for line in plan], ["VP4", "SQ4"], "the lines, in the order they were moved to")
    file = raw_bytes(coach.make("wren.slip", "--athlete", "Wren").read_bytes())
    holds(b"SQ4" in file, "the plan is in the file")
    holds(b"Secret" not in file and bytes.fromhex(library["id"]) not in file, "the library is in the file")
    coach.run("plan", "copy", "Secret plan", "Secret plan", code=BAD_INPUT)
    equal(len(coach.json("plan", "show", "Secret plan")["plan"]), 2, "the library's lines")


@case("a bundle for a device that was heard of holds what that device lacks, a lost one leaves a hole that is filled")
def lacking(world):
    phone, coach = world.store("phone"), world.store("coach")
    phone.run("athlete", "add", "Wren")
    coach.merge(phone.make("1.slip"))
    phone.merge(coach.make("asks.slip"))
    peer = phone.json("bundle", "peers")["peers"][0]
    equal(peer["lacks"], 0, "what the coach lacks")
    phone.run("log", "Wren", "--reps", "8", "--round", "1")
    lost = phone.make("lost.slip", "--to", peer["device"][:8])
    holds(lost.stat().st_size < 1500, f"only what is lacking: {lost.stat().st_size} bytes")
    preview = phone.json("bundle", "preview", "--to", peer["device"])
    holds(preview["entries"] > 0 and preview["held_there"] > 0, "the preview tells them apart")
    phone.run("log", "Wren", "--reps", "7", "--round", "2")
    coach.merge(phone.make("later.slip", "--to", peer["device"]))  # the lost one's entries too: nobody has said they arrived
    equal(coach.json("check")["digests"]["ops"], phone.json("check")["digests"]["ops"], "both hold the same")
    phone.run("bundle", "make", "--to", "ffffffff", "--out", world.top / "x.slip", code=BAD_INPUT)


@case("what one changed and another took away comes back, is listed, and is kept or taken away for good")
def came_back(world):
    here, there = world.store("here"), world.store("there")
    here.run("athlete", "add", "Wren")
    there.merge(here.make("1.slip"))
    line = here.json("plan", "show", "Wren")["plan"][0]
    here.run("plan", "drop", "Wren", line["entry"])
    there.run("plan", "set", "Wren", "sets", "2", "--exercise", line["exercise"]["value"])
    merged = here.run("bundle", "merge", there.make("2.slip"))
    holds("slipway keep" in merged.err, f"the merge says it: {merged.err!r}")
    back = here.json("athlete", "show", "Wren")["came_back"]
    equal([(one["entry"], one["kind"]) for one in back], [(line["entry"], "prescription")], "what came back")
    here.run("keep", "Wren", line["entry"])
    equal(here.json("athlete", "show", "Wren")["came_back"], [], "what came back, answered")
    here.run("keep", "Wren", line["entry"], code=BAD_INPUT)
    equal(here.run("bundle", "merge", world.top / "2.slip").err, "", "and no longer, once it is settled")


run_cases()
