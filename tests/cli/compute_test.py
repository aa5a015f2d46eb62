#!/usr/bin/env python3
"""`compute` from outside: the vectors of the domain handbook, an arithmetic of its own, borders moved, fields refused by name.

The formulas below are written from the handbook's text (1.1 to 1.8, 2.3), not from the program."""
import math
import re
from fractions import Fraction

from kit import BAD_INPUT, DONE, WRONG_USE, case, equal, holds, run_cases
from questions import ask, ask_lines

# 1.1, w in any unit, r reps to failure.
FORMULAS = {
    "epley": lambda w, r: w * (1 + r / 30),
    "brzycki": lambda w, r: w * 36 / (37 - r),
    "lander": lambda w, r: 100 * w / (101.3 - 2.67123 * r),
    "lombardi": lambda w, r: w * r ** 0.10,
    "mayhew": lambda w, r: 100 * w / (52.2 + 41.9 * math.exp(-0.055 * r)),
    "oconner": lambda w, r: w * (1 + 0.025 * r),
    "wathan": lambda w, r: 100 * w / (48.8 + 53.8 * math.exp(-0.075 * r)),
}
CHART = {1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75, 12: 70, 15: 65}  # 1.2


def near(got, wanted, tolerance, what):
    holds(abs(got - wanted) <= tolerance, f"{what}: got {got}, wanted {wanted} within {tolerance}")


def compute(world, name, code=DONE, **fields):
    return ask(world, "compute", name, line=fields, code=code)


def refused(world, name, text_id, **fields):
    answer = compute(world, name, code=BAD_INPUT, **fields)
    equal(answer["error"]["id"], text_id, f"{name} {fields}")
    return answer["error"]


@case("T01-T07: 60 kg for 8 reps")
def seven(world):
    wanted = {"epley": 76.000, "brzycki": 74.483, "lander": 75.066, "lombardi": 73.869, "mayhew": 75.772, "oconner": 72.000, "wathan": 76.603}
    for name, kg in wanted.items():
        answer = compute(world, name, load_g=60000, reps=8)
        near(answer["e1rm_g"] / 1000, kg, 0.001, name)
        equal((answer["formula"], answer["shown"], answer["reps_to_failure"]), (name, "plain", 8), name)


@case("T08-T11: all seven at once, where two agree, one rep, and the pole")
def all_seven(world):
    five = compute(world, "e1rm_all", load_g=100000, reps=5)
    wanted = [116.667, 112.500, 113.709, 117.462, 119.011, 112.500, 116.583]
    for name, kg in zip(FORMULAS, wanted):
        near(five[f"{name}_g"] / 1000, kg, 0.001, name)
    for name in ("epley", "brzycki"):
        near(compute(world, name, load_g=100000, reps=10)["e1rm_g"] / 1000, 133.333, 0.001, name)
    for name in FORMULAS:
        equal(compute(world, name, load_g=50000, reps=1)["e1rm_g"], 50000, f"{name}, one rep")
    for name in ("brzycki", "lander"):
        compute(world, name, load_g=50000, reps=36)
        for reps in (37, 38):
            refused(world, name, "load.pole", load_g=50000, reps=reps)
    many = compute(world, "e1rm_all", load_g=50000, reps=37)
    equal((many["brzycki_g"], many["lander_g"], many["shown"]), (None, None, "hidden"), "at the pole the two say nothing")
    holds(many["epley_g"] > 0, "the others go on")


@case("T12: percent of the 1RM, and its two ends")
def percent(world):
    for reps, wanted in ((8, 80), (11, 72.5), (12, 70), (14, 66.67), (13, 68.33), (8.5, 78.5), (1, 100), (15, 65)):
        near(compute(world, "percent_1rm", reps=reps)["percent"], wanted, 0.01, f"{reps} reps")
    for reps in (0.5, 15.5):
        refused(world, "percent_1rm", "load.percent_range", reps=reps)
    near(compute(world, "percent_1rm", reps=8, rir=2)["percent"], 75, 0.01, "8 with 2 left")


@case("T13: 8 reps with 2 in reserve are 10")
def reserve(world):
    for name in ("epley", "brzycki"):
        near(compute(world, name, load_g=60000, reps=8, rir=2)["e1rm_g"], 80000, 1, name)


