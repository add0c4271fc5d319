"""What a progression wants at one exposure, before plates: roles, reps, efforts and exact targets with reasons.

Targets stay exact here, and `loaded` puts plates to them: rounded at each step, a rule would drift from what it says.
Only a first load is taken as the gym has it (`raised`), so that 2.5 kg more are 2.5 kg more on the bar.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any, TypeVar

from builder.given import Equipment
from builder.given.progressions import Double, RepOut, Single, Step, TopSet, Volume, Wave, WaveWeek
from builder.given.rules import Straight
from builder.plan.basis import Basis
from builder.plan.ladders import without_leap
from builder.plan.model import Outcome, PinStep, Reason, Role, because
from builder.training.estimate import MOST_REPS
from builder.training.loading import Rung
from builder.values.quantity import NOTHING, OnBar, Rounding
from builder.values.scalars import Amount

Add = Amount | Decimal | None
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Wanted:
    """One set as the rule wants it. `of_top` takes a share of the first set's loaded mass in place of a target.

    `of_last` takes a share of what the set before has loaded, and `more` kg with it. `rest` (s) stands before the set
    in place of the slot's rest. `partial`: not the whole lift, so that no reserve is known. `moves`: reps may move
    where the next load is too far. `least_reps`: the fewest that a range allows.
    """

    role: Role
    reps: int
    rir: Decimal | None = None
    share: Decimal | None = None
    target: OnBar | None = None
    of_top: Decimal | None = None
    of_last: Decimal | None = None
    more: Decimal = Decimal(0)
    rest: int | None = None
    seconds: int | None = None
    metres: int | None = None
    most_reps: int | None = None
    open_ended: bool = False
    bracketed: bool = False
    partial: bool = False
    moves: bool = False
    least_reps: int | None = None
    why: tuple[Reason, ...] = ()

    @property
    def in_reps(self) -> bool:
        """Whether the set is counted in reps: neither held, nor timed, nor a way."""
        return self.seconds is None and self.metres is None

    @property
    def judged(self) -> bool:
        """Whether something is known of its reserve: the whole lift, counted in reps."""
        return self.in_reps and not self.partial


@dataclass(frozen=True, slots=True)
class Prescription:
    """The sets of one exposure, and what goes with them."""

    sets: tuple[Wanted, ...]
    stress: str | None = None
    pin: PinStep | None = None
    outcomes: tuple[Outcome, ...] = ()
    notes: tuple[Reason, ...] = ()
    rounding: Rounding | None = None


@dataclass(frozen=True, slots=True)
class First:
    """The load of the first exposure: its exact target and the rung that carries it, where there is one."""

    target: OnBar | None
    rung: Rung | None
    why: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class ExposureCount:
    """Which exposure it is, counted from 0: in the whole block, and `since` the max was last renewed."""

    exposure: int
    since: int

    def raises(self, start: Amount | Decimal | None, basis: Basis) -> int:
        """How often the load has gone up: one that comes from the max begins anew with it, a given one goes on."""
        return self.exposure if isinstance(start, Amount) or basis.full is None else self.since


def prescribe(rule: Any, count: ExposureCount, basis: Basis) -> Prescription:
    """The prescription of a movement's rule at an exposure."""
    return _KINDS[rule.kind](rule, count, basis)


def first_load(start: Amount | Decimal | None, reps: int, rir: Decimal, basis: Basis) -> First:
    """The first load of a slot: as given, as a share of the max, or what `rir` leaves at `reps`."""
    if isinstance(start, Amount):
        target = start.kg(basis.unit)
        return _on_ladder(target, basis, because("start-load", target_kg=target, **basis.body))
    if basis.full is None and basis.about.equipment is Equipment.BODYWEIGHT:
        return First(None, None, (because("body-alone", rir=rir),))
    if basis.full is None:
        return First(None, None, (because("by-feel", reps=reps, rir=rir),))
    # No equation reaches further; a load that the coach names is taken all the same.
    if start is None and reps + rir > MOST_REPS:
        return First(None, None, (because("by-feel-long", reps=reps, rir=rir, most=MOST_REPS),))
    share = basis.effort_share(reps, rir) if start is None else start
    target = basis.load_at(share)
    step = "effort" if start is None else "start-share"
    reason = because(step, reps=reps, rir=rir, share=share, max_kg=basis.full, target_kg=target, **basis.body)
    return _on_ladder(target, basis, reason)


