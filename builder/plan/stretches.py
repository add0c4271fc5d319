"""Stretches of a block: after a test or a pause half-way the rest is planned anew, from what is known by then."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from builder.given import Client, Lift, TestedSet
from builder.training.estimate import Evidence, evidence


@dataclass(frozen=True, slots=True)
class Stretch:
    """Weeks from `first` on, which begin on `starts`, planned for the client as he is known then."""

    first: int
    starts: date
    client: Client

    def day_of(self, week: int) -> date:
        """The first day of one of its weeks."""
        return self.starts + timedelta(weeks=week - self.first)


def stretches(client: Client) -> tuple[Stretch, ...]:
    """The stretches in order; a block that nothing interrupts is a single one.

    Those before the last know the tests, records and limits up to their own first day (all tests of a lift that has
    none by then); the last one knows everything.
    """
    found = [Stretch(1, client.training.starts, client)]
    for resume in client.training.resumes:
        starts = resume.on or found[-1].day_of(resume.week)
        found.append(Stretch(resume.week, starts, _eased(client, resume.share)))
    *earlier, last = found
    return (*(_begun(one, _known(one.client, one.starts)) for one in earlier), _begun(last, last.client))


def stretch_of(every: Iterable[Stretch], week: int) -> Stretch:
    """The stretch that a week belongs to."""
    return [one for one in every if one.first <= week][-1]


def _eased(client: Client, share: Decimal) -> Client:
    """The client with every working max cut to a share of itself."""
    eased = {
        word: lift.model_copy(update={"working_max": lift.working_max * share}) for word, lift in client.lifts.items()
    }
    return client if share == 1 else client.model_copy(update={"lifts": eased})


def _known(client: Client, on: date) -> Client:
    lifts = {word: _lift(lift, on) for word, lift in client.lifts.items()}
    limits = tuple(limit for limit in client.limits if limit.since is None or limit.since <= on)
    return client.model_copy(update={"lifts": lifts, "limits": limits})


def _lift(lift: Lift, on: date) -> Lift:
    records = tuple(best for best in lift.records if best.day is None or best.day <= on)
    return lift.model_copy(update={"tests": _tests(lift, on), "records": records})


def _tests(lift: Lift, on: date) -> tuple[TestedSet, ...]:
    by_then = tuple(test for test in lift.tests if test.day <= on)
    return by_then if any(_evident(test) for test in by_then) else lift.tests


def _evident(test: TestedSet) -> bool:
    return not test.missed and evidence(test.reps + test.rir) is not Evidence.REFUSED


def _begun(stretch: Stretch, client: Client) -> Stretch:
    """The stretch with its client, for whom the block begins with it: cautions look at that day."""
    training = client.training.model_copy(update={"starts": stretch.starts})
    return Stretch(stretch.first, stretch.starts, client.model_copy(update={"training": training}))
