"""Mistakes typed on purpose: each message names the line and shows what to type, and typing that mends the file."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from builder.intake.load import understood
from builder.values.problem import Problem, Span

CLIENT = """format: 1
client:
  name: Odalys Finch
  units: kg
  bodyweight: 71.5
  sex: female
training:
  status: novice
  months: 36
  days: [mon, wed, fri]
  session_minutes: 60
  starts: 2027-01-11
lifts:
  back squat: {tests: [{date: 2026-12-19, load: 120, reps: 3, rir: 1, bar: low, depth: below parallel, belt: true}]}
  bench press:
    tests:
      - {date: 2026-12-19, load: 80, reps: 5}
gym:
  bars: {power bar: 20}
  pairs: {20: 2, 10: 1, 5: 1}
  dumbbells: {from: 2, to: 40, step: 2}
  stacks: {cable tower: {from: 5, to: 100, step: 5}}
  pins: {first: 25, spacing: 5, holes: 30}
  safeties: true
  spotter: always
limits:
  - area: left shoulder
    avoid: [overhead press]
    instead: {overhead press: push-up}
screening: {answered: 2027-01-04}
"""
BLOCK = """format: 1
block:
  title: "Squat: heavy"
  weeks: 8
  suits: [novice]
  deload: {every: 4}
  test: {week: 8, lifts: [back squat]}
days:
  - title: Long day
    weeks: 1-4
    slots:
      - movement: back squat
        rest: 3 min
        tempo: 3-0-1-0
        progression: {kind: single, sets: 5, reps: 5, rir: 2, add: 2.5 kg}
      - movement: bench press
        superset: A
        trained: {belt: true}
        progression: {kind: double, sets: 3, reps: 8-12, add: 2.5 kg}
        rest: 90 s
      - movement: deadlift
        progression: {kind: wave, weeks: [{share: 85 %, sets: 3, reps: 5, stress: heavy}]}
      - movement: overhead press
        progression: {kind: rep_out, sets: 3, reps: 5}
      - drill: walkout
        of: back squat
        progression: {kind: hold, from: 95 %, to: 100 %, every: 2 weeks, seconds: 8 s}
      - drill: pin squat
        of: back squat
        progression: {kind: pins, from: hole 14, to: hole 12}
  - title: Short day
    slots:
      - movement: back squat
        progression: {kind: top_set, reps: 3, rir: 2, backoff: {sets: 3, reps: 5, share: 85 %}}
