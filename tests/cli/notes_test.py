#!/usr/bin/env python3
"""What is said about a body and by adults, what comes next, the coach's list and the report, from outside."""
from kit import BAD_INPUT, TOP, case, equal, holds, run_cases

DAY = ["--day", "2026-03-02", "--at", "2026-03-02T18:00:00+01:00"]


def begun(world, born=1990):
    store = world.store("s")
    store.run("athlete", "add", "Otter", "--born", born)
    return store


@case("each fact about a body is kept, and shown with who said it and when")
def facts(world):
    store = begun(world)
    by = ["--as", "swimmer", *DAY]
    store.run("log", "Otter", *by)
    store.run("log", "check", "Otter", *by)
    store.run("log", "pain", "Otter", "knee", "--amount", 4, "--side", "left", *by)
    store.run("log", "settled", "Otter", "knee", "no", *by)
    store.run("log", "sore", "Otter", "hips_thighs", "--days", 3, *by)
    store.run("log", "mass", "Otter", "141lb", *by)
    store.run("log", "finish", "Otter", "--effort", 5, "--minutes", 46, "--short", "no_time", *by)
    shown = store.json("athlete", "show", "Otter")
    equal([(one["region"], one["band"], one["amount"], one["side"], one["settled"]) for one in shown["pains"]], [("knee", 2, 4, 1, False)], "pain")
    equal([(one["region"], one["level"], one["days"], one["day"]) for one in shown["soreness"]], [("hips_thighs", 2, 3, "2026-03-02")], "soreness")
    equal(len(shown["checks"]), 1, "checks")
    equal(shown["body_masses"][0]["mass"], {"typed": "141", "unit": "lb", "grams": 63957}, "a mass keeps its unit")  # 141 × 453.59237 g [handbook 1.3]
    printed = store.run("report", "Otter", *DAY).out
    for words in ("46 min", "effort 5 of 10", "short: no time", "body mass 141", "Nothing hurts", "What is written", "Kit: "):
        holds(words in printed, f"the report says {words}: {printed}")
    store.run("log", "finish", "Otter", "--effort", 7, *by)  # only the effort anew: minutes and reason stay
    finish = store.json("athlete", "show", "Otter")["sessions"][0]["finish"][0]
    equal((finish["effort_tenths"], finish["minutes"], finish["short_reason"]), (70, 46, "no_time"), "what is not said anew stays")
    finish = shown["sessions"][0]["finish"][0]
    equal((finish["effort_tenths"], finish["minutes"], finish["short_reason"], finish["by"]["author"]), (50, 46, "no_time", "swimmer"), "finish")


@case("a pain that is over, or was a slip, stays in the record and in the report, and is reported anew by itself")
def over(world):
    store = begun(world)
    by = ["--as", "swimmer", *DAY]
    store.run("log", "pain", "Otter", "knee", "--band", "hurts", *by)
    store.run("log", "pain", "Otter", "elbow", "--band", "little", *by)
    kept = store.json("log", "over", "Otter", "knee", *by)
    store.run("log", "over", "Otter", "elbow", "--slip", *by)
    pains = store.json("athlete", "show", "Otter")["pains"]
    equal([(one["region"], one["band"], one["resolved"], one["withdrawn"]) for one in pains], [("knee", 2, True, False), ("elbow", 1, False, True)], "both are there")
    equal((kept["entry"], kept["kept"]), (pains[0]["entry"], True), "which one is over")
    holds("knee" in store.run("report", "Otter", *DAY).out, "the report has it")
    store.run("log", "pain", "Otter", "shoulder", "--band", "little", "--side", "left", *by)
    holds("shoulder, left" in store.run("report", "Otter", *DAY).out, "the report says which side")
    equal(store.json("log", "over", "Otter", "knee", *by, code=BAD_INPUT)["error"]["id"], "cli.no_pain_stands", "none stands now")
    store.run("log", "pain", "Otter", "knee", "--band", "little", *by)
    pains = store.json("athlete", "show", "Otter")["pains"]
    equal([(one["region"], one["resolved"]) for one in pains if one["region"] == "knee"], [("knee", True), ("knee", False)], "a new report stands beside it")