def raised(first: First, add: Add, times: int, basis: Basis) -> tuple[OnBar | None, tuple[Reason, ...]]:
    """The target after the load went up `times` times from the first rung: by a mass, or by a share of the load."""
    if first.target is None or first.rung is None or times == 0 or add is None:
        return first.target, first.why
    begun = first.rung.mass
    if isinstance(add, Amount):
        by = add.kg(basis.unit)
        target = OnBar(begun + times * by)
        return target, (*first.why, because("raised-by-load", begun_kg=begun, add_kg=by, times=times, target_kg=target))
    target = OnBar(begun * (1 + add) ** times)
    return target, (
        *first.why,
        because("raised-by-share", begun_kg=begun, add_share=add, times=times, target_kg=target),
    )


def _on_ladder(target: OnBar, basis: Basis, reason: Reason) -> First:
    rung = basis.ladder.pick(target, basis.rounding, basis.ties) if basis.ladder else None
    return First(target, rung, (reason,))


def _straight(sets: int, wanted: Wanted) -> tuple[Wanted, ...]:
    # The same object each time, so that `planned_sets` works it out once.
    return (wanted,) * sets


def _outcomes(rule: Straight, now: OnBar | None, following: OnBar | None, basis: Basis) -> tuple[Outcome, ...]:
    """What the next exposure takes when all reps were made, after one miss and after two running."""
    if now is None or following is None or basis.ladder is None:
        return ()
    pick = basis.ladder.pick
    same = without_leap(basis.ladder, now, pick(now, basis.rounding, basis.ties))
    less = pick(same.mass * rule.misses.reduce_to, Rounding.DOWN)
    by_word = {"repeat": same, "reduce": less}
    return (
        Outcome("all-reps", without_leap(basis.ladder, following, pick(following, basis.rounding, basis.ties))),
        Outcome("missed-once", by_word[rule.misses.once]),
        Outcome("missed-twice", by_word[rule.misses.twice]),
    )


def _single(rule: Single, count: ExposureCount, basis: Basis) -> Prescription:
    exposure = count.raises(rule.start, basis)
    return _stepped(rule, rule.reps, exposure, exposure + 1, rule.add, basis)


