#!/usr/bin/env python3
"""Holds the #include lines of core/ and the shells, and the link lines of CMakeLists.txt, to the picture of the
rooms, and proves that it would notice."""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
CORE = ROOT / "core"

# What each room may include of the others. The link lines of CMakeLists.txt say the same.
MAY = {
    "model": set(),
    "host": {"model"},
    "swim": {"model"},
    "load": {"model"},
    "rules": {"model", "load", "swim"},
    "ops": {"model", "host"},
    "store": {"model", "host", "ops"},
    "sync": {"model", "host", "ops"},
    "report": {"model", "load", "swim", "rules"},
    "screens": {"model"},
    "app": {"model", "host", "ops", "store", "sync", "report", "rules", "load", "swim", "screens"},
}
# Third-party headers: in which rooms, and only in these kinds of file (a header would spread them).
THIRD_PARTY = {
    "sqlite3": ({"store"}, {".cpp"}),
    "cereal": ({"sync"}, {".cpp", ".h"}),  # .h: the archive that is private to sync, checked below
    "sodium": ({"ops", "sync"}, {".cpp"}),
    "zlib": ({"sync"}, {".cpp"}),
    "contrib": ({"sync"}, {".cpp"}),  # zlib's minizip
    "imgui": ({"screens"}, {".cpp"}),
    "nlohmann": (set(), set()),
    "CLI": (set(), set()),
}
# A shell meets the core through app, hands it the promises of host, and speaks of model and screens.
SHELLS = {"native-shell", "wasm-shell"}
SHELL_MAY = {"model", "host", "app", "screens", "report", "ops", "sync", "store"}
# The command line's compute and decide hand a question in JSON straight to the rooms of pure functions.
ALSO_MAY = {"native-shell": ("json_", {"load", "rules"})}
SHELL_THIRD_PARTY = {
    "imgui": SHELLS,
    "nlohmann": {"native-shell"},
    "CLI": {"native-shell"},
}
# Libraries that take seconds to compile, and the first word of the names of the few files that share a header of it.
SLOW = {"nlohmann": "json", "CLI": "command"}
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]', re.M)
LINK = re.compile(r"^room\((\w+)(?:\s+SEES((?:\s+[a-z]+)*))?(?:\s+USES((?:\s+[a-z0-9]+)*))?\)", re.M)


def findings(files):
    """files: (room, path words, text). Answers one sentence a wrong arrow."""
    out = []
    for room, path, text in files:
        for mark, name in INCLUDE.findall(text):
            first = name.split("/")[0]
            if first in MAY and "/" in name:
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


def shell_findings(files):
    """The same for the shells: files of native-shell and wasm-shell."""
    out = []
    slow = {pathlib.Path(path).name for _, path, text in files
            if path.endswith(".h") and any(name.split("/")[0] in SLOW for _, name in INCLUDE.findall(text))}
    for shell, path, text in files:
        family = pathlib.Path(path).name.split("_")[0]
        for mark, name in INCLUDE.findall(text):
            first = name.split("/")[0]
            start, more = ALSO_MAY.get(shell, ("", set()))
            allowed = SHELL_MAY | (more if pathlib.Path(path).name.startswith(start) else set())
            if first in MAY and "/" in name and first not in allowed:
                out.append(f"{path}: a shell may not see {first} ({name})")
            stem = re.split(r"[./_]", name)[0]
            if stem in THIRD_PARTY and shell not in SHELL_THIRD_PARTY.get(stem, set()):
                out.append(f"{path}: {name} has no place here")
            if path.endswith(".h") and first in SLOW and family != SLOW[first]:
                out.append(f"{path}: {name} in a header would be compiled everywhere")
            if name in slow and family not in SLOW.values():
                out.append(f"{path}: {name} pulls in a library that is slow to compile")
    return out


def reachable(links, room):
    """The rooms a room links, with what those hand on."""
    seen = set()
    todo = list(links.get(room, set()))
    while todo:
        other = todo.pop()
        if other not in seen:
            seen.add(other)
            todo += links.get(other, set())
    return seen


def link_findings(text):
    """Link lines that reach a room, or bring a library to a room, that the picture does not."""
    links = {room: set(sees.split()) for room, sees, _ in LINK.findall(text)}
    out = []
    for room in links:
        for other in sorted(reachable(links, room) - MAY.get(room, set())):
            # Linking is wider than seeing: the linker needs what a seen room itself stands on.
            if other not in set().union(*(reachable(links, seen) for seen in MAY.get(room, set()))):
                out.append(f"CMakeLists.txt: {room} links {other}")
    homes = {"sqlite3": {"store"}, "sodium": {"ops", "sync"}, "imgui": {"screens"}, "headers": {"sync"}, "zip": {"sync"}}
    for room, _, uses in LINK.findall(text):
        for library in uses.split():
            if room not in homes.get(library, set()):
                out.append(f"CMakeLists.txt: {room} uses {library}")
    return out


