#!/usr/bin/env python3
"""The golden bundles, read by the reader that shares no line with the program; and the reader itself, held to account."""
import pathlib
import re
import subprocess
import sys
import tempfile

TOP = pathlib.Path(__file__).resolve().parent.parent.parent
READER = TOP / "tests" / "cli" / "bundle_reader.py"


def read_golden(*headers):
    return subprocess.run([sys.executable, str(READER), "--golden", *map(str, headers)], capture_output=True, text=True, check=False)


def with_digit_changed(text, at):
    return text[:at] + f"{int(text[at], 16) ^ 1:x}" + text[at + 1:]


def main():
    failed = 0

    def tell(fine, name):
        nonlocal failed
        print(("ok - " if fine else "not ok - ") + name)
        failed += 0 if fine else 1

    headers = sorted((TOP / "tests" / "bundles").glob("*.h"))
    got = read_golden(*headers)
    print(got.stdout + got.stderr, end="")
    tell(got.returncode == 0 and got.stdout.count("digest sync.golden.") >= len(headers) > 0,
         "a second reader finds the same entries, digests and file hashes in every golden bundle")
    text = headers[0].read_text()
    digest = re.search(r'"[0-9a-f]{64}"', text).start() + 1
    last_byte = text.rindex("0x", 0, text.index("};")) + 2
    changes = {
        "a digest that is not the bundle's": with_digit_changed(text, digest),
        "a file whose last byte was changed": with_digit_changed(text, last_byte),
    }
    with tempfile.TemporaryDirectory() as folder:
        for what, changed in changes.items():
            path = pathlib.Path(folder) / "changed.h"
            path.write_text(changed)
            tell(read_golden(path).returncode == 3, f"the second reader refuses {what}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
