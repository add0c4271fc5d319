"""Sessions read back from the text that poppler finds on their pages, by patterns of their own."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

SPEECH = {
    "en": {"ramp": "ramp", "empty": "empty bar", "body": "BW", "each": "each", "point": ".",
           "opener": "Opener", "later": "planned|about", "roles": "top|back-off",
           "feel": "by feel", "side": "each side", "today": "today"},
    "de": {"ramp": "aufwärmen|warm", "empty": "leere Stange", "body": "KGW", "each": "je", "point": ",",
           "opener": "Erstversuch", "later": "geplant|etwa", "roles": "Top|Back-off",
           "feel": "nach Gefühl", "side": "je Seite", "today": "heute"},
}  # fmt: skip
"""What a reader must know of each language to read a plan."""


@dataclass
class Told:
    """What is said of one session in order: load, reps and side of warm-up and working sets, sets of the log, and
    the attempts of a test, the side of the first of a lift besides."""

    ramp: list[tuple[str, str, str]] = field(default_factory=list)
    work: list[tuple[str, str, str]] = field(default_factory=list)
    log: list[tuple[str, str]] = field(default_factory=list)
    opener: list[tuple[str, str]] = field(default_factory=list)
    attempts: list[str] = field(default_factory=list)


def poppler(pdf: bytes, folder: Path) -> list[str]:
    """The text of each page in the order of the file, narrow spaces made plain."""
    (folder / "booklet.pdf").write_bytes(pdf)
    done = subprocess.run(["pdftotext", "-raw", folder / "booklet.pdf", "-"], capture_output=True, check=True)
    pages = done.stdout.decode().split("\f")
    return [re.sub(r"[^\S\n]+", " ", page) for page in pages]


def planned(session: dict[str, Any]) -> Told:
    """A session of the plan's JSON, as it should be told."""
    told = Told()
    for slot in session["slots"]:
        for one in slot["sets"]:
            reps = _counted(one)
            load, side = one["load"] or "", "+".join(f"{label}x{count}" for label, count in one["side"])
            if one["role"] == "ramp":
                told.ramp.append((load, reps, side))
            elif slot["kind"] == "attempts":
                told.attempts.append(load)
            else:
                ranged = one["most_reps"] and not (load or one["open_ended"] or one["seconds"] or one["metres"])
                told.work.append((load, f"{reps}–{one['most_reps']}" if ranged else reps, side))
                told.log.append((load, reps))
        if slot["kind"] == "attempts":
            opener = next(one for one in slot["sets"] if one["role"] != "ramp")
            told.opener.append((opener["load"], "+".join(f"{label}x{count}" for label, count in opener["side"])))
    return told


def _counted(one: dict[str, Any]) -> str:
    """Reps, seconds or metres as they are printed: "8+", "45 s", "2:30 min", "40 m"."""
    if one["metres"]:
        return f"{one['metres']} m"
    if not one["seconds"]:
        return f"{one['reps']}{'+' if one['open_ended'] else ''}"
    minutes, seconds = divmod(one["seconds"], 60)
    if one["seconds"] < 120:
        return f"{one['seconds']} s"
    return f"{minutes}:{seconds:02d} min" if seconds else f"{minutes} min"


def read(text: str, language: str) -> Told:
    """What the text of a session's pages says."""
    speech, told = SPEECH[language], Told()
    text = re.sub(rf"\n(?=(?:{speech['roles']})\b)", " ", text)
    amount = rf"\+?\d+(?:\{speech['point']}\d+)?|{speech['body']}"
    plates = r"[\d.,]+(?: ?× ?\d+)?"
    side = rf"{speech['empty']}|{plates}(?:\s?\+\s?{plates})*"
    length = r"\d+:\d\d min\b|\d+ (?:s|min|m)\b"
    reps = rf"{length}|\d+\+?"
    ramp = rf"(?P<load>{amount}) × (?P<reps>{reps})(?: \((?P<side>{side})\))?"
    steps = re.sub(r"[?]P<[a-z]+>", "?:", rf"(?:{ramp})(?: {ramp})*")
    # Steps that turn over fill their lines; a line of work goes on with a load or an effort.
    led = re.compile(rf"\b(?i:{speech['ramp']}) ({steps}(?:\n{steps}(?=\n))*)")
    for lead in led.finditer(text):
        told.ramp += [(_mass(step["load"]), step["reps"], _side(step["side"])) for step in re.finditer(ramp, lead[1])]
    text = led.sub("", text)
    row_of_test = rf"^(?P<load>{amount}) × (?P<reps>{reps}) (?P<side>{side}) [\d:]+(?: (?:min|s))?$"
    for row in re.finditer(row_of_test, text, re.M):
        told.ramp.append((_mass(row["load"]), row["reps"], _side(row["side"])))
    scheme = rf"(?<!\S)(?P<sets>\d+) × (?P<reps>{length}|\d+(?:\+|–\d+)?)(?: (?!{speech['body']}\b)[^\W\d][\w-]*)?"
    unit = rf"(?:(?:{speech['each']} )?(?:kg|lb)(?: {speech['each']})?|(?<={speech['body']}))"
    plated = rf"(?:\s(?P<side>{side})(?=\s)(?! (?:RIR|min|s)\b| [\d+.,]*×))?"
    load = rf" (?:≈ )?(?P<load>{amount}) ?{unit}{plated}"
    if not re.search(rf"^{speech['today']}(?: \d|$)", text, re.M):
        for line in re.finditer(rf"{scheme}(?:{load}|(?=\n| [\d.,]+ RIR))", text, re.M):
            told.work += [(_mass(line["load"]), line["reps"], _side(line["side"]))] * int(line["sets"])
    # One page has a box for the load of today beside each load; without any it finds all of them by feel.
    told.work = told.work or _on_one_page(text, amount, length, speech)
    # Cells that have a length alone fill a line of their own, before the note.
    written = rf"(?<!\S)(?<!× )\d+ (?P<load>{amount})?\n?×(?P<reps>{reps})(?!\S)"
    for line in re.finditer(rf"{written}|^(?P<lengths>(?:\d+ (?:{length}) ?)+)\D*$", text, re.M):
        lengths = re.findall(rf"\d+ ({length})", line["lengths"] or "")
        told.log += [("", one) for one in lengths] or [(_mass(line["load"]), line["reps"])]
    opener = rf"^{speech['opener']} (?P<load>{amount}) ?(?:kg|lb) (?P<side>{side})(?: {speech['side']})?$"
    for line in re.finditer(opener, text, re.M):
        told.opener.append((_mass(line["load"]), _side(line["side"])))
    for line in re.finditer(rf"\b(?:{speech['later']}) (?P<load>{amount}) ?(?:kg|lb)(?! (?:more|mehr)\b)", text):
        told.attempts.append(_mass(line["load"]))
    return told


