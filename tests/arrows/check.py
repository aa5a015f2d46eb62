#!/usr/bin/env python3
"""Holds the #include lines of core/ to the picture of the rooms, and proves that it would notice."""
import pathlib
import re
import sys

CORE = pathlib.Path(__file__).resolve().parent.parent.parent / "core"

# What each room may include of the others. The link lines of CMakeLists.txt say the same.
MAY = {
    "model": set(),
    "host": {"model"},
    "swim": {"model"},
    "load": {"model"},
    "rules": {"model", "load", "swim"},
    "ops": {"model", "host"},
    "store": {"model", "host", "ops"},
    "sync": {"model", "ops"},
    "report": {"model", "load", "swim", "rules"},
    "screens": {"model"},
    "app": {"model", "host", "ops", "store", "sync", "report", "rules", "load", "swim", "screens"},
}
# Third-party headers: in which rooms, and only in these kinds of file (a header would spread them).
THIRD_PARTY = {
    "sqlite3": ({"store"}, {".cpp"}),
    "cereal": ({"sync"}, {".cpp", ".h"}),  # .h: the archive that is private to sync, checked below
    "sodium": ({"ops", "sync"}, {".cpp"}),
    "imgui": ({"screens"}, {".cpp"}),
    "nlohmann": (set(), set()),
    "CLI": (set(), set()),
}
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]', re.M)


def findings(files):
    """files: (room, path words, text). Answers one sentence a wrong arrow."""
    out = []
    for room, path, text in files:
        for mark, name in INCLUDE.findall(text):
            first = name.split("/")[0]
            if mark == '"' and first in MAY:
                if first != room and first not in MAY[room]:
                    out.append(f"{path}: {room} may not see {first} ({name})")
                continue
            for third, (rooms, kinds) in THIRD_PARTY.items():
                stem = re.split(r"[./_]", name)[0]
                if stem == third and (room not in rooms or pathlib.Path(path).suffix not in kinds):
                    out.append(f"{path}: {name} has no place here")
            if mark == '"' and first not in MAY and not any(name.startswith(t) for t in THIRD_PARTY):
                out.append(f"{path}: {name} does not say its room")
    return out


def core_files():
    for path in sorted(CORE.rglob("*")):
        if path.suffix in (".h", ".cpp"):
            room = path.relative_to(CORE).parts[0]
            yield room, str(path.relative_to(CORE)), path.read_text()


def main():
    failed = 0

    def tell(fine, name):
        nonlocal failed
        print(("ok - " if fine else "not ok - ") + name)
        failed += 0 if fine else 1

    files = list(core_files())
    wrong = findings(files)
    for line in wrong:
        print("# " + line)
    tell(len(files) > 50, "the rooms were found")
    tell(not wrong, "no include goes against the picture of the rooms")
    tell({room for room, _, _ in files} <= set(MAY), "every folder of core is a room of the picture")
    planted = [
        ("screens", "screens/x.cpp", '#include "store/store.h"\n'),
        ("store", "store/x.cpp", '#include "sync/bundle.h"\n'),
        ("model", "model/x.h", '#include "ops/op.h"\n'),
        ("app", "app/x.cpp", "#include <sqlite3.h>\n"),
        ("screens", "screens/x.h", '#include "imgui.h"\n'),
        ("report", "report/x.cpp", "#include <nlohmann/json.hpp>\n"),
        ("ops", "ops/x.cpp", '#include "helper.h"\n'),
    ]
    for room, path, text in planted:
        tell(len(findings([(room, path, text)])) == 1, f"a planted wrong arrow is noticed: {path} {text.split()[1]}")
    # cereal may be named in headers of sync, but no header that other rooms can see pulls it in.
    outward = [name for _, name in INCLUDE.findall((CORE / "sync" / "bundle.h").read_text())]
    private = [name for name in outward if name.startswith(("cereal", "sync/"))]
    tell(not private, "the outward header of sync pulls in no cereal and nothing private")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
