"""What people write for a single value where another writing is expected: the text that they should type.

These are offered and never taken. Many lose something that only the writer knows: which end of a range was meant, how
sure a guess was, whether day or month stands first.
"""

from __future__ import annotations

import re
from decimal import Decimal

N = r"(\d+(?:\.\d+)?)"
_DAYS = {
    "mon": ("m", "mo", "montag"),
    "tue": ("tu", "di", "dienstag"),
    "wed": ("w", "we", "mi", "mittwoch"),
    "thu": ("th", "do", "donnerstag"),
    "fri": ("f", "fr", "freitag"),
    "sat": ("sa", "samstag"),
    "sun": ("su", "so", "sonntag"),
}
_WORDS = {
    "novice": ("beginner", "new", "newbie", "starter"),
    "intermediate": ("mid", "medium"),
    "advanced": ("experienced", "elite", "expert", "pro"),
    "female": ("f", "w", "woman"),
    "male": ("m", "man"),
    "never": ("no", "none", "alone", "false"),
    "sometimes": ("often", "partly", "mostly", "usually"),
    "always": ("yes", "true", "every time"),
    "kg": ("kgs", "kilo", "kilos", "kilogram", "kilograms", "metric"),
    "lb": ("lbs", "pound", "pounds", "imperial"),
    "heavy": ("hard", "h"),
    "medium": ("moderate",),
    "light": ("easy", "l"),
    "low": ("low bar", "low-bar", "lowbar"),
    "high": ("high bar", "high-bar", "highbar"),
    "below parallel": ("atg", "full", "deep", "below", "ass to grass"),
    "parallel": ("at parallel",),
    "above parallel": ("half", "quarter", "above", "high"),
    "down": ("floor", "round down", "lower"),
    "up": ("ceil", "round up", "higher"),
    "nearest": ("closest", "round"),
    "walkout": ("walk-out", "walk out", "walkouts", "heavy hold"),
    "pin squat": ("pins", "pin", "pin squats", "dead-stop squat"),
    "accessories": ("accessory", "assistance"),
    "drills": ("drill", "walkouts"),
    "repeat": ("same", "stay"),
    "reduce": ("less", "lower", "drop"),
    "single": ("linear", "linear progression", "straight", "straight sets", "fixed"),
    "double": ("double progression", "range", "rep range"),
    "wave": ("percent", "percentage", "percentages", "undulating", "cycle"),
    "top_set": ("top set", "topset", "top-set", "top single", "back-off", "backoff"),
    "rep_out": ("amrap", "amap", "plus set", "open set", "rep out", "reps out", "max reps"),
    "hold": ("walkout", "walkouts"),
    "pins": ("pin squat", "pin"),
    "step": ("staircase", "stairs", "steps"),
    "volume": ("sets", "add sets"),
    "reps": ("3rm", "5rm", "rep max", "rep test", "rm"),
    "attempts": ("1rm", "max", "singles", "max test"),
}
_OPEN = re.compile(r"(\d+)\s*\+|(?:(\d+)\s*)?(amrap|amap|max|max reps|failure|to failure|as many as possible|open)")
_LENGTH = re.compile(r"(\d+(?:\s*-\s*\d+)?)\s*(s|secs?|seconds?|min|mins|minutes?|m|met(?:re|er)s?)")
_SIDES = re.compile(r"(\d+)\s*(?:/\s*\1|/?\s*(?:each|per|a)?\s*(?:side|leg|arm|hand)s?|each)")
_COUNTS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def word(text: str, known: tuple[str, ...]) -> str | None:
    """The one of the `known` words that another word of the trade stands for."""
    low = text.lower().replace("_", " ")
    both = {low, low.removesuffix("s")}
    return next((k for k in known if both & {*_WORDS.get(str(k), ()), str(k).replace("_", " ")}), None)


