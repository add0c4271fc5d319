"""Options and help, whatever the command: the same name means the same, and what does not fit ends with 2."""

from __future__ import annotations

import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from shutil import which

import click
import pytest
from cli.test_commands import BLOCK, CLIENT
from cli.test_commands import loadleaf as run
from click.shell_completion import ShellComplete
from click.testing import CliRunner

from builder.cli import loadleaf
from builder.cli.commands import COMMANDS
from builder.cli.outcome import Stopped
from builder.manual.commands import COMMANDS as EVERY
from builder.places import themes
from builder.values.lists import LANGUAGES, PAPERS


def _options() -> Iterator[tuple[str, click.Option]]:
    for name, command in EVERY.items():
        yield from ((name, param) for param in command.params if isinstance(param, click.Option))


def test_help_and_version_load_no_command() -> None:
    code = (
        "import sys\nfrom builder.cli import loadleaf\n"
        "try:\n loadleaf([sys.argv[1]], standalone_mode=False)\nexcept SystemExit: pass\n"
        "print(sorted(n for n in sys.modules if n.startswith('builder') or n in ('yaml', 'pydantic', 'weasyprint')))"
    )
    for word in ("--help", "--version"):
        done = subprocess.run([sys.executable, "-c", code, word], capture_output=True, text=True, check=True)
        loaded = set(eval(done.stdout.splitlines()[-1]))
        assert {name for name in loaded if name.startswith("builder.cli")} == {
            "builder.cli", "builder.cli.commands", "builder.cli.outcome"
        }  # fmt: skip
        assert not {"yaml", "pydantic", "weasyprint", "builder.intake", "builder.given"} & loaded


@pytest.mark.parametrize("name", COMMANDS)
def test_the_line_of_a_command_is_the_first_sentence_of_its_help(name: str) -> None:
    assert EVERY[name].get_short_help_str(200) == COMMANDS[name]


@pytest.mark.parametrize("name", COMMANDS)
def test_the_example_of_a_command_has_options_that_there_are(name: str) -> None:
    told = EVERY[name].epilog or ""
    assert told.startswith(f"Example: loadleaf {name}"), told
    arguments = shlex.split(told.split(" > ")[0])[3:]
    with EVERY[name].make_context(name, arguments, obj=False) as context:
        assert context.info_name == name
    shown = CliRunner().invoke(loadleaf, [name, "--help"])
    assert shown.exit_code == 0 and "Example: loadleaf" in shown.output


def test_an_option_of_one_name_takes_the_same_values_and_letters_everywhere() -> None:
    seen: dict[str, tuple[object, ...]] = {}
    for name, param in _options():
        kind = (type(param.type), tuple(getattr(param.type, "choices", ())), param.is_flag, tuple(sorted(param.opts)))
        if name != "loadleaf":
            assert seen.setdefault(max(param.opts, key=len), kind) == kind, (name, param.opts)


FREE = {
    "--result", "--made", "--missed", "--condition", "--note", "--bodyweight", "--buyer", "--order", "--scheduler",
    "--page", "--lift", "--name",
}  # fmt: skip
"""Options whose text is free, or means something only beside the files."""


@pytest.mark.parametrize(
    ("name", "option"),
    [
        (name, option)
        for name, param in _options() if not param.is_flag and not isinstance(param.type, click.Path)
        for option in param.opts if not FREE & set(param.opts)
    ],
)  # fmt: skip
def test_an_unknown_value_of_any_option_ends_with_2_and_tells_the_right_ones(name: str, option: str) -> None:
    param = next(one for of, one in _options() if of == name and option in one.opts)
    done = CliRunner().invoke(loadleaf, [name, option, "nonesuch"])
    assert done.exit_code == 2
    assert "nonesuch" in done.output and option in done.output
    known = {"--theme": themes(), "--language": LANGUAGES}.get(option) or getattr(param.type, "choices", None) or ()
    assert all(word in done.output for word in known)