@case("a pain told after a set is listed once, and what it takes out of the open session says so")
def late(world):
    store = begun(world)
    by = ["--as", "swimmer", *DAY]
    store.run("log", "Otter", "--reps", 8, *by)
    store.run("log", "pain", "Otter", "shoulder", "--band", "hurts", *by)
    listed = store.json("squad", *DAY)["needs_the_coach"][0]["facts"]
    equal([one["row"] for one in listed], ["W04"], "one pain, one line")
    holds("shoulder hurts (5/10): left out today." in listed[0]["sentence"], f"it names the part: {listed[0]['sentence']}")
    out = [(row["row"], row["reason"]) for row in store.json("next", "Otter", *DAY)["rows"] if not row["trains"]]
    holds(len(out) >= 3, "pulls, pushes and care of the shoulder")  # handbook 5.2
    for row, reason in out:
        equal(row, "R02", "the rule that took it out, not the one of its dose")
        holds("left out today" in reason, f"its sentence: {reason}")
    for command in ("next", "report"):
        printed = store.run(command, "Otter", *DAY).out
        equal(" ".join(printed.split()).count("left out today. Tell the coach. [R02]"), len(out), f"{command}: {printed}")


@case("a pain of a part, settled, is listed once with what it swaps, and each row names what is done in its place")
def swapped(world):
    store = begun(world)
    by = ["--as", "swimmer", "--at"]
    store.run("plan", "add", "Otter", "LU3", "--sets", 3, "--reps", 8, "--session", "B")
    store.run("log", "Otter", *by, "2026-03-02T18:00:00+01:00")
    store.run("log", "pain", "Otter", "knee", "--amount", 4, *by, "2026-03-02T19:00:00+01:00")
    store.run("log", "settled", "Otter", "knee", "yes", *by, "2026-03-03T08:00:00+01:00")
    then = ["--day", "2026-03-05", "--at", "2026-03-05T12:00:00+01:00"]
    listed = store.json("squad", *then)["needs_the_coach"][0]["facts"]
    equal([one["row"] for one in listed], ["W04"], "one pain, one line")
    holds("knee hurts (4/10): something else is done today." in listed[0]["sentence"], listed[0]["sentence"])
    swaps = [row for row in store.json("next", "Otter", *then)["rows"] if row["row"] == "R02"]
    equal([row["exercise"] for row in swaps], ["SQ2", "LU2"], "split squat and forward lunge are on the list of 5.2")  # handbook 5.2
    holds("Split squat, goblet hurt (4/10): we use body-weight squat to box." in swaps[0]["reason"], swaps[0]["reason"])


@case("a set that nothing is written for says why: a warning sign, or what left the exercise out")
def stopped(world):
    store = begun(world)
    by = ["--as", "swimmer", *DAY]
    store.run("log", "pain", "Otter", "shoulder", "--band", "hurts", "--at-exercise", "PU3", *by)
    refused = store.json("log", "Otter", "--exercise", "PU3", *by, code=BAD_INPUT)["error"]
    equal((refused["id"], refused["args"][2]), ("cli.log_left_out", "R01"), "the painful exercise")
    store.run("log", "flag", "Otter", "chest_pain", *by)
    refused = store.json("log", "Otter", *by, code=BAD_INPUT)["error"]
    equal((refused["id"], refused["args"][2]), ("cli.log_stopped", "G01"), "nothing is next")
    store.run("log", "Otter", "--exercise", "SQ4", "--reps", 8, *by)  # what was done is kept all the same


@case("a warning sign or a pain of a device whose clock runs ahead counts at once")
def ahead(world):
    store = begun(world)
    store.run("log", "flag", "Otter", "chest_pain", "--as", "swimmer", "--at", "2026-03-05T00:30:00+01:00")
    equal(store.json("next", "Otter", *DAY)["answer"], "stop", "the session")
    equal(store.json("squad", *DAY)["needs_the_coach"][0]["facts"][0]["row"], "W01", "the coach is told")
    other = world.store("other")
    other.run("athlete", "add", "Otter", "--born", 1990)
    other.run("log", "pain", "Otter", "knee", "--amount", 8, "--as", "swimmer", "--at", "2026-03-05T00:30:00+01:00")
    equal(other.json("squad", *DAY)["needs_the_coach"][0]["facts"][0]["row"], "W02", "the coach is told of a pain")
    # Asked about a day before it was reported, by the clock that reported it: not there yet.
    equal(other.json("squad", "--day", "2026-03-02", "--at", "2026-03-05T01:00:00+01:00")["needs_the_coach"], [], "a day before it")


