"""Arguments and options that several commands share."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.shell_completion import CompletionItem

from builder.cli.outcome import stop_at
from builder.places import themes
from builder.values.lists import EDITIONS, LANGUAGES, LAYOUTS, PAPERS, Keep
from builder.values.problem import Problem, did_you_mean

if TYPE_CHECKING:
    from builder.intake import Loaded

PLAIN_SPACES = str.maketrans({"\N{NARROW NO-BREAK SPACE}": " ", "\N{THIN SPACE}": " "})
"""Not every terminal has the typographic spaces of a page."""
FILES = click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))


class DayParam(click.ParamType[date]):
    """A date written year-month-day."""

    name = "YYYY-MM-DD"

    def convert(self, value: Any, param: click.Parameter | None, context: click.Context | None) -> date:
        """The date, or a usage error that shows how to write one."""
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(value)
        except ValueError:
            self.fail(f'"{value}" is not a date such as 2027-01-11.', param, context)


class ShareOfMax(click.ParamType[Decimal]):
    """A share such as "90 %", from 50 to 100."""

    name = "SHARE"

    def convert(self, value: Any, param: click.Parameter | None, context: click.Context | None) -> Decimal:
        """The share as a fraction, or a usage error that shows how to write one."""
        found = re.fullmatch(r"([0-9]{2,3}(?:\.[0-9]{1,2})?) ?%", str(value).strip())
        share = Decimal(found[1]) / 100 if found else None
        if share is None or not Decimal("0.5") <= share <= 1:
            self.fail(f'"{value}" is not a share such as "90 %", from 50 to 100 %.', param, context)
        return share


class LanguageParam(click.ParamType[str]):
    """A language that there are words for."""

    name = "CODE"

    def convert(self, value: Any, param: click.Parameter | None, context: click.Context | None) -> str:
        """The code of the language, or a usage error that names those at hand."""
        from builder.work.texts import languages

        if value not in languages():
            self.fail(
                f'there are no words in the language "{value}"; languages: {", ".join(languages())}.', param, context
            )
        return str(value)

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        """The languages that begin like what is typed."""
        return [CompletionItem(code) for code in LANGUAGES if code.startswith(incomplete)]


class AnyCase(click.Choice[str]):
    """A word out of a list, in small or large letters; it is told as the list has it."""

    def convert(self, value: Any, param: click.Parameter | None, context: click.Context | None) -> str:
        """The word as the list has it, or a usage error that names those at hand."""
        meant = next((word for word in self.choices if word.casefold() == str(value).casefold()), value)
        return super().convert(meant, param, context)


class ThemeParam(click.ParamType[str]):
    """A look of the pages that is at hand."""

    name = "NAME"

    def convert(self, value: Any, param: click.Parameter | None, context: click.Context | None) -> str:
        """The name of the theme, or a usage error that names those at hand."""
        if value not in themes():
            near = did_you_mean(str(value), themes())
            self.fail(f'there is no theme "{value}". {near + " " if near else ""}Themes: {", ".join(themes())}.',
                      param, context)  # fmt: skip
        return str(value)

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        """The themes that begin like what is typed."""
        return [CompletionItem(name) for name in themes() if name.startswith(incomplete)]


class Stamped(click.ParamType[str]):
    """A name or number that is printed on every page: one line of plain signs."""

    name = "TEXT"

    def __init__(self, most: int) -> None:
        self.most = most

    def convert(self, value: Any, param: click.Parameter | None, context: click.Context | None) -> str:
        """The text without blanks around it, or a usage error."""
        text = str(value).strip()
        if len(text) > self.most or not text.isprintable():
            self.fail(f"write one line of at most {self.most} signs, without control signs.", param, context)
        return text


MOST_PASSWORD_BYTES = 127
"""ISO 32000-2, 7.6.4.3.3."""


def owner_password(file: Path) -> str:
    """The first line of a file; a problem where there is none. On a command line others could read it."""
    try:
        with file.open("rb") as source:
            # No more than a line: another file may be named by mistake, and be large.
            line = source.read(1024).splitlines()[:1]
        password = line[0].decode("utf-8").strip() if line else ""
    except OSError as error:
        fact = f"{file} cannot be read: {(error.strerror or 'unknown reason').lower()}"
        stop_at([Problem("unreadable", None, fact, "Check the name and the rights of the file.")])
        raise
    except UnicodeDecodeError:
        password = ""
    if not 8 <= len(password.encode()) <= MOST_PASSWORD_BYTES:
        fact = f"the first line of {file} is no password of 8 to {MOST_PASSWORD_BYTES} bytes"
        stop_at([Problem("password", None, fact, "Write the password alone into a text file, in one line.")])
    return password


def language_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The option --language: which words are printed."""
    help_ = "Language of the printed words (default: the brand's, or en)."
    return click.option("--language", type=LanguageParam(), help=help_)(command)