@case("T14: a pull-up of 70 kg with 10 kg, 5 reps")
def pull_up(world):
    equal(compute(world, "pull_up_total", body_mass_g=70000, added_g=10000), {"total_g": 80000}, "total")
    epley = compute(world, "pull_up_e1rm", body_mass_g=70000, added_g=10000, reps=5)
    near(epley["e1rm_total_g"], 93333, 1, "Epley")
    near(epley["e1rm_added_g"], 23333, 1, "Epley, added")
    brzycki = compute(world, "pull_up_e1rm", formula="brzycki", body_mass_g=70000, added_g=10000, reps=5)
    near(brzycki["e1rm_total_g"], 90000, 1, "Brzycki")
    near(brzycki["e1rm_added_g"], 20000, 1, "Brzycki, added")
    helped = compute(world, "pull_up_e1rm", body_mass_g=70000, assist_g=30000, reps=8)
    equal((helped["e1rm_added_g"], helped["unassisted"]), (None, False), "not yet one unassisted rep")
    near(helped["assist_needed_g"], 70000 - 40000 * (1 + 8 / 30), 1, "assistance still needed")
    refused(world, "pull_up_total", "load.total_above_zero", body_mass_g=70000, assist_g=70000)


@case("T15: a push-up of 70 kg at six heights, between them and above them")
def push_up(world):
    for raised, height, kg in (("hands", 60.96, 28.7), ("knees", 0, 34.3), ("hands", 30.48, 38.5), ("hands", 0, 44.8), ("feet", 30.48, 49.0), ("feet", 60.96, 51.8)):
        answer = compute(world, "push_up_load", body_mass_g=70000, raised=raised, height_cm=height)
        near(answer["load_g"] / 1000, kg, 0.05, f"{raised} at {height}")
        equal(answer["estimated"], False, "measured")
    for height in (5, 15.24, 30.47, 30.49, 45, 60.95):
        low, high, start = (0.64, 0.55, 0) if height < 30.48 else (0.55, 0.41, 30.48)
        wanted = low + (high - low) * (height - start) / 30.48
        near(compute(world, "push_up_load", body_mass_g=100000, raised="hands", height_cm=height)["fraction"], wanted, 1e-9, f"hands at {height}")
    above = compute(world, "push_up_load", body_mass_g=100000, raised="feet", height_cm=61)
    equal((above["fraction"], above["estimated"]), (0.74, True), "above the last height")


@case("T16, T17: reps to earn a big step, and reps to expect after it")
def earned(world):
    equal(compute(world, "reps_to_earn", from_g=16000, to_g=20000, reps=8), {"reps": 18}, "17.5 is 18")
    answer = compute(world, "expected_reps", from_g=16000, to_g=20000, reps=15)
    equal(answer["reps"], 6, "expected")
    near(answer["exact_reps"], 6.0, 0.001, "expected, exactly")
    equal(compute(world, "expected_reps", from_g=16000, to_g=40000, reps=5)["reps"], None, "not one rep")
    refused(world, "reps_to_earn", "ask.heavier", from_g=16000, to_g=16000, reps=8)
    questions, wanted = [], []
    for from_g in (4000, 8000, 12000, 16000, 22500):
        for to_g in (from_g + 500, from_g + 2500, from_g * 2):
            for reps in (1, 5, 8, 12, 20):
                questions.append({"compute": "reps_to_earn", "from_g": from_g, "to_g": to_g, "reps": reps})
                wanted.append(math.ceil(30 * (Fraction(to_g, from_g) * (1 + Fraction(reps, 30)) - 1)))
    equal([one["reps"] for one in ask_lines(world, "compute", lines=questions)], wanted, "by fractions, without rounding")


