"""Mistakes typed on purpose: each message names the line and shows what to type, and typing that mends the file."""

from __future__ import annotations

import re
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
  away: [2027-02-08 to 2027-02-14]
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
changes: [{swap: deadlift, to: good morning}]
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
        progression: {kind: rep_out, sets: 3, reps: 5, then: [{reps: 8, down: 10 %}]}
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
      - movement: plank
        progression: {kind: double, time: 30-60 s, longer: 5 s}
      - conditioning: easy bike
        progression: {kind: single, time: 20 min}
"""

BRAND = """format: 1
brand:
  name: North Rack
  contact: {email: desk@northrack.example, web: https://northrack.example}
  colours: {accent: "#1f4e5f", plates: grey}
  cover: band
  logo: logo.svg
  text_font:
    - {file: fonts/a.ttf, weight: 400}
  legal: {copyright: North Rack}
  pages: [pages/welcome.md]
  demos: {back squat: https://northrack.example/squat}
  look: {sheets: [look/ours.css]}
theme: default
language: en
paper: A4
layout: page
selling: {edition: personal, stamp: true}
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
    Mistake("kind: single, sets", "kind: linear, sets", "single"),
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
    # More words, keys and shapes of clients and blocks
    Mistake("units: kg", "units: metric", "kg"),
    Mistake("units: kg", "units: pounds", "lb"),
    Mistake("sex: female", "gender: female", "sex"),
    Mistake("status: novice", "status: expert", "advanced"),
    Mistake("status: novice", "status: Novice", "novice"),
    Mistake("spotter: always", "spotter: no", "never"),
    Mistake("safeties: true", "safeties: rack pins", "true"),
    Mistake("safeties: true", "safety: true", "safeties"),
    Mistake("safeties: true", "safeties: maybe", "true"),
    Mistake("months: 36", "months: three", "3"),
    Mistake("bodyweight: 71.5", "bodyweight: 71.5kg.", "71.5 kg"),
    Mistake("bodyweight: 71.5", "bodyweight: 157 lbs", "157 lb"),
    Mistake("load: 80, reps: 5", "load: 80, reps: five", "5"),
    Mistake("load: 80, reps: 5", "weight: 80, reps: 5", "load"),
    Mistake("load: 80, reps: 5", "load: 80, rep: 5", "reps"),
    Mistake("load: 80, reps: 5", "load: 80, reps: 5, rpe: 8, rir: 2", "one of the two"),
    Mistake("date: 2026-12-19, load: 80", "date: yesterday, load: 80", "2027-01-11"),
    Mistake("date: 2026-12-19, load: 80", "date: 19.12., load: 80", "year"),
    Mistake("screening: {answered: 2027-01-04}", "screening: yes", "screening: {answered"),
    Mistake("limits:\n  - area: left shoulder", "injuries:\n  - area: left shoulder", "limits"),
    Mistake("gym:\n", "equipment:\n", "gym"),
    Mistake("starts: 2027-01-11", "starts: Monday", "2027-01-11"),
    Mistake("days: [mon, wed, fri]", "days: [1, 3, 5]", "mon"),
    Mistake("stacks: {cable tower: {from: 5, to: 100, step: 5}}", "stacks: {cable tower: 5-100}", "from: 5, to: 100"),
    Mistake("weeks: 8\n", "weeks: eight\n", "8"),
    Mistake("weeks: 8\n", "length: 8\n", "weeks"),
    Mistake("deload: {every: 4}", "deload: true", "deload: {every: 4}"),
    Mistake("deload: {every: 4}", "deload: {week: 4}", "weeks"),
    Mistake("deload: {every: 4}", "deload: {weeks: 4}", "[4]"),
    Mistake("deload: {every: 4}", "deload: {every: 4, load: 90}", "90 %"),
    Mistake("share: 85 %}}", "share: 85}}", "85 %"),
    Mistake("share: 85 %}}", "percent: 85 %}}", "share"),
    Mistake("add: 2.5 kg}\n      - movement: bench", "increment: 2.5 kg}\n      - movement: bench", "add"),
    Mistake("add: 2.5 kg}\n      - movement: bench", "add: 2.5 %/week}\n      - movement: bench", "2.5 %"),
    Mistake("movement: deadlift", "movement: deadlfit", "deadlift"),
    Mistake("movement: bench press", "movement: Bench Pres", "bench press"),
    Mistake("drill: walkout", "drill: walk-out", "walkout"),
    Mistake("drill: walkout", "drill: walkouts", "walkout"),
    Mistake("kind: wave", "kind: waves", "wave"),
    Mistake("kind: top_set", "kind: top set", "top_set"),
    Mistake("kind: top_set", "kind: topset", "top_set"),
    Mistake("kind: double, sets", "kind: double progression, sets", "double"),
    Mistake("kind: single, sets", "type: single, sets", "kind"),
    Mistake("rest: 3 min", "rest: three minutes", "3 min"),
    Mistake("rest: 3 min", "rest: 3 mins", "3 min"),
    Mistake("tempo: 3-0-1-0", "tempo: 3/0/1/0", "3-0-1-0"),
    Mistake("tempo: 3-0-1-0", "tempo: slow", "3-1-1"),
    Mistake("title: Long day", "name: Long day", "title"),
    Mistake(
        "    slots:\n      - movement: back squat\n        rest: 3 min",
        "    exercises:\n      - movement: back squat\n        rest: 3 min",
        "slots",
    ),
    Mistake("trained: {belt: true}", "trained: {belt: with}", "true"),
    Mistake("trained: {belt: true}", "belt: true", "trained"),
    Mistake("superset: A", "superset: 1", "A"),
    Mistake("weeks: 1-4", "weeks: 1 to 4", "1-4"),
    Mistake("weeks: 1-4", "weeks: 1,2,3,4", "1-4"),
    Mistake("suits: [novice]", "suits: [everyone]", "novice"),
    Mistake("test: {week: 8, lifts: [back squat]}", "test: {week: 8, lift: back squat}", "lifts"),
    Mistake("from: 95 %, to: 100 %", "from: 95, to: 100 %", "95 %"),
    Mistake("every: 2 weeks", "every: weekly", "1 week"),
    Mistake("every: 2 weeks", "every: fortnight", "2 weeks"),
    # Where the parser reads on, and words of the trade in places of their own
    Mistake("sex: female", "gender: female", "sex"),
    Mistake("sex: female", "sex: female\n  born: 94", "born: 1990"),
    Mistake("sex: female", "sex: female\n  born: 12.05.1994", "1994"),
    Mistake("session_minutes: 60", "session_minutes: 1h15", "75"),
    Mistake("load: 80, reps", "weight: 80, reps", "load"),
    Mistake("weeks: 8\n", "length: 8\n", "weeks"),
    Mistake("suits: [novice]", "suits: everyone", "suits: [novice, intermediate, advanced]"),
    Mistake("suits: [novice]", "suits: beginners", "suits: [novice"),
    Mistake("kind: top_set", "type: top_set", "kind"),
    Mistake("sets: 5, reps: 5, rir", "sets: 5x5, rir", "sets: 5, reps: 5"),
    Mistake("superset: A", "superset: yes", "A"),
    Mistake("  - title: Long day", "  title: Long day", "- title: Long day"),
    Mistake("- movement: back squat\n        rest", "- back squat\n        rest", "- movement: back squat"),
    Mistake("name: Odalys Finch", 'name: "Odalys Finch', 'name: "Odalys Finch"'),
    # Time, distance, further sets and changes
    Mistake("reps: 8-12", "reps: 30-60 s", "kind: double, time: 30-60 s, longer: 5 s"),
    Mistake("sets: 5, reps: 5, rir: 2, add", "sets: 5, reps: 20 m, add", "distance: 20 m"),
    Mistake("sets: 5, reps: 5, rir", "sets: 5, reps: 5 each side, rir", "reps: 5"),
    Mistake("sets: 5, reps: 5, rir", "sets: 5, reps: 5/5, rir", "reps: 5"),
    Mistake("time: 30-60 s", "time: 30 s - 60 s", "30-60 s"),
    Mistake("time: 30-60 s", "time: 60-30 s", "30-60 s"),
    Mistake("time: 30-60 s", "seconds: 30-60 s", "time"),
    Mistake("time: 20 min", "time: 20", "20 min"),
    Mistake("time: 20 min", "distance: 1 mile", "1609 m"),
    Mistake("then: [{reps: 8, down: 10 %}]", "then: {reps: 8, down: 10 %}"),
    Mistake("then: [{reps: 8, down: 10 %}]", "then: 3x8 @ 70 %", "then: [{sets: 3, reps: 8, share: 70 %}]"),
    Mistake("then: [{reps: 8, down: 10 %}]", "then: [{reps: 8, drop: 10 %}]", "down"),
    Mistake("then: [{reps: 8, down: 10 %}]", "then: [{reps: 8+, down: 10 %}]", "reps: 8, stop: {most: 13}"),
    Mistake("rir: 2, backoff", "rpe: 8/10, backoff", "8"),
    Mistake("rir: 2, backoff", "rpe: 8 to 9, backoff", "8.5"),
    Mistake("changes: [{swap: deadlift, to: good morning}]", "changes: {swap: deadlift, to: good morning}"),
    Mistake("changes: [{swap: deadlift, to: good morning}]", "changes: swap deadlift for good morning"),
    Mistake("{swap: deadlift, to: good morning}", "{replace: deadlift, to: good morning}", "swap"),
    Mistake("{swap: deadlift, to: good morning}", "{swap: deadlift, with: good morning}", "to: good morning"),
    Mistake("{swap: deadlift, to: good morning}", "drop deadlift", "{drop: deadlift}"),
    Mistake("{swap: deadlift, to: good morning}", "{alter: deadlift, rest: 4 min}", "with: {rest: 4 min}"),
    Mistake("{swap: deadlift, to: good morning}", "{alter: deadlift, sets: 4}", "with: {progression: {sets: 4}}"),
    Mistake("{swap: deadlift, to: good morning}", "{swap: deadlift, to: good morning, weeks: 2,3}", "2-3"),
    Mistake("changes: [{swap: deadlift, to: good morning}]", "swap: {deadlift: good morning}", "changes"),
    Mistake("avoid: [overhead press]", "avoid: [shoulders]", "vertical push"),
    Mistake("away: [2027-02-08 to 2027-02-14]", "away: [2027-02-08 - 2027-02-14]", "2027-02-08 to 2027-02-14"),
    Mistake("away: [2027-02-08 to 2027-02-14]", "holidays: [2027-02-08 to 2027-02-14]", "away"),
    # One number where several are meant, signs, and keys of another part
    Mistake("sets: 3, reps: 8-12", "sets: [3, 4], reps: 8-12", '"kind: volume, sets: 3-4"'),
    Mistake("sets: 3, reps: 8-12", "sets: 3-4, reps: 8-12", '"4"'),
    Mistake("sets: 5, reps: 5, rir", "sets: 5, reps: [5, 4, 3], rir", "reps: 5, then: [{reps: 4}, {reps: 3}]"),
    Mistake("sets: 5, reps: 5, rir", "sets: 5, reps: 5/4/3, rir", "reps: 5, then: [{reps: 4}, {reps: 3}]"),
    Mistake("then: [{reps: 8, down: 10 %}]", "then: [{reps: 8, down: -10 %}]", '"10 %", without the minus'),
    Mistake("share: 85 %}}", "drop: -10 %}}", '"10 %", without the minus'),
    Mistake("add: 2.5 kg}\n      - movement: bench", "add: -2.5 kg}\n      - movement: bench", '"2.5 kg", without'),
    Mistake("add: 2.5 kg}\n      - movement: bench", "add: 2.5 - 5 kg}\n      - movement: bench", '"2.5 kg"'),
    Mistake("sets: 5, reps: 5, rir", "sets: 5, reps: 5, start: 60 kg for 5, rir", '"60 kg"'),
    Mistake("add: 2.5 kg}\n      - movement: bench", "add: 2.5 kg, load: 60 kg}\n      - movement: bench", '"start"'),
    Mistake("load: 80, reps: 5", "load: 80 for 5", "load: 80, reps: 5"),
    Mistake("deload: {every: 4}", "deload: {every: 4, drop: [a, b]}", "drills or accessories"),
    Mistake("deload: {every: 4}", "deload: {every: 4, drop: curls}", "drop: [drills, accessories]"),
    Mistake("deload: {every: 4}", "deload: {every: 4, sets: 2}", "50 %"),
    Mistake("deload: {every: 4}", "deload: {every: 4, volume: 50 %}", '"sets"'),
    Mistake("deload: {every: 4}", "deload: {every: 4, intensity: 90 %}", '"load"'),
    Mistake("test: {week: 8,", "test: {weeks: 8,", "week"),
    Mistake("lifts: [back squat]}", "lifts: all}", "lifts: [back squat, bench press, deadlift]"),
    Mistake("test: {week: 8, lifts: [back squat]}", "test: {week: 8, lifts: [back squat], kind: 5RM}", '"reps"'),
    Mistake("rest: 3 min", "rest: 3-5", '"5 min"'),
    Mistake("superset: A", "superset: deadlift", "the same for each slot"),
    Mistake("kind: top_set, reps: 3", "kind: top_set, sets: 1, reps: 3", "leave it out"),
    Mistake("share: 85 %}}", "share: 85 %, rir: 3}}", "leave it out"),
    Mistake("weeks: [{share: 85 %, sets: 3, reps: 5, stress: heavy}]", "weeks: [85 %]", "share: 85 %"),
    Mistake("weeks: [{share: 85 %, sets: 3, reps: 5, stress: heavy}]", "weeks: [3x5 @ 85 %]",
            "{sets: 3, reps: 5, share: 85 %}"),
    Mistake("weeks: [{share: 85 %, sets: 3, reps: 5, stress: heavy}]", "share: 85 %", "weeks: [{share: 85 %}]"),
    Mistake("{share: 85 %, sets: 3, reps: 5, stress: heavy}", "{share: 85 %, reps: 5}", "sets: 4"),
    Mistake("kind: single, sets: 5, reps: 5, rir: 2", "kind: 5x5", "kind: single, sets: 5, reps: 5"),
    Mistake("progression: {kind: single, time: 20 min}", "progression: 20 min"),
    Mistake("conditioning: easy bike", "cardio: easy bike", "conditioning"),
    Mistake("rir: 2, add", "effort: 8, add", "rpe"),
    Mistake("weeks: 1-4", "weeks: 4+", '"1-4"'),
    Mistake("{swap: deadlift, to: good morning}", "{deadlift: good morning}", "swap: deadlift, to: good morning"),
    Mistake("{swap: deadlift, to: good morning}", "{alter: deadlift, with: {reps: 5}}", "progression: {reps: 5}"),
    Mistake("{swap: deadlift, to: good morning}", "{swap: deadlift, to: good morning, when: 2-3}", "weeks"),
    Mistake("avoid: [overhead press]", "avoid: {overhead press: push-up}", "avoid: [overhead press]"),
    Mistake("      - {date: 2026-12-19, load: 80, reps: 5}", "      - 2026-12-19, 80 x 5"),
    Mistake("session_minutes: 60", "session_minutes: 60-75", '"60"'),
    Mistake("suits: [novice]", "suits: [beginners]", '"novice"'),
    Mistake("  stacks: {", "  machines: {", "stacks"),
    Mistake("movement: bench press", "movement: lunge", "walking lunge"),
    # Brands
    Mistake('"#1f4e5f"', "navy", '"#000080"'),
    Mistake("colours: {accent", "colors: {accent", "colours"),
    Mistake('accent: "#1f4e5f"', "accent: blue", "#"),
    Mistake('accent: "#1f4e5f"', "accent: #1f4e5f", '"#1f4e5f'),
    Mistake('accent: "#1f4e5f"', "accent: 1f4e5f", '"#1f4e5f"'),
    Mistake('accent: "#1f4e5f"', 'accent: "rgb(31,78,95)"', '"#1f4e5f"'),
    Mistake('accent: "#1f4e5f"', 'color: "#1f4e5f"', "accent"),
    Mistake("paper: A4\n", "paper: A4\nedition: log\n", "selling"),
    Mistake("web: https://northrack", "web: northrack", "https://northrack.example"),
    Mistake("web: https://northrack", "web: http://northrack", "https://northrack.example"),
    Mistake("web: https://northrack.example", "website: https://northrack.example", "web"),
    Mistake("email: desk", "mail: desk", "email"),
    Mistake(
        "contact: {email: desk@northrack.example, web: https://northrack.example}",
        "contact: desk@northrack.example",
        "contact: {email: desk@northrack.example}",
    ),
    Mistake("cover: band", "cover: stripe", "spine"),
    Mistake("logo: logo.svg", "logo: /home/me/logo.svg", "logo.svg"),
    Mistake("logo: logo.svg", "logo: C:\\logo.svg", "logo.svg"),
    Mistake("pages: [pages/welcome.md]", "pages: pages/welcome.md", "pages: [pages/welcome.md]"),
    Mistake("text_font:\n    - {file: fonts/a.ttf, weight: 400}", "text_font: fonts/a.ttf", "{file: fonts/a.ttf}"),
    Mistake("weight: 400", "weight: regular", "400"),
    Mistake("weight: 400", "weight: bold", "700"),
    Mistake("legal: {copyright: North Rack}", "legal: North Rack", "copyright"),
    Mistake("paper: A4", "paper: a4", "A4"),
    Mistake("paper: A4", "paper: letter", "Letter"),
    Mistake("paper: A4", "papers: A4", "paper"),
    Mistake("language: en", "language: English", "en"),
    Mistake("language: en", "language: german", "de"),
    Mistake("language: en", "lang: en", "language"),
    Mistake("layout: page", "layout: spreads", "spread"),
    Mistake("edition: personal", "edition: full", "personal"),
    Mistake("stamp: true", "stamp: always", "true"),
    Mistake("sheets: [look/ours.css]", "sheets: look/ours.css", "sheets: [look/ours.css]"),
    Mistake("sheets: [look/ours.css]", "css: [look/ours.css]", "sheets"),
    Mistake("theme: default", "themes: default", "theme"),
)  # fmt: skip


def _problems(client: str, block: str, brand: str = BRAND) -> tuple[Problem, ...]:
    texts = {"client": client, "block": block, "brand": brand}
    return understood(tuple((f"{kind}.yaml", text.encode()) for kind, text in texts.items())).problems


def test_the_files_without_a_mistake_have_no_problem() -> None:
    """What is found below is the mistake's doing."""
    assert _problems(CLIENT, BLOCK) == ()
    assert len(MISTAKES) >= 200


def _remarked(text: str) -> str:
    """With a remark behind each line, as the files of `start` have them."""
    return re.sub(r"(?<=[^\n>|])\n", " # a remark\n", text)


@pytest.mark.parametrize("remarked", [False, True])
@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda m: m.wrong.strip()[:40])
def test_a_mistake_is_answered_with_what_to_type(mistake: Mistake, remarked: bool) -> None:
    """One of the problems stands on the line of the mistake and its help contains the right writing."""
    mine = next(text for text in (CLIENT, BLOCK, BRAND) if mistake.right in text)
    assert mine.count(mistake.right) == 1
    written = mine.replace(mistake.right, mistake.wrong)
    lines = written[: written.index(mistake.wrong)].count("\n") + 1
    least, most = lines, lines + mistake.wrong.rstrip("\n").count("\n")
    files = [written if text is mine else text for text in (CLIENT, BLOCK, BRAND)]
    found = _problems(*(map(_remarked, files) if remarked else files))
    told = "\n".join(p.as_text() for p in found)
    on_line = [p for p in found if isinstance(p.span, Span) and least <= p.span.line <= most]
    assert any(mistake.shown in p.help for p in on_line), told
    assert len(found) <= 3, told
    assert all("YAML" not in p.fact for p in found)
    assert not any(" # a remark" in p.help for p in found)