def whole(text: str) -> str | None:
    """`3 years` as `36`, `60 min` as `60`, a day as its year: the count behind a number with its unit."""
    low = text.lower().strip("~ .")
    if low in _COUNTS:
        return str(_COUNTS.index(low))
    clock = re.fullmatch(r"(\d{1,2})\s*[:h]\s*(\d{2})", low)
    if clock:
        return str(int(clock[1]) * 60 + int(clock[2]))
    low = re.sub(r"^(\d+)\s*[-–]\s*\d+$", r"\1", low)
    found = re.fullmatch(rf"{N}\s*([a-z]+)?(?:[\s,]*(?:and\s+)?(\d+)\s*(?:m|mo|min|months?|minutes?))?", low)
    if not found or found[1] == text or found[2] in ("x", "kg", "lb"):
        return (day(low) or "")[:4] or None
    most = Decimal(found[1]) * _FACTORS.get((found[2] or "")[:1], 1) + int(found[3] or 0)
    return f"{most:.0f}" if most == most.to_integral_value() else None


_FACTORS = {"y": 12, "j": 12, "h": 60}
"""Months in a year, minutes in an hour; months, minutes, weeks, sets and the like count as they are."""


def reps(text: str) -> str | None:
    """Keys for what is written as reps but says more: sets and reps, a length, both sides, or an open set."""
    low = text.lower().strip()
    if found := _LENGTH.fullmatch(low):
        length = f"{found[1].replace(' ', '')} {found[2][:3] if found[2].startswith('min') else found[2][0]}"
        key, step = ("distance", "5 m") if length.endswith(" m") else ("time", "5 s")
        return f"kind: double, {key}: {length}, longer: {step}" if "-" in length else f"{key}: {length}"
    if found := _SIDES.fullmatch(low):
        return f"reps: {found[1]}"
    if done := crossed(low):
        return done
    opened = _OPEN.fullmatch(low)
    if opened:
        return f"kind: rep_out, reps: {opened[1] or opened[2] or 5}"
    return None


def listed_reps(text: str) -> str | None:
    """Keys for reps that differ from set to set, `5/4/3` or `5, 4, 3`."""
    if not re.fullmatch(r"\s*\d+(?:\s*[,/]\s*\d+)+\s*", text):
        return None
    first, *others = re.findall(r"\d+", text)
    if {first} == set(others):
        return f"sets: {1 + len(others)}, reps: {first}"
    return f"reps: {first}, then: [{', '.join(f'{{reps: {each}}}' for each in others)}]"


def crossed(text: str) -> str | None:
    """`3x5`, `3 × 8-12` or `3x5+` as sets and reps."""
    found = re.fullmatch(r"(\d+)\s*[x×*]\s*(\d+(?:\s*[-–]\s*\d+)?)(\+?)", text.lower().strip())
    if found is None:
        return None
    return f"{'kind: rep_out, ' if found[3] else ''}sets: {found[1]}, reps: {found[2].replace(' ', '')}"


def spread(text: str) -> str | None:
    """`8 to 12`, `12-8` or `weeks 1, 2, 3` as a range."""
    low = re.sub(r"^(weeks?|reps?)\s+|\s+(weeks?|reps?)$", "", text.lower().strip("[] "))
    numbers = [int(n) for n in re.findall(r"\d+", low)]
    if not numbers or re.sub(r"\d+|\s|to|[-–,/.+&]|and|bis", "", low) or "+" in low:
        return None
    first, last = min(numbers), max(numbers)
    if len(numbers) > 2 and sorted(numbers) != list(range(first, last + 1)):
        return None
    return f"{first}-{last}" if first != last else str(first)


def load(text: str) -> str | None:
    """The load in a text that says more: a set, a rate, bodyweight, a guess."""
    low = text.lower().strip()
    if low in ("bw", "bodyweight", "body weight"):
        return "0"
    found = re.fullmatch(rf"(?:bw\s*\+|bodyweight\s*\+|[~≈+@])?\s*{N}\s*(kg|lb)?(?:s|\.)?(.*)", low)
    if found is None:
        return None
    number, unit, rest = found[1], f" {found[2]}" if found[2] else "", found[3].strip()
    done = re.fullmatch(r"(?:[x×*]|for)\s*(\d+)(?:\s*(?:@|rpe)\s*(\d+(?:\.5)?))?", rest)
    if done:
        reserve = f", rir: {_reserve(done[2])}" if done[2] else ""
        return f"load: {number}{unit}, reps: {done[1]}{reserve}"
    if spread := re.fullmatch(rf"[-–]\s*{N}\s*(kg|lb)?", rest):
        return f"{number}{f' {spread[2]}' if spread[2] and not unit else unit}"
    dull = r"|(?:per|a|each|every|/)\s*\w+|plates?|total|each"
    return f"{number}{unit}" if re.fullmatch(dull, rest) else None