def theme_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The option --theme: how the pages look."""
    help_ = "Look of the pages (default: the brand's, or default)."
    return click.option("--theme", type=ThemeParam(), help=help_)(command)


def cache_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The option --cache: which pages are kept for later runs."""
    help_ = "Pages to keep for later runs, and to take from earlier ones (default: LOADLEAF_CACHE, or texts)."
    return click.option(
        "--cache", type=click.Choice([str(one) for one in Keep]), default=str(Keep.TEXTS), envvar="LOADLEAF_CACHE",
        help=help_,
    )(command)  # fmt: skip


def booklet_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options of every command that makes a booklet: where to, on which paper, and how it looks."""
    for option in reversed((
        click.option("-o", "--output", type=click.Path(path_type=Path),
                     help="The PDF to write (default: a name from lifter and block)."),
        click.option("--paper", type=AnyCase(PAPERS),
                     help="Page size (default: the brand's, or A4)."),
        click.option("--layout", type=click.Choice(LAYOUTS), help="Sessions: one page where they fit, or with room "
                     "(default: the brand's, or page)."),
        language_option,
        theme_option,
        click.option("--edition", type=click.Choice(EDITIONS), help="Which pages (default: the brand's, or personal)."),
        click.option("--no-sources", is_flag=True,
                     help="Carry what the fields mean and nothing else: neither rules nor profile."),
        click.option("--with-sources", is_flag=True, help="Carry rules and profile even if the brand keeps them back."),
        click.option("--buyer", type=Stamped(60), default="", help="Print this buyer's name small on each page."),
        click.option("--order", type=Stamped(40), default="", help="Print this order number small on each page."),
        click.option("--owner-password-file", type=click.Path(path_type=Path),
                     help="Lock the PDF against changes with the password in this file; forms can still be filled."),
        click.option("--like", "former", multiple=True, type=click.Path(path_type=Path),
                     help="An earlier copy: keep its protections, as copies after --log and --form do."),
        click.option("--unprotected", is_flag=True, help="Keep no protection of an earlier copy."),
        click.option("--replace", is_flag=True, help="Overwrite a file of another kind; never filled fields."),
        click.option("--jobs", type=click.IntRange(1, 256),
                     help="Processes that make pages at the same time (default: one a core; on a Mac one)."),
        cache_option,
    )):  # fmt: skip
        command = option(command)
    return command


def date_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The option --date: the day that a booklet or a review counts as today."""
    help_ = "The day that counts as today (default: today, or SOURCE_DATE_EPOCH)."
    return click.option("--date", "on", type=DayParam(), default=_today, show_default=False, help=help_)(command)


def loaded(files: Sequence[Path], need: Sequence[str] = ("client", "block")) -> Loaded:
    """The sources, or every problem shown and the command ended."""
    from builder.intake import load

    result = load(files, need=need)
    stop_at(result.problems)
    return result


def _today() -> date:
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not epoch:
        return date.today()
    try:
        return datetime.fromtimestamp(int(epoch), UTC).date()
    except (ValueError, OverflowError, OSError):
        raise click.UsageError(f'SOURCE_DATE_EPOCH is "{epoch}", which is no time in seconds since 1970.') from None
