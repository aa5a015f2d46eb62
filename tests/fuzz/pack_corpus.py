#!/usr/bin/env python3
"""Packs a folder of fuzz inputs into a header, because the wasm tests have no files. NAME: Bundle or PackedOps.

    build/…/read_bundle_fuzz -merge=1 -use_counters=0 kept found    # the smallest set that reaches as much
    tests/fuzz/pack_corpus.py Bundle kept > tests/fuzz/bundle_corpus.h
"""
import pathlib
import sys

COLUMNS = 150


def main() -> int:
    if len(sys.argv) != 3:
        print(__doc__, file=sys.stderr)
        return 2
    inputs = sorted({path.read_bytes() for path in pathlib.Path(sys.argv[2]).iterdir() if path.is_file()})
    print("// Inputs that together reach every corner the fuzzer has found, as hex. Made by")
    print("// pack_corpus.py; a crash becomes a row of its own, and stays.")
    print("#pragma once\n\n#include <string_view>\n")
    print("namespace slipway::fuzz {\n")
    print(f"inline constexpr std::string_view k{sys.argv[1]}Corpus[] = {{")
    for content in inputs:
        digits = content.hex()
        rows = [digits[at:at + COLUMNS] for at in range(0, len(digits), COLUMNS)] or [""]
        print("    " + "\n    ".join(f'"{row}"' for row in rows) + ",")
    print("};\n\n}  // namespace slipway::fuzz")
    return 0


sys.exit(main())
