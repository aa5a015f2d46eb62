#!/usr/bin/env python3
"""The journey of two weeks, played through the command line: tests/journeys/two_weeks.json says what happens."""
import datetime
import json
import shutil

from kit import TOP, Failed, Store, case, equal, holds, note, run_cases

STORY = json.loads((TOP / "tests/journeys/two_weeks.json").read_text("utf8"))
FIRST_DAY = datetime.date.fromisoformat(STORY["first_day"])
BANDS = {"little": 1, "hurts": 2, "lot": 3}


def date_of(day):
    return (FIRST_DAY + datetime.timedelta(days=day - 1)).isoformat()


class Device(Store):
    """A store with a home of its own: where the folder goes, what lies outside it goes too."""

    def __init__(self, world, who, place):
        self.who, self.person = who, STORY["people"].get(who)
        self.author = "swimmer" if self.person else "coach"
        self.home = world.top / f"{place}-home"
        self.home.mkdir()
        (world.top / place).mkdir()
        super().__init__(world, world.top / place)

    def run(self, *words, **more):
        return super().run(*words, env={**self.world.environment(), "HOME": str(self.home)}, **more)

    def shown(self):
        """Whose entries this device shows: of a swimmer only their own."""
        names = [one["name"] for one in self.json("athlete", "list")["athletes"]]
        if self.author == "swimmer":
            names = [name for name in names if name == self.person["name"]]
        return [self.json("athlete", "show", name) for name in names]

    def athlete(self, whose=None):
        return self.json("athlete", "show", whose or self.person["name"])


def entries_in(looked):
    return {one["entry"] for one in looked["ops"]}


def day_named(session):
    return session["day"]["value"]


def plan_line(athlete, exercise):
    return next(line for line in athlete["plan"] if line["counts"]["exercise"] == exercise)


