#!/usr/bin/env python3
"""The way back of pack_corpus.py: writes each row of a corpus as a file, for the fuzzer to start from.

    tests/fuzz/unpack_corpus.py bundle_corpus.h FOLDER
"""
import hashlib
import pathlib
import re
import sys


def main() -> int:
    if len(sys.argv) != 3:
        print(__doc__, file=sys.stderr)
        return 2
    folder = pathlib.Path(sys.argv[2])
    folder.mkdir(parents=True, exist_ok=True)
    text = (pathlib.Path(__file__).parent / sys.argv[1]).read_text()
    for row in re.findall(r'((?:"[0-9a-f]*"\s*)+),', text):
        content = bytes.fromhex("".join(re.findall(r'"([0-9a-f]*)"', row)))
        (folder / hashlib.sha256(content).hexdigest()[:16]).write_bytes(content)
    return 0


sys.exit(main())
