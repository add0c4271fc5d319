"""Files that a stranger might send: a client and a block, one of them made to hurt. Each must be refused."""

from __future__ import annotations

CLIENT = b"""format: 1
client: {name: Ada Quill, units: kg}
training: {status: novice, months: 3, days: [mon], session_minutes: 60, starts: 2027-01-11}
lifts:
  back squat: {tests: [{date: 2027-01-02, load: 60, reps: 5, rir: 2}]}
gym: {bars: {bar: 20}, pairs: {20: 2, 10: 1, 5: 1, 2.5: 1, 1.25: 1}, safeties: true, spotter: always}
screening: {answered: 2027-01-02}
"""
HEAD = b"format: 1\nblock: {title: Short, weeks: 1, suits: [novice]}\ndays:\n"
SLOT = b"      - {movement: back squat, progression: {kind: single, sets: 20, reps: 5, add: 2.5 kg}}\n"
DAY = b"  - title: Squat\n    slots:\n"
BLOCK = HEAD + DAY + SLOT.replace(b"sets: 20", b"sets: 3")


def _client(old: str, new: str | bytes) -> tuple[bytes, bytes]:
    assert old.encode() in CLIENT
    return CLIENT.replace(old.encode(), new if isinstance(new, bytes) else new.encode(), 1), BLOCK


def _block(old: str, new: str) -> tuple[bytes, bytes]:
    assert old.encode() in BLOCK
    return CLIENT, BLOCK.replace(old.encode(), new.encode(), 1)


def _alone(data: bytes) -> tuple[bytes, bytes]:
    return data, BLOCK


