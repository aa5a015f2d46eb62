#!/usr/bin/env python3
"""Every text a room or shell names is in the one text table, and every row of the table is named."""
import pathlib
import re
import sys

TOP = pathlib.Path(__file__).resolve().parent.parent.parent
ROW = re.compile(r"^([a-z_]+\.[a-z_0-9]+) \| (.*)$")
LITERAL = re.compile(r'"([a-z_]+\.[a-z_0-9]+)"')
NOT_TEXTS = {"here.athlete", "draft.set", "handed.over", "slipway.db", "texts.table", "ladders.table", "licences.table", "demo.table",
             "slipway.lock", "pain.csv", "archive.format", "erase.seen", "erase.hides", "erase.shown", "erase.confirmed"}


def main():
    rows = dict(m.groups() for m in map(ROW.match, (TOP / "assets/texts.table").read_text().splitlines()) if m)
    groups = {name.split(".")[0] for name in rows}
    named = {}
    for folder in ("core", "native-shell", "wasm-shell"):
        for path in sorted((TOP / folder).rglob("*")):
            if path.suffix not in (".cpp", ".h"):
                continue
            for name in LITERAL.findall(path.read_text()):
                if name.split(".")[0] in groups and name not in NOT_TEXTS:
                    named.setdefault(name, path.relative_to(TOP))
    failed = 0

    def tell(fine, words):
        nonlocal failed
        print(("ok - " if fine else "not ok - ") + words)
        failed += 0 if fine else 1

    missing = sorted(name for name in named if name not in rows)
    for name in missing:
        print(f"# {named[name]} names {name}")
    tell(not missing, "every text that is named has a row")
    unused = sorted(set(rows) - set(named))
    for name in unused:
        print(f"# nobody names {name}")
    tell(not unused, "every row is named by somebody")
    loud = [name for name, words in rows.items() if "!" in words]
    tell(not loud, "no text has an exclamation mark")
    tell(len(rows) > 100, "the table was found")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
