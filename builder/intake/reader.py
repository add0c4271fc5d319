"""Bytes of a source file to text: size, encoding, control signs and tabs are checked before YAML is."""

import re

from builder.values.problem import Problem, Span

MOST_BYTES = 512 * 1024
"""Far above any real source file; below what costs noticeable time or memory."""

_BOMS = ((b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
MOST_TOLD = 50
"""Problems of one kind that are told of a file; who has more mends these first."""

_CONTROL = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufdd0-\ufdef"
    + "".join(chr(plane << 16 | last) for plane in range(17) for last in (0xFFFE, 0xFFFF))
    + "]"
)
"""Signs that print nothing, that end lines unseen, or that turn the text after them round."""


def decode(data: bytes, file: str) -> tuple[str, tuple[Problem, ...]]:
    """The text of a UTF-8 file with `\\n` line ends; problems instead of text when it is none."""
    text, problems = decoded(data, file, MOST_BYTES)
    return text, (*problems, *_indenting_tabs(text, file))


def decoded(data: bytes, file: str, most: int) -> tuple[str, tuple[Problem, ...]]:
    """The same for any text of at most `most` bytes, tabs allowed."""
    if len(data) > most:
        fact = f"the file is larger than {most // 1024} KiB"
        return "", (
            Problem("file-too-large", Span(file, 1, 1), fact, "Real files are far smaller; is it the right one?"),
        )
    mark = next((name for bom, name in _BOMS if data.startswith(bom)), None)
    if mark == "utf-16":
        return "", (Problem("encoding", Span(file, 1, 1), "the file is UTF-16 text", "Save it as UTF-8."),)
    try:
        # Some editors begin a file with a mark, which belongs to no key.
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return "", (_undecodable(data, error, file),)
    # Lines are counted by one kind of end, in messages and by the parser alike.
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    return text, _control_signs(text, file)


def control_sign(text: str) -> re.Match[str] | None:
    """The first invisible control sign of a text; tabs and line ends are none."""
    return _CONTROL.search(text)


def source_line(text: str, line: int) -> str:
    """Line `line` (from 1) of a text, "" past its end."""
    lines = text.split("\n")
    return lines[line - 1] if 0 < line <= len(lines) else ""


def _undecodable(data: bytes, error: UnicodeDecodeError, file: str) -> Problem:
    before = data[: error.start]
    line, column = before.count(b"\n") + 1, error.start - (before.rfind(b"\n") + 1) + 1
    fact = f"byte 0x{data[error.start]:02X} is not UTF-8 text"
    return Problem(
        "encoding", Span(file, line, column), fact, "Save the file as UTF-8; it may be in an older code page."
    )


def _control_signs(text: str, file: str) -> tuple[Problem, ...]:
    found = control_sign(text)
    if not found:
        return ()
    line = text.count("\n", 0, found.start()) + 1
    column = found.start() - text.rfind("\n", 0, found.start())
    fact = f"a control sign (U+{ord(found.group()):04X}) stands in the text"
    return (Problem("control-sign", Span(file, line, column, 1, source_line(text, line)), fact, "Delete it."),)


def _indenting_tabs(text: str, file: str) -> tuple[Problem, ...]:
    found = []
    for number, line in enumerate(text.split("\n"), 1):
        indent = line[: len(line) - len(line.lstrip())]
        # The parser says of such a line something about tokens, and not where the tab is.
        if "\t" in indent and line.strip() and not line.lstrip().startswith("#"):
            span = Span(file, number, indent.index("\t") + 1, 1, line)
            found.append(
                Problem("tab", span, "a tab indents this line", "YAML is indented with spaces: use two a level.")
            )
            if len(found) == MOST_TOLD:
                break
    return tuple(found)
