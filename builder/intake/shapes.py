"""A list where a mapping belongs, a value where a list belongs, a key in another's place: what to type instead."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable

from builder.given.progressions import PROGRESSIONS
from builder.intake.syntax import typing, with_colon
from builder.values import slips
from builder.values.nodes import Mapping, Node, Scalar, Sequence
from builder.values.problem import closest

# One word may stand for several keys: the keys of the place where it stands decide which is meant.
_SYNONYMS = {
    "pairs": ("plates", "plate", "discs", "disks"),
    "bars": ("bar", "barbells", "barbell"),
    "barbell": ("bar", "barbells"),
    "bodyweight": ("bw", "weight", "mass", "body weight"),
    "born": ("birth", "birthday", "age", "year", "dob", "year_of_birth"),
    "units": ("unit",),
    "sex": ("gender",),
    "kind": ("type", "scheme", "progression"),
    "movement": ("exercise", "lift", "exercises", "name"),
    "slots": ("exercises", "lifts", "movements", "sets", "work"),
    "days": ("sessions", "workouts", "day"),
    "load": ("weight", "kg", "lb", "lbs", "intensity"),
    "share": ("percent", "percentage", "intensity", "pct", "%", "load", "weight"),
    "add": ("increment", "increase", "plus", "jump"),
    "date": ("day", "on", "when", "tested"),
    "months": ("experience", "years", "training_age"),
    "session_minutes": ("minutes", "duration", "time", "length"),
    "starts": ("start", "begin", "begins", "first_day"),
    "status": ("level", "class"),
    "rest": ("rests", "pause", "break", "rest_time"),
    "cues": ("cue", "coaching", "tips"),
    "note": ("notes", "comment", "comments", "remark"),
    "title": ("name", "label"),
    "superset": ("super_set", "group", "pair"),
    "instead": ("replace", "replacement", "swap", "substitute"),
    "avoid": ("avoids", "without", "exclude"),
    "limits": ("injuries", "injury", "pain", "limit", "limitations"),
    "deload": ("deloads", "light_week"),
    "working_max": ("training_max", "tm", "wm"),
    "opener": ("first",),
    "attempts": ("attempt",),
    "sets": ("set", "volume"),
    "conditioning": ("cardio", "condition"),
    "stacks": ("machines", "machine", "cables"),
    "start": ("share", "load", "weight", "percent", "intensity", "at"),
    "rpe": ("effort", "rating"),
    "rir": ("reserve", "left", "in_reserve"),
    "weeks": ("when", "in_weeks", "length", "number_of_weeks"),
    "reps": ("rep", "repetitions"),
    "backoff": ("back_off", "backoffs", "back-off", "back off", "down_sets"),
    "time": ("seconds", "secs", "minutes", "duration"),
    "distance": ("metres", "meters", "metre", "meter", "km"),
    "down": ("drop", "less", "minus"),
    "up": ("add", "plus", "more", "increase"),
    "then": ("next", "after", "further", "followed_by"),
    "away": ("holiday", "holidays", "vacation", "vacations", "off"),
    "swap": ("replace", "exchange", "substitute", "switch"),
    "to": ("for", "by", "into"),
    "drop": ("remove", "skip", "delete", "leave_out", "without"),
    "alter": ("change", "adjust", "modify", "edit"),
    "changes": ("swap", "drop", "alter", "swaps", "modifications"),
}
_MAX_WORDS = ("max", "1rm", "e1rm", "rm", "pr", "best", "one_rep_max", "onerm")
_MAX_FACT = "tests: [{date: YEAR-MONTH-DAY, load: %s, reps: 1}]"


def said_for(word: str, known: Iterable[str]) -> str | None:
    """The known key that another word of the trade stands for; the weight of a set is its load, not the lifter's."""
    low = word.lower().strip()
    meant = [key for key in known if low in _SYNONYMS.get(key, ())]
    return min(meant, key=lambda key: key == "bodyweight", default=None)


def key_for(word: str, known: Iterable[str], value: Node | None) -> str | None:
    """What to type in place of a key that the trade says otherwise; None where nothing is plain."""
    low, keys = word.lower().strip(), list(known)
    if "tests" in keys and low in _MAX_WORDS and isinstance(value, Scalar):
        return typing(_MAX_FACT % value.text)
    meant = said_for(word, keys)
    if "swap" in keys and meant is None and isinstance(value, Scalar) and not closest(low, keys):
        return typing(f"swap: {word}, to: {value.text}")
    if meant == "months" and low in ("years", "training_age") and isinstance(value, Scalar):
        years = slips.whole(f"{value.text} years" if value.text.replace(".", "").isdigit() else value.text)
        return typing(f"months: {years}") if years else typing("months: 24")
    if low == "before" and "after" in keys:
        return 'Write "after:" with the slot that comes before it, or "day:" with "first: true".'
    if meant == "born" and low != "year_of_birth":
        return 'Write the year of birth, such as "born: 1990".'
    return f'Write "{meant}".' if meant else None


