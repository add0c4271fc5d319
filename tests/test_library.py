"""The package as scripts use it: the reference's examples run as they stand, and importing it costs next to nothing."""

from __future__ import annotations

import doctest
import inspect
import re
import shutil
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from cli.test_protect import FORM
from log.small import BLOCK, CLIENT, ON
from log.viewers import with_pikepdf

import builder
from builder import places
from builder.pdf import locked

ROOT = Path(__file__).parents[1]
REFERENCE = (ROOT / "builder" / "manual" / "reference.md").read_text("utf-8")
EXAMPLES = re.findall(r"<!-- doctest -->\n```python\n(.*?)```", REFERENCE, re.DOTALL)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the files that `loadleaf start mine` makes."""
    shutil.copytree(places.templates() / "starter", tmp_path / "mine")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_readme_has_examples() -> None:
    assert len(EXAMPLES) == 2


@pytest.mark.usefixtures("folder")
@pytest.mark.parametrize("example", EXAMPLES)
def test_the_examples_of_the_readme_run_as_they_stand(example: str) -> None:
    parsed = doctest.DocTestParser().get_doctest(example, {}, "reference", "reference.md", 0)
    said: list[str] = []
    result = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS).run(parsed, out=said.append)
    assert result.attempted >= 5
    assert result.failed == 0, "".join(said)


def test_the_readme_names_what_the_package_offers() -> None:
    table = REFERENCE.split("<!-- table: library -->")[1].split("\n\n")[0]
    named = re.findall(r"^\| `(\w+)` \|", table, re.MULTILINE)
    assert sorted(named) == sorted(set(builder.__all__) - {"__version__"})


def test_every_offered_name_is_a_documented_typed_function() -> None:
    for name in set(builder.__all__) - {"__version__"}:
        function = getattr(builder, name)
        assert inspect.getdoc(function), name
        signature = inspect.signature(function)
        assert signature.return_annotation is not inspect.Signature.empty, name
        assert all(one.annotation is not inspect.Parameter.empty for one in signature.parameters.values()), name
        assert name in dir(builder)
    assert (ROOT / "builder" / "py.typed").is_file()


def test_importing_the_package_loads_nothing_of_it() -> None:
    code = "import sys, builder; print(*(name for name in sys.modules if name.startswith('builder')))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stdout.split() == ["builder"]


def test_what_is_not_offered_is_no_attribute() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'brew'"):
        builder.brew  # noqa: B018


def test_a_retest_from_a_script_names_doubts_and_writes_nothing(folder: Path) -> None:
    done = builder.retest("mine", on=date(2028, 6, 1), results=["back squat: 260 x 1"], output="new.pdf")
    assert [problem.code for problem in done.problems if problem.severity == "error"] == ["other-unit"]
    assert sorted(path.name for path in folder.iterdir()) == ["mine"]
    wrong = builder.retest("mine", on=date(2027, 3, 1), results=["back squat: heavy"])
    assert [problem.code for problem in wrong.problems] == ["result-form"]


def test_a_booklet_that_is_none_is_a_problem_and_no_exception(folder: Path) -> None:
    (folder / "none.pdf").write_bytes(b"no PDF")
    calls = (builder.read_log, builder.unpack, builder.impose, builder.carries, builder.strip)
    for answer in (call("none.pdf") for call in calls):
        value, problems = answer
        assert value is None
        assert problems
    assert builder.report("none.pdf", on=date(2027, 3, 1)).pressed is None


@pytest.mark.slow
def test_a_script_keeps_the_protections_of_a_copy_and_sees_what_travels(tmp_path: Path) -> None:
    """A sold copy with a form: its successor carries neither rules nor profile, and it can be stripped."""
    (tmp_path / "client.yaml").write_text(CLIENT, "utf-8")
    (tmp_path / "block.yaml").write_text(BLOCK, "utf-8")
    files, new = (tmp_path / "client.yaml", tmp_path / "block.yaml"), tmp_path / "new.pdf"
    sold = builder.build(builder.load(*files), ON, edition="log", whole=False, buyer="Vela Ferrum")
    (tmp_path / "sold.pdf").write_bytes(with_pikepdf(sold.pdf, FORM, tmp_path))
    done = builder.retest(*files, on=date(2027, 1, 20), forms=[tmp_path / "sold.pdf"], output=new)
    assert done.done, done.problems
    found, problems = builder.carries(new)
    assert found is not None and not problems
    assert [name for name, _ in found.files] == ["booklet.json"] and not {"rules", "health"} & found.kinds
    assert any("Vela Ferrum" in fact.text for fact in found.facts)
    stripped, problems = builder.strip(tmp_path / "sold.pdf")
    assert stripped is not None and not problems and stripped.pdf.startswith(b"%PDF")
    secret = locked(sold.pdf, "correct horse")
    (tmp_path / "secret.pdf").write_bytes(secret)
    again = builder.build(builder.load(*files), ON, edition="log", logs=[tmp_path / "secret.pdf"])
    assert [problem.code for problem in again.problems] == ["copy-locked"]


def test_files_may_be_named_one_by_one_or_as_a_list() -> None:
    one, other = places.templates() / "starter" / "client.yaml", places.templates() / "starter" / "block.yaml"
    listed, named = builder.load([one, str(other)]), builder.load(one, other)
    assert listed.problems == named.problems == ()
    assert listed.texts == named.texts