class Journey:
    def __init__(self, world):
        self.world, self.devices, self.files, self.writers, self.aside = world, {}, {}, {}, {}
        self.places = self.clock = 0

    def device(self, who):
        if who not in self.devices:
            self.devices[who] = Device(self.world, who, f"{who}-{self.places}")
            self.places += 1
        return self.devices[who]

    def play(self):
        for day in STORY["days"]:
            for number, step in enumerate(day["steps"], 1):
                self.day, self.clock = date_of(day["day"]), self.clock + 1
                try:
                    act = getattr(self, step["do"].replace(" ", "_").replace("break", "break_"))
                    act(step, self.device(step["who"]) if "who" in step else None)
                except Exception as error:
                    raise Failed(f"day {day['day']}, step {number}, {json.dumps(step)}: {error!r}") from error

    def now(self, device):
        return ["--as", device.author, "--at", f"{self.day}T{8 + self.clock // 60 % 12:02}:{self.clock % 60:02}:00+00:00"]

    def look(self, file):
        return self.world.run("--json", "bundle", "look", self.files[file]).json

    # ---- a swimmer's and a coach's deeds

    def begin(self, step, device):
        if device.person:
            device.run(*self.now(device), "athlete", "add", device.person["name"], "--born", device.person["born"])

    def log(self, step, device):
        for _ in range(step["sets"]):
            reps = ["--reps", step["reps"]] if "reps" in step else []
            kept = device.json(*self.now(device), "log", device.person["name"], *reps, "--day", self.day)
            equal(kept["kept"], True, "kept")

    def set_named(self, device, step):
        sessions = device.athlete(step.get("whose"))["sessions"]
        return next(one for session in sessions if day_named(session) == date_of(step["on"])
                    for one in session["sets"] if (one["exercise"], one["round"]) == (step["exercise"], step["round"]))

    def change(self, step, device):
        device.run(*self.now(device), "log", "change", self.set_named(device, step)["entry"], "--reps", step["reps"])

    def take_back(self, step, device):
        device.run(*self.now(device), "log", "back", self.set_named(device, step)["entry"])

    def pain(self, step, device):
        device.run(*self.now(device), "log", "pain", device.person["name"], step["part"], "--band", step["band"], "--day", self.day)

    def pain_over(self, step, device):
        device.run(*self.now(device), "log", "over", device.person["name"], step["part"], "--day", self.day)

    def be(self, step, device):
        device.author = step["as"]

    def own_dose(self, step, device):
        row = self.coming(device, step["whose"], step["exercise"])["row"]
        device.run(*self.now(device), "coach", "overrule", step["whose"], row, "--exercise", step["exercise"], "--load", step["load"] + "kg",
                   "--note", step["why"], "--day", self.day)

    def choose(self, step, device):
        device.run(*self.now(device), "plan", "set", step["whose"], step["field"], step["value"] + "kg", "--exercise", step["exercise"])

    def answer(self, step, device):
        for back in device.athlete(step["whose"])["came_back"]:
            words = ["keep", step["whose"]] if step["with"] == "keep" else ["log", "back"]
            device.run(*self.now(device), *words, back["entry"])

    # ---- files

    def file_made(self, step):
        holds(step["file"] not in self.files, "each file has its own name")
        self.files[step["file"]] = self.world.file(f"{step['file']}.file")
        return self.files[step["file"]]

    def hand_over(self, step, device):
        alone = ["--athlete", device.person["name"]] if device.author == "swimmer" else []
        device.run(*self.now(device), "bundle", "make", "--out", self.file_made(step), *alone)
        looked = self.look(step["file"])
        known = self.writers.setdefault(step["who"], [])
        if step.get("writer") == "new":
            holds(looked["incarnation"] not in known, "it writes under a new mark")
        elif known:
            equal(looked["incarnation"], known[-1], "the mark it writes under")
        known.append(looked["incarnation"])
        if "asks for" in step:
            wanted = self.look(step["asks for"])["ops"]
            held = {(one["athlete"], one["incarnation"]): one["ranges"] for one in looked["holdings"]}
            for one in wanted:
                ranges = held[one["athlete"], one["incarnation"]]
                holds(not in_ranges(one["seq"], ranges), f"{one['entry']} is asked for: it says {ranges}")

    def make(self, step, device):
        """The desk's file for a device that it has heard of holds what that device lacks."""
        newest = self.look(next(reversed([name for name in self.files if name.startswith(step["for"])])))
        device.run(*self.now(device), "bundle", "make", "--out", self.file_made(step), "--to", newest["device"])
        made = entries_in(self.look(step["file"]))
        holds(made and len(made) < device.ops(), f"{len(made)} of {device.ops()} entries: only what is lacking")
        if "just" in step:
            equal(made, entries_in(self.look(step["just"])), "just what is asked for")

    def miss(self, step, device):
        """A file that was made for somebody and never comes."""
        holds(step["file"] in self.files, "there was a file")

    def take_in(self, step, device):
        before = device.digests() if not step["new"] else None
        report = device.merge(self.files[step["file"]], code=None)
        taken = report["files"][0]
        equal((taken["refused"], taken["forks"], taken["not_understood"]), (False, 0, 0), "refused, forks, not understood")
        equal(taken["fresh"] > 0, step["new"], f"brings something: {taken['fresh']} new, {taken['known']} known")
        equal(taken["own_past"], step.get("own past", False), "entries of its own past")
        equal(bool(taken["missing"]), "lacks" in step, f"a hole is named: {taken['missing']}")
        if before:
            equal(device.digests(), before, "nothing new changes nothing")
        if "brings" in step:
            lost = entries_in(self.look(step["brings"]))
            holds(lost and lost <= entries_in(self.look(step["file"])), f"all of {step['brings']} is in it")

    # ---- what happens to a device

    def back_up(self, step, device):
        made = device.json(*self.now(device), "backup", "--out", self.file_made(step))
        equal(made["digests"], device.digests(), "the backup's digests")

    def break_(self, step, device):
        del self.devices[step["who"]]

    def restore(self, step, device):
        back = device.json(*self.now(device), "restore", self.files[step["file"]])
        equal((back["same_as_backup"], back["findings"], back["missing"]), (True, [], []), "what came back")

    def set_aside(self, step, device):
        self.aside[step["who"]] = self.world.file(f"{step['who']}-aside")
        shutil.copytree(device.folder, self.aside[step["who"]] / "folder")
        shutil.copytree(device.home, self.aside[step["who"]] / "home")

    def put_back(self, step, device):
        """Nothing is left that could tell: only a bundle can."""
        for kept, place in (("folder", device.folder), ("home", device.home)):
            shutil.rmtree(place)
            shutil.copytree(self.aside[step["who"]] / kept, place)

    # ---- what is seen

    def see(self, step, device):
        sessions = [session for one in device.shown() for session in one["sessions"] if session["sets"]]
        equal((sum(len(session["sets"]) for session in sessions), len(sessions)), (step["sets"], step["sessions"]), "sets, sessions")

    def see_pain(self, step, device):
        pains = device.athlete(step.get("whose"))["pains"]
        equal(pains_of(pains), [tuple(one) for one in step["pains"]], "pains")
        printed = device.run("report", step.get("whose") or device.person["name"], "--day", self.day).out
        for part, _, state in step["pains"]:
            line = next((line for line in printed.splitlines() if part in line and "up to" in line), printed)
            equal(line.endswith("; over"), state == "over", f"on paper: {line}")

    def see_missing(self, step, device):
        gaps = [gap for one in device.shown() for gap in device.json("report", one["name"]["value"])["missing"]]
        if step["of"] is None:
            equal(gaps, [], "what is missing")
            return
        lost = {(one["incarnation"], one["seq"]) for one in self.look(step["of"])["ops"]}
        named = {(gap["incarnation"], seq) for gap in gaps for seq in range(gap["first"], gap["last"] + 1)}
        equal(named, lost, "the hole is named whole")

    def coming(self, device, whose, exercise):
        row = next(row for row in device.json(*self.now(device), "next", whose, "--day", self.day)["rows"] if row["exercise"] == exercise)
        equal(row["name"].capitalize(), STORY["moves"][exercise], "what the story calls it")
        return row

    def see_twice(self, step, device):
        found = [(one["name"]["value"], twice) for one in device.shown() for twice in one["contradictions"]]
        if not step["values"]:
            equal(found, [], "written twice")
            return
        equal([(whose, twice["of"], twice["field"]) for whose, twice in found], [(step["whose"], "plan", step["field"])], "what is written twice")
        equal(sorted(value["value"]["typed"] for value in found[0][1]["values"]), step["values"], "the values")
        equal(plan_line(device.athlete(step["whose"]), step["exercise"])["counts"][step["field"]]["typed"], step["meanwhile"], "which counts meanwhile")
        equal(self.coming(device, step["whose"], step["exercise"])["load"]["typed"], step["meanwhile"], "and is written for the next session")

    def see_came_back(self, step, device):
        back = [one for athlete in device.shown() for one in athlete["came_back"]]
        equal([one["kind"] for one in back], ["set"] * step["count"], "what came back")

    def hold_the_same(self, step, device):
        seen = {who: self.device(who).digests() for who in step["all"]}
        equal(len({str(one) for one in seen.values()}), 1, f"one record, by digests: {seen}")

    def hold_the_end(self, step, device):
        end = {one["name"]["value"]: end_of(one) for one in device.shown()}
        for name, wanted in STORY["end"].items():
            equal(end[name], wanted, name)
        equal(set(end), set(STORY["end"]), "who is there")