@case("a warning sign stops all training till an adult clears it, and stays on record")
def flag(world):
    store = begun(world)
    store.run("log", "flag", "Otter", "fainting", "--as", "swimmer", *DAY)
    coming = store.json("next", "Otter", *DAY)
    equal((coming["answer"], coming["why"]["row"], coming["rows"]), ("stop", "G01", []), "next")
    squad = store.json("squad", *DAY)["needs_the_coach"]
    equal((squad[0]["athlete"]["name"], squad[0]["facts"][0]["row"]), ("Otter", "W01"), "squad")
    refused = store.run("coach", "overrule", "Otter", "G01", "--note", "looks fine", *DAY, code=BAD_INPUT)
    holds("G01" in refused.err, "nobody overrules it")
    store.run("coach", "clear", "Otter", "general", "--clinician-allowed", "--note", "letter of Monday", *DAY)
    equal(store.json("next", "Otter", *DAY)["answer"], "train", "cleared")
    shown = store.json("athlete", "show", "Otter")
    equal((shown["red_flags"][0]["flag"], shown["red_flags"][0]["cleared"], shown["clearances"][0]["clinician_allowed"]), ("fainting", True, True), "on record")


@case("a coach's own dose stands in what comes next; what is not in force cannot be overruled, and the answer says what is")
def own_dose(world):
    store = begun(world)
    row = store.json("next", "Otter", *DAY)["rows"][0]
    store.run("coach", "overrule", "Otter", row["row"], "--exercise", row["exercise"], "--sets", 2, "--reps", 6, "--load", "6kg", "--note", "Meet on Saturday", *DAY)
    coming = next(one for one in store.json("next", "Otter", *DAY)["rows"] if one["exercise"] == row["exercise"])
    equal((coming["sets"], coming["reps"][0], coming["load"]["grams"]), (2, 6, 6000), "the own dose")
    refused = store.run("coach", "overrule", "Otter", "R16", "--exercise", row["exercise"], "--note", "no", *DAY, code=BAD_INPUT)
    holds("R16 is not in force" in refused.err and coming["row"] in refused.err, refused.err)
    store.run("coach", "overrule", "Otter", coming["row"][:-1], "--exercise", row["exercise"], "--note", "half a name", *DAY, code=BAD_INPUT)
    refused = store.run("coach", "overrule", "Otter", "SQ4", "--note", "no", *DAY, code=BAD_INPUT)
    holds("not a row" in refused.err, refused.err)


@case("what was just said of a body is answered with what to do now, not with a receipt alone")  # handbook 2.6, 2.7
def cared(world):
    store = begun(world)
    by = ["--as", "swimmer", *DAY]
    holds("call for help" in store.run("log", "flag", "Otter", "chest_pain", *by).out, "an emergency")
    holds("until a clinician has cleared it" in store.run("log", "flag", "Otter", "night_pain", *by).out, "a local sign")
    holds("see a clinician" in store.run("log", "pain", "Otter", "knee", "--amount", 6, *by).out, "pain of 6")
    holds("clinician" not in store.run("log", "pain", "Otter", "elbow", "--amount", 5, *by).out, "pain of 5")
    holds("Pain: knee: " in store.run("athlete", "show", "Otter").out, "how much, in words")


@case("a warning sign is cleared by a clinician's word alone, and a part that is none is refused by name")
def cleared(world):
    store = begun(world)
    store.run("log", "flag", "Otter", "fainting", "--as", "swimmer", *DAY)
    refused = store.run("coach", "clear", "Otter", "general", *DAY, code=BAD_INPUT)
    holds("clinician" in refused.err, refused.err)
    equal(store.json("next", "Otter", *DAY)["answer"], "stop", "still stopped")
    refused = store.run("coach", "clear", "Otter", "sholder", *DAY, code=BAD_INPUT)
    holds("sholder" in refused.err and "shoulder" in refused.err, refused.err)