def glued(word: str) -> str | None:
    """`name:Mara` as `name: Mara`."""
    found = re.fullmatch(r"([A-Za-z_ ]+):(\S.*)", word)
    return f"{found[1]}: {found[2]}" if found else None


def shaped(key: str, node: Node, owner: str = "", first: str = "") -> str | None:
    """The whole line with the value in the shape that `key` takes.

    `owner` is the key above, for lists and mappings that have none of their own; `first` is a name out of the
    neighbourhood that the example may use.
    """
    writer = _WRITERS.get(key) or _WRITERS.get(f"{owner}/*")
    made = writer(node, key, first) if writer else None
    return typing(made) if made else None


def as_list(key: str, node: Node, words: tuple[str, ...] = ()) -> str | None:
    """A single value or a mapping as a list under its key; of `words` alone, where the list is closed."""
    if isinstance(node, Mapping):
        if key == "avoid":
            said = ", ".join(word.text for word, _ in node.items)
            return f'Write "avoid: [{said}]", and what stands behind them beside it, under "instead:".'
        if key == "changes" and len(node.items) == 1:
            return typing(f"{key}: [{{swap: {node.items[0][0].text}, to: {_text(node.items[0][1])}}}]")
        lead = node.items[0] if node.items else None
        if node.span.source[node.span.column - 1 :].startswith("{") and all(_text(value) for _, value in node.items):
            return typing(f"{key}: [{{{', '.join(f'{word.text}: {_text(value)}' for word, value in node.items)}}}]")
        return f'Write a dash before the first of these keys: "- {lead[0].text}: …".' if lead else None
    if not isinstance(node, Scalar):
        return None
    if writer := _ENTRIES.get(key):
        return typing(f"{key}: [{writer(node.text)}]")
    items = _items(key, node.text)
    if words:
        items = [one for item in items if (one := item if item in words else slips.word(item, words) or "")]
        items = items or list(words)
    elif items == ["all"] and key == "lifts":
        items = ["back squat", "bench press", "deadlift"]
    return typing(f"{key}: [{', '.join(items)}]") if items and all(items) else None


def _items(key: str, text: str) -> list[str]:
    if key == "days":
        return list(slips.weekdays(text)) or ["mon", "wed", "fri"]
    if key == "suits":
        said = [slips.word(one, _STATUSES) for one in re.findall(r"[a-z]+", text.lower())]
        return [one for one in said if one] or list(_STATUSES)
    parts = r"[,;]" if key in _FILES else r"[,;/]|\s+(?:and|or|und)\s+"
    items = [part.strip() for part in re.split(parts, text.strip("[] ")) if part.strip()]
    return [f"{{file: {item}}}" for item in items] if key.endswith("_font") else items


_STATUSES = ("novice", "intermediate", "advanced")
_FILES = ("pages", "sheets", "pictures", "text_font", "heading_font")
"""Keys whose values are files, with slashes in them."""


def _text(node: Node) -> str:
    return node.text.strip() if isinstance(node, Scalar) else ""


def _bars(node: Node, key: str, _first: str) -> str | None:
    weights = [_text(item) for item in node.items] if isinstance(node, Sequence) else [_text(node)]
    names = ("power bar", "second bar", "third bar", "fourth bar")
    if all(re.fullmatch(r"\d[\d.]*(?: ?(?:kg|lb))?", weight) for weight in weights) and len(weights) <= len(names):
        return f"{key}: {{{', '.join(f'{n}: {w}' for n, w in zip(names, weights, strict=False))}}}"
    return f"{key}: {{{weights[0] if isinstance(node, Scalar) else 'power bar'}: 20}}"


def _pairs(node: Node, key: str, _first: str) -> str | None:
    """Plates listed one by one, each entry a pair, or written as `25 x 2`."""
    texts = [_text(item) for item in node.items] if isinstance(node, Sequence) else _items(key, _text(node))
    counts: Counter[str] = Counter()
    for text in texts:
        crossed = re.fullmatch(r"([\d.]+)\s*(?:kg|lb)?\s*[x×*:]\s*(\d+)", text)
        plain = re.fullmatch(r"([\d.]+)\s*(?:kg|lb)?s?", text)
        if not crossed and not plain:
            return f"{key}: {{20: 2, 10: 1}}"
        counts[crossed[1] if crossed else plain[1] if plain else ""] += int(crossed[2]) if crossed else 1
    return f"{key}: {{{', '.join(f'{plate}: {count}' for plate, count in counts.items())}}}" if counts else None


