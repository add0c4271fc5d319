"""A whole retest: the profile grows by its tests, the former one is kept, and with a problem nothing is written."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from retest.files import BLOCK, DAY, OLD_PDF, PDF, folder, job, outcome, quick
from sources_for_tests import CLIENT, LIFTS

from builder.door import locked
from builder.given import Conditions
from builder.intake import load
from builder.log.results import DayOutcome, LiftOutcome, Result
from builder.values.problem import Severity
from builder.values.quantity import Unit
from builder.values.scalars import Amount
from builder.work.publish import publish
from builder.work.retest import Applied, apply, run
from builder.work.retest.run import kept_path

ADDED = ", {date: 2027-02-13, load: 205, reps: 1, rir: 0, revision: 2}"
NEW = CLIENT.replace("reps: 1}]}\n  bench", f"reps: 1}}{ADDED}]}}\n  bench")


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    quick(monkeypatch)


def _codes(done: Applied) -> list[str]:
    return [p.code for p in done.problems if p.severity is Severity.ERROR]


def test_a_retest_adds_the_test_keeps_the_former_file_and_makes_the_booklet(tmp_path: Path) -> None:
    done = apply(outcome(), job(folder(tmp_path)))
    assert done.done and _codes(done) == []
    assert (tmp_path / "client.yaml").read_text() == NEW
    assert (tmp_path / "client.yaml.before-retest").read_text() == CLIENT
    assert (tmp_path / "block.yaml").read_text() == BLOCK
    assert (tmp_path / "out.pdf").read_bytes() == PDF
    assert sorted(p.name for p in tmp_path.iterdir()) == [
        "block.yaml", "client.yaml", "client.yaml.before-retest", "out.pdf"
    ]  # fmt: skip
    assert done.changes[0].estimate.before == 200 and done.changes[0].estimate.now == 205
    assert done.now is not None and done.now.client.revision == 2


def test_a_client_with_changes_is_retested_with_them(tmp_path: Path) -> None:
    """They stay in the file as they were, and the new plan has them: a pause squat in week 2, from the new max."""
    changes = "changes:\n  - {swap: back squat, to: pause back squat, weeks: 2, why: A sore knee.}\n"
    done = apply(outcome(), job(folder(tmp_path, client=CLIENT + changes)))
    assert done.done and _codes(done) == []
    assert (tmp_path / "client.yaml").read_text() == NEW + changes
    assert done.now is not None
    assert [session.slots[0].movement for session in done.now.sessions()] == ["back squat", "pause back squat"]
    assert done.now.changes[0].why == "A sore knee." and done.changes[0].estimate.now == 205


def test_the_next_retest_has_the_next_revision_and_keeps_the_file_before_it(tmp_path: Path) -> None:
    path = folder(tmp_path)
    apply(outcome(), job(path))
    done = apply(outcome("207.5", day=DAY + timedelta(days=14)), job(path))
    assert done.now is not None and done.now.client.revision == 3
    assert (tmp_path / "client.yaml.before-retest").read_text() == NEW
    assert done.changes[0].estimate.before == 205


def test_forty_retests_in_a_row_give_forty_revisions(tmp_path: Path) -> None:
    path = folder(tmp_path, client=CLIENT.replace("\n", "\r\n"))
    for number in range(40):
        day = DAY + timedelta(days=7 * number)
        usual = job(path)
        choices = replace(usual.choices, on=day)
        assert apply(outcome("200" if number % 2 else "205", day=day), replace(usual, choices=choices)).done
    sources = load([path]).sources
    assert sources is not None and sources.client is not None
    tests = sources.client.lifts["back squat"].tests
    assert [test.revision for test in tests] == [None, *range(2, 42)]
    assert [test.day for test in tests[1:]] == [DAY + timedelta(days=7 * n) for n in range(40)]
    assert (tmp_path / "client.yaml").read_bytes().count(b"\n") == CLIENT.count("\n")


def test_permissions_and_links_stay_and_the_copy_is_as_private_as_the_file(tmp_path: Path) -> None:
    real, linked = tmp_path / "real", tmp_path / "linked"
    real.mkdir(), linked.mkdir()
    folder(real, block="")
    folder(linked, client="")
    (real / "client.yaml").chmod(0o600)
    (linked / "client.yaml").symlink_to(real / "client.yaml")
    done = apply(outcome(), job(linked, files=(linked / "client.yaml", linked / "block.yaml")))
    assert "link-followed" in [p.code for p in done.problems]
    assert (linked / "client.yaml").is_symlink()
    assert (real / "client.yaml").read_text() == NEW
    kept = kept_path(linked / "client.yaml")
    assert done.kept == (kept,) and kept.parent == real.resolve()
    assert [path.stat().st_mode & 0o777 for path in (real / "client.yaml", kept)] == [0o600, 0o600]


def test_a_file_that_is_named_in_two_ways_grows_once(tmp_path: Path) -> None:
    path = folder(tmp_path)
    again = path / ".." / path.name / "client.yaml"
    done = apply(outcome(), job(path, files=(path, path / "." / "client.yaml", again)))
    assert done.done, done.problems
    assert (path / "client.yaml").read_text() == NEW


LOCK, KEPT = ".client.yaml.lock", "client.yaml.before-retest"


@pytest.mark.parametrize(
    ("planted", "there"), [(LOCK, True), (LOCK, False), (KEPT, True), (KEPT, False), ("client.yaml", True)]
)
def test_a_link_in_a_folder_that_somebody_sent_leads_nowhere(tmp_path: Path, planted: str, there: bool) -> None:
    """Neither the lock nor the copy nor the profile itself is written through a link that nobody named."""
    sent, precious = tmp_path / "sent", tmp_path / "precious"
    sent.mkdir()
    folder(sent)
    if planted == "client.yaml":
        precious.write_text(CLIENT)
    elif there:
        precious.write_text("keep")
    before = precious.read_text() if precious.exists() else None
    (sent / planted).unlink(missing_ok=True)
    (sent / planted).symlink_to(precious)
    done = apply(outcome(), job(sent))
    assert not done.done and {p.code for p in done.problems} <= {"output", "output-link"}
    assert (precious.read_text() if precious.exists() else None) == before
    assert (sent / planted).is_symlink() and not (sent / "out.pdf").exists()


def test_another_file_is_not_taken_for_a_former_profile(tmp_path: Path) -> None:
    path = folder(tmp_path)
    (path / "client.yaml.before-retest").write_text("my notes")
    assert _codes(apply(outcome(), job(path))) == ["output-other"]
    assert (path / "client.yaml.before-retest").read_text() == "my notes"
    assert (path / "client.yaml").read_text() == CLIENT and not (path / "out.pdf").exists()


def test_a_change_while_the_booklet_is_made_is_not_lost(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The coach saves the profile in an editor while the retest runs."""
    path = folder(tmp_path)
    real = publish

    def meanwhile(*arguments: object) -> object:
        (path / "client.yaml").write_text(CLIENT + "# a remark\n")
        return real(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(run, "publish", meanwhile)
    done = apply(outcome(), job(path))
    assert not done.done and _codes(done)[-1:] == ["output"]
    assert "changed while this run worked" in done.problems[-1].fact
    assert (path / "client.yaml").read_text() == CLIENT + "# a remark\n"
    assert not (path / "out.pdf").exists() and not kept_path(path / "client.yaml").exists()


def test_a_doubt_stops_the_run_until_someone_is_sure(tmp_path: Path) -> None:
    path = folder(tmp_path)
    done = apply(outcome("600"), job(path))
    assert not done.done and _codes(done) == ["unlikely-rise"]
    _nothing_written(tmp_path)
    done = apply(outcome("250"), job(path, sure=True))
    assert done.done
    assert [p.severity for p in done.problems if p.code == "unlikely-rise"] == [Severity.WARNING]


def _nothing_written(path: Path, client: str = CLIENT) -> None:
    assert (path / "client.yaml").read_text() == client
    assert sorted(p.name for p in path.iterdir()) == ["block.yaml", "client.yaml"]


@pytest.mark.parametrize(
    ("texts", "made", "code"),
    [
        ({"client": CLIENT.replace("reps: 1}", "repz: 1}", 1)}, outcome(), "unknown-key"),
        ({"client": CLIENT.replace("lifts:", "lifts")}, outcome(), "syntax"),
        ({}, outcome(lift="back sqat"), "unknown-movement"),
        ({}, DayOutcome(DAY, (*outcome().lifts, *outcome(lift="squat").lifts)), "duplicate-lift"),
        ({}, DayOutcome(DAY, (LiftOutcome("back squat", Result(Amount(Decimal(150)), 12, Decimal(4))),)), "weak-test"),
        ({"client": CLIENT.replace("back squat: {tests: [{", "back squat: {tests: &t [{").replace(
            "bench press: {tests: [{date: 2026-12-19, load: 100, reps: 1}]", "bench press: {tests: *t")},
         outcome(), "no-place"),
        ({}, DayOutcome(DAY, (LiftOutcome("deadlift", None, missed=(Amount(Decimal(200)),)),)), "no-test"),
    ],
)  # fmt: skip
def test_with_a_problem_nothing_is_written(tmp_path: Path, texts: dict[str, str], made: DayOutcome, code: str) -> None:
    done = apply(made, job(folder(tmp_path, **texts)))
    assert _codes(done) == [code], [p.as_text() for p in done.problems]
    _nothing_written(tmp_path, texts.get("client", CLIENT))


def test_a_folder_without_a_client_or_a_file_says_so(tmp_path: Path) -> None:
    assert _codes(apply(outcome(), job(tmp_path))) == ["missing-part"]
    assert _codes(apply(outcome(), job(folder(tmp_path, client="")))) == ["missing-part"]
    assert _codes(apply(outcome(), job(folder(tmp_path, block="").joinpath("none.yaml")))) == ["unreadable"]


def test_a_filled_or_foreign_output_stops_the_run_before_the_profile_changes(tmp_path: Path) -> None:
    path = folder(tmp_path)
    (path / "out.pdf").write_bytes(OLD_PDF)
    assert _codes(apply(outcome(), job(path, replace=False))) == ["output-other"]
    assert (path / "client.yaml").read_text() == CLIENT
    for target in (path / "client.yaml", kept_path(path / "client.yaml")):
        assert _codes(apply(outcome(), job(path, output=target))) == ["output-source"]


def test_a_fault_while_writing_leaves_everything_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = folder(tmp_path)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    done = apply(outcome(), job(path))
    assert _codes(done) == ["output"] and "no space left" in done.problems[-1].fact
    _nothing_written(tmp_path)


def test_a_booklet_that_cannot_be_put_in_place_leaves_the_profile_with_its_tests_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = folder(tmp_path)
    usual = os.link

    def partly(source: str, target: str, **more: Any) -> None:
        if target.endswith(".pdf"):
            raise PermissionError(13, "Permission denied", source, None, target)
        usual(source, target, **more)

    monkeypatch.setattr("os.link", partly)
    done = apply(outcome(), job(path))
    assert done.problems[-1].fact == f"{path / 'out.pdf'} cannot be written: permission denied"
    assert not done.done and _codes(done) == ["output"]
    assert done.profiles == (path / "client.yaml",)
    assert (path / "client.yaml").read_text() == NEW
    assert not [p.name for p in path.iterdir() if p.suffix == ".part"]


def test_while_another_run_holds_the_profile_this_one_is_turned_away(tmp_path: Path) -> None:
    path = folder(tmp_path)
    with locked([path / "client.yaml"]):
        done = apply(outcome(), job(path))
    assert _codes(done) == ["profile-locked"] and "another retest works on" in done.problems[0].fact
    _nothing_written(tmp_path)


def test_of_two_retests_at_once_one_wins_whole(tmp_path: Path) -> None:
    """Two processes; who comes second is turned away, by the lock or by the test that is there by now."""
    path = folder(tmp_path)
    children = []
    for _ in range(2):
        if not (child := os.fork()):
            code = 9
            try:
                code = 0 if apply(outcome(), job(path)).done else 7
            finally:
                os._exit(code)
        children.append(child)
    ends = sorted(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children)
    assert ends == [0, 7]
    assert (path / "client.yaml").read_text() == NEW and (path / "out.pdf").read_bytes() == PDF
    assert (path / "client.yaml.before-retest").read_text() == CLIENT
    assert not [p.name for p in path.iterdir() if p.name.startswith(".")]


def test_a_huge_file_in_the_place_of_the_former_profile_is_not_read(tmp_path: Path) -> None:
    path = folder(tmp_path)
    with (path / "client.yaml.before-retest").open("wb") as file:
        file.truncate(1 << 40)
    assert _codes(apply(outcome(), job(path))) == ["output-other"]


def test_what_another_run_wrote_meanwhile_is_read_again_under_the_lock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = folder(tmp_path)
    first = locked

    def slow(paths: list[Path]) -> object:
        (path / "client.yaml").write_text(CLIENT + "# written meanwhile\n")
        return first(paths)

    monkeypatch.setattr(run, "locked", slow)
    assert apply(outcome(), job(path)).done
    assert (path / "client.yaml").read_text() == NEW + "# written meanwhile\n"


def test_the_file_that_holds_the_tests_is_the_one_that_grows(tmp_path: Path) -> None:
    """Of several that are laid over each other: lists are replaced whole, so the last one with tests counts."""
    later = "format: 1\nlifts:\n  back squat:\n    tests:\n      - {date: 2027-01-02, load: 202.5, reps: 1}\n"
    share = "format: 1\nlifts: {back squat: {working_max: 95 %}}\n"
    path = folder(tmp_path, zz=share, later=later)
    done = apply(outcome(), job(path, files=tuple(path / f"{n}.yaml" for n in ("client", "block", "later", "zz"))))
    assert done.done
    assert done.profiles == (path / "later.yaml",)
    assert (path / "later.yaml").read_text() == later + "      - " + ADDED.removeprefix(", ") + "\n"
    assert (path / "client.yaml").read_text() == CLIENT
    assert (path / "zz.yaml").read_text() == share


def test_two_lifts_in_two_files_and_a_file_named_twice(tmp_path: Path) -> None:
    bench = "format: 1\nlifts:\n  bench press: {tests: [{date: 2026-12-20, load: 101, reps: 1}]}\n"
    path = folder(tmp_path, bench=bench)
    lifts = (*outcome().lifts, *outcome("102.5", "bench press").lifts)
    files = tuple(path / f"{name}.yaml" for name in ("client", "block", "bench", "block", "bench"))
    done = apply(DayOutcome(DAY, lifts), job(path, files=files))
    assert done.done, [p.as_text() for p in done.problems]
    assert (path / "client.yaml").read_text() == NEW
    assert (path / "bench.yaml").read_text().count("revision: 2") == 1
    assert [one.estimate.now for one in done.changes] == [205, Decimal("102.5")]


@pytest.mark.parametrize(
    "lifts",
    [
        "", "lifts: {}\n", "lifts:\n  back squat: {tests: []}\n", "lifts:\n  back squat: {working_max: 95 %}\n",
        "lifts:\n  squat:\n    tests:\n", "lifts:\n  back squat:\n", "lifts:\n",
    ],
)  # fmt: skip
def test_a_lift_without_any_test_gets_its_first(tmp_path: Path, lifts: str) -> None:
    """Even where the profile cannot be built before."""
    done = apply(outcome(), job(folder(tmp_path, client=CLIENT.replace(LIFTS, lifts))))
    assert done.done, [p.as_text() for p in done.problems]
    assert done.changes[0].estimate.before is None and done.changes[0].estimate.now == 205


def test_conditions_are_those_of_the_last_test_as_far_as_they_are_planned(tmp_path: Path) -> None:
    tests = "{date: 2026-12-19, load: 200, reps: 1, bar: low, belt: true, sleeves: false}"
    lifts = LIFTS.replace("{date: 2026-12-19, load: 200, reps: 1}", tests)
    trained = BLOCK.replace("movement: back squat,", "movement: back squat, trained: {belt: false, bar: low},")
    path = folder(tmp_path, client=CLIENT.replace(LIFTS, lifts), block=trained)
    apply(outcome(), job(path))
    added = "load: 205, reps: 1, rir: 0, bar: low, sleeves: false, revision: 2}"
    assert added in (path / "client.yaml").read_text()
    said = Conditions.model_validate({"belt": "yes", "sleeves": "yes", "depth": "parallel"})
    lift = LiftOutcome("back squat", Result(Amount(Decimal(205)), 1), conditions=said, note='He said: "Light"')
    apply(DayOutcome(DAY + timedelta(days=7), (lift,)), job(path))
    added = 'bar: low, depth: parallel, belt: true, sleeves: true, revision: 3, note: "He said: \\"Light\\""}'
    assert added in (path / "client.yaml").read_text()


def test_attempts_are_kept_and_a_day_without_a_good_one_is_a_missed_test(tmp_path: Path) -> None:
    path = folder(tmp_path)
    loads = {n: Amount(Decimal(n)) for n in ("195", "205", "210")}
    lift = LiftOutcome("back squat", Result(loads["205"], 1), (loads["195"], loads["205"]), (loads["210"],))
    apply(DayOutcome(DAY, (lift,), Amount(Decimal("79.5"))), job(path))
    told = "attempts: {made: [195, 205], missed: [210]}, bodyweight: 79.5, revision: 2}"
    assert told in (path / "client.yaml").read_text()
    missed = LiftOutcome("back squat", missed=(loads["210"], loads["210"]))
    done = apply(DayOutcome(DAY + timedelta(days=7), (missed,)), job(path))
    told = "load: 210, reps: 1, missed: true, attempts: {missed: [210, 210]}, revision: 3}"
    assert told in (path / "client.yaml").read_text()
    assert done.changes[0].estimate.before == done.changes[0].estimate.now == 205


def test_without_an_output_the_name_tells_lifter_block_and_revision(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = apply(outcome(), job(folder(tmp_path), output=None))
    assert done.booklet == Path("quill-a-block-revision-2.pdf")
    assert done.booklet.read_bytes() == PDF


def test_pounds_in_a_profile_of_kilograms_stay_pounds(tmp_path: Path) -> None:
    """450 lb are 204.1 kg (1 lb = 0.45359237 kg exactly)."""
    path = folder(tmp_path)
    lift = LiftOutcome("back squat", Result(Amount(Decimal(450), Unit.LB), 1))
    done = apply(DayOutcome(DAY, (lift,)), job(path))
    assert "load: 450 lb, reps: 1" in (path / "client.yaml").read_text()
    assert done.changes[0].estimate.now == 450 * Decimal("0.45359237")