def _on_one_page(text: str, amount: str, length: str, speech: dict[str, str]) -> list[tuple[str, str, str]]:
    """The working sets of a session on one page: lines of sets, and loads with their plates in lines of their own.

    Sets belong to the load that follows at once, as they do beside it; else to the one before, as they do below it.
    """
    lines = [re.sub(rf" {speech['today']}(?: \d.*)?$", "", line) for line in text.split("\n")]
    marks = list[tuple[str, ...]]()
    ends = rf" ·| ◆|$| (?:{speech['roles']})\b| (?:≈ )?(?:{amount}) ?(?:kg|lb)?$"
    for place, line in enumerate(lines):
        if re.match(r"\d+ [^\W\d]", line) and not re.match(rf"{length}|\d+ {speech['side']}", line):
            marks.append(("another lift",))
        if found := re.match(rf"(\d+) × ({length}|\d+(?:\+|–\d+)?)(?={ends})", line):
            marks.append((found[1], found[2], "sets"))
        elif marks and marks[-1] == ("another lift",) and (lone := re.match(rf"({length})(?={ends})", line)):
            marks.append(("1", lone[1], "sets"))
        load = re.search(rf"(?:^| )(?:≈ )?(?:(?P<load>{amount}) ?(?:kg|lb)|(?P<body>{speech['body']}))$", line)
        if load and not re.search(r"[→=○▲↕↔]", line):
            below = "\n".join(line for line in lines[place + 1 :] if line != speech["today"])
            plates = re.match(rf"(?:[\d.,×+ \xa0]+(?: {speech['side']})?(?:\n|$))*", below)
            side = plates[0].replace(speech["side"], "") if plates else ""
            marks.append((_mass(load["load"] or load["body"]), _side(" ".join(side.split()))))
        elif line.endswith(speech["feel"]):
            marks.append(("", ""))
    sets, now = list[tuple[str, str, str]](), ("", "")
    for place, mark in enumerate(marks):
        if len(mark) < 3:
            # A lift of the body alone has neither a load nor a box for one.
            now = mark if len(mark) == 2 else ("", "")
            continue
        following = marks[place + 1] if place + 1 < len(marks) else ()
        mass, side = following if len(following) == 2 else now
        sets += [(mass, mark[1], side)] * int(mark[0])
    return sets


def _mass(text: str | None) -> str:
    """A load as the JSON writes it; 0 for bodyweight alone."""
    if text in ("BW", "KGW"):
        return "0"
    return (text or "").lstrip("+").replace(",", ".")


def _side(text: str | None) -> str:
    """Plates as label x count, the inner first."""
    if not text or text[0].isalpha():
        return ""
    parts = [re.sub(r"\s", "", part).split("×") for part in text.replace(",", ".").split("+")]
    return "+".join(f"{part[0]}x{part[1] if len(part) > 1 else 1}" for part in parts)


def differences(plan: dict[str, Any], texts: list[str], language: str) -> Iterator[str]:
    """Sessions of the plan's JSON whose pages say something else, or the same in another order."""
    for week in plan["weeks"]:
        pages: dict[tuple[int, ...], list[dict[str, Any]]] = {}
        for session in week["sessions"]:
            code = f"w{week['week']:02d}.d{session['day']}."
            on = tuple(number for number, page in enumerate(texts) if re.search(rf"· {code}\d", page))
            pages.setdefault(on, []).append(session)
        for on, sessions in pages.items():
            found = read("\n".join(texts[number] for number in on), language)
            for kind, told in asdict(found).items():
                # Two sessions of a lighter week share a page.
                meant = [one for session in sessions for one in asdict(planned(session))[kind]]
                if meant != told:
                    yield f"week {week['week']} {kind}: {meant} is told as {told}"