def share(text: str) -> str | None:
    """`85 percent` or `80-85 %` as one share."""
    found = re.fullmatch(
        rf"[~≈@]?\s*{N}(?:\s*[-–]\s*{N})?\s*(?:%|percent|per cent|pct|prozent)(?:\s*(?:of\s+|per\s+|/\s*)?\w+)?",
        text.lower().strip(),
    )
    return f"{found[1]} %" if found else None


def seconds(text: str) -> str | None:
    """`3m`, `90"`, `2-3 min` or `1 min 30 s` as one time."""
    low = text.lower().strip("~ ")
    signs = low.replace("’", "'").replace("″", '"').replace("“", '"')
    if found := re.fullmatch(rf"{N}\s*(?:'|m|mins?\.?|minuten)", signs):
        return f"{found[1]} min"
    if found := re.fullmatch(rf"{N}\s*(?:\"|''|secs?\.?|sek\.?|sekunden)", signs):
        return f"{found[1]} s"
    if found := re.fullmatch(rf"{N}\s*(?:s|min)?\s*(?:-|–|to|/)\s*{N}\s*(s|sec|min)[a-z]*", low):
        return f"{found[2]} {'s' if found[3].startswith('s') else 'min'}"
    if found := re.fullmatch(r"(\d+)\s*(?:m|min|'|minutes?)\s*(\d{1,2})\s*(?:s|sec|\"|seconds?)?", low):
        return f"{int(found[1]) * 60 + int(found[2])} s"
    return None


def bare_seconds(text: str) -> str:
    """What a bare number most likely counts comes first."""
    both = (f'"{text} min"', f'"{text} s"')
    first, second = both if Decimal(text) <= 10 else reversed(both)
    return f"Write {first} or {second}."


def rir(text: str) -> str | None:
    """Reps in reserve behind an effort rating, a range or words."""
    low = text.lower().strip()
    if found := re.fullmatch(r"(?:@|rpe)\s*:?\s*(\d+(?:\.5)?)|(\d+(?:\.5)?)\s*rpe", low):
        return _reserve(found[1] or found[2])
    if found := re.fullmatch(r"(\d)\s*(?:-|–|to)\s*(\d)(?:\s*\D*)?", low):
        middle = (Decimal(found[1]) + Decimal(found[2])) / 2
        return f"{middle.normalize():f}"
    if found := re.fullmatch(rf"{N}\s*(?:rir|reps?|in reserve|reps? in reserve|left)", low):
        return found[1]
    return "0" if low in ("failure", "to failure", "max", "none", "amrap") else None


def length(text: str) -> str | None:
    """`30 s - 60 s`, `60-30 s` or `20 to 40 m` as a range with its unit behind it."""
    found = re.fullmatch(rf"{N}\s*([a-z]*)\s*(?:-|–|to|bis)\s*{N}\s*([a-z]+)", text.lower().strip())
    if found is None or found[2] not in ("", found[4]):
        return None
    first, last = sorted((found[1], found[3]), key=Decimal)
    return f"{first}-{last} {found[4]}"


def rating(text: str) -> str | None:
    """A rating of effort behind `@8`, `RPE 8`, `8/10`, `7-8` or reps in reserve."""
    low = text.lower().strip().removesuffix("/10").strip()
    if low != text.lower().strip() and re.fullmatch(N, low):
        return low
    if found := re.fullmatch(r"(?:@|rpe)\s*(\d+(?:\.5)?)", low):
        return found[1]
    if found := re.fullmatch(r"(\d)\s*(?:-|–|to)\s*(\d+)", low):
        return f"{((Decimal(found[1]) + Decimal(found[2])) / 2).normalize():f}"
    if found := re.fullmatch(r"(\d(?:\.5)?)\s*(?:rir|in reserve)", low):
        return _reserve(found[1])
    return "10" if low in ("max", "failure") else None


def _reserve(rating: str) -> str | None:
    left = 10 - Decimal(rating)
    return f"{left.normalize():f}" if left >= 0 else None