def doubles(files):
    """Two definitions under one full name: the linker takes either, so a program of both is broken where they differ.
    files: (path, text) of one program."""
    first, out = {}, []
    for path, text in files:
        spaces = []
        for line in text.splitlines():
            if opened := re.match(r"namespace\s*([\w:]*)\s*\{", line):
                spaces.append(opened.group(1) or path)  # an unnamed one is its file's own
            elif re.match(r"\}\s*// namespace", line) and spaces:
                spaces.pop()
            elif defined := re.match(r"(?:class|struct|enum class) (\w+(?:::\w+)*)[^;]*\{", line):
                name = "::".join([*spaces, defined.group(1)])
                if name in first and first[name] != path:
                    out.append(f"{path}: {name} is defined in {first[name]} too")
                first.setdefault(name, path)
    return out


def program_files(*folders):
    for folder in folders:
        for path in sorted((ROOT / folder).rglob("*")):
            if path.suffix in (".h", ".cpp"):
                yield str(path.relative_to(ROOT)), path.read_text()


def shell_files():
    for shell in sorted(SHELLS):
        for path in sorted((ROOT / shell).rglob("*")):
            if path.suffix in (".h", ".cpp"):
                yield shell, str(path.relative_to(ROOT)), path.read_text()


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
        ("screens", "screens/x.cpp", "#include <store/store.h>\n"),
        ("store", "store/x.cpp", '#include "../sync/bundle.h"\n'),
    ]
    for room, path, text in planted:
        tell(len(findings([(room, path, text)])) == 1, f"a planted wrong arrow is noticed: {path} {text.split()[1]}")
    shells = list(shell_files())
    wrong = shell_findings(shells)
    for line in wrong:
        print("# " + line)
    tell({shell for shell, _, _ in shells} == SHELLS, "both shells were found")
    tell(not wrong, "no include of a shell goes against the picture")
    for shell, path, text in [
        ("wasm-shell", "wasm-shell/x.cpp", "#include <nlohmann/json.hpp>\n"),
        ("native-shell", "native-shell/x.h", "#include <CLI/CLI.hpp>\n"),
        ("native-shell", "native-shell/json_x.h", "#include <CLI/CLI.hpp>\n"),
        ("native-shell", "native-shell/x.cpp", "#include <sqlite3.h>\n"),
        ("wasm-shell", "wasm-shell/x.cpp", '#include "rules/gate.h"\n'),
        ("wasm-shell", "wasm-shell/json_x.cpp", '#include "rules/gate.h"\n'),
        ("native-shell", "native-shell/window.cpp", '#include "load/e1rm.h"\n'),
    ]:
        tell(len(shell_findings([(shell, path, text)])) == 1, f"a planted wrong include is noticed: {path} {text.split()[1]}")
    header = ("native-shell", "native-shell/json_x.h", "#include <nlohmann/json.hpp>\n")
    for user, count in (("native-shell/json_y.cpp", 0), ("native-shell/window.cpp", 1)):
        got = shell_findings([header, ("native-shell", user, '#include "json_x.h"\n')])
        tell(len(got) == count, f"a header with a slow library is {'refused to' if count else 'for'} {user}")
    cmake = (ROOT / "CMakeLists.txt").read_text()
    wrong = link_findings(cmake)
    for line in wrong:
        print("# " + line)
    tell(len(LINK.findall(cmake)) >= 7, "the link lines were found")
    tell(not wrong, "no link line goes against the picture")
    for line in ("room(store SEES ops sync)", "room(screens SEES model USES sqlite3)", "room(report SEES store)"):
        tell(len(link_findings(line)) >= 1, f"a planted wrong link is noticed: {line}")
    for program in (("core", "tests"), ("core", "native-shell"), ("core", "wasm-shell")):
        wrong = doubles(program_files(*program))
        for line in wrong:
            print("# " + line)
        tell(not wrong, f"every class has one definition in the program of {' and '.join(program)}")
    planted = "namespace slipway {\nclass One {\n};\n}  // namespace slipway\n"
    hidden = planted.replace("namespace slipway {", "namespace slipway {\nnamespace {").replace("}  //", "}  // namespace\n}  //")
    tell(len(doubles([("a.h", planted), ("b.h", planted)])) == 1, "a planted second definition is noticed")
    tell(not doubles([("a.cpp", hidden), ("b.cpp", hidden)]), "names of unnamed namespaces are their file's own")
    # cereal may be named in headers of sync, but no header that other rooms can see pulls it in.
    outward = {"sync/bundle.h", "sync/door.h", "sync/keys.h", "sync/op_lines.h", "sync/squad_file.h", "sync/zip.h"}
    pulled = {name for header in outward for _, name in INCLUDE.findall((CORE / header).read_text())}
    private = [name for name in pulled - outward if name.startswith(("cereal", "sodium", "sync/"))]
    tell(not private, "the outward headers of sync pull in no cereal, no libsodium and nothing private")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