@case("left and right, a warm-up and broken form are logged as they were")
def marks(world):
    store = begun(world)
    store.run("log", "Otter", "--exercise", "SQ6", "--reps", 8, "--side", "left", "--form-broke", *DAY)
    store.run("log", "Otter", "--exercise", "SQ6", "--reps", 9, "--round", 1, *DAY)  # the side that is missing
    store.run("log", "Otter", "--exercise", "SQ4", "--reps", 5, "--warm-up", "--load", "6kg", *DAY)
    sets = store.json("athlete", "show", "Otter")["sessions"][0]["sets"]
    said = {(one["exercise"], one["side"], one["warm_up"], one["form_broke"]) for one in sets}
    equal(said, {("SQ6", "left", False, True), ("SQ6", "right", False, False), ("SQ4", None, True, False)}, "sets")
    store.run("log", "Otter", "--exercise", "SQ6", "--reps", 8, "--side", "middle", *DAY, code=BAD_INPUT)


@case("asking what comes next stores nothing, and names the rule and the entries behind each dose")
def asks(world):
    store = begun(world)
    for reps in (8, 8, 8):
        store.run("log", "Otter", "--exercise", "SQ4", "--reps", reps, "--rir", 2, "--day", "2026-03-02", "--at", "2026-03-02T18:00:00+01:00")
    before = store.digests()
    coming = store.json("next", "Otter", "--day", "2026-03-04", "--at", "2026-03-04T12:00:00+01:00")
    equal(store.digests(), before, "digests")
    equal((coming["day"], coming["session"], coming["answer"]), ("2026-03-04", "B", "train"), "the other session comes")
    first = coming["rows"][0]
    holds(first["row"] and first["reason"] and first["reps"], "a row, a reason, a dose")
    words = store.run("next", "Otter", "--day", "2026-03-04", "--at", "2026-03-04T12:00:00+01:00").out
    holds(first["reason"].split(".")[0] in words and f"[{first['row']}]" in words, "the same in words")


@case("what an adult answers for is kept by role; a youth's consent is a guardian's")
def adults(world):
    store = begun(world, born=2013)
    store.run("coach", "sign-off", "Otter", "SQ4", "sound", "--note", "heels down", *DAY)
    store.run("coach", "withdraw", "Otter", "SQ4", "--note", "knees fall in", *DAY)
    store.run("coach", "tick-in", "Otter", "--role", "guardian", "--second-adult", *DAY)
    refused = store.run("coach", "consent", "Otter", "training_log", "yes", "--from", "young_person", *DAY, code=BAD_INPUT)
    holds(refused.err, "says why")
    store.run("coach", "consent", "Otter", "training_log", "yes", *DAY)
    shown = store.json("athlete", "show", "Otter")
    equal([one["level"] for one in shown["sign_offs"]], ["sound", "withdrawn"], "sign-offs")
    equal([(one["role"], one["second_adult"]) for one in shown["tick_ins"]], [("guardian", True)], "tick-ins")
    equal([(one["thing"], one["given"], one["from"]) for one in shown["consents"]], [("training_log", True, "guardian")], "consents")
    refused = store.run("coach", "sign-off", "Otter", "SQ4", "sound", "--as", "swimmer", *DAY, code=BAD_INPUT)
    holds(refused.err, "a swimmer signs nothing off")


@case("pain of 6 and more is not cleared by having been seen: a clinician has to have allowed training")  # handbook 2.7
def seen_is_not_allowed(world):
    store = begun(world)
    store.run("log", "Otter", *DAY)
    store.run("log", "pain", "Otter", "knee", "--amount", 8, *DAY)
    stopped = lambda: [row["row"] for row in store.json("next", "Otter", *DAY)["rows"] if not row["trains"]]
    holds("R01" in stopped(), "stopped")
    refused = store.run("coach", "clear", "Otter", "knee", "--role", "self", "--note", "seen", *DAY, code=BAD_INPUT)
    holds("--clinician-allowed" in refused.err, refused.err)
    holds("R01" in stopped(), "it stands")
    store.run("coach", "clear", "Otter", "knee", "--clinician-allowed", "--note", "letter of Monday", *DAY)
    holds("R01" not in stopped(), "cleared")


@case("settled answers the newest report of a part that nobody has answered yet")
def settled_in_turn(world):
    store = begun(world)
    store.run("log", "Otter", *DAY)
    for amount in (3, 4):
        store.run("log", "pain", "Otter", "knee", "--amount", amount, *DAY)
    reports = store.json("athlete", "show", "Otter")["pains"]
    answered = [store.json("log", "settled", "Otter", "knee", "yes", *DAY)["entry"] for _ in range(2)]
    equal(answered, [reports[1]["entry"], reports[0]["entry"]], "the newest first, then the one before it")


