"""Stretches of a block: after a test half-way the rest is planned anew, after a pause it goes on where it was.

Why whole clients. A stretch is the client with what is known by then, so that everything below plans it as it plans a
block that nothing interrupts, and the weeks that were trained already come out as they were printed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

from builder.given import Client, Lift, TestedSet
from builder.training.estimate import Evidence, evidence


@dataclass(frozen=True, slots=True)
class Stretch:
    """Weeks from `first` on, which begin on `starts`, planned for the client as he is known then.

    `paused` when it begins on a day of its own, after a pause.
    """

    first: int
    starts: date
    client: Client
    paused: bool = False

    def day_of(self, week: int) -> date:
        """The first day of one of its weeks."""
        return self.starts + timedelta(weeks=week - self.first)


def stretches(client: Client) -> tuple[Stretch, ...]:
    """The stretches in order; a block that nothing interrupts is a single one.

    Each knows records and limits up to its own first day, and the tests up to the day from which the maxes were last
    renewed (all tests of a lift that has none by then); the last one knows everything but later tests, unless it
    renews.
    """
    resumes = client.training.resumes
    if not resumes:
        return (Stretch(1, client.training.starts, client),)
    found = [Stretch(1, client.training.starts, client)]
    renewed: list[date | None] = [client.training.starts]
    for place, resume in enumerate(resumes, 1):
        starts, last = resume.on or found[-1].day_of(resume.week), place == len(resumes)
        found.append(Stretch(resume.week, starts, _eased(client, resume.share or Decimal(1)), resume.on is not None))
        renewed.append((None if last else starts) if resume.renews else renewed[-1])
    until = (*(one.starts for one in found[:-1]), None)
    parts = zip(found, until, renewed, strict=True)
    return tuple(_begun(one, _known(one.client, on, tests)) for one, on, tests in parts)


def stretch_of(every: Iterable[Stretch], week: int) -> Stretch:
    """The stretch that a week belongs to."""
    return [one for one in every if one.first <= week][-1]


def _eased(client: Client, share: Decimal) -> Client:
    """The client with every working max cut to a share of itself."""
    # The working max and not the test: what was lifted stays true, and less is taken of it.
    eased = {
        word: lift.model_copy(update={"working_max": lift.working_max * share}) for word, lift in client.lifts.items()
    }
    return client if share == 1 else client.model_copy(update={"lifts": eased})


def _known(client: Client, on: date | None, tested: date | None) -> Client:
    """The client as known on a day, with the tests up to another; None for everything."""
    lifts = {word: _lift(lift, on, tested) for word, lift in client.lifts.items()}
    limits = tuple(limit for limit in client.limits if limit.since is None or on is None or limit.since <= on)
    return client.model_copy(update={"lifts": lifts, "limits": limits})


def _lift(lift: Lift, on: date | None, tested: date | None) -> Lift:
    records = tuple(best for best in lift.records if best.day is None or on is None or best.day <= on)
    tests = lift.tests if tested is None else _tests(lift, tested)
    logged = tuple(one for one in lift.logged if on is None or one.day <= on)
    return lift.model_copy(update={"tests": tests, "records": records, "logged": logged})


def _tests(lift: Lift, on: date) -> tuple[TestedSet, ...]:
    # A lift that is first tested later has nothing else to stand on.
    by_then = tuple(test for test in lift.tests if test.day <= on)
    return by_then if any(_evident(test) for test in by_then) else lift.tests


def _evident(test: TestedSet) -> bool:
    return not test.missed and evidence(test.reps + test.rir) is not Evidence.REFUSED


def _begun(stretch: Stretch, client: Client) -> Stretch:
    """The stretch with its client, for whom the block begins with it: cautions look at that day."""
    training = client.training.model_copy(update={"starts": stretch.starts})
    return replace(stretch, client=client.model_copy(update={"training": training}))