@case("T18, T44, T45: length of a session and the rests inside it")
def times(world):
    def circuit(q, p):
        return {"rounds": 3, "between_exercises_s": q, "between_rounds_s": p,
                "exercises": [{"exercise": "SQ4", "reps": 10, "rep_s": 4}, {"exercise": "VP6", "reps": 6, "rep_s": 4}, {"exercise": "PU4", "reps": 12, "rep_s": 3}]}
    second = {"rounds": 2, "between_exercises_s": 30, "between_rounds_s": 60,
              "exercises": [{"exercise": "SC1", "reps": 15, "rep_s": 3, "sides": 2}, {"exercise": "TR3", "hold_s": 40}, {"exercise": "TR1", "reps": 8, "rep_s": 4, "sides": 2}]}
    equal(compute(world, "session_time", warm_up_s=480, cool_down_s=300, blocks=[circuit(60, 120), second]),
          {"time_s": 2533, "time_min": 42.2, "length": "fine"}, "T18")

    def rests(block):
        return [one["rest_s"] for one in compute(world, "rest_check", **block)["rests"]]
    equal(rests(circuit(60, 120)), [345, 361, 349], "T44")
    equal(rests(circuit(30, 45)), [210, 226, 214], "T44, shorter")
    superset = {"rounds": 3, "between_exercises_s": 20, "between_rounds_s": 60,
                "exercises": [{"exercise": "SQ4", "reps": 10, "rep_s": 4, "least_rest_s": 120}, {"exercise": "PU4", "reps": 12, "rep_s": 3, "least_rest_s": 120}]}
    answer = compute(world, "rest_check", **superset)
    equal((answer["round_s"], [(one["rest_s"], one["says"]) for one in answer["rests"]]), (126, [(146, "fine"), (150, "fine")]), "T45")
    superset["between_rounds_s"] = 20
    equal([(one["rest_s"], one["says"]) for one in compute(world, "rest_check", **superset)["rests"]], [(106, "too_short"), (110, "too_short")], "T45, p 20")
    superset["between_rounds_s"] = 34
    equal([one["says"] for one in compute(world, "rest_check", **superset)["rests"]], ["fine", "fine"], "exactly 120 s")
    superset["between_rounds_s"] = 33.999
    equal([one["says"] for one in compute(world, "rest_check", **superset)["rests"]], ["too_short", "fine"], "a millisecond less")
    straight = {"rounds": 1, "exercises": [{"exercise": "SQ4", "reps": 1, "rep_s": 1, "set_up_s": 0}]}
    for warm_up, length in ((1798.999, "below"), (1799, "fine"), (3599, "fine"), (3599.001, "above")):
        equal(compute(world, "session_time", warm_up_s=warm_up, blocks=[straight])["length"], length, f"{warm_up} s and 1 s")


@case("T19: tonnage")
def moved(world):
    for fields, kg in (({"exercise": "SQ4", "sets": 3, "reps": 10, "load_g": 16000}, 480), ({"exercise": "VP6", "sets": 3, "reps": 6, "body_mass_g": 70000}, 1260),
                       ({"exercise": "PU4", "sets": 3, "reps": 12, "body_mass_g": 70000}, 1612.8), ({"exercise": "HG4", "reps": 10, "load_g": 10000}, 200),
                       ({"exercise": "SQ6", "reps": 10, "load_g": 10000}, 200)):
        near(compute(world, "tonnage", **fields)["tonnage_g"] / 1000, kg, 0.05, str(fields))
    for fields in ({"exercise": "VP4", "reps": 6, "body_mass_g": 70000}, {"exercise": "VP6", "reps": 6}, {"exercise": "TR3", "reps": 45}):
        equal(compute(world, "tonnage", **fields), {"tonnage_g": None, "counts": False}, str(fields))


@case("T42, T43: 45 lb stays 45 lb, and a week across the change of the clock is 7 days")
def exact(world):
    answer = compute(world, "quantity", text="45 lb")
    equal((answer["typed"], answer["unit"], answer["load_g"]), ("45", "lb", 20412), "as typed")
    near(answer["exact_g"], 20411.65665, 1e-6, "exact")
    again = compute(world, "quantity", text=f"{answer['typed']} {answer['unit']}")
    equal(again, answer, "there and back")
    equal(compute(world, "days_between", **{"from": "2026-10-25", "to": "2026-11-01"}), {"days": 7}, "autumn")
    equal(compute(world, "days_between", **{"from": "2026-03-28", "to": "2026-03-29"}), {"days": 1}, "spring")
    refused(world, "days_between", "ask.day", **{"from": "2026-02-29", "to": "2026-03-01"})


@case("T47: cuts of a load stay inside their window of whole grams")
def cuts(world):
    def cut(load_g, percent, kit):
        return compute(world, "load_cut", load_g=load_g, percent=percent, kit_loads_g=kit)["load_g"]
    bells = [8000, 12000, 16000]
    equal([cut(16000, 10, bells), cut(16000, 20, bells), cut(16000, 30, bells)], [12000, 12000, None], "T47")
    equal([cut(16000, 10, [11999]), cut(16000, 10, [12000]), cut(16000, 10, [14400]), cut(16000, 10, [14401])], [None, 12000, 14400, None], "borders of 10 %")
    equal([cut(16000, 20, [10399]), cut(16000, 20, [10400]), cut(16000, 20, [12800]), cut(16000, 20, [12801])], [None, 10400, 12800, None], "borders of 20 %")
    equal([cut(16000, 30, [8799]), cut(16000, 30, [8800]), cut(16000, 30, [11200]), cut(16000, 30, [11201])], [None, 8800, 11200, None], "borders of 30 %")
    refused(world, "load_cut", "ask.choice", load_g=16000, percent=15, kit_loads_g=bells)