@case("what an adult answers for is not taken from a swimmer under 18")  # handbook 6.8, 7.1
def not_alone(world):
    store = begun(world, born=2012)
    before = store.digests()
    ahead = store.json("coach", "tick-in", "Otter", "--day", "2026-03-09", "--at", "2026-03-02T18:00:00+01:00", code=BAD_INPUT)["error"]
    equal((ahead["id"], ahead["args"]), ("cli.tick_ahead", ["2026-03-09"]), "an adult who will be there")
    for words in (["tick-in", "Otter"], ["consent", "Otter", "training_log", "yes"]):
        holds("adult" in store.run("coach", *words, "--as", "swimmer", *DAY, code=BAD_INPUT).err, str(words))
    equal(store.digests(), before, "nothing was stored")


@case("where a guardian said no nothing is written, what comes next says so, and yes opens it again")  # handbook 7.1
def said_no(world):
    store = begun(world, born=2013)
    for thing in ("training_log", "pain_and_soreness", "body_measures"):
        store.run("coach", "consent", "Otter", thing, "no", *DAY)
    before = store.digests()
    for words in (["log", "Otter"], ["log", "check", "Otter"], ["log", "finish", "Otter"], ["log", "pain", "Otter", "knee", "--amount", 4], ["log", "sore", "Otter", "knee"], ["log", "mass", "Otter", "40kg"]):
        refused = store.run(*words, *DAY, code=BAD_INPUT)
        holds("the answer was no" in refused.err and "coach consent" in refused.err, f"{words}: {refused.err!r}")
    equal(store.digests(), before, "nothing was stored")
    holds("The training log was refused" in store.run("next", "Otter", *DAY).out, "next says it")
    equal(store.json("next", "Otter", *DAY)["may_log"], False, "may_log")
    store.run("coach", "consent", "Otter", "training_log", "yes", *DAY)
    holds("The training log was refused" not in store.run("next", "Otter", *DAY).out, "and no longer")
    equal(store.json("next", "Otter", *DAY)["may_log"], True, "may_log")
    store.run("log", "Otter", "--exercise", "SQ3", "--reps", 8, *DAY)
    store.run("coach", "consent", "Otter", "pain_and_soreness", "no", *DAY)
    store.run("log", "flag", "Otter", "chest_pain", *DAY)  # a warning sign is always taken


@case("a row of one line is overruled with its exercise, and without it the answer names the lines")
def overrule_line(world):
    store = begun(world)
    row = next(one for one in store.json("next", "Otter", *DAY)["rows"] if one["row"].startswith("R"))
    refused = store.run("coach", "overrule", "Otter", row["row"], "--note", "so be it", *DAY, code=BAD_INPUT)
    holds("--exercise" in refused.err and row["exercise"] in refused.err, refused.err)
    refused = store.run("coach", "overrule", "Otter", "W99", "--note", "no such", *DAY, code=BAD_INPUT)
    holds("TODAY" not in refused.err, refused.err)


@case("a word that is not known is refused by name, with those that are, and nothing is stored")
def refusals(world):
    store = begun(world)
    before = store.digests()
    for words, known in ((["log", "pain", "Otter", "hoof", "--band", "lot"], "shoulder"), (["log", "pain", "Otter", "knee", "--band", "much"], "hurts"),
                         (["log", "flag", "Otter", "dizzy"], "fainting"), (["log", "ill", "Otter", "meh"], "head_cold"),
                         (["coach", "tick-in", "Otter", "--role", "uncle"], "guardian"), (["athlete", "set", "Otter", "shoe_size", "42"], "training_days"),
                         (["athlete", "set", "Otter", "training_days", "mon,payday"], "tue"), (["next", "Otter", "--kit", "garage"], "garage")):
        refused = store.run(*words, code=BAD_INPUT)
        holds(known in refused.err, f"{words}: {refused.err}")
    for words in (["log", "pain", "Otter", "knee"], ["log", "finish", "Otter", "--effort", 5], ["log", "settled", "Otter", "knee", "yes"],
                  ["log", "mass", "Otter", "5kg"], ["log", "sore", "Otter", "ears"]):
        holds(store.run(*words, code=BAD_INPUT).err, f"{words}")
    equal(store.digests(), before, "nothing was stored")


