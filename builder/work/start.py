"""The first folder of a coach: a client out of ten answers, or the example, with a block that suits."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from builder import places
from builder.log import typed
from builder.log.typed import Unclear
from builder.values import slips
from builder.values.formats import FIRST_LINE
from builder.values.quantity import Unit, in_unit, plain, to_places
from builder.work.retest.written import flow, scalar
from builder.work.said_set import said_set

MONDAY = date(2027, 4, 5)
"""The first day of the example's block; all its days move with it."""
EXAMPLE_STATUS = "intermediate"
MONTHS = {"novice": 3, "intermediate": 20, "advanced": 60}
DAYS = {"novice": "mon, wed, fri", "intermediate": "mon, wed, fri", "advanced": "mon, tue, thu, fri"}
BLOCK_DAYS = {status: len(days.split(",")) for status, days in DAYS.items()}
LIFTS = ("back squat", "bench press", "deadlift")
GYMS = {
    Unit.KG: {"bars": "{long bar: 20}", "pairs": "{20: 2, 15: 1, 10: 1, 5: 1, 2.5: 1, 1.25: 1, 0.5: 1}",
              "step": "2.5 kg", "dumbbells": "{from: 4, to: 32, step: 2}", "cable": "{from: 5, to: 90, step: 5}"},
    Unit.LB: {"bars": "{long bar: 45}", "pairs": "{45: 3, 35: 1, 25: 1, 10: 2, 5: 1, 2.5: 1, 1.25: 1}",
              "step": "5 lb", "dumbbells": "{from: 5, to: 75, step: 5}", "cable": "{from: 10, to: 200, step: 10}"},
}  # fmt: skip
"""What gyms of either kind usually have: common practice, no source."""
POUNDS = {"0.5": "1", "1": "2.5", "2": "5", "2.5": "5", "5": "10", "12": "25", "14": "30", "20": "45", "35": "80"}
"""The loads of the starter blocks as a gym in pounds has them."""
EMPTY_BAR = {Unit.KG: "20", Unit.LB: "45"}
_PAIRS = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:kg|lb)?\s*(?:[x×*:]\s*(\d+))?")

Answers = Mapping[str, str]
"""What was answered, as the profile writes it, by the key of the question."""


@dataclass(frozen=True, slots=True)
class Question:
    """One of the ten: its number, what is asked, an example, and what makes a value of the text."""

    key: str
    number: int
    ask: str
    example: str
    read: Callable[[str, Unit], str]