def _bomb() -> bytes:
    lines = ["format: 1", "a0: &a0 [x,x,x,x,x,x,x,x,x]"]
    lines += [f"a{n}: &a{n} [{','.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 9)]
    return "\n".join(lines).encode()


def _many(item: str, count: int) -> str:
    return ", ".join(item.replace("#", str(n)) for n in range(count))


PAIRS = "{20: 2, 10: 1, 5: 1, 2.5: 1, 1.25: 1}"
LOAD, REPS = "load: 60", "reps: 5"
TEST = "rir: 2}]"
DIGITS = "9" * 100_000
WEEK = _client("[mon]", "[mon, tue, wed, thu, fri, sat, sun]")[0]

HOSTILE: dict[str, tuple[bytes, bytes]] = {
    "alias bomb": _alone(_bomb()),
    "wide aliases": _alone(b"format: 1\nx: &x [" + b"a," * 19_000 + b"]\ny: [" + b"*x," * 100_000 + b"]\n"),
    "alias in itself": _alone(b"format: 1\nclient: &x [*x]\n"),
    "flow lists, never closed": _alone(b"format: 1\nx: " + b"[" * 200_000),
    "flow lists, closed": _alone(b"format: 1\nx: " + b"[" * 200_000 + b"]" * 200_000),
    "flow mappings": _alone(b"format: 1\nx: " + b"{a: " * 120_000),
    "block mappings": _alone(b"\n".join(b" " * n + b"a:" for n in range(1000))),
    "keys within keys": _alone(b"? " * 250_000),
    "tag that runs a command": _alone(b'format: 1\nclient: !!python/object/apply:os.system ["touch pwned"]\n'),
    "very many tags": _alone(b"format: 1\nclient: [" + b"!!python/name:os.system a," * 15_000 + b"]\n"),
    "a NUL": _alone(CLIENT + b"\0"),
    "only NULs": _alone(b"\0" * 500_000),
    "UTF-16": _alone(CLIENT.decode().encode("utf-16")),
    "UTF-16 without a mark": _alone(CLIENT.decode().encode("utf-16-le")),
    "UTF-32": _alone(CLIENT.decode().encode("utf-32")),
    "Latin-1": _client("Ada", "Adä".encode("latin-1")),
    "half a letter": _alone(CLIENT + b"\xc3"),
    "a surrogate": _client("Ada", b"\xed\xa0\x80"),
    "keys twice": _alone(b"format: 1\n" + b"a: 1\n" * 9_000),
    "keys twice in one line": _alone(b"{format: 1" + b",a: 1" * 9_900 + b"}"),
    "a huge exponent": _client(LOAD, "load: 1e999999"),
    "a load of many digits": _client(LOAD, f"load: {DIGITS}"),
    "a load of 200 digits": _client(LOAD, f"load: {DIGITS[:200]}"),
    "a share of many digits": _client(TEST, f"rir: 2}}], working_max: 0.{DIGITS[:19_000]} %"),
    "a share of 100 digits": _client(TEST, f"rir: 2}}], working_max: {DIGITS[:100]} %"),
    "reps of many digits": _client(REPS, f"reps: {DIGITS}"),
    "a month 99": _client("2027-01-02, load", "9999-99-99, load"),
    "the year 9999": _client("starts: 2027-01-11", "starts: 9999-12-31"),
    "the year 0": _client("starts: 2027-01-11", "starts: 0000-00-00"),
    "a pin hole of many digits": _block("{movement", f"{{drill: pin squat, of: back squat, progression: {{kind: pins, "
                                        f"from: hole {DIGITS[:90]}, to: hole 1}}}}\n      - {{movement"),
    "a pin hole that is no number": _block("{movement", "{drill: pin squat, of: back squat, progression: {kind: pins, "
                                           "from: hole ², to: hole 1}}\n      - {movement"),
    "a huge name": _client("Ada Quill", "A" * 500_000),
    "a huge key": _client("name:", "n" * 1000 + ": x, name:"),
    "a million weeks": _block("weeks: 1,", "weeks: 1000000,"),
    "a million sets": _block("sets: 3", "sets: 1000000"),
    "a million pairs": _client("20: 2,", "20: 1000000,"),
    "sixty days of sixteen slots": (
        CLIENT.replace(b"units", b"units", 1), HEAD.replace(b"weeks: 1", b"weeks: 52") + (DAY + SLOT * 16) * 60,
    ),
    "a full year": (WEEK, HEAD.replace(b"weeks: 1", b"weeks: 52") + (DAY + SLOT * 16) * 7),
    "a full year in turn": (
        WEEK, HEAD.replace(b"weeks: 1,", b"weeks: 52, rolling: true,") + (DAY + SLOT * 15) * 60,
    ),
    "very many days": (CLIENT, HEAD + (DAY + SLOT) * 1_500),
    "very many slots": (CLIENT, BLOCK + SLOT * 5_500),
    "very many broken slots": (CLIENT, BLOCK + b"      - {movement: x, progression: y}\n" * 3_000),
    "very many tests": _client(TEST, "rir: 2}" + ", {date: 2027-01-02, load: 60, reps: 5}" * 2_200 + "]"),
    "very many broken tests": _client(TEST, "rir: 2}" + ', {date: x, load: "6,5", reps: y}' * 2_200 + "]"),
    "very many lifts": _client("lifts:\n", "lifts:\n" + "".join(
        f"  lift{n}: {{tests: [{{date: 2027-01-02, load: 60, reps: 5}}]}}\n" for n in range(1_800))),
    "very many plates": _client(PAIRS, "{" + ", ".join(f"{n / 1000:.3f}: 40" for n in range(1, 8_000)) + "}"),
    "plates that make millions of loads": _client(
        PAIRS, "{" + ", ".join(f"{3**n / 100_000:.5f}: 40" for n in range(14)) + "}"),
    "very many bars": _client("{bar: 20}", "{" + _many("b#: 20", 9_000) + "}"),
    "pieces that make millions of loads": _client(
        "bars:", "dumbbells: {from: 1, to: 400, step: 1, add: ["
        + ", ".join(f"{2**n / 10_000:.4f}" for n in range(20)) + "]}, bars:"),
    "unknown keys in one line": _alone(b"format: 1\nclient: {" + _many("clien#: 1", 9_900).encode() + b"}\n"),
    "unknown keys": _alone(b"format: 1\n" + b"".join(b"clien%d: 1\n" % n for n in range(9_900))),
    "tabs": _alone(b"\ta\n" * 170_000),
    "blanks": _alone(b"format: 1\nclient: [" + b",".join([b"~"] * 19_000) + b"]\n"),
    "limits of unknown movements": _alone(
        CLIENT + f"limits:\n  - {{area: x, avoid: [{_many('back squa#', 9_000)}]}}\n".encode()),
    "very many replacements": _alone(CLIENT + b"limits:\n  - {area: x, avoid: [back squat], instead: {"
                                     + ", ".join(f"m{n}: m{n + 1}" for n in range(6_000)).encode() + b"}}\n"),
    "very many movements": _alone(
        CLIENT + b"movements:\n" + b"".join(b"  m%d: {pattern: squat}\n" % n for n in range(4_900))),
    "very many phases": _block("suits:", "phases: [" + _many("{title: t, weeks: 1}", 3_500) + "], suits:"),
    "very many cues": _block("progression:", "cues: [" + _many("c", 15_000) + "], progression:"),
    "a value full of blanks": _block("add: 2.5 kg", 'add: "2' + " " * 19_000 + 'x %"'),
    "a cadence full of blanks": _block("suits:", 'milestones: "1' + " " * 19_000 + 'x", suits:'),
    "directives": _alone(b"%YAML 1.1\n" * 30_000 + b"---\n" + CLIENT),
    "documents": _alone(b"--- a\n" * 60_000),
    "colons": _alone(b"a: " * 150_000),
    "escape signs": _client("Ada Quill", '"\\x1b[31mAda"'),
    "a line that turns round": _client("Ada Quill", "Ada \N{RIGHT-TO-LEFT OVERRIDE}lliuQ"),
    "a line end that is none": _client("Ada Quill", '"Ada\\u2028Quill"'),
    "a code point that is no letter": _client("Ada Quill", '"Ada\\uFFFF"'),
}  # fmt: skip
"""Client and block by what is wrong with them."""