def in_ranges(seq, ranges):
    spans = [[int(end) for end in span.strip().split("..")] for span in ranges.split(",") if span.strip()]
    return any(span[0] <= seq <= span[-1] for span in spans)


def pains_of(pains):
    words = {number: word for word, number in BANDS.items()}
    return [(one["region"], words[one["band"]], "a slip" if one["withdrawn"] else "over" if one["resolved"] else "stands") for one in pains]


def set_words(one):
    load = f" at {one['load']['value']['typed']}" if one["load"]["value"] else ""
    return f"{one['exercise']} {one['round']}: {one['reps']['value']}{load}"


def end_of(athlete):
    """What the record says in the end, in words that do not depend on ids."""
    sessions = {}
    for session in athlete["sessions"]:
        if session["sets"]:
            day = (datetime.date.fromisoformat(day_named(session)) - FIRST_DAY).days + 1
            sessions[str(day)] = [set_words(one) for one in session["sets"]]
    return {"sessions": sessions,
            "taken back": [set_words(one) for one in athlete["taken_back"]],
            "pains": [list(one) for one in pains_of(athlete["pains"])],
            "loads": {line["counts"]["exercise"]: line["counts"]["load"]["typed"] for line in athlete["plan"] if line["counts"]["load"]},
            "written twice": len(athlete["contradictions"]),
            "came back": len(athlete["came_back"])}


@case("three swimmers and a coach, two weeks of lost, late, doubled and restored files: in the end all hold the same, and nothing is lost")
def two_weeks(world):
    journey = Journey(world)
    journey.play()
    note(f"{sum(len(day['steps']) for day in STORY['days'])} steps, {len(journey.files)} files")


run_cases()
