#!/usr/bin/env python3
"""The desktop window under a screen of its own: hands, keys and what is in the store afterwards.

    SLIPWAY_EXE    the program (build/native/slipway)

Needs Xvfb and xdotool. The window runs with --say, which prints each drawn frame as lines; so
a test presses what it reads, where it stands, as a person would.
"""
import collections
import ctypes
import os
import pathlib
import queue
import re
import resource
import shutil
import struct
import subprocess
import sys
import threading
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "cli"))
from kit import EXE, STORAGE_TROUBLE, Failed, case, equal, holds, note, run_cases  # noqa: E402

WAIT_S = 30  # the longest a healthy machine under load needs for anything here
QUIET_S = 10
PAGE_FOOT = 770  # of the usual window: below it are the places
NODE = re.compile(r'^(\w+) "(.*)" ?.*? at (-?\d+),(-?\d+) (\d+)x(\d+)$')


def a_screen():
    """An X server that chooses its own number; ends with this process."""
    if not shutil.which("Xvfb") or not shutil.which("xdotool"):
        print("not ok - Xvfb and xdotool are installed")
        sys.exit(1)
    out, given = os.pipe()
    server = subprocess.Popen(["Xvfb", "-displayfd", str(given), "-screen", "0", "1280x1024x24", "-nolisten", "tcp"], pass_fds=[given],
                              stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    os.close(given)
    with os.fdopen(out) as number:
        display = ":" + number.readline().strip()
    return server, display


SERVER, DISPLAY = a_screen()


class Frame:
    def __init__(self, number, lines):
        self.number, self.lines = number, lines

    def nodes(self, role):
        found = (NODE.match(line) for line in self.lines)
        return [(m[2], *map(int, m.groups()[2:])) for m in found if m and m[1] == role]

    def find(self, role, words):
        for node in self.nodes(role):
            if words in node[0]:
                return node
        return None

    def focus(self):
        return next((line for line in self.lines if re.search(r" focus\b.* at ", line)), "")

    def __str__(self):
        return "\n".join(self.lines)


class Window:
    def __init__(self, world, store, *words):
        self.environment = {**world.environment(), "DISPLAY": DISPLAY, "LIBGL_ALWAYS_SOFTWARE": "1"}
        self.process = subprocess.Popen([EXE, "--store", str(store), "--say", *map(str, words)], env=self.environment, cwd=world.top,
                                        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        self.frames = queue.Queue()
        threading.Thread(target=self.listen, daemon=True).start()
        self.last = self.frames.get(timeout=WAIT_S)
        self.id = self.xdotool("search", "--sync", "--pid", str(self.process.pid), "--name", "^Slipway$").split()[-1]
        self.xdotool("windowfocus", "--sync", self.id)

    def listen(self):
        lines, number = [], 0
        for line in self.process.stdout:
            line = line.rstrip("\n")
            if line.startswith("frame "):
                lines, number = [], int(line.split()[1])
            elif line == "end":
                self.frames.put(Frame(number, lines))
            else:
                lines.append(line)

    def xdotool(self, *words):
        done = subprocess.run(["xdotool", *words], env=self.environment, capture_output=True, text=True, timeout=WAIT_S, check=False)
        holds(done.returncode == 0, f"xdotool {words}: {done.stderr}")
        return done.stdout

    def newest(self):
        while not self.frames.empty():
            self.last = self.frames.get()
        return self.last

    def until(self, what, wanted):
        """The first frame for which `wanted` holds, beginning with the one shown."""
        deadline = time.monotonic() + WAIT_S
        self.newest()
        while not wanted(self.last):
            try:
                self.last = self.frames.get(timeout=max(0.01, deadline - time.monotonic()))
            except queue.Empty:
                raise Failed(f"waited in vain for {what}; shown:\n{self.last}") from None
        return self.last

    def shows(self, role, words):
        return self.until(f'{role} "{words}"', lambda frame: frame.find(role, words)).find(role, words)

    def in_sight(self, role, words):
        """Turns the wheel until the middle of it is on the page, above the bar."""
        for _ in range(60):
            node = self.shows(role, words)
            middle = node[2] + node[4] // 2
            if 0 <= middle < PAGE_FOOT or role == "tab":
                return node
            before = self.last.number
            self.xdotool("mousemove", "--window", self.id, "195", "400", "click", "5" if middle >= PAGE_FOOT else "4")
            self.until("the page moves", lambda frame: frame.number > before)
        raise Failed(f'the wheel never comes to {role} "{words}"')

    def click(self, role, words):
        _, x, y, width, height = self.in_sight(role, words)
        self.xdotool("mousemove", "--window", self.id, str(x + width // 2), str(y + height // 2), "click", "1")

    def keys(self, *names):
        self.xdotool("key", "--window", "0", "--delay", "30", *names)

    def leave(self):
        """As if the window were closed; answers what was said on standard error."""
        self.process.terminate()
        self.process.wait(timeout=WAIT_S)
        return self.process.stderr.read()


    def close(self):
        """As the key of the title bar does it: the window is asked, and may stay."""
        x11 = ctypes.CDLL("libX11.so.6")
        x11.XOpenDisplay.restype = ctypes.c_void_p
        x11.XInternAtom.restype = ctypes.c_ulong
        x11.XInternAtom.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_int]
        x11.XSendEvent.argtypes = [ctypes.c_void_p, ctypes.c_ulong, ctypes.c_int, ctypes.c_long, ctypes.c_void_p]
        x11.XFlush.argtypes = x11.XCloseDisplay.argtypes = [ctypes.c_void_p]
        display = x11.XOpenDisplay(DISPLAY.encode())
        protocols, delete = (x11.XInternAtom(display, name, 0) for name in (b"WM_PROTOCOLS", b"WM_DELETE_WINDOW"))
        # XClientMessageEvent: type 33, serial, send_event, display, window, message_type, format 32, five longs; padded to the size of XEvent
        event = struct.pack("@iLiPLLi5l", 33, 0, 1, display, int(self.id), protocols, 32, delete, 0, 0, 0, 0).ljust(192, b"\0")
        x11.XSendEvent(display, int(self.id), 0, 0, event)
        x11.XFlush(display)
        x11.XCloseDisplay(display)

    def ended(self):
        """The exit code, and what was said on standard error."""
        self.process.wait(timeout=WAIT_S)
        return self.process.returncode, self.process.stderr.read()

    def room(self, most):
        """No file of it may grow beyond that from here on: a disk that is full."""
        resource.prlimit(self.process.pid, resource.RLIMIT_FSIZE, (most, resource.RLIM_INFINITY))


def open_window(world, store, *words):
    window = Window(world, store, *words)
    world.windows.append(window)
    return window


def with_windows(function):
    def run(world):
        world.windows = []
        try:
            function(world)
        finally:
            for window in world.windows:
                if window.process.poll() is None:
                    window.process.kill()
                    window.process.wait()
    return run


def desktop(sentence):
    return lambda function: case(sentence)(with_windows(function))


def otter(world, name="s"):
    store = world.store(name)
    store.run("athlete", "add", "Otter", "--born", 1990)
    return store


@desktop("the window opens, the main key is pressed by mouse where it stands, and the set is in the store")
def by_mouse(world):
    store = otter(world)
    window = open_window(world, store.folder)
    window.click("button", "Log as written")
    window.until("kept", lambda frame: frame.find("status", "kept "))
    window.leave()
    sets = list(store.sets("Otter").values())
    equal([(one["round"], one["reps"]["value"], one["as_written"]) for one in sets], [(1, 8, True)], "the set")


@desktop("a double click logs one set")
def double_click(world):
    store = otter(world)
    window = open_window(world, store.folder)
    _, x, y, width, height = window.shows("button", "Log as written")
    window.xdotool("mousemove", "--window", window.id, str(x + width // 2), str(y + height // 2), "click", "--repeat", "2", "--delay", "80", "1")
    window.until("the next set", lambda frame: "Next: A2" in str(frame))
    time.sleep(1)
    window.leave()
    equal(len(store.sets("Otter")), 1, "sets")


@desktop("first run by keyboard alone: a name, Start, a set, a change and back again")
def by_keyboard(world):
    store = world.store("s")
    window = open_window(world, store.folder)
    window.shows("textbox", "Name or nickname")

    def tab_to(words):
        for _ in range(60):
            if words in window.newest().focus():
                return
            before = window.last.number
            window.keys("Tab")
            window.until("the focus moves", lambda frame: frame.number > before)
        raise Failed(f'Tab never comes to "{words}":\n{window.last}')

    tab_to("Name or nickname")
    window.xdotool("type", "--delay", "40", "Otter")
    window.until("the name", lambda frame: '= "Otter"' in str(frame))
    tab_to("Year of birth")
    window.xdotool("type", "--delay", "40", "1990")
    window.until("the year", lambda frame: '= "1990"' in str(frame))
    tab_to('"Start"')
    window.keys("Return")
    window.shows("button", "Log as written")
    tab_to("Log as written")
    window.keys("Return")
    window.until("kept", lambda frame: frame.find("status", "kept "))
    equal([one["reps"]["value"] for one in closed(window, store).values()], [8], "logged by Enter")

    window = open_window(world, store.folder)
    tab_to("Change")
    window.keys("Return")
    window.shows("spinbutton", "Reps")
    window.keys("Escape")
    window.shows("button", "Log as written")
    tab_to("Change")
    window.keys("Return")
    window.shows("spinbutton", "Reps")
    tab_to("spinbutton")
    window.keys("Up")
    window.until("9 reps", lambda frame: "Log 9" in str(frame))
    tab_to("Log 9")
    window.keys("Return")
    window.shows("button", "Log as written")
    window.until("two sets", lambda frame: "Next: A3" in str(frame))
    equal(sorted(one["reps"]["value"] for one in closed(window, store).values()), [8, 9], "a changed set")


def closed(window, store):
    window.leave()
    return store.sets("Otter")


def stands(window):
    """Width, height, left and top."""
    shown = window.xdotool("getwindowgeometry", window.id)
    width, height = re.search(r"Geometry: (\d+)x(\d+)", shown).groups()
    left, top = re.search(r"Position: (-?\d+),(-?\d+)", shown).groups()
    return int(width), int(height), int(left), int(top)


def window_file(world):
    return world.home / ".local/state/slipway/window"


def kept_place(world, text):
    deadline = time.monotonic() + WAIT_S
    while not (window_file(world).is_file() and window_file(world).read_text() == text):
        holds(time.monotonic() < deadline, f"waited in vain for {text} in {window_file(world)}")
        time.sleep(0.05)


def opened_and_left(world, store, *words):
    window = open_window(world, store.folder, *words)
    found = stands(window)
    window.leave()
    return found


@desktop("the window opens as large as it was closed; a size that was asked for, or that cannot be read, is not kept")
def remembered(world):
    store = otter(world)
    window = open_window(world, store.folder)
    equal(stands(window)[:2], (390, 844), "the first time")
    window.xdotool("windowsize", "--sync", window.id, "1024", "700")
    kept_place(world, "1024x700+%d+%d" % stands(window)[2:])
    window.leave()
    equal(opened_and_left(world, store, "--size", "500x600")[:2], (500, 600), "as asked for")
    equal(opened_and_left(world, store)[:2], (1024, 700), "as it was left, not as it was asked for")
    for unreadable in ("wide as the sea", "400x500+10", "400x500+10+ten", "400x0+10+10"):
        window_file(world).write_text(unreadable)
        equal(opened_and_left(world, store)[:2], (390, 844), f"{unreadable}: the usual")


@desktop("the window opens where it stood, and in sight if the screen it stood on is gone")
def place_of_window(world):
    store = otter(world)
    window = open_window(world, store.folder)
    usual = stands(window)[2:]
    window.xdotool("windowmove", "--sync", window.id, "300", "120")
    kept_place(world, "390x844+300+120")
    window.leave()
    equal(opened_and_left(world, store), (390, 844, 300, 120), "where it stood")
    window_file(world).write_text("1024x700+-980+40")
    equal(opened_and_left(world, store)[2:], usual, "a strip too narrow to take hold of")
    for gone in ("390x844+5000+100", "390x844+300+-900", "390x844+300+1020"):
        window_file(world).write_text(gone)
        equal(opened_and_left(world, store)[2:], usual, f"{gone}: the system places it")
    window_file(world).write_text("1024x700+-900+40")
    equal(opened_and_left(world, store)[2:], (-900, 40), "enough of it is in sight")


@desktop("Ctrl+Z takes the last set back")
def undo(world):
    store = otter(world)
    window = open_window(world, store.folder)
    window.click("button", "Log as written")
    window.until("kept", lambda frame: "Next: A2" in str(frame))
    time.sleep(1)
    window.keys("ctrl+z")
    window.until("round 1 again", lambda frame: "Next: A1 goblet squat, round 1 of 3" in str(frame))
    window.leave()
    shown = store.json("athlete", "show", "Otter")
    equal((len(store.sets("Otter")), len(shown["taken_back"])), (0, 1), "taken back")


@desktop("a bundle goes out to the downloads folder, and comes in by a key, by name and when the window opens")
def exchange(world):
    store = otter(world)
    store.run("log", "Otter")
    downloads = world.home / "Downloads"
    downloads.mkdir()
    window = open_window(world, store.folder)
    window.click("tab", "Exchange")
    window.click("button", "Hand over")
    window.shows("heading", "Handed over as a file")
    out = [path for path in downloads.iterdir() if path.suffix == ".slip"]
    equal(len(out), 1, "files in the downloads folder")
    holds(str(downloads) in str(window.newest()) and out[0].name in str(window.last), f"it says where:\n{window.last}")
    holds("otter" not in out[0].name.lower(), "nothing personal in its name")
    window.keys("Escape")
    window.shows("button", "Take in a bundle")
    window.leave()
    equal(world.run("--json", "bundle", "look", out[0]).json["digests"], store.digests(), "what went out")

    other = world.store("t")
    window = open_window(world, other.folder)
    window.click("button", "Take in a bundle")
    window.click("button", out[0].name)
    window.shows("listitem", f"{out[0].name}: new")
    window.leave()
    equal(other.digests(), store.digests(), "taken in by a key")

    third = world.store("u")
    bad = world.file("bad.slip")
    bad.write_bytes(out[0].read_bytes()[:-1])
    window = open_window(world, third.folder, bad, out[0])
    shown = window.until("both results", lambda frame: "bad.slip" in str(frame) and out[0].name in str(frame))
    holds("refused" in str(shown), f"the bad one is refused:\n{shown}")
    window.leave()
    equal(third.digests(), store.digests(), "taken in when the window opens")


@desktop("of several files that cannot be read each is named, and what can be read is taken in")
def several_refused(world):
    store = otter(world)
    store.run("log", "Otter")
    good = world.file("good.slip")
    store.run("export", "--out", good)
    other = world.store("t")
    for name in ("first.slip", "second.slip"):
        world.file(name).mkdir()  # a folder, which nobody can read as a file
    window = open_window(world, other.folder, world.file("first.slip"), good, world.file("second.slip"))
    shown = window.until("both names", lambda frame: "first.slip" in str(frame) and "second.slip" in str(frame))
    holds(shown.find("heading", "That file did not work"), f"a page says so:\n{shown}")
    window.click("button", "Back")
    window.click("tab", "Exchange")
    window.shows("listitem", "good.slip: new")
    window.close()
    equal(window.ended()[0], 0, "exit code")
    equal(other.digests(), store.digests(), "taken in")


@desktop("a file of a name that is taken goes beside it: nothing in the folder is overwritten")
def beside(world):
    store = otter(world)
    downloads = world.home / "Downloads"
    downloads.mkdir()
    window = open_window(world, store.folder)
    window.click("tab", "Setup")
    window.click("button", "Copies")
    for count in (1, 2, 3):
        window.click("button", "Export everything")
        window.shows("heading", "Handed over as a file")
        window.keys("Escape")
        equal(len(list(downloads.iterdir())), count, "files")
    names = sorted(path.name for path in downloads.iterdir())
    holds(any(name.endswith("-2.zip") for name in names) and any(name.endswith("-3.zip") for name in names), f"{names}")
    window.leave()


@desktop("closed with entries that could not be kept: they leave as a bundle")
def rescued(world):
    store = otter(world)
    downloads = world.home / "Downloads"
    downloads.mkdir()
    window = open_window(world, store.folder)
    window.shows("button", "Log as written")
    window.room(8192)  # the store is larger, a bundle is not
    window.click("button", "Log as written")
    window.until("not kept", lambda frame: "not kept" in str(frame).lower())
    window.close()
    code, said = window.ended()
    equal(code, STORAGE_TROUBLE, f"exit code; {said}")
    holds(str(downloads) in said, f"it says where: {said}")
    equal(len(store.sets("Otter")), 0, "sets in the store")
    store.run("import", next(downloads.iterdir()))
    equal(len(store.sets("Otter")), 1, "sets once the bundle is taken in")


@desktop("with entries that can go nowhere the window stays; once there is room they are kept, and let go they are named as lost")
def unkept(world):
    for let_go in (False, True):
        store = otter(world, f"s{let_go}")
        window = open_window(world, store.folder)
        window.shows("button", "Log as written")
        window.room(16)
        window.click("button", "Log as written")
        window.until("not kept", lambda frame: "not kept" in str(frame).lower())
        for _ in range(2):
            before = window.newest().number
            window.close()
            window.until("the page", lambda frame: frame.number > before and frame.find("heading", "Not kept yet"))
        equal(window.process.poll(), None, "exit code: it stays")
        if not let_go:
            window.room(resource.RLIM_INFINITY)
        window.click("button", "Close, and lose them" if let_go else "Try again")
        code, said = window.ended()
        equal(code, STORAGE_TROUBLE if let_go else 0, f"exit code; {said}")
        equal(len(store.sets("Otter")), 0 if let_go else 1, "sets")
        equal("are lost" in said, let_go, f"said: {said}")


@desktop("a store that another Slipway has is said so, and opens once that one is closed")
def busy(world):
    store = otter(world)
    before = store.ops()
    first = open_window(world, store.folder)
    first.shows("button", "Log as written")
    second = open_window(world, store.folder)
    second.shows("heading", "Open in another Slipway")
    first.leave()
    second.click("button", "Try again")
    second.shows("button", "Log as written")
    second.leave()
    equal(store.ops(), before, "nothing was written")


@desktop("looking around in the made-up squad leaves nothing on the disk")
def look_around(world):
    store = world.store("s")
    window = open_window(world, store.folder)
    window.click("button", "Look around")
    window.until("the squad", lambda frame: "Made-up squad" in str(frame))
    window.leave()
    equal(store.json("athlete", "list")["athletes"], [], "athletes")


@desktop(f"no frame is drawn in {QUIET_S} quiet seconds")
def quiet(world):
    store = otter(world)
    window = open_window(world, store.folder)
    window.click("button", "Log as written")
    window.until("kept", lambda frame: frame.find("status", "kept "))
    window.click("button", "Finish")
    window.click("radio", "5, hard")
    window.click("button", "Finish: effort 5")
    window.until("finished", lambda frame: "Session finished and kept." in str(frame))
    window.xdotool("mousemove", "1270", "1010")
    time.sleep(3)
    before = window.newest().number
    time.sleep(QUIET_S)
    equal(window.newest().number, before, "frames")
    note(f"{before} frames in all")
    window.leave()


@desktop("the picture of the window is of the size asked for, and not blank, in both themes and large text")
def pictures(world):
    store = otter(world)
    environment = {"DISPLAY": DISPLAY, "LIBGL_ALWAYS_SOFTWARE": "1"}
    seen = set()
    for i, words in enumerate((["--theme", "daylight"], ["--theme", "night"], ["--size", "844x390"], ["--text-size", "200"])):
        shot = world.file(f"{i}.ppm")
        world.run("--store", store.folder, "--shot", shot, *words, env={**world.environment(), **environment})
        content = shot.read_bytes()
        kind, size, _, pixels = content.split(b"\n", 3)
        width, height = map(int, size.split())
        equal((kind, (width, height)), (b"P6", (844, 390) if "--size" in words else (390, 844)), f"size of {words}")
        equal(len(pixels), width * height * 3, f"pixels of {words}")
        colours = collections.Counter(pixels[at:at + 3] for at in range(0, len(pixels), 3))
        holds(len(colours) > 20, f"{words}: {len(colours)} colours")
        ground = colours.most_common(1)[0][0]
        holds((sum(ground) < 200) == ("night" in words), f"{words}: ground {ground.hex()}")
        seen.add(content)
    equal(len(seen), 4, "four different pictures")


@desktop("without a screen it says so and names the commands")
def no_screen(world):
    answer = world.run("--store", otter(world).folder, code=4)
    holds("No window" in answer.err and "--help" in answer.err, f"said: {answer.err!r}")


try:
    run_cases()
finally:
    SERVER.terminate()
    SERVER.wait()
