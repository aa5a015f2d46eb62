#!/usr/bin/env python3
"""A second reader of bundle files, written from the description of the format alone and
sharing nothing with the program: if both say the same, neither is merely agreeing with itself.

    bundle_reader.py FILE...              lists the entries, one JSON object a line
    bundle_reader.py --golden HEADER...   reads the bytes kept in tests/bundles/*.h and
                                          compares the hashes that stand beside them
"""
import base64
import hashlib
import json
import pathlib
import re
import sys

from packed_ops import read_packed

MAGIC = bytes.fromhex("89534c570d0a1a0a")
MANIFEST, RANGES, OPS, SIGNATURE = 1, 3, 5, 6
BEGIN = "=== slipway bundle begins: keep all lines ==="
END = re.compile(r"=== slipway bundle ends: (\d+) bytes, check ([0-9a-f]{16}) ===")


class Refused(Exception):
    pass


def blake(content: bytes) -> bytes:
    return hashlib.blake2b(content, digest_size=32).digest()


def expect(truth: bool, what: str) -> None:
    if not truth:
        raise Refused(what)


class Reader:
    def __init__(self, content: bytes):
        self.content, self.at = content, 0

    def take(self, length: int) -> bytes:
        expect(length <= len(self.content) - self.at, f"cut at byte {self.at}")
        self.at += length
        return self.content[self.at - length:self.at]

    def number(self) -> int:
        value = shift = 0
        while True:
            byte = self.take(1)[0]
            expect(not (byte == 0 and shift > 0), f"a padded number at byte {self.at}")
            value |= (byte & 0x7F) << shift
            shift += 7
            if byte < 0x80:
                expect(value < 1 << 64, f"a number over 64 bits at byte {self.at}")
                return value

    def rows(self, read_row):
        return [read_row() for _ in range(self.number())]

    def finish(self, what: str) -> None:
        expect(self.at == len(self.content), f"something left over in {what}")


def without_armour(content: bytes) -> bytes:
    lines = [line.rstrip() for line in content.decode("utf-8-sig", "replace").splitlines() if line.strip()]
    if not lines or lines[0] != BEGIN:
        return content
    end = END.fullmatch(lines[-1])
    expect(end is not None, "the last line of the text is missing")
    bare = base64.b64decode("".join(lines[1:-1]), validate=True)
    expect(len(bare) == int(end[1]) and blake(bare)[:8].hex() == end[2], "the text was changed")
    return bare


def read_sections(content: bytes):
    expect(content[:8] == MAGIC, "not a bundle")
    reader = Reader(content[:-32])
    reader.take(8)
    major, minor, min_reader, flags, total, header_length, count = (reader.number() for _ in range(7))
    expect(major in (0, 1) and min_reader == 0 and flags in (0, 2), f"version {major}.{minor} is not known here, or it is sealed")
    expect(total == len(content), "the length is not true")
    expect(blake(content[:-32]) == content[-32:], "the hash is not true")
    table = [(reader.number(), reader.number(), reader.number(), reader.number(), reader.take(8)) for _ in range(count)]
    header = Reader(reader.take(header_length))
    op_count = header.number()
    header.finish("header")
    sections, packed = {}, False
    for kind, codec, stored, raw, check in table:
        part = reader.take(stored)
        expect(blake(part)[:8] == check, f"the check of section {kind} is not true")
        expect(codec == 0 and stored == raw or codec == 1 and kind == OPS, f"section {kind} is packed in a way not known here")
        sections[kind] = part
        packed = packed or codec == 1
    reader.finish("file")
    expect((flags == 2) == (SIGNATURE in sections), "the flags are not true")
    return sections, op_count, packed


def read_manifest(section: bytes):
    reader = Reader(section)
    manifest = {"device": reader.take(16).hex(), "export_counter": reader.number()}
    incarnations = reader.rows(lambda: reader.take(16))
    manifest["created_by"] = incarnations[reader.number()].hex()
    scopes = reader.rows(lambda: reader.take(16))
    streams = reader.rows(lambda: (scopes[reader.number()], incarnations[reader.number()]))
    reader.finish("manifest")
    manifest["scopes"] = [scope.hex() for scope in scopes]
    return manifest, streams


def described(scope, inc, seq, body, op_hash):
    head = Reader(body)
    return {"scope": scope.hex(), "inc": inc.hex(), "seq": seq, "hash": op_hash.hex(),
            "lam": head.number(), "kind": head.number(), "fields": head.number(), "bytes": len(body)}


def number_at(content: bytes, at: int):
    reader = Reader(content)
    reader.at = at
    return reader.number(), reader.at


def read_packed_ops(section: bytes, streams):
    return [described(*op) for op in read_packed(section, streams, number_at)]