@case("a plan is written line by line, for a kit of its own, and a line is taken out again")
def plan(world):
    store = begun(world)
    store.run("athlete", "kit", "Otter", "beach", "--loads", "", "--bands", "thin", "--equipment", "")
    store.run("plan", "add", "Otter", "HG2", "--sets", 2, "--reps", 10, "--high", 15, "--session", "A", "--block", 2, "--place", 3)
    lines = store.json("plan", "show", "Otter")["plan"]
    added = [one for one in lines if one["exercise"]["value"] == "HG2"][0]
    equal((added["counts"]["sets"], added["counts"]["reps"], added["reps_high"]["value"], added["programme_day"]["value"]), (2, 10, 15, 1), "the line")
    on_the_beach = store.json("next", "Otter", "--kit", "beach", *DAY)
    holds(all(row["load"] is None for row in on_the_beach["rows"]), "no load where there is none")
    store.run("plan", "drop", "Otter", "HG2")
    holds("HG2" not in [one["exercise"]["value"] for one in store.json("plan", "show", "Otter")["plan"]], "taken out")


@case("the made-up squad's list is what its stories plant, most urgent first")
def squad(world):
    store = world.store("s")
    store.run("demo", "--day", "2026-11-25")
    listed = store.json("squad", "--day", "2026-11-25")
    rows = {line["athlete"]["name"]: [fact["row"] for fact in line["facts"]] for line in listed["needs_the_coach"]}
    # assets/demo.table plants the stories; the order is that of handbook 6.9.
    planted = {"warning": "W01", "shoulder_twice": "W02", "unsigned": "W07", "sore_long": "W05", "heavier": "W06", "written_twice": "W06", "misses": "W08",
               "gone": "W09", "grumble": "W04"}
    stories = {}
    for row in (TOP / "assets/demo.table").read_text("utf8").splitlines():
        parts = [part.strip() for part in row.split("|")]
        if len(parts) == 7 and parts[0] != "name":
            stories[parts[0]] = parts[6]
    for name, story in stories.items():
        if story in planted:
            holds(name in rows and planted[story] in rows[name], f"{name} ({story}): {rows.get(name)}")
    holds("Wren" not in rows, "nothing is made of steady training")
    def urgency(row):  # handbook 6.9; a sign-off that waits longer than 14 days after W04
        return 130 if row is None else int(row[1:]) * 10
    firsts = [line["facts"][0] for line in listed["needs_the_coach"]]
    ranks = [45 if fact["row"] == "W07" and fact["since"] < "2026-11-11" else urgency(fact["row"]) for fact in firsts]
    equal(ranks, sorted(ranks), "order")
    # Rows alike: the one that waits longest first.
    days = [(rank, fact["since"]) for rank, fact in zip(ranks, firsts)]
    equal(days, sorted(days), "of two alike the older first")
    equal((listed["needs_the_coach"][0]["athlete"]["name"], listed["needs_the_coach"][1]["athlete"]["name"]), ("Ash", "Moth"), "the two to see today")


@case("a report fits a printed page's width and holds sessions, body and what adults said; since a day only what came then")
def report(world):
    store = world.store("s")
    store.run("demo", "--day", "2026-11-25")
    printed = store.run("report", "Moth", "--day", "2026-11-25").out
    holds(max(len(line) for line in printed.splitlines()) <= 80, "80 columns")
    for part in ("Moth", "W02", "What comes", "Sessions, newest first", "shoulder"):
        holds(part in printed, f"{part} is told")
    whole = store.json("report", "Moth", "--day", "2026-11-25")
    part = store.json("report", "Moth", "--day", "2026-11-25", "--since", "2026-11-20")
    holds(len(whole["sessions"]) > len(part["sessions"]) >= 1, "fewer sessions")
    holds(all(one["day"]["value"] >= "2026-11-20" for one in part["sessions"]), "none before")
    equal(whole["needs_the_coach"], part["needs_the_coach"], "what needs a look does not depend on it")
    shown = store.json("athlete", "show", "Moth")
    equal(whole["sessions"], shown["sessions"], "the sessions of athlete show")


run_cases()