@case("the next load is usable from 2 to 10 percent more, in whole grams")
def steps(world):
    def step(load_g, kit):
        return compute(world, "load_step", load_g=load_g, kit_loads_g=kit)
    for kit, wanted in (([20000, 22000], ("usable", 22000)), ([20000, 22001], ("big", 22001)), ([20400], ("usable", 20400)), ([20399], ("none", None)),
                        ([20399, 24000], ("big", 24000)), ([24000, 22000, 21000], ("usable", 21000)), ([], ("none", None))):
        equal((step(20000, kit)["step"], step(20000, kit)["load_g"]), wanted, str(kit))


@case("every formula agrees with an arithmetic of its own, over loads, reps and reserves")
def independent(world):
    questions, wanted = [], []
    for name, formula in FORMULAS.items():
        for load_g in (1, 999, 22500, 60000, 400000):
            for reps in (1, 2, 4, 8, 9, 12, 20, 36, 40):
                for rir in (None, 0, 0.5, 1, 3.5, 4):
                    total = reps + (rir or 0)
                    if name in ("brzycki", "lander") and total >= 37:
                        continue
                    questions.append({"compute": name, "load_g": load_g, "reps": reps, "rir": rir})
                    shown = "hidden" if total > 12 else "rough" if total > 10 or rir == 4 else "plain"
                    wanted.append((load_g if total == 1 else formula(load_g, total), shown))
    for question, answer, (e1rm, shown) in zip(questions, ask_lines(world, "compute", lines=questions), wanted):
        near(answer["e1rm_g"], e1rm, 1e-9 * e1rm, str(question))
        equal(answer["shown"], shown, str(question))
    holds(len(questions) > 1500, "enough of them")
    chart = sorted(CHART)
    halves = [half / 2 for half in range(2, 31)]
    for reps, answer in zip(halves, ask_lines(world, "compute", "percent_1rm", lines=[{"reps": reps} for reps in halves])):
        low, high = max(n for n in chart if n <= reps), min(n for n in chart if n >= reps)
        percent = CHART[low] if low == high else CHART[low] + (CHART[high] - CHART[low]) * (reps - low) / (high - low)
        near(answer["percent"], percent, 1e-9, f"{reps} reps")


@case("effort: a set's number from its reserve, a session's load from rating and minutes")
def effort(world):
    for rir, rpe in ((0, 10), (0.5, 9.5), (2, 8), (3, 7), (3.5, None), (4, None), ("4+", None)):
        equal(compute(world, "set_rpe", rir=rir)["rpe"], rpe, f"reserve {rir}")
    equal(compute(world, "session_load", rating=6, minutes=45)["load_au"], 270, "session load")
    refused(world, "session_load", "load.rating_range", rating=6.3, minutes=45)
    refused(world, "session_load", "ask.range", rating=10.5, minutes=45)
    refused(world, "session_load", "ask.range", rating=6, minutes=0.5)


@case("what is missing, unknown, twice, of the wrong kind or out of range is refused by name")
def bad(world):
    equal(refused(world, "epley", "ask.unknown", load_g=1, reps=1, rirr=2)["args"], ["rirr", "load_g, reps, rir"], "unknown")
    equal(refused(world, "epley", "ask.missing", load_g=1)["args"], ["reps"], "missing")
    equal(refused(world, "epley", "ask.missing", load_g=1, reps=None)["args"], ["reps"], "null is missing")
    equal(refused(world, "epley", "ask.number", load_g="60 kg", reps=1)["args"], ["load_g"], "a text")
    equal(refused(world, "epley", "ask.whole", load_g=60000.5, reps=1)["args"], ["load_g"], "half a gram")
    for load_g in (0, -1, 1000001):
        equal(refused(world, "epley", "ask.range", load_g=load_g, reps=1)["args"], ["load_g", "1", "1000000"], "range")
    for rir in (-0.5, 0.25, 4.5, "3+", True):
        refused(world, "epley", "ask.rir", load_g=1, reps=1, rir=rir)
    equal(refused(world, "rest_check", "ask.exercise", rounds=2, exercises=[{"exercise": "SQ4", "reps": 5}, {"exercise": "ZZ", "reps": 5}])["args"],
          ["exercises[1].exercise", "ZZ"], "where in the list")
    equal(refused(world, "rest_check", "ask.unknown", rounds=2, exercises=[{"exercise": "SQ4", "reps": 5, "load": 1}])["args"][0], "exercises[0].load", "inside a list")
    for text, text_id in (('{"load_g":1,"load_g":2,"reps":1}', "ask.twice"), ('{"load_g":1', "ask.not_json"), ("[1]", "ask.not_object"), ("5", "ask.not_object"),
                          ('{"load_g":1e400,"reps":1}', "ask.not_json"), ("\x00", "ask.not_json"), ("[" * 500, "ask.not_json")):
        equal(ask(world, "compute", "epley", line=text, code=BAD_INPUT)["error"]["id"], text_id, text[:40])


