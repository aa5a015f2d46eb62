"""What the black-box tests of the command line share: stores in folders of their own, a home
that is nobody's, one line a case.

    SLIPWAY_EXE    the program (build/native/slipway)
    SLIPWAY_LONG   set: the long counts
"""
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import traceback

TOP = pathlib.Path(__file__).resolve().parent.parent.parent
EXE = str(pathlib.Path(os.environ.get("SLIPWAY_EXE", TOP / "build/native/slipway")).resolve())
LONG = bool(os.environ.get("SLIPWAY_LONG"))
DONE, ANSWER_IS_NO, WRONG_USE, BAD_INPUT, STORAGE_TROUBLE = range(5)
LONGEST_S = 120  # for one command, on a loaded machine

cases = []


def case(sentence):
    """Marks a function as a test; the sentence is its name."""
    def keep(function):
        cases.append((sentence, function))
        return function
    return keep


class Failed(Exception):
    pass


def holds(truth, what):
    if not truth:
        raise Failed(what)


def equal(got, wanted, what):
    if got != wanted:
        raise Failed(f"{what}: got {got!r}, wanted {wanted!r}")


class Answer:
    def __init__(self, done):
        self.code, self.out, self.err = done.returncode, done.stdout, done.stderr

    @property
    def json(self):
        try:
            return json.loads(self.out)
        except ValueError as error:
            raise Failed(f"not JSON ({error}): {self.out!r} {self.err!r}") from None

    def __repr__(self):
        return f"exit {self.code}: {self.out[-600:]!r} {self.err[-600:]!r}"


class World:
    """One case's own home and folders; gone when the case is over."""

    def __init__(self):
        self.top = pathlib.Path(tempfile.mkdtemp(prefix="slipway-cli-"))
        self.top.chmod(0o755)
        self.home = self.top / "home"
        self.home.mkdir()

    def environment(self):
        keep = {name: os.environ[name] for name in ("PATH", "LANG", "ASAN_OPTIONS", "UBSAN_OPTIONS") if name in os.environ}
        return {**keep, "HOME": str(self.home), "TZ": "UTC"}

    def run(self, *words, code=DONE, **more):
        """Runs one command; `code` None takes any exit code."""
        more.setdefault("env", self.environment())
        done = subprocess.run([EXE, *map(str, words)], capture_output=True, text=True, timeout=LONGEST_S, cwd=self.top,
                              stdin=subprocess.DEVNULL, **more)
        answer = Answer(done)
        if code is not None and answer.code != code:
            raise Failed(f"{' '.join(map(str, words))}: wanted exit {code}, got {answer}")
        return answer

    def store(self, name):
        (self.top / name).mkdir(exist_ok=True)
        return Store(self, self.top / name)

    def file(self, name):
        return self.top / name

    def leave(self):
        shutil.rmtree(self.top, ignore_errors=True)


class Store:
    def __init__(self, world, folder):
        self.world, self.folder = world, folder

    def run(self, *words, **more):
        return self.world.run("--store", self.folder, *words, **more)

    def json(self, *words, **more):
        return self.run("--json", *words, **more).json

    def digests(self):
        answer = self.json("check")
        equal(answer["findings"], [], "findings")
        return answer["digests"]

    def ops(self):
        return self.json("check")["ops"]

    def sets(self, who):
        """Every set that counts: entry -> set."""
        sessions = self.json("athlete", "show", who)["sessions"]
        return {one["entry"]: one for session in sessions for one in session["sets"]}

    def make(self, name, *words, **more):
        path = self.world.file(name)
        self.run("bundle", "make", "--out", path, *words, **more)
        return path

    def merge(self, *files, code=DONE):
        return self.json("bundle", "merge", *files, code=code)


def note(words):
    print(f"# {words}", flush=True)


def run_cases():
    if not os.access(EXE, os.X_OK):
        print(f"not ok - the program is there: {EXE}")
        sys.exit(1)
    failed = 0
    for sentence, function in cases:
        world = World()
        try:
            function(world)
            print(f"ok - {sentence}", flush=True)
        except Exception as error:  # a test that breaks has failed
            failed += 1
            print(f"not ok - {sentence}", flush=True)
            if isinstance(error, Failed):
                print(f"#   {error}")
            else:
                print("#   " + traceback.format_exc().replace("\n", "\n#   "))
        finally:
            world.leave()
    sys.exit(1 if failed else 0)