def files(today: date, answers: Answers) -> tuple[tuple[str, bytes], ...]:
    """Each file of the folder with its name; without answers the example, as if it had been written today."""
    folder = places.templates() / "starter"
    found = {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    texts = {name: data.decode() for name, data in found.items() if name.endswith(".yaml")}
    monday = today + timedelta(days=7 - today.weekday())
    status, unit = answers.get("status", EXAMPLE_STATUS), _unit(answers)
    blocks = {EXAMPLE_STATUS: texts.pop("block.yaml")}
    # Without "other-blocks/" and ".yaml".
    blocks |= {name[13:-5]: texts.pop(name) for name in list(texts) if name.startswith("other-blocks/")}
    client = moved(texts["client.yaml"], monday - MONDAY)
    texts["client.yaml"] = own(client, answers, today) if answers else client
    texts["brand.yaml"] = texts["brand.yaml"].replace(f"© {MONDAY.year}", f"© {monday.year}")
    for name, text in blocks.items():
        place = "block.yaml" if name == status else f"other-blocks/{name}.yaml"
        # A block that moves into another folder finds its schema by another way.
        text = re.sub(r"\$schema=(\.\./)?", f"$schema={'../' * place.count('/')}", text, count=1)
        texts[place] = _fitted(in_pounds(text) if unit is Unit.LB else text, answers, BLOCK_DAYS[name])
    kept = {name: data for name, data in found.items() if not name.endswith(".yaml")}
    return tuple(sorted((kept | {name: text.encode() for name, text in texts.items()}).items()))


def moved(text: str, by: timedelta) -> str:
    """The text with each of its days later by so much."""
    return re.sub(r"\d{4}-\d{2}-\d{2}", lambda day: (date.fromisoformat(day[0]) + by).isoformat(), text)


def in_pounds(text: str) -> str:
    """A block with the loads of a gym in pounds."""
    return re.sub(r"\b(\d+(?:\.\d+)?) kg\b", lambda found: f"{POUNDS[found[1]]} lb", text)


def _fitted(block: str, answers: Answers, days: int) -> str:
    """The block for a lifter with fewer days than it has: gone through in turn, several lifts tested on one day."""
    had = len(answers["days"].split(",")) if "days" in answers else days
    if had < days:
        turned = "\n  rolling: true # the days in turn, since the lifter has fewer\n"
        block = re.sub(r"\n(?=\n+days:)", turned, block, count=1)
    if had < len(LIFTS):
        block = re.sub(r"(test: \{week: \d+)", rf"\1, per_day: {-(-len(LIFTS) // had)}", block)
    return block


def own(example: str, answers: Answers, today: date) -> str:
    """The example's profile with what was answered; what was not is a guess that says so, and on the safe side."""
    starts = re.findall(r"starts: (\S+)", example)[0]
    lifts = (line for lift in LIFTS for line in _lift(lift, answers, today))
    return "\n".join([*_who(answers, starts), *lifts, *_gym(answers), "", _screening(answers, today), ""])


def _who(answers: Answers, starts: str) -> list[str]:
    status = answers.get("status", EXAMPLE_STATUS)
    weight, born = answers.get("bodyweight"), answers.get("born")
    return [
        "# yaml-language-server: $schema=schemas/client.json",
        "# The lifter, out of your answers. What is called a guess is yours to mend.",
        FIRST_LINE,
        "",
        "client:",
        f"  name: {scalar(answers.get('name', 'The Lifter'))} # stands on the cover and on every page",
        f"  units: {_unit(answers)} # what a number without a unit means",
        *([f"  bodyweight: {weight}"] if weight else []),
        *([f"  born: {born} # the year; under 18 and over 65 change what is planned and printed"] if born else []),
        "",
        "training:",
        f"  status: {status} # novice, intermediate or advanced",
        f"  months: {MONTHS[status]} # a guess: how long the lifter has trained",
        f"  days: [{answers.get('days', DAYS[status])}]",
        "  session_minutes: 75 # a guess: the time for one session",
        f"  starts: {starts} # the first day of week 1: the next Monday",
        "",
        "lifts: # the latest set of each lift counts; rir: the reps that were left",
    ]


def _gym(answers: Answers) -> list[str]:
    gym, pairs = GYMS[_unit(answers)], answers.get("pairs")
    return [
        "",
        "gym: # only what is listed here is ever planned",
        f"  bars: {gym['bars']} # a guess",
        f"  pairs: {pairs or gym['pairs']} # {'' if pairs else 'a guess: '}plate: number of pairs",
        f"  step: {gym['step']} # how finely the bars are loaded",
        f"  dumbbells: {gym['dumbbells']} # a guess",
        f"  stacks: {{cable: {gym['cable']}}} # a guess: machines by name",
        f"  safeties: {answers.get('safeties', 'false')} # safety bars; without them no hold goes above the max",
        f"  spotter: {answers.get('spotter', 'never')} # never, sometimes or always",
    ]


def _screening(answers: Answers, today: date) -> str:
    told = "when a health screening form was answered"
    if answers.get("screening") == "yes":
        return f"screening: {{answered: {today.isoformat()}}} # {told}"
    return f"# screening: {{answered: {today.isoformat()}}} # {told}: before the first session"


def _unit(answers: Answers) -> Unit:
    return Unit(answers.get("units", Unit.KG))


def _lift(name: str, answers: Answers, today: date) -> list[str]:
    """A lift with its set; one that was not told is taken to be as light as can be."""
    answered = answers.get(name)
    said = answered or flow({"load": EMPTY_BAR[_unit(answers)], "reps": "5", "rir": "3"})[1:-1]
    note = "" if answered else " # a guess: the empty bar, until a real set stands here"
    return [
        f"  {name}:",
        "    tests:",
        f"      - {{date: {today.isoformat()}, {said}}}{note}",
        "    working_max: 95 % # what shares are taken of",
    ]


# What people type


def _word(*words: str) -> Callable[[str, Unit], str]:
    def read(text: str, _unit: Unit) -> str:
        found = [word for word in words if word.startswith(text.lower()) or text.lower().rstrip("s.") == word]
        if len(found) != 1:
            raise Unclear("is none of them", f"Write {', '.join(words[:-1])} or {words[-1]}.")
        return found[0]

    return read


def _yes_no(text: str, _unit: Unit) -> str:
    if text.lower() in ("y", "yes", "true"):
        return "yes"
    if text.lower() in ("n", "no", "false"):
        return "no"
    raise Unclear("is neither yes nor no", "Write yes or no.")


def _mass(text: str, unit: Unit) -> str:
    load = typed.load(text, unit)
    if load.added or load.kg == 0:
        raise Unclear("is no weight", f'Write a weight such as "82.5"; it is in {unit}.')
    return plain(to_places(in_unit(load.kg, unit), 2))


def _year(text: str, _unit: Unit) -> str:
    if not re.fullmatch(r"(19|20)\d\d", text):
        raise Unclear("is no year", 'Write the year alone, such as "1994".')
    return text


def _days(text: str, _unit: Unit) -> str:
    words = [word.lower() for word in re.split(r"[\s,;/+&]+|\band\b", text) if word]
    days = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    found = [word if word in days else slips.weekday(word) or "" for word in words]
    if not all(found):
        raise Unclear("names a day that is none", 'Write them short, such as "mon wed fri".')
    return ", ".join(sorted(set(found), key=days.index))


def _set(text: str, unit: Unit) -> str:
    said = said_set(text)
    if said is None or not re.fullmatch(r"\d{1,3}", said.reps):
        raise Unclear("is no set", 'Write load x reps, and the reps that were left: "100 x 5 rir 2".')
    reps, left = int(said.reps), typed.effort(said.rir or "0").value
    if not 1 <= reps <= 30 or reps + left > 15 or left > 6:
        raise Unclear("says little of the max", "Take a set of 3 to 10 reps with at most 6 left.")
    return flow({"load": _mass(said.load, unit), "reps": str(reps), "rir": plain(left)})[1:-1]


def _pairs(text: str, _unit: Unit) -> str:
    pairs: dict[str, str] = {}
    for word in re.split(r"[\s;]+|,\s", re.sub(r"\s*([x×*:])\s*", r"\1", text.strip())):
        found = _PAIRS.fullmatch(word.strip(","))
        if not found or not 0 < float(found[1].replace(",", ".")) <= 100 or not 0 < int(found[2] or 1) <= 40:
            raise Unclear("is no list of plates", 'Write plate x pairs, such as "20x2 10x1 5x1 2.5x1".')
        pairs[found[1].replace(",", ".")] = found[2] or "1"
    return flow(pairs)


def _name(text: str, _unit: Unit) -> str:
    if len(text) > 80 or not text.isprintable():
        raise Unclear("is too long, or has signs that nobody sees", "Write at most 80 plain signs.")
    return text


QUESTIONS = (
    Question("name", 1, "The lifter's name?", "Ada Quill", _name),
    Question("units", 2, "Is the gym in kg or lb?", "kg", _word(*Unit)),
    Question("bodyweight", 3, "Bodyweight?", "71.5", _mass),
    Question("born", 4, "Year of birth?", "1994", _year),
    Question("status", 5, "Novice, intermediate or advanced?", "intermediate", _word(*MONTHS)),
    Question("days", 6, "Training days?", "mon wed fri", _days),
    Question("back squat", 7, "A set that was really done, with the reps that were left. Back squat?",
             "100 x 5 rir 2", _set),
    Question("bench press", 7, "Bench press?", "60 x 5 rir 2", _set),
    Question("deadlift", 7, "Deadlift?", "120 x 5 rir 2", _set),
    Question("pairs", 8, "Plates, and how many pairs of each?", "20x2 10x1 5x1 2.5x1 1.25x1", _pairs),
    Question("safeties", 9, "Are there safety bars?", "yes",
             lambda text, unit: {"yes": "true", "no": "false"}[_yes_no(text, unit)]),
    Question("spotter", 9, "Is there a spotter: never, sometimes or always?", "sometimes",
             _word("never", "sometimes", "always")),
    Question("screening", 10, "Has the lifter answered a health screening form?", "yes", _yes_no),
)  # fmt: skip
"""Ten questions; the seventh asks for three lifts, the ninth for two sides of safety."""