def read_ops(section: bytes, streams):
    reader = Reader(section)
    ops = []
    for _ in range(reader.number()):
        scope, inc = streams[reader.number()]
        first = reader.number()
        before = reader.take(32) if first > 1 else blake(b"slipway stream 0" + scope + inc)
        count = reader.number()
        inside = Reader(reader.take(reader.number()))
        for seq in range(first, first + count):
            body = inside.take(inside.number())
            before = blake(before + body)
            ops.append(described(scope, inc, seq, body, before))
        inside.finish("chunk")
        expect(reader.take(8) == before[:8], f"the chain of {inc.hex()[:8]} does not end where the chunk says")
    reader.finish("ops")
    return ops


def read_ranges(section: bytes, streams):
    reader = Reader(section)
    holdings = []
    for _ in range(reader.number()):
        scope, inc = streams[reader.number()]
        forked = reader.number() == 1
        spans, following = [], 1
        for _ in range(reader.number()):
            first = following + reader.number()
            last = first + reader.number()
            spans.append([first, last])
            following = last + 1
        head = {0: "genesis", 1: "in ops", 2: "written"}[reader.number()]
        holdings.append({"scope": scope.hex(), "inc": inc.hex(), "spans": spans, "forked": forked,
                         "head": reader.take(32).hex() if head == "written" else head})
    reader.finish("ranges")
    return holdings


def read_bundle(content: bytes):
    content = without_armour(content)
    sections, op_count, packed = read_sections(content)
    manifest, streams = read_manifest(sections[MANIFEST])
    ops = (read_packed_ops if packed else read_ops)(sections[OPS], streams)
    expect(len(ops) == op_count, "the count of entries is not true")
    return {**manifest, "holdings": read_ranges(sections[RANGES], streams), "file_hash": content[-32:].hex()}, ops


def raw_bytes(content: bytes) -> bytes:
    """Everything that a bundle says, as it is before it is packed: manifest, ranges, and each op with its place."""
    sections, _, packed = read_sections(without_armour(content))
    streams = read_manifest(sections[MANIFEST])[1]
    if not packed:
        return sections[MANIFEST] + sections[RANGES] + sections[OPS]
    return sections[MANIFEST] + sections[RANGES] + b"".join(op[0] + op[1] + op[3] for op in read_packed(sections[OPS], streams, number_at))


def varint(value: int) -> bytes:
    out = bytearray()
    while value >= 0x80:
        out.append(value & 0x7F | 0x80)
        value >>= 7
    return bytes(out) + bytes([value])


def digest_of_ops(ops) -> str:
    """BLAKE2b-256 over (scope, inc, seq, hash) of every op, sorted so, each once."""
    places = sorted({(op["scope"], op["inc"], op["seq"], op["hash"]) for op in ops})
    content = b"".join(bytes.fromhex(scope) + bytes.fromhex(inc) + varint(seq) + bytes.fromhex(op_hash)
                       for scope, inc, seq, op_hash in places)
    return blake(content).hex()


def check_golden(path: str) -> int:
    text = pathlib.Path(path).read_text()
    arrays = {name: bytes.fromhex("".join(re.findall(r"0x([0-9a-f]{2})", body)))
              for name, body in re.findall(r"std::uint8_t (k_\w+)\[\] = \{(.*?)\};", text, re.S)}
    rows = re.findall(r'\{"\w+", (k_\w+), sizeof\(k_\w+\), (\d+),\s*"([0-9a-f]{64})",\s*"([0-9a-f]{64})"\}', text)
    expect(len(rows) == len(arrays) > 0, f"{path}: {len(arrays)} files and {len(rows)} rows about them")
    for name, op_count, ops_digest, file_hash in rows:
        bundle, ops = read_bundle(arrays[name])
        expect(len(ops) == int(op_count), f"{name}: {len(ops)} entries, {op_count} expected")
        expect(bundle["file_hash"] == file_hash, f"{name}: another file hash")
        expect(digest_of_ops(ops) == ops_digest, f"{name}: another digest of ops")
        changed = bytearray(arrays[name])
        changed[len(changed) // 2] ^= 1
        try:
            read_bundle(bytes(changed))
        except Refused:
            pass
        else:
            raise Refused(f"{name}: a changed byte was not noticed")
        print(f"digest sync.golden.{name[2:]} {ops_digest}")
    return len(rows)


def main(arguments) -> int:
    if not arguments or arguments == ["--golden"]:
        print(__doc__, file=sys.stderr)
        return 2
    try:
        if arguments[0] == "--golden":
            print(f"{sum(check_golden(path) for path in arguments[1:])} golden bundles read by the second reader")
            return 0
        for path in arguments:
            bundle, ops = read_bundle(pathlib.Path(path).read_bytes())
            print(json.dumps({"bundle": path, **bundle, "ops": len(ops)}))
            for op in ops:
                print(json.dumps(op))
        return 0
    except (Refused, OSError, IndexError, KeyError, ValueError) as why:
        print(f"refused: {why}", file=sys.stderr)
        return 3


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
