"""Codec 1 of the ops section, read in Python: written from core/sync/format.md, sharing nothing with the program."""
import hashlib

ALL_ONES = (1 << 64) - 1
STEADY = 160
RATES = [65536 * 5 // (5 * n + 8) for n in range(STEADY + 1)]

SESSION, SET = 8, 10
NONCE, TIME, SINCE_START, OWN = 1, 3, 5, 16
ROUND, REST = 18, 31
UNSIGNED, SIGNED, TEXT, LIST, REFS = 0, 1, 2, 4, 5
MOST_COLUMNS, MOST_KINDS, MOST_INCS, MOST_FIELD = 1024, 64, 4096, 16384


def wrap(value):
    """To a signed number of 64 bits."""
    value &= ALL_ONES
    return value - (1 << 64) if value >> 63 else value


def zigzag(value):
    return ((value << 1) ^ (value >> 63)) & ALL_ONES


def unzigzag(value):
    return wrap((value >> 1) ^ (-(value & 1) & ALL_ONES))


def toward_zero(value, by):
    return value // by if value >= 0 else -(-value // by)


def varint(value):
    out = bytearray()
    while value >= 0x80:
        out.append(value & 0x7F | 0x80)
        value >>= 7
    out.append(value)
    return bytes(out)


class Coder:
    def __init__(self, content):
        self.content, self.at, self.range, self.code = content, 4, 0xFFFFFFFF, 0
        for i in range(4):
            self.code = self.code << 8 | (content[i] if i < len(content) else 0)

    def fill(self):
        while self.range < 1 << 24:
            self.range = self.range << 8 & 0xFFFFFFFF
            self.code = (self.code << 8 & 0xFFFFFFFF) | (self.content[self.at] if self.at < len(self.content) else 0)
            self.at += 1

    def decide(self, chance):
        """chance: [of no, decisions seen]"""
        bound = self.range * chance[0] >> 16
        yes = self.code >= bound
        if yes:
            self.code -= bound
            self.range -= bound
        else:
            self.range = bound
        rate = RATES[chance[1]]
        no = chance[0]
        no = no - (no * rate >> 16) if yes else no + ((65536 - no) * rate >> 16)
        chance[0] = min(max(no, 32), 65504)
        chance[1] = min(chance[1] + 1, STEADY)
        self.fill()
        return yes

    def direct(self, bits):
        value = 0
        while bits > 0:
            now = min(bits, 16)
            bits -= now
            self.range >>= now
            part = self.code // self.range
            if part >> now:
                raise ValueError("no writer wrote these packed ops")
            self.code -= part * self.range
            value = value << now | part
            self.fill()
        return value


def fresh():
    return [32768, 0]


class Symbol:
    def __init__(self, bits):
        self.bits, self.chances = bits, {}

    def read(self, coder):
        node = 1
        for _ in range(self.bits):
            node = node << 1 | coder.decide(self.chances.setdefault(node, fresh()))
        return node - (1 << self.bits)


class Number:
    def __init__(self):
        self.widths, self.top = Symbol(6), {}

    def read(self, coder):
        width = self.widths.read(coder)
        if width == 63:
            return coder.direct(64)
        if width < 2:
            return width
        left = width - 1
        learned = min(left, 4) if width < 24 else 0
        value = node = 1
        for _ in range(learned):
            yes = coder.decide(self.top.setdefault((width, node), fresh()))
            node, value = node << 1 | yes, value << 1 | yes
        return value << (left - learned) | coder.direct(left - learned)


class Sameness:
    def __init__(self):
        self.steady, self.chance = 4, fresh()

    def read(self, coder):
        return self.steady > 0 and coder.decide(self.chance)

    def learn(self, same):
        if same:
            self.steady += 1 if self.steady < 8 else 0
        else:
            self.steady -= 2 if self.steady > -6 else 0


class Values:
    def __init__(self):
        self.sameness, self.places, self.fresh = Sameness(), Symbol(5), Number()
        self.recent, self.next, self.last = [], 0, 0

    def read(self, coder):
        if self.sameness.read(coder):
            value = self.last
        else:
            place = self.places.read(coder)
            if place == 31 or place >= len(self.recent):
                value = self.fresh.read(coder)
                if len(self.recent) < 31:
                    self.recent.append(value)
                else:
                    self.recent[self.next] = value
                self.next = (self.next + 1) % 31
            else:
                value = self.recent[place]
        self.sameness.learn(value == self.last)
        self.last = value
        return value


class Letters:
    def __init__(self):
        self.length, self.after = Number(), [Symbol(8) for _ in range(8)]

    def read(self, coder):
        word, before = bytearray(), 0
        for _ in range(min(self.length.read(coder), MOST_FIELD)):
            word.append(self.after[before].read(coder))
            before = word[-1] >> 5
        return bytes(word)


class Words:
    NONE = 255

    def __init__(self):
        self.sameness, self.spaces, self.places = Sameness(), Values(), Symbol(8)
        self.known, self.next, self.first, self.last = [], 0, self.NONE, b""

    def read(self, coder, letters):
        if self.sameness.read(coder):
            text = self.last
        else:
            words = []
            for nth in range(self.spaces.read(coder) + 1):
                word, place = self.one(coder, letters)
                words.append(word)
                if nth == 0:
                    self.first = place
                if sum(map(len, words)) + nth > MOST_FIELD:
                    break
            text = b" ".join(words)
        self.sameness.learn(text == self.last)
        self.last = text
        return text, self.first

    def one(self, coder, letters):
        place = self.places.read(coder)
        if place < len(self.known):
            return self.known[place], place
        word, place = letters.read(coder), self.next
        if len(self.known) < self.NONE:
            self.known.append(word)
        else:
            self.known[place] = word
        self.next = (self.next + 1) % self.NONE
        return word, place


class Column:
    def __init__(self):
        self.value, self.words = Values(), Words()
        self.rounds = {}  # word's place: (last, session)
        self.count, self.elements = Values(), [Values() for _ in range(4)]
        self.loads, self.last_load = {}, 0
        self.distance, self.stream, self.inc = Values(), Values(), Values()
        self.ways, self.other_distance, self.seq = [Symbol(3), Symbol(3)], Number(), Number()
        self.last_ref, self.last_seq = (bytes(16), 0, bytes(8)), {}
        self.length, self.bytes = Values(), Symbol(8)


class Times:
    def __init__(self):
        self.minutes, self.earlier, self.apart, self.last = fresh(), [fresh(), fresh()], [Number(), Number()], 0


class Shape:
    def __init__(self, kind, fields):
        self.kind, self.fields = kind, fields  # (tag, wire, column)
        self.opens, self.stays, self.next = fresh(), fresh(), Symbol(6)


class OpReader:
    def __init__(self, coder, streams):
        """streams: (scope, incarnation), as the manifest lists them"""
        self.coder, self.streams = coder, streams
        self.known = [(1, []) for _ in streams]
        self.incs = list(dict.fromkeys(inc for _, inc in streams))
        self.stream = self.lam = 0
        self.shapes, self.first_shape, self.last_shape = [], Shape(0, []), None
        self.kinds, self.counts, self.gaps, self.wires = Number(), Number(), Number(), Symbol(3)
        self.columns, self.rest_of_columns = {}, Column()
        self.times, self.rest_of_times = {}, Times()
        self.lams, self.letters = Values(), Letters()
        self.last_time = self.low = self.high = 0
        self.start_known, self.sessions = False, 1

    def begin(self, stream, first_seq):
        if stream != self.stream:
            self.lam = 0
        self.stream = stream
        self.known[stream] = (first_seq, [])

    def stands(self, op_hash):
        self.known[self.stream][1].append(op_hash[:8])

    def op(self):
        shape = self.shape()
        self.lam = (self.lam + self.lams.read(self.coder) + 1) & ALL_ONES
        opened = self.coder.decide(shape.opens)
        nonce = None
        if opened:
            nonce = self.coder.direct(64).to_bytes(8, "big")
            self.start_known = False
        self.key, self.refs, self.rest, self.time = Words.NONE, [], 0, 0
        payloads = {}
        for tag, wire, column in shape.fields:
            if shape.kind == SET and (tag, wire) == (REST, UNSIGNED):
                value = column.value.read(self.coder)
                self.rest = wrap(value)
                payloads[tag] = varint(value)
        for tag, wire, column in shape.fields:
            if (tag, wire) == (TIME, SIGNED):
                payloads[tag] = self.claimed(shape.kind)
        for tag, wire, column in shape.fields:
            if tag not in payloads:
                payloads[tag] = self.payload(shape.kind, tag, wire, column)
        fields = [(tag, wire, payloads[tag]) for tag, wire, _ in shape.fields]
        if opened:
            fields.append((NONCE, 3, nonce))
            fields.sort(key=lambda field: field[0])
        if shape.kind == SESSION:
            self.sessions += 1
        head = varint(self.lam) + varint(shape.kind) + varint(len(fields))
        return head + b"".join(varint(tag) + bytes([wire]) + varint(len(payload)) + payload for tag, wire, payload in fields)

    def shape(self):
        before = self.last_shape or self.first_shape
        if self.last_shape and self.coder.decide(before.stays):
            return self.last_shape
        place = before.next.read(self.coder)
        if place >= len(self.shapes):
            self.last_shape = self.spelled_shape()
            if len(self.shapes) < 63:
                self.shapes.append(self.last_shape)
        else:
            self.last_shape = self.shapes[place]
        return self.last_shape

    def spelled_shape(self):
        kind = self.kinds.read(self.coder) & 0xFFFFFFFF
        fields, following = [], 0
        for _ in range(min(self.counts.read(self.coder), 256)):
            tag = following + self.gaps.read(self.coder) & 0xFFFFFFFF
            wire = self.wires.read(self.coder)
            if wire == 7:
                wire = self.coder.direct(8)
            fields.append((tag, wire, self.column(kind, tag, wire)))
            following = tag + 1
        return Shape(kind, fields)

    def column(self, kind, tag, wire):
        place = (0 if tag < OWN else kind, tag, wire)
        if place not in self.columns:
            if len(self.columns) == MOST_COLUMNS:
                return self.rest_of_columns
            self.columns[place] = Column()
        return self.columns[place]

    def claimed(self, kind):
        if kind not in self.times and len(self.times) < MOST_KINDS:
            self.times[kind] = Times()
        times = self.times.get(kind, self.rest_of_times)
        base = wrap((times.last if kind == SESSION else self.last_time) + self.rest)
        minutes = self.coder.decide(times.minutes)
        earlier = self.coder.decide(times.earlier[minutes])
        apart = times.apart[minutes].read(self.coder) * (60000 if minutes else 1)
        self.time = times.last = self.last_time = wrap(base + (-apart if earlier else apart))
        return varint(zigzag(self.time))

    def payload(self, kind, tag, wire, column):
        if wire == UNSIGNED:
            if tag == SINCE_START:
                return varint(self.since(column))
            if kind == SET and tag == ROUND:
                return varint(self.round(column))
            return varint(column.value.read(self.coder))
        if wire == SIGNED:
            day = 0 if tag < OWN else self.time // 86400000
            return varint(zigzag(wrap(unzigzag(column.value.read(self.coder)) + day)))
        if wire == TEXT:
            text, first = column.words.read(self.coder, self.letters)
            if self.key == Words.NONE:
                self.key = first
            return text
        if wire == LIST:
            return b"".join(varint(value) for value in self.list(column))
        if wire == REFS:
            return self.references(column)
        length = min(column.length.read(self.coder), MOST_FIELD + 1)
        return bytes(column.bytes.read(self.coder) for _ in range(length))

    def since(self, column):
        base = 0
        if self.start_known:
            middle = wrap(self.low + toward_zero(wrap(self.high - self.low), 2))
            base = wrap(self.time - middle) // 60000
        value = (base + column.value.read(self.coder)) & ALL_ONES
        high = wrap(self.time - value * 60000)
        low = wrap(high - 59999)
        if not self.start_known or low > self.high or high < self.low:
            self.low, self.high = low, high
        else:
            self.low, self.high = max(self.low, low), min(self.high, high)
        self.start_known = True
        return value

    def round(self, column):
        last, session = column.rounds.get(self.key, (0, 0))
        value = ((last + 1 if session == self.sessions else 1) + column.value.read(self.coder)) & ALL_ONES
        column.rounds[self.key] = (value, self.sessions)
        return value

    def list(self, column):
        count = min(column.count.read(self.coder), MOST_FIELD + 1)
        if count != 3:
            return [column.elements[min(i, 3)].read(self.coder) for i in range(count)]
        decimals, unit = column.elements[1].read(self.coder), column.elements[2].read(self.coder)
        thousandths = 10 ** max(0, 3 - decimals)
        base = toward_zero(column.loads.get(self.key, column.last_load), thousandths)
        value = wrap(unzigzag(column.elements[0].read(self.coder)) + base)
        column.loads[self.key] = column.last_load = wrap(value * thousandths)
        return [zigzag(value), decimals, unit]

    def references(self, column):
        out = b""
        home = self.streams[self.stream][1]
        for nth in range(column.count.read(self.coder)):
            inc, seq, short = ref = self.reference(column, nth)
            self.refs.append(ref)
            column.last_ref = ref
            out += (b"\0" if inc == home else b"\1" + inc) + varint(seq) + short
            if len(out) > MOST_FIELD:
                break
        return out

    def reference(self, column, nth):
        way = column.ways[0 if nth == 0 else 1].read(self.coder)
        if way == 0:
            return column.last_ref
        if way == 1:
            return self.refs[-1]
        if way in (2, 3):
            stream = self.stream if way == 2 else column.stream.read(self.coder)
            distance = (column.distance if way == 2 else column.other_distance).read(self.coder)
            first, hashes = self.known[stream]
            if not 1 <= distance <= len(hashes):
                raise ValueError("a reference to nowhere")
            return self.streams[stream][1], first + len(hashes) - distance, hashes[-distance]
        place = column.inc.read(self.coder)
        if place >= len(self.incs):
            inc, place = bytes(self.coder.direct(8) for _ in range(16)), len(self.incs)
            if place < MOST_INCS:
                self.incs.append(inc)
        else:
            inc = self.incs[place]
        seq = (column.last_seq.get(place, 0) + unzigzag(column.seq.read(self.coder))) & ALL_ONES
        column.last_seq[place] = seq
        return inc, seq, bytes(self.coder.direct(8) for _ in range(8))


def read_packed(section, streams, number_at):
    """Yields (scope, incarnation, seq, op bytes, hash). number_at(content, at) hands back (number, at behind it)."""
    def blake(content):
        return hashlib.blake2b(content, digest_size=32).digest()

    count, at = number_at(section, 0)
    pieces = []
    for _ in range(count):
        stream, at = number_at(section, at)
        first, at = number_at(section, at)
        scope, inc = streams[stream]
        before = blake(b"slipway stream 0" + scope + inc)
        if first > 1:
            before, at = section[at:at + 32], at + 32
        op_count, at = number_at(section, at)
        pieces.append((stream, first, before, op_count, section[at:at + 8]))
        at += 8
    reader = OpReader(Coder(section[at:]), streams)
    for stream, first, before, op_count, check in pieces:
        reader.begin(stream, first)
        for seq in range(first, first + op_count):
            body = reader.op()
            before = blake(before + body)
            reader.stands(before)
            yield (*streams[stream], seq, body, before)
        if before[:8] != check:
            raise ValueError(f"the chain of {streams[stream][1].hex()[:8]} does not end where the file says")