"""


@dataclass(frozen=True, slots=True)
class Mistake:
    """`right` stands in one of the files; `wrong` is typed in its place, and the help shows `typed`."""

    right: str
    wrong: str
    typed: str = ""

    @property
    def shown(self) -> str:
        """What the help must contain, without the spaces in front."""
        return (self.typed or self.right).strip()


MISTAKES = (
    # Numbers and their units
    Mistake("bodyweight: 71.5", "bodyweight: 71,5", "71.5"),
    Mistake("months: 36", "months: 3 years", "36"),
    Mistake("months: 36", "months: ~36", "36"),
    Mistake("months: 36", "years: 3", "months: 36"),
    Mistake("session_minutes: 60", "session_minutes: 60 min", "60"),
    Mistake("session_minutes: 60", "session_minutes: 1 h", "60"),
    Mistake("session_minutes: 60", "session_minutes: 1:00", "60"),
    Mistake("weeks: 8\n", "weeks: 8 weeks\n", "8"),
    Mistake("deload: {every: 4}", "deload: {every: 4 weeks}", "4"),
    Mistake("load: 120, reps: 3", "load: 120 x 3", "load: 120, reps: 3"),
    Mistake("load: 80, reps: 5", "load: 80 kgs, reps: 5", "80 kg"),
    Mistake("load: 80, reps: 5", "load: 80 kg total, reps: 5", "80 kg"),
    Mistake("load: 80, reps: 5", "load: ~80, reps: 5", "80"),
    Mistake("add: 2.5 kg}\n      - movement: bench", "add: 2.5 kg per week}\n      - movement: bench", "2.5 kg"),
    Mistake("add: 2.5 kg}\n      - movement: bench", "add: 2,5 kg}\n      - movement: bench", "2.5"),
    Mistake("rest: 3 min", "rest: 3", "3 min"),
    Mistake("rest: 3 min", "rest: 3:00", "180 s"),
    Mistake("rest: 3 min", "rest: 2-3 min", "3 min"),
    Mistake("rest: 3 min", "rest: 3m", "3 min"),
    Mistake("rest: 90 s", "rest: 90\"", "90 s"),
    Mistake("rest: 90 s", "rest: 1 min 30 s", "90 s"),
    Mistake("share: 85 %, sets: 3, reps: 5, stress", "share: 0.85, sets: 3, reps: 5, stress", "85 %"),
    Mistake("share: 85 %, sets: 3, reps: 5, stress", "share: 85 percent, sets: 3, reps: 5, stress", "85 %"),
    Mistake("share: 85 %, sets: 3, reps: 5, stress", "share: 80-85 %, sets: 3, reps: 5, stress", "80 %"),
    Mistake("share: 85 %, sets: 3, reps: 5, stress", "intensity: 85 %, sets: 3, reps: 5, stress", "share"),
    Mistake("seconds: 8 s", "seconds: 8", "8 s"),
    Mistake("from: hole 14", "from: 14", "hole 14"),
    # Sets, reps and effort
    Mistake("sets: 5, reps: 5, rir", "reps: 5x5, rir", "sets: 5, reps: 5"),
    Mistake("sets: 3, reps: 8-12", "reps: 3x8-12", "sets: 3, reps: 8-12"),
    Mistake("reps: 8-12", "reps: 8 to 12", "8-12"),
    Mistake("reps: 8-12", "reps: 12-8", "8-12"),
    Mistake("kind: rep_out, sets: 3, reps: 5", "kind: rep_out, sets: 3, reps: AMRAP", "reps: 5"),
    Mistake("kind: single, sets: 5, reps: 5, rir: 2, add: 2.5 kg", "kind: single, sets: 5, reps: 5+", "kind: rep_out"),
    Mistake("kind: double, sets: 3, reps: 8-12", "kind: single, sets: 3, reps: 8-12", "kind: double, reps: 8-12"),
    Mistake("rir: 2, add", "rir: RPE 8, add", "2"),
    Mistake("rir: 2, add", "rir: 2-3, add", "2.5"),
    Mistake("rir: 2, add", "rir: 2 reps, add", "2"),
    # Words
    Mistake("status: novice", "status: beginner", "novice"),
    Mistake("units: kg", "units: kilos", "kg"),
    Mistake("sex: female", "sex: f", "female"),
    Mistake("bar: low,", "bar: low bar,", "low"),
    Mistake("depth: below parallel", "depth: ATG", "below parallel"),
    Mistake("safeties: true", "safeties: on", "true"),
    Mistake("spotter: always", "spotter: yes", "always"),
    Mistake("stress: heavy", "stress: hard", "heavy"),
    Mistake("kind: single", "kind: linear", "single"),
    Mistake("kind: rep_out", "kind: AMRAP", "rep_out"),
    Mistake("tempo: 3-0-1-0", "tempo: 3010", "3-0-1-0"),
    Mistake("superset: A", "superset: a1", "A"),
    Mistake("every: 2 weeks", "every: every other week", "2 weeks"),
    Mistake("every: 2 weeks", "every: 2", "2 weeks"),
    Mistake("drill: walkout", "drill: heavy hold", "walkout"),
    # Dates and days
    Mistake("starts: 2027-01-11", "starts: 11.01.2027", "2027-01-11"),
    Mistake("starts: 2027-01-11", "starts: 11 January 2027", "2027-01-11"),
    Mistake("starts: 2027-01-11", "starts: 01/11/2027", "2027-01-11"),
    Mistake("starts: 2027-01-11", "starts: 2027-1-11", "2027-01-11"),
    Mistake("days: [mon, wed, fri]", "days: [Monday, wed, fri]", "mon"),
    Mistake("days: [mon, wed, fri]", "days: mon/wed/fri"),
    Mistake("days: [mon, wed, fri]", "days: 3"),
    # Lists and mappings
    Mistake("suits: [novice]", "suits: novice"),
    Mistake("weeks: 1-4", "weeks: [1, 2, 3, 4]", "1-4"),
    Mistake("avoid: [overhead press]", "avoid: overhead press"),
    Mistake("instead: {overhead press: push-up}", "instead: push-up"),
    Mistake("bars: {power bar: 20}", "bars: 20"),
    Mistake("bars: {power bar: 20}", "bars: [20]"),
    Mistake("pairs: {20: 2, 10: 1, 5: 1}", "pairs: [20, 20, 10, 5]"),
    Mistake("pairs: {20: 2, 10: 1, 5: 1}", "pairs: 20 x 2, 10 x 1, 5 x 1"),
    Mistake("pairs: {20: 2, 10: 1, 5: 1}", "plates: {20: 2, 10: 1, 5: 1}", "pairs"),
    Mistake("dumbbells: {from: 2, to: 40, step: 2}", "dumbbells: 2-40"),
    Mistake("deload: {every: 4}", "deload: every 4 weeks"),
    Mistake("test: {week: 8, lifts: [back squat]}", "test: 8"),
    Mistake("trained: {belt: true}", "trained: belt"),
    Mistake("progression: {kind: double, sets: 3, reps: 8-12, add: 2.5 kg}", "progression: 3x8-12"),
    Mistake("backoff: {sets: 3, reps: 5, share: 85 %}", "backoff: 3x5 @ 85 %"),
    Mistake(
        "client:\n  name: Odalys Finch\n  units: kg\n  bodyweight: 71.5\n  sex: female\n", "client: Odalys Finch\n",
        "client: {name: Odalys Finch, units: kg}",
    ),
    Mistake("    tests:\n      - {date: 2026-12-19, load: 80, reps: 5}", "    max: 93", "load: 93, reps: 1"),
    # Keys
    Mistake("movement: bench press", "exercise: bench press", "movement"),
    Mistake("        rest: 90 s\n", "        sets: 3\n", 'inside "progression:"'),
    Mistake("rir: 2, add", "rest: 2 min, add", 'beside "progression:"'),
    # YAML itself
    Mistake("  months: 36\n", "  months 36\n"),
    Mistake("  months: 36\n", "  months = 36\n"),
    Mistake("  months: 36\n", "    months: 36\n", "  months: 36"),
    Mistake("  months: 36\n", " months: 36\n", "  months: 36"),
    Mistake("lifts:\n", "lifts\n"),
    Mistake("  name: Odalys Finch\n", "  name:Odalys Finch\n"),
    Mistake("days: [mon, wed, fri]", "days: [mon, wed, fri"),
    Mistake("date: 2026-12-19, load: 80, reps: 5}", "date: 2026-12-19 load: 80, reps: 5}"),
    Mistake('title: "Squat: heavy"', "title: Squat: heavy"),
    Mistake('title: "Squat: heavy"', 'title: "Squat: heavy'),
    Mistake("name: Odalys Finch\n", "name: 'Odalys O'Finch'\n", 'name: "Odalys O\'Finch"'),
    Mistake("      - movement: bench press\n", "      -movement: bench press\n"),
    Mistake("rest: 3 min", "rest: @3", 'rest: "@3"'),
    Mistake("progression: {kind: single, sets: 5", "progression: kind: single, sets: 5", "progression: {kind: single"),
)  # fmt: skip


def _problems(client: str, block: str) -> tuple[Problem, ...]:
    return understood((("client.yaml", client.encode()), ("block.yaml", block.encode()))).problems


def test_the_files_without_a_mistake_have_no_problem() -> None:
    """What is found below is the mistake's doing."""
    assert _problems(CLIENT, BLOCK) == ()
    assert len(MISTAKES) >= 60


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda m: m.wrong.strip()[:40])
def test_a_mistake_is_answered_with_what_to_type(mistake: Mistake) -> None:
    """One of the problems stands on the line of the mistake and its help contains the right writing."""
    mine = CLIENT if mistake.right in CLIENT else BLOCK
    assert mine.count(mistake.right) == 1
    written = mine.replace(mistake.right, mistake.wrong)
    lines = written[: written.index(mistake.wrong)].count("\n") + 1
    least, most = lines, lines + mistake.wrong.rstrip("\n").count("\n")
    found = _problems(*((written, BLOCK) if mine is CLIENT else (CLIENT, written)))
    told = "\n".join(p.as_text() for p in found)
    on_line = [p for p in found if isinstance(p.span, Span) and least <= p.span.line <= most]
    assert any(mistake.shown in p.help for p in on_line), told
    assert len(found) <= 3, told
    assert all("YAML" not in p.fact for p in found)