@case("a bad line among many is answered as such, with its number, and stops nobody")
def lines(world):
    good = {"compute": "epley", "load_g": 60000, "reps": 8}
    answers = ask_lines(world, "compute", lines=[good, {"compute": "nobody"}, good, {"load_g": 1}], code=BAD_INPUT)
    equal(answers[0], answers[2], "the good ones")
    equal((answers[1]["line"], answers[1]["error"]["id"]), (2, "ask.no_formula"), "an unknown name")
    equal((answers[3]["line"], answers[3]["error"]["args"]), (4, ["compute"]), "no name")


@case("one question as a word of the command line, in words and with --json")
def one(world):
    answer = world.run("compute", "epley", '{"load_g":60000,"reps":8}')
    equal(answer.json["e1rm_g"], 76000, "the answer")
    equal(answer.out.count("\n"), 1, "one line")
    loud = world.run("compute", "epley", '{"load_g":0,"reps":8}', code=BAD_INPUT)
    holds("load_g" in loud.err and not loud.out, "said on standard error")
    equal(world.run("--json", "compute", "epley", '{"load_g":0,"reps":8}', code=BAD_INPUT).json["error"]["args"][0], "load_g", "or in JSON")
    world.run("compute", "epley", "{}", "{}", code=WRONG_USE)
    holds(not list(world.home.rglob("*")), "no store is made for it")


@case("--help says every name and every field that is known, and no other name")
def documented(world):
    text = world.run("compute", "--help").out
    said = " ".join(text[text.index("epley, brzycki"):text.index("In JSON:")].split())
    known = ask(world, "compute", "nobody", line={}, code=BAD_INPUT)["error"]["args"][1].split(", ")
    entries = dict(re.findall(r"((?:[a-z_0-9]+, )*[a-z_0-9]+): (.*?->.*?\.)(?= (?:[a-z_0-9]+, )*[a-z_0-9]+: |$)", said))
    spoken = {name: words for names, words in entries.items() for name in names.split(", ")}
    for name in known:
        holds(name in said, f"{name} is in the help")
        fields = ask(world, "compute", name, line={"nobody": 1}, code=BAD_INPUT)["error"]["args"]
        fields = fields[1].split(", ") if len(fields) > 1 else []
        if not fields:  # a missing field was the first trouble: fill in until the unknown one is
            fields = known_fields(world, name)
        for field in fields:
            holds(re.search(rf"\b{field}\b", spoken.get(name, said)), f"{field} of {name} is in the help")
    for line in ({"blocks": [{"rounds": 1, "nobody": 1}]}, {"blocks": [{"rounds": 1, "exercises": [{"exercise": "SQ4", "reps": 1, "nobody": 1}]}]}):
        for field in ask(world, "compute", "session_time", line=line, code=BAD_INPUT)["error"]["args"][1].split(", "):
            holds(re.search(rf"\b{field}\b", spoken["session_time"]), f"{field} inside session_time is in the help")


def known_fields(world, name):
    """What the program itself says it knows there: needed fields are added until only the unknown one is left."""
    samples = {"from": "2026-03-02", "to": "2026-03-03", "text": "45 lb", "exercise": "SQ4", "kit_loads_g": [1], "percent": 10, "rir": 1, "rating": 1, "to_g": 2}
    asked = {"nobody": 1}
    for _ in range(10):
        why = ask(world, "compute", name, line=asked, code=BAD_INPUT)["error"]
        if why["id"] == "ask.unknown":
            return why["args"][1].split(", ")
        equal(why["id"], "ask.missing", f"{name} {asked}")
        asked[why["args"][0]] = samples.get(why["args"][0], 1)
    raise AssertionError(name)


if __name__ == "__main__":
    run_cases()