def _progression(node: Node, key: str, _first: str) -> str | None:
    return f"{key}: {{{_rule(_text(node))}}}"


def _rule(text: str) -> str:
    """The rule behind `5x5`, `3x8-12`, `3x5+` or a name such as "linear"."""
    said = slips.reps(text) or "sets: 3, reps: 5"
    if said.startswith("kind:"):
        return said if "sets:" in said else said.replace("reps:", "sets: 3, reps:")
    if said.startswith(("time:", "distance:")):
        return f"kind: single, {said}"
    kind = "double" if "-" in said else slips.word(text, PROGRESSIONS) or "single"
    if kind == "double" and "-" not in said:
        said = "sets: 3, reps: 4-6"
    return f"kind: {kind}, {said}, add: 2.5 kg" if kind in ("single", "double") else f"kind: {kind}, {said}"


def _deload(node: Node, key: str, _first: str) -> str | None:
    number = re.search(r"\d+", _text(node))
    return f"{key}: {{every: {number[0] if number else 4}}}"


def _test(node: Node, key: str, _first: str) -> str | None:
    number = re.search(r"\d+", _text(node))
    lifts = _items(key, _text(node)) if not number and _text(node) not in ("true", "yes") else ["back squat"]
    return f"{key}: {{week: {number[0] if number else 12}, lifts: [{', '.join(lifts)}]}}"


def _client(node: Node, key: str, _first: str) -> str | None:
    return f"{key}: {{name: {_text(node) or 'NAME'}, units: kg}}"


def _lift(node: Node, key: str, _first: str) -> str | None:
    """A lift written as its set, or as its max."""
    done = slips.load(_text(node))
    said = done if done and "reps" in done else f"load: {done or 100}, reps: 1" if done else "load: 100, reps: 5"
    return f"{key}: {{tests: [{{date: YEAR-MONTH-DAY, {said}}}]}}"


def _lifts(node: Node, key: str, _first: str) -> str | None:
    name = _text(node.items[0]) if isinstance(node, Sequence) and node.items else _text(node)
    return f"{key}: {{{name or 'back squat'}: {{tests: [{{date: YEAR-MONTH-DAY, load: 100, reps: 5}}]}}}}"


def _slot(node: Node, _key: str, _first: str) -> str | None:
    return f"- {_one_slot(_text(node))}"


def _one_slot(text: str) -> str:
    """`back squat 5x5` as a slot."""
    found = re.fullmatch(r"(.*?):?\s+(\d+\s*[x×]\s*\d+(?:-\d+)?\+?)\s*", text)
    name, sets = (found[1], found[2]) if found else (text, "")
    return f"{{movement: {name or 'back squat'}, progression: {{{_rule(sets)}}}}}"


def _day(node: Node, _key: str, _first: str) -> str | None:
    return f"- {{title: {_text(node) or 'Day'}, slots: [{_one_slot('')}]}}"


def _limit(node: Node, _key: str, _first: str) -> str | None:
    return f"- {{area: {_text(node) or 'shoulder'}, avoid: [vertical push]}}"


def _instead(node: Node, key: str, first: str) -> str | None:
    name = _text(node.items[0]) if isinstance(node, Sequence) and node.items else _text(node)
    return f"{key}: {{{first or 'overhead press'}: {name}}}"


def _trained(node: Node, key: str, _first: str) -> str | None:
    text = _text(node).lower()
    said = [f"{word}: true" for word in ("belt", "sleeves") if word in text]
    said += [f"bar: {word}" for word in ("low", "high") if f"{word} bar" in text or f"{word}-bar" in text]
    return f"{key}: {{{', '.join(said) or 'belt: true'}}}"


def _backoff(node: Node, key: str, _first: str) -> str | None:
    text = _text(node)
    share = re.search(r"(\d+)\s*%", text)
    said = slips.reps(re.sub(r"\s*(?:@|at|bei)?\s*\d+\s*%", "", text)) or "sets: 3, reps: 5"
    return f"{key}: {{{said}, share: {share[1] if share else 85} %}}"


def _then_sets(text: str) -> str:
    """`3x8 @ 70 %` as further sets."""
    share = re.search(r"(\d+)\s*%", text)
    said = slips.reps(re.sub(r"\s*(?:@|at|bei)?\s*\d+\s*%", "", text)) or "sets: 3, reps: 8"
    return f"{{{said}, share: {share[1]} %}}" if share else f"{{{said}, down: 10 %}}"


def _wave_week(text: str) -> str:
    """`5x5 @ 80 %` or `80 %` as an entry of a wave."""
    return _then_sets(text if slips.share(text) is None else f"3x5 {text}").replace("down: 10 %", "share: 80 %")


