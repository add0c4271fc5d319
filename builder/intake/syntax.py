"""What is wrong with a text that is no YAML: the line at fault, and that line as it should be typed.

The parser's own message names a token, and often the line after the slip: what lacks its colon is taken for text that
goes on below.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from builder.values.problem import Problem, Span

_KEYED = re.compile(r"(?P<indent> *)(?P<dash>(?:- +)*)(?P<key>[^\s#'\"\[{][^:#]*?)\s*:(?:\s+(?P<value>.*?))?\s*")
# In these a colon is meant as it stands; in others somebody more likely wrote several keys in one line.
_PROSE_KEYS = ("title", "name", "note", "about", "aim", "area", "cues", "tagline")
_CLOSER = {"[": "]", "{": "}"}
_ENTRY_OF = {"days": "title", "slots": "movement"}
"""The key that an entry of a list begins with."""
_LONGEST = 300
"""Signs of a line that a person may have slipped in; what is longer no message could show."""
_GENERAL = 'Look at the indentation; quote texts that hold ": " or "#" or start with "*", "&" or "@".'


@dataclass(frozen=True, slots=True)
class _Fault:
    """Where the reading stopped (from 0), what the parser said, and where the part that it was in began."""

    lines: tuple[str, ...]
    row: int
    column: int
    detail: str
    opened: tuple[int, int] | None

    @property
    def line(self) -> str:
        return self.of(self.row)

    def of(self, row: int) -> str:
        """A line, "" outside the text and in place of one that is too long to be shown."""
        line = self.lines[row] if 0 <= row < len(self.lines) else ""
        return line if len(line) <= _LONGEST else ""

    @property
    def sign(self) -> str:
        """The sign at which the reading stopped, "" at the end of a line."""
        return self.line[self.column : self.column + 1]

    def above(self, row: int) -> int:
        """The nearest line above that says something."""
        return next((r for r in range(row - 1, -1, -1) if self.of(r).split("#")[0].strip()), row)


@dataclass(frozen=True, slots=True)
class _Told:
    row: int
    column: int
    fact: str
    help: str = _GENERAL


def syntax(error: Any, text: str, file: str) -> Problem:
    """The problem behind an error of the YAML parser, in words of our own."""
    mark, context = getattr(error, "problem_mark", None), getattr(error, "context_mark", None)
    opened = (context.line, context.column) if context else None
    row, column = (mark.line, mark.column) if mark else opened or (0, 0)
    fault = _Fault(tuple(text.split("\n")), row, column, str(getattr(error, "problem", "") or ""), opened)
    # A reading that ends up in a line that cannot be shown tells nothing, so the next one is asked.
    told = next((found for reading in _READINGS if (found := reading(fault)) and fault.of(found.row)), None)
    told = told or _Told(row, column, 'this line cannot be read as "key: value"')
    line = fault.lines[told.row] if told.row < len(fault.lines) else ""
    return Problem("syntax", Span(file, told.row + 1, told.column + 1, 1, line), told.fact, told.help)


def typing(text: str) -> str:
    """The help that shows what to type; signs of quoting in it need no others around them."""
    return f"Write {text}." if '"' in text else f'Write "{text}".'


def _too_deep(fault: _Fault) -> _Told | None:
    if "exceeded maximum" not in fault.detail:
        return None
    return _Told(fault.row, fault.column, "lists and mappings nest over 24 deep", "Write it flatter.")


def _open_quote(fault: _Fault) -> _Told | None:
    if "unexpected end of stream" not in fault.detail or fault.opened is None:
        return None
    return _unclosed(fault, *fault.opened)


def _unclosed(fault: _Fault, row: int, column: int) -> _Told:
    line = fault.of(row)
    return _Told(row, column, "a quote is not closed", typing(f"{_bare(line).strip()}{line[column : column + 1]}"))


def _opened_above(fault: _Fault, column: int) -> tuple[int, int] | None:
    """Where a quote was opened that the first one before a column closes, lines below."""
    for sign in "\"'":
        if fault.line[:column].count(sign) != 1:
            continue
        for row in range(fault.row - 1, -1, -1):
            keyed = _KEYED.fullmatch(fault.of(row))
            if keyed and (value := keyed["value"] or "").startswith(sign) and value.count(sign) == 1:
                return row, keyed.start("value")
    return None


def _strange_start(fault: _Fault) -> _Told | None:
    if "cannot start any token" in fault.detail:
        column = fault.column
    elif "alphabetic or numeric" in fault.detail and fault.opened is not None:
        column = fault.opened[1]
    elif "node content" in fault.detail and fault.sign not in ("", "]", "}"):
        column = fault.column
    else:
        return None
    value = _value_from(fault.line, column)
    key = _key_before(fault.line, column)
    return _Told(fault.row, column, f'no value can start with "{value[:1]}"', typing(_meant(key, value)))


def _meant(key: str, value: str) -> str:
    """The key with its value as it should be typed: a rating of effort, a share with its sign behind, else quoted."""
    rated = re.fullmatch(r"@\s*(\d+(?:\.\d+)?)", value)
    if rated and key in ("rir", "rpe"):
        return f"rpe: {rated[1]}"
    shared = re.fullmatch(r"%\s*(\d+(?:\.\d+)?)", value)
    text = f"{shared[1]} %" if shared else f'"{value}"'
    return f"{key}: {text}" if key else text


def _lost_colon(fault: _Fault) -> _Told | None:
    if "could not find expected ':'" not in fault.detail or fault.opened is None:
        return None
    return _without_colon(fault, fault.opened[0])


def _without_colon(fault: _Fault, row: int) -> _Told:
    """A line that has no colon where one belongs, and how it should read."""
    line = fault.of(row)
    dash, rest = re.fullmatch(r"\s*((?:- +)*)(.*)", line.split(" #")[0].rstrip(), re.DOTALL).groups()  # type: ignore[union-attr]
    column = len(line) - len(line.lstrip()) + len(dash)
    close = re.match(r"([^:\s][^:]*):(?=\S)", rest)
    if close:
        return _Told(
            row,
            column + len(close[1]),
            'a space is missing after ":"',
            typing(f"{dash}{close[1]}: {rest[close.end() :]}"),
        )
    inside = _has_inside(fault, row)
    entry = _entry(fault, row) if dash and inside else ""
    text = f"{entry}: {rest}" if entry else with_colon(rest, inside)
    return _Told(row, column, 'a ":" is missing in this line', typing(dash + text))


def _entry(fault: _Fault, row: int) -> str:
    """What an entry begins with in the list that a line stands in, "" where that is none of ours."""
    outer = (line for line in fault.lines[row - 1 :: -1] if line.strip() and _indent(line) < _indent(fault.of(row)))
    return _ENTRY_OF.get(next(outer, "").partition(":")[0].strip(), "")


def with_colon(text: str, inside: bool = False) -> str:
    """`months 30` as `months: 30`; what has lines inside, and a single word, gets its colon at the end."""
    equals = re.fullmatch(r"(.*?)\s*=\s*(.*)", text)
    if equals:
        return f"{equals[1]}: {equals[2]}"
    number = re.search(r"\s+(?=[\d\[{\"'])", text)
    if inside or " " not in text:
        return f"{text}:"
    at = number or re.search(r"\s+", text)
    assert at is not None
    return f"{text[: at.start()]}: {text[at.end() :]}"


def _has_inside(fault: _Fault, row: int) -> bool:
    following = next((line for line in fault.lines[row + 1 :] if line.strip()), "")
    return _indent(following) > _indent(fault.of(row))


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _colon_too_many(fault: _Fault) -> _Told | None:
    if "mapping values are not allowed" not in fault.detail:
        return None
    keyed = _KEYED.fullmatch(fault.line)
    if keyed and keyed.end("key") >= fault.column:
        return _after_what_is_above(fault)
    if not keyed:
        return None
    key, value = keyed["key"], _bare(keyed["value"] or "")
    text = f"{key}: {{{value}}}" if _looks_like_keys(key, value) else f"{key}: {_quoted(value)}"
    return _Told(fault.row, fault.column, 'a ": " stands inside a value', typing(keyed["dash"] + text))


def _looks_like_keys(key: str, value: str) -> bool:
    return key not in _PROSE_KEYS and re.match(r"[a-z_]+: ", value) is not None


def _quoted(value: str) -> str:
    inner = value.strip()
    if len(inner) > 1 and inner[0] == inner[-1] and inner[0] in "'\"":
        inner = inner[1:-1]
    return f'"{inner}"' if '"' not in inner else "'" + inner.replace("'", "''") + "'"


def _after_what_is_above(fault: _Fault) -> _Told:
    """A key that the line above swallows: that one lacks its colon, or this one stands too far in."""
    above = fault.above(fault.row)
    keyed = _KEYED.fullmatch(fault.of(above))
    if keyed is None:
        return _without_colon(fault, above)
    return _lost_dash(fault, above) or _moved(fault, keyed.start("key"), above)


def _lost_dash(fault: _Fault, row: int) -> _Told | None:
    """The first entry of a list where its lines are written like keys."""
    owner, line = _bare(fault.of(fault.above(row))).strip(), _bare(fault.of(row)).strip()
    if not owner.endswith(":") or not line.startswith(f"{_ENTRY_OF.get(owner[:-1], owner)}: "):
        return None
    fact = "a dash is missing in front of this entry"
    return _Told(row, _indent(fault.of(row)), fact, typing(f"- {line}"))


def _moved(fault: _Fault, column: int, like: int) -> _Told:
    spaces = "1 space" if column == 1 else f"{column} spaces" if column else "no space"
    fact = "this line is indented differently from its neighbours"
    text = _bare(fault.line).strip()
    help_ = f"{typing(' ' * column + text)[:-1]}, with {spaces} in front as in line {like + 1}."
    return _Told(fault.row, _indent(fault.line), fact, help_)


def _brackets(fault: _Fault) -> _Told | None:
    """A list or mapping in brackets that goes on where it should end, or ends where it goes on."""
    if not re.search(r"',' or '[\]}]'", fault.detail) or fault.opened is None:
        return None
    row, column = fault.opened
    opener, sign = fault.of(row)[column : column + 1], fault.sign
    if opener not in _CLOSER:
        return None
    closer = _CLOSER[opener]
    if sign in ("]", "}"):
        text = fault.line[: fault.column] + closer + fault.line[fault.column + 1 :]
        return _Told(fault.row, fault.column, f'"{sign}" closes what "{opener}" opened', typing(text.strip()))
    if row != fault.row and (hidden := re.search(r"\s#([0-9A-Fa-f]{3,6})\b", fault.of(row)[column:])):
        # The rest of the line is a remark to YAML, its bracket included.
        line, start = fault.of(row), column + hidden.start() + 1
        text = f'{line[:start]}"#{hidden[1]}"{line[start + 1 + len(hidden[1]) :]}'
        return _Told(row, start, "what follows # is a remark, unless it stands in quotes", typing(_bare(text).strip()))
    if row != fault.row or not sign:
        what = "list" if opener == "[" else "mapping"
        return _Told(row, column, f'this {what} is not closed with "{closer}"', typing(_closed(fault.of(row), closer)))
    if quoted := re.search(r"(['\"])[^'\"]*\1$", fault.line[: fault.column].rstrip()):
        return _quotes_inside(fault, quoted.start())
    return _lost_comma(fault)


def _closed(line: str, closer: str) -> str:
    return _bare(line).strip().rstrip(",") + closer


def _bare(text: str) -> str:
    """Without the remark behind it."""
    return re.sub(r"\s+#.*$", "", text)


def _lost_comma(fault: _Fault) -> _Told:
    before, after = fault.line[: fault.column], fault.line[fault.column :]
    word = re.search(r"\s+(\S+)\s*$", before)
    at = word.start() if word else fault.column
    text = f"{before[:at].rstrip()}, {(before[at:] + after).lstrip()}"
    return _Told(fault.row, at, "a comma is missing between two entries", typing(_bare(text).strip()))


def _after_a_value(fault: _Fault) -> _Told | None:
    """Something that follows a value which has ended: a bracket too many, or text after a closing quote."""
    head = fault.line[: fault.column]
    if not _block_ends(fault) or not head.strip():
        return None
    if opened := _opened_above(fault, fault.column):
        return _unclosed(fault, *opened)
    if fault.sign in ("]", "}"):
        text = head + fault.line[fault.column + 1 :]
        return _Told(fault.row, fault.column, f'a "{fault.sign}" too many stands here', typing(text.strip()))
    keyed = _KEYED.fullmatch(fault.line)
    return _quotes_inside(fault, keyed.start("value")) if keyed and keyed["value"] else None


def _quotes_inside(fault: _Fault, column: int) -> _Told:
    value = _value_from(fault.line, column)
    key = _key_before(fault.line, column)
    text = f"{key}: {_quoted(value)}" if key else _quoted(value)
    if value.startswith('"'):
        text = (f"{key}: " if key else "") + "'" + value.replace("'", "''") + "'"
    return _Told(fault.row, column, "text follows a closing quote", typing(text))


def _block_ends(fault: _Fault) -> bool:
    return any(words in fault.detail for words in ("expected key", "'-' indicator", "<block end>"))


def _out_of_line(fault: _Fault) -> _Told | None:
    """A line that fits none of the levels above it."""
    if not _block_ends(fault):
        return None
    text = _bare(fault.line).strip()
    glued = re.match(r"-(?=[^\s\d-])", text)
    if glued:
        return _Told(fault.row, fault.column, 'a space is missing after "-"', typing(f"- {text[1:]}"))
    levels, indent, above = dict(_levels(fault)), _indent(fault.line), fault.above(fault.row)
    if indent not in levels and _indent(fault.of(above)) == indent and not _KEYED.fullmatch(fault.of(above)):
        # A remark behind it has ended the text that the line above was taken for.
        return _without_colon(fault, above)
    line = _bare(fault.of(above))
    if re.fullmatch(r" *- +[^:]+", line) and _indent(line) < indent and _entry(fault, above):
        return _without_colon(fault, above)
    if told := _lost_dash(fault, above):
        return told
    if text.startswith("- ") and indent in levels:
        help_ = "Write it without the dash, or further in, below the key that it belongs to."
        return _Told(fault.row, indent, "an entry of a list stands among keys", help_)
    if indent in levels:
        help_ = f"{typing('- ' + text)[:-1]} for a new entry, or indent it by 2 more for the entry above."
        return _Told(fault.row, indent, "a key stands among the entries of a list", help_)
    near = min(levels, key=lambda level: (abs(level - indent), -level), default=0)
    return _moved(fault, near, levels.get(near, 0))


def _levels(fault: _Fault) -> Iterator[tuple[int, int]]:
    """Where keys and dashes of the parts that are open stand, with their lines, from the outside in."""
    least = 10_000
    found: list[tuple[int, int]] = []
    for row in range(fault.row - 1, -1, -1):
        keyed = _KEYED.fullmatch(fault.of(row))
        starts = [keyed.start("key"), keyed.start("dash")] if keyed else []
        for column in starts:
            if column < least:
                found.append((column, row))
                least = column
    yield from reversed(found)


def _text_beside_bar(fault: _Fault) -> _Told | None:
    if "comment or" not in fault.detail or fault.opened is None:
        return None
    row, column = fault.opened
    text = fault.of(row)[column + 1 :].strip()
    key = _key_before(fault.of(row), column)
    fact = f'text stands beside "{fault.of(row)[column : column + 1]}"'
    return _Told(row, column, fact, typing(f'{key}: "{text}"')[:-1] + ", or the text on the lines below.")


def _backslash(fault: _Fault) -> _Told | None:
    if "escape" not in fault.detail or fault.opened is None:
        return None
    row, column = fault.opened
    inner = fault.of(row)[column + 1 :].rstrip().rstrip('"')
    key = _key_before(fault.of(row), column)
    return _Told(
        row, column, 'a "\\" stands between double quotes', typing(f"{key}: '{inner}'" if key else f"'{inner}'")
    )


def _value_from(line: str, column: int) -> str:
    """The value that starts at a column: to the end of the line, or of the entry inside brackets."""
    rest = _bare(line[column:]).rstrip()
    if line[:column].count("{") + line[:column].count("[") > line[:column].count("}") + line[:column].count("]"):
        return rest[:1] + re.split(r",\s|[\]}]", rest[1:])[0].rstrip()
    return rest


def _key_before(line: str, column: int) -> str:
    found = re.search(r"([^\s,{\[:-][^,{\[:]*):\s*$", line[:column])
    return found[1] if found else ""


# The parser tells by words alone what it expected, so each reading goes by some of its words.
_READINGS: tuple[Callable[[_Fault], _Told | None], ...] = (
    _too_deep,
    _open_quote,
    _backslash,
    _text_beside_bar,
    _strange_start,
    _lost_colon,
    _colon_too_many,
    _brackets,
    _after_a_value,
    _out_of_line,
)
"""Each knows one kind of slip; the first that recognises its own tells it."""