def _step(rule: Step, count: ExposureCount, basis: Basis) -> Prescription:
    exposure = count.raises(rule.start, basis)
    return _stepped(rule, rule.reps, exposure // rule.hold, (exposure + 1) // rule.hold, rule.add, basis)


def _stepped(rule: Straight, reps: int, jumps: int, next_jumps: int, add: Add, basis: Basis) -> Prescription:
    first = first_load(rule.start, reps, rule.rir, basis)
    target, why = raised(first, add, jumps, basis)
    following, _ = raised(first, add, next_jumps, basis)
    wanted = Wanted(Role.WORKING, reps, rule.rir, target=target, moves=True, why=why)
    return Prescription(_straight(rule.sets, wanted), outcomes=_outcomes(rule, target, following, basis))


def _double(rule: Double, count: ExposureCount, basis: Basis) -> Prescription:
    low, high = rule.reps.low, rule.reps.high
    cycle, climbed = divmod(count.raises(rule.start, basis), high - low + 1)
    reps = low + climbed
    # The load of the top reps: from there the range goes down, where more reps are left.
    first = first_load(rule.start, high, rule.rir, basis)
    target, why = raised(first, rule.add, cycle, basis)
    following, _ = raised(first, rule.add, cycle + 1, basis)
    if target is None:
        wanted = Wanted(Role.WORKING, low, rule.rir, most_reps=high, why=why)
        return Prescription(_straight(rule.sets, wanted), outcomes=_felt_outcomes(rule, basis))
    left, now = (
        rule.rir + (high - reps),
        basis.ladder.pick(target, basis.rounding, basis.ties) if basis.ladder else None,
    )
    reason = because("double", reps=reps, low=low, high=high, rir=rule.rir)
    wanted = Wanted(
        Role.WORKING, reps, left, target=target, most_reps=high, moves=True, least_reps=low, why=(*why, reason)
    )
    return Prescription(
        _straight(rule.sets, wanted),
        outcomes=_range_outcomes(rule, reps, now, _outcomes(rule, target, following, basis)),
    )


def outcomes_at(rule: Any, reps: int, now: Rung, following: Rung, basis: Basis) -> tuple[Outcome, ...]:
    """The decision table of a rule at a load that is not its own: where the load is held, or may not rise by itself."""
    if isinstance(rule, RepOut):
        return _open_outcomes(rule.reps, now.mass, following.mass, basis)
    if not isinstance(rule, Straight):
        return ()
    straight = _outcomes(rule, now.mass, following.mass, basis)
    return _range_outcomes(rule, reps, now, straight) if isinstance(rule, Double) else straight


def _range_outcomes(rule: Double, reps: int, now: Rung | None, straight: tuple[Outcome, ...]) -> tuple[Outcome, ...]:
    """In a range the load rises only from the top reps; short of them the same load is tried with a rep more."""
    if not straight:
        return ()
    more = min(reps + 1, rule.reps.high)
    return (
        Outcome("top-reps", straight[0].rung, rule.reps.low, at=rule.reps.high),
        Outcome("short-of-top", now, more, at=rule.reps.high),
        # Short of the top is no miss: what the rule takes off after one (`straight[1]`) is not taken.
        straight[2],
    )


def _felt_outcomes(rule: Double, basis: Basis) -> tuple[Outcome, ...]:
    """Where the lifter finds the load: more of it from the top reps in every set; nothing for the body alone."""
    if basis.about.equipment is Equipment.BODYWEIGHT or rule.add is None:
        return ()
    more = (rule.add.kg(basis.unit), None) if isinstance(rule.add, Amount) else (None, rule.add)
    return (
        Outcome("felt-top", None, rule.reps.low, at=rule.reps.high, more=more[0], more_share=more[1]),
        Outcome("felt-short", None, at=rule.reps.high),
    )


MISSED_WAVE = Decimal("0.95")
"""What is left of the next load of a wave after a miss; common practice, no source."""


def _wave(rule: Wave, count: ExposureCount, basis: Basis) -> Prescription:
    entry, target, why = _entry(rule, count, basis)
    wanted = Wanted(Role.WORKING, entry.reps, entry.rir, target=target, why=why)
    outcomes = () if entry.stress == "light" else _wave_outcomes(rule, count, basis)
    return Prescription(_straight(entry.sets, wanted), stress=entry.stress, outcomes=outcomes)


def _entry(rule: Wave, count: ExposureCount, basis: Basis) -> tuple[WaveWeek, OnBar | None, tuple[Reason, ...]]:
    """The entry of an exposure with its target."""
    cycle, place = divmod(count.exposure, len(rule.weeks))
    # Times through before the max was renewed are in the new max; the place in the wave stays.
    cycle -= (count.exposure - count.since) // len(rule.weeks)
    entry = rule.weeks[place]
    first = first_load(entry.share, entry.reps, entry.rir if entry.rir is not None else Decimal(0), basis)
    return entry, *waved(first, rule.add, cycle, basis)


def _wave_outcomes(rule: Wave, count: ExposureCount, basis: Basis) -> tuple[Outcome, ...]:
    """The next entry that is not light: as planned when all reps were made, lighter after a miss.

    Light days decide nothing, and those between are done as they stand.
    """
    ahead = (count.exposure + more for more in range(1, len(rule.weeks) + 1))
    number = next((one for one in ahead if rule.weeks[one % len(rule.weeks)].stress != "light"), count.exposure)
    passed = number - count.exposure
    entry, target, _ = _entry(rule, ExposureCount(number, count.since + passed), basis)
    if target is None or basis.ladder is None or not passed:
        return ()
    made = basis.ladder.pick(target, basis.rounding, basis.ties)
    less = basis.ladder.pick(max(basis.load_of(basis.whole(target), MISSED_WAVE), NOTHING), Rounding.DOWN)
    word = "wave" if passed == 1 else "wave-hard"
    return Outcome(f"{word}-made", made, entry.reps), Outcome(f"{word}-missed", less, entry.reps)


def waved(first: First, add: Add, cycle: int, basis: Basis) -> tuple[OnBar | None, tuple[Reason, ...]]:
    """A wave's shares rise by points of the max from one time through to the next, its loads by a mass."""
    if isinstance(add, Decimal) and first.target is not None and basis.full is not None and cycle:
        target = OnBar(first.target + basis.full * add * cycle)
        return target, (
            *first.why,
            because("raised-by-points", add_share=add, times=cycle, target_kg=target),
        )
    if isinstance(add, Amount) and first.target is not None and cycle:
        target = OnBar(first.target + add.kg(basis.unit) * cycle)
        return target, (
            *first.why,
            because("raised-by-load", begun_kg=first.target, add_kg=add.kg(basis.unit), times=cycle, target_kg=target),
        )
    return first.target, first.why


def _top_set(rule: TopSet, count: ExposureCount, basis: Basis) -> Prescription:
    reps, rir = _turn(rule.reps, count.exposure), _turn(rule.rir, count.exposure)
    first = first_load(None, reps, rir, basis)
    target, why = gained(first, rule.gain, count.since, basis)
    top = Wanted(Role.WORKING, reps, rir, target=target, bracketed=True, why=why)
    if rule.backoff is None:
        return Prescription((top,))
    back = rule.backoff
    reason = because("back-off", of_top_share=back.of_top)
    lighter = Wanted(Role.BACKOFF, back.reps, of_top=back.of_top, why=(reason,))
    return Prescription((top, *_straight(back.sets, lighter)))


def gained(first: First, gain: Add, times: int, basis: Basis) -> tuple[OnBar | None, tuple[Reason, ...]]:
    """The expected top set after a gain at each exposure; exact, since nothing is fixed to the first rung."""
    if first.target is None or gain is None or times == 0:
        return first.target, first.why
    if isinstance(gain, Amount):
        by = gain.kg(basis.unit)
        grown = OnBar(first.target + times * by)
        return grown, (*first.why, because("expected-gain-load", add_kg=by, times=times, target_kg=grown))
    grown = OnBar(first.target * (1 + gain) ** times)
    return grown, (*first.why, because("expected-gain", add_share=gain, times=times, target_kg=grown))


def _volume(rule: Volume, count: ExposureCount, basis: Basis) -> Prescription:
    exposure = count.raises(rule.start, basis)
    (sets, cycle), following = (_sets_and_raises(rule, number) for number in (exposure, exposure + 1))
    first = first_load(rule.start, rule.reps, rule.rir, basis)
    target, why = raised(first, rule.add, cycle, basis)
    reason = because("sets-added", sets=sets, low=rule.sets.low, high=rule.sets.high)
    wanted = Wanted(Role.WORKING, rule.reps, rule.rir, target=target, moves=True, why=(*why, reason))
    then = raised(first, rule.add, following[1], basis)[0]
    outcomes = _set_outcomes(rule, (sets, target), (following[0], then), basis)
    return Prescription(_straight(sets, wanted), outcomes=outcomes)


def _sets_and_raises(rule: Volume, exposure: int) -> tuple[int, int]:
    """How many sets an exposure has, and how often the load has gone up by then."""
    cycle, added = divmod(exposure // rule.every, rule.sets.high - rule.sets.low + 1)
    return rule.sets.low + added, cycle


def _set_outcomes(
    rule: Volume, now: tuple[int, OnBar | None], following: tuple[int, OnBar | None], basis: Basis
) -> tuple[Outcome, ...]:
    """The sets and the load of next time when every rep was made, else those of today; nothing while both stay."""
    if now == following or (following[0] < now[0] and now[1] == following[1]):
        # Fewer sets at the same load are no reward: the count of the block begins again whatever was done.
        return ()
    loads = [
        None if target is None or basis.ladder is None
        else without_leap(basis.ladder, target, basis.ladder.pick(target, basis.rounding, basis.ties))
        for _, target in (following, now)
    ]  # fmt: skip
    return (
        Outcome("sets-made", loads[0], rule.reps, sets=following[0]),
        Outcome("sets-short", loads[1], rule.reps, sets=now[0]),
    )


def _rep_out(rule: RepOut, count: ExposureCount, basis: Basis) -> Prescription:
    exposure = count.raises(rule.start, basis)
    first = first_load(rule.start, rule.reps, rule.rir, basis)
    target, why = raised(first, rule.add, exposure, basis)
    fixed = Wanted(Role.WORKING, rule.reps, rule.rir, target=target, why=why)
    stop = because("rep-out", rir=rule.stop.rir, most=rule.stop.most)
    last = replace(fixed, rir=rule.stop.rir, most_reps=rule.stop.most, open_ended=True, why=(*why, stop))
    following, _ = raised(first, rule.add, exposure + 1, basis)
    return Prescription(
        (*_straight(rule.sets - 1, fixed), last), outcomes=_open_outcomes(rule.reps, target, following, basis)
    )


def _open_outcomes(reps: int, now: OnBar | None, following: OnBar | None, basis: Basis) -> tuple[Outcome, ...]:
    """After an open set: the next load when it reached its reps, the same once more when it fell short."""
    if now is None or following is None or basis.ladder is None:
        return ()
    pick = basis.ladder.pick
    return (
        Outcome("reps-reached", pick(following, basis.rounding, basis.ties), reps),
        Outcome("reps-short", pick(now, basis.rounding, basis.ties), reps),
    )


def _turn(values: Sequence[T], exposure: int) -> T:
    """The value of an exposure out of a list; the last one stays."""
    return values[min(exposure, len(values) - 1)]


# Every kind of `given.Progression` but the two drills, which `plan.slots` takes elsewhere.
_KINDS: dict[str, Callable[[Any, ExposureCount, Basis], Prescription]] = {
    "single": _single,
    "double": _double,
    "wave": _wave,
    "top_set": _top_set,
    "step": _step,
    "volume": _volume,
    "rep_out": _rep_out,
}