def _change(text: str) -> str:
    """`drop leg curl` or `swap back squat for front squat` as a change."""
    verb, _, rest = text.partition(" ")
    verb = said_for(verb, ("swap", "drop", "alter")) or verb.lower()
    slot, *other = re.split(r"\s+(?:to|for|with|by)\s+", rest or "back squat", maxsplit=1)
    if verb == "swap" or (other and verb != "alter"):
        return f"{{swap: {slot}, to: {other[0] if other else 'front squat'}}}"
    return f"{{alter: {slot}, with: {{rest: 4 min}}}}" if verb == "alter" else f"{{drop: {slot}}}"


def _tested(text: str) -> str:
    """`2026-12-19, 80 x 5 @8` as a tested set."""
    day = re.search(r"\d{4}-\d{2}-\d{2}", text)
    done = slips.load(text.replace(day[0], "").strip(" ,:") if day else text)
    said = done if done and "reps" in done else f"load: {done or 100}, reps: 5"
    return f"{{date: {day[0] if day else 'YEAR-MONTH-DAY'}, {said}}}"


_ENTRIES = {"then": _then_sets, "changes": _change, "tests": _tested}
"""Lists whose entries are parts, each with what a text in the place of an entry stands for."""


def _steps(node: Node, key: str, _first: str) -> str | None:
    numbers = re.findall(r"\d+(?:\.\d+)?", _text(node))
    low, high, step = (*numbers[:3], "2")[:3] if len(numbers) >= 2 else ("2", *(numbers or ["40"]), "2")[:3]
    return f"{key}: {{from: {low}, to: {high}, step: {step}}}"


def _stacks(node: Node, key: str, _first: str) -> str | None:
    name = _text(node.items[0]) if isinstance(node, Sequence) and node.items else _text(node)
    return f"{key}: {{{name or 'cable tower'}: {{from: 5, to: 100, step: 5}}}}"


def _pins(_node: Node, key: str, _first: str) -> str | None:
    return f"{key}: {{first: 25, spacing: 5, holes: 30}}"


def _screening(node: Node, key: str, _first: str) -> str | None:
    return f"{key}: {{answered: {_text(node) if re.fullmatch(r'[0-9-]{10}', _text(node)) else 'YEAR-MONTH-DAY'}}}"


def _attempts(node: Node, key: str, _first: str) -> str | None:
    texts = [_text(item) for item in node.items] if isinstance(node, Sequence) else _items(key, _text(node))
    shares = [f"{text.rstrip(' %')} %" for text in texts] or ["91 %", "96 %", "100.5 %"]
    three = (*shares, "91 %", "96 %", "100.5 %")[:3] if len(shares) < 3 else shares[:3]
    return f"{key}: {{opener: {three[0]}, second: {three[1]}, third: {three[2]}}}"


def _named(node: Node, key: str, _first: str) -> str | None:
    """A mapping that one value stands for: its first and most telling key."""
    if re.fullmatch(r"[a-z_]+ \S.*", _text(node)):
        return f"{key}: {{{with_colon(_text(node))}}}"
    text = _text(node)
    lead = _LEADS[key]
    if key == "contact":
        lead = "email" if "@" in text else "web" if "." in text else "phone"
    return f"{key}: {{{lead}: {_quoted(text)}}}" if text else None


_LEADS = {"training": "status", "block": "title", "brand": "name", "gym": "bars", "misses": "once", "stop": "rir",
          "contact": "email", "legal": "copyright", "colours": "accent", "selling": "edition"}  # fmt: skip


def _quoted(text: str) -> str:
    return f'"{text}"' if text.startswith(("#", "+")) else text


_Writer = Callable[[Node, str, str], str | None]
_WRITERS: dict[str, _Writer] = {
    "bars": _bars, "pairs": _pairs, "progression": _progression, "deload": _deload, "test": _test,
    "client": _client, "lifts": _lifts, "lifts/*": _lift, "slots/*": _slot, "days/*": _day, "limits/*": _limit,
    "then/*": lambda node, _key, _first: _then_sets(_text(node)),
    "weeks/*": lambda node, _key, _first: _wave_week(_text(node)),
    "tests/*": lambda node, _key, _first: f"- {_tested(_text(node))}",
    "changes/*": lambda node, _key, _first: _change(_text(node)),
    "add": lambda node, key, _first: f"{key}: {_one_slot(_text(node))}",
    "instead": _instead, "trained": _trained, "backoff": _backoff, "dumbbells": _steps, "kettlebells": _steps,
    "stacks": _stacks, "stacks/*": _steps, "pins": _pins, "screening": _screening, "attempts": _attempts,
    "contact": _named, "legal": _named, "colours": _named, "selling": _named,
    "training": _named, "block": _named, "brand": _named, "gym": _named, "misses": _named, "stop": _named,
}  # fmt: skip