def day(text: str) -> str | None:
    """A date in another order; both readings where either is possible."""
    low = text.lower().strip().replace(",", " ")
    if found := re.fullmatch(r"(\d{4})[./-](\d{1,2})[./-](\d{1,2})", low):
        return _iso(found[1], found[2], found[3])
    if found := re.fullmatch(r"(\d{1,2})\.\s*(\d{1,2})\.\s*(\d{4})", low):
        return _iso(found[3], found[2], found[1])
    if found := re.fullmatch(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})", low):
        dayfirst, monthfirst = _iso(found[4], found[3], found[1]), _iso(found[4], found[1], found[3])
        if dayfirst and monthfirst and dayfirst != monthfirst:
            return f"{dayfirst} if the day stands first, {monthfirst} if the month does"
        return dayfirst or monthfirst
    words = re.fullmatch(
        r"(?:(\d{1,2})(?:st|nd|rd|th|\.)?\s+)?([a-z]{3})[a-z]*\.?\s+(?:(\d{1,2})(?:st|nd|rd|th)?\s+)?(\d{4})", low
    )
    if words and words[2] in _MONTHS and (words[1] or words[3]):
        return _iso(words[4], str(_MONTHS.index(words[2]) + 1), words[1] or words[3])
    return None


def _iso(year: str, month: str, of_month: str) -> str | None:
    if not (1 <= int(month) <= 12 and 1 <= int(of_month) <= 31):
        return None
    return f"{year}-{int(month):02}-{int(of_month):02}"


def weekday(text: str) -> str | None:
    """The short English name of a day."""
    low = text.lower().strip(" .")
    return next((name for name, others in _DAYS.items() if low in others or (len(low) > 2 and low[:3] == name)), None)


def weekdays(text: str) -> tuple[str, ...]:
    """The days in a text such as `mon/wed/fri` or `mon-fri`; none where one of the words is no day."""
    names = tuple(_DAYS)
    if found := re.fullmatch(r"([a-z]+)\s*(?:-|–|to)\s*([a-z]+)", text.lower().strip()):
        first, last = weekday(found[1]), weekday(found[2])
        if first and last and names.index(first) < names.index(last):
            return names[names.index(first) : names.index(last) + 1]
    found_days = [weekday(part) for part in re.split(r"[\s,;/&+]+|\band\b", text.strip()) if part]
    return tuple(d for d in found_days if d) if all(found_days) else ()


def cadence(text: str) -> str | None:
    """`weekly`, `every other week` or `3 sessions` as a cadence."""
    low = text.lower().strip().removeprefix("every ").removeprefix("each ")
    if low in ("weekly", "week", "wk", "once a week"):
        return "1 week"
    if low in ("fortnightly", "fortnight", "biweekly", "bi-weekly", "other week", "second week", "2nd week"):
        return "2 weeks"
    if low in ("session", "workout", "time", "exposure", "training"):
        return "1 exposure"
    if low in ("monthly", "month"):
        return "4 weeks"
    if low.startswith("0"):
        return None
    if found := re.fullmatch(r"(\d+)\.?\s*(?:w|wks?|weeks?|wochen)", low):
        return f"{found[1]} weeks"
    if found := re.fullmatch(r"(\d+)\.?\s*(?:sessions?|workouts?|times?|exposures?|trainings?)", low):
        return f"{found[1]} exposures"
    if (found := re.fullmatch(r"(\d+)\s*d(?:ays?)?", low)) and int(found[1]) % 7 == 0 and int(found[1]):
        return f"{int(found[1]) // 7} weeks"
    return None


def form(key: str, text: str) -> str | None:
    """A tempo or the letter of a superset in its own form."""
    if key == "superset" and (letter := re.match(r"\s*([A-Za-z])(?![A-Za-z])", text)):
        return letter[1].upper()
    signs = re.findall(r"\d|[xX]", text)
    plain = re.sub(r"[\dxX\s./:,-]", "", text)
    if key == "tempo" and 3 <= len(signs) <= 4 and not plain:
        return "-".join(sign.upper() for sign in signs)
    return None


def height(text: str) -> str | None:
    """A pin height with its unit in its place."""
    low = text.lower().strip()
    if found := re.fullmatch(rf"{N}\s*(?:cm|centimet\w+)", low):
        return f"{found[1]} cm"
    if found := re.fullmatch(r"(?:hole|pin|no\.?|nr\.?|#)\s*#?(\d+)|(\d+)(?:st|nd|rd|th|\.)?\s*(?:hole|pin)?", low):
        return f"hole {found[1] or found[2]}"
    return None