@pytest.mark.parametrize(
    "words",
    ["retest FILES --result heavy", "retest FILES --result squat:heavy", "retest FILES --missed squat:heavy",
     "retest FILES --result squat:100x5 --bodyweight much", "retest FILES --result squat:100x5 --condition belt",
     "preview FILES --page nonesuch -o x.pdf", "preview FILES --week 40 -o x.pdf", "explain FILES --lift nonesuch",
     "explain FILES --week 40", "explain FILES --day 40", "explain FILES --week 1 --day 40",
     "roster x.csv -o x --name {nickname}", "build FILES --order a\x1bb"],
)  # fmt: skip
def test_free_text_that_means_nothing_ends_with_2(
    words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for name, text in (("client.yaml", CLIENT), ("block.yaml", BLOCK), ("x.csv", "name\nAda\n")):
        Path(name).write_text(text)
    done = CliRunner().invoke(loadleaf, words.replace("FILES", "client.yaml block.yaml").split(" "))
    code = done.exception.code if isinstance(done.exception, Stopped) else done.exit_code
    assert code == 2, done.output
    assert len(list(Path().iterdir())) == 3


@pytest.mark.parametrize(
    "words",
    ["build x.yaml --from-week 1", "build x.yaml --date 11.1.2027", "build x.yaml --share 90", "roster a.csv --jobs 0",
     "explain x.yaml --week one", "schema recipe", "buidl x.yaml", "build --papr A5 x.yaml", "frobnicate",
     "impose x.pdf --creep wide", "help nonesuch"],
)  # fmt: skip
def test_what_does_not_fit_ends_with_2_and_says_what_would(words: str) -> None:
    done = CliRunner().invoke(loadleaf, words.split())
    assert done.exit_code == 2
    assert "Traceback" not in done.output and len(done.output.splitlines()) <= 8


def test_a_miswritten_command_is_answered_by_the_nearest() -> None:
    assert 'Did you mean "build"?' in CliRunner().invoke(loadleaf, ["buidl"]).output
    assert "Commands: start, check, build" in CliRunner().invoke(loadleaf, ["frobnicate"]).output


def test_the_printed_handbook_is_found_by_that_name_too() -> None:
    """It is called "manual", since "handbook" is an edition of a booklet."""
    shown = CliRunner().invoke(loadleaf, ["handbook", "--help"])
    assert shown.exit_code == 0 and "Example: loadleaf manual" in shown.output


def test_quiet_and_verbose_may_stand_before_and_behind_the_command(tmp_path: Path) -> None:
    for place, words in enumerate((("-q", "start"), ("start", "-q"), ("start", "--quiet"))):
        done = CliRunner().invoke(loadleaf, [*words, str(tmp_path / f"mine-{place}")])
        assert (done.exit_code, done.output) == (0, ""), words
    for asked in (("-v", "build", "nowhere.yaml"), ("build", "nowhere.yaml", "-v"), ("build", "--verbose", "no.yaml")):
        assert "· sources" in run(*asked).stderr
    assert "· sources" not in run("build", "nowhere.yaml").stderr


def test_quiet_still_tells_problems_and_prints_what_was_asked_for() -> None:
    done = run("check", "nowhere.yaml", "--quiet")
    assert done.returncode == 1 and "nowhere.yaml cannot be read" in done.stderr
    assert CliRunner().invoke(loadleaf, ["schema", "brand", "-q"]).output.startswith("{")


def _completed(*words: str) -> set[str]:
    *before, last = words
    complete = ShellComplete(loadleaf, {}, "loadleaf", "_LOADLEAF_COMPLETE")
    return {item.value for item in complete.get_completions(before, last)}


def test_a_shell_completes_commands_themes_languages_papers_and_editions() -> None:
    assert _completed("che") == {"check"}
    assert _completed("build", "x.yaml", "--theme", "") == set(themes())
    assert _completed("build", "--language", "") == set(LANGUAGES)
    assert _completed("build", "--paper", "") == set(PAPERS)
    assert _completed("build", "--edition", "p") == {"personal", "pocket"}
    assert "--from-week" in _completed("build", "--from")
    assert _completed("schema", "pl") == {"plan"}


BASH = pytest.param("bash", marks=pytest.mark.skipif(not which("bash"), reason="bash itself is asked for its version"))


@pytest.mark.parametrize("shell", [BASH, "zsh", "fish"])
def test_the_line_for_a_shell_prints_its_completion(shell: str) -> None:
    code = "import sys; sys.argv = ['loadleaf']; from builder.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False,
        env={"_LOADLEAF_COMPLETE": f"{shell}_source", "PATH": "/usr/bin:/bin", "PYTHONPATH": ":".join(sys.path)},
    )  # fmt: skip
    assert f"_LOADLEAF_COMPLETE={shell}_complete" in done.stdout, done.stderr
