"""Weeks that come lighter: a deload cuts load, sets and effort; a taper keeps the load and cuts the sets.

Why two rules and not one with two settings: a deload lowers fatigue, so load, sets and effort all come down and nothing
is decided from it; a taper sharpens for a test, so the load goes on as planned and only sets are taken away (Bosquet et
al. 2007, Pritchard et al. 2015, see `training.norms.TAPER_LOAD`). A deload once kept the load where the gym had nothing
lighter, or let the reps climb in its place; what follows makes it lighter in every gym.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_HALF_DOWN, ROUND_HALF_UP, Decimal

from builder.given import Deload, Slot, Taper
from builder.plan.basis import Basis
from builder.plan.lengths import cut
from builder.plan.model import Reason, Role, because
from builder.plan.prescribe import Prescription, Wanted
from builder.training.loading import Ladder
from builder.values.measure import Length
from builder.values.quantity import NOTHING, OnBar, Rounding

# As many as the pages tell apart (`training.expected.MOST_RESERVE`).
MOST_RIR = Decimal(6)
LEAST_HUNG = Decimal("2.5")
"""kg; in a deload less than this is not hung from a belt; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Tapering:
    """One week of a taper, and the share of the sets that stays in it."""

    rule: Taper
    sets: Decimal


Easing = Deload | Tapering
"""How a week comes lighter."""


@dataclass(frozen=True, slots=True)
class Light:
    """What makes the sets of a week lighter: its own easing, and a share of the load after a pause."""

    easing: Easing | None = None
    share: Decimal = Decimal(1)


def dropped(slot: Slot, easing: Easing) -> bool:
    """Whether a slot is left out of a lighter week."""
    drop = easing.drop if isinstance(easing, Deload) else easing.rule.drop
    return (slot.drill is not None and "drills" in drop) or (slot.accessory and "accessories" in drop)


def counts(easing: Easing | None) -> bool:
    """Whether a week is an exposure like any other; a taper keeps the load up, and the progression with it."""
    return easing is None or isinstance(easing, Tapering) or easing.counts


def eased(prescription: Prescription, easing: Easing, basis: Basis) -> Prescription:
    """The same slot in a lighter week: the first sets stay, at least one; nothing is open-ended.

    A set of time or distance that is alone cannot become fewer, so it gets shorter.
    """
    if isinstance(easing, Tapering):
        kept = prescription.sets[: _part(len(prescription.sets), easing.sets, ROUND_HALF_UP)]
        sets = tuple(_tapered(wanted, easing) for wanted in kept)
        sets = (_shorter(sets[0], easing.sets),) if len(prescription.sets) == 1 else sets
        return replace(prescription, sets=sets, outcomes=(), stress=None)
    # The first sets are kept: back-off and further sets take their load from those before them.
    kept = prescription.sets[: _part(len(prescription.sets), easing.sets)]
    sets = tuple(_lighter(wanted, easing, basis, prescription.rounding) for wanted in kept)
    sets = (_shorter(sets[0], easing.sets),) if len(prescription.sets) == 1 else sets
    return replace(prescription, sets=sets, outcomes=(), stress=None, rounding=Rounding.DOWN)


def _shorter(wanted: Wanted, share: Decimal) -> Wanted:
    """A set of time or distance at a share of its length; reps stay, and so does a hold of a drill."""
    if wanted.role is Role.HOLD or wanted.in_reps:
        return wanted
    if wanted.seconds is not None:
        return replace(wanted, seconds=cut(Length(wanted.seconds, wanted.seconds, "s"), share))
    assert wanted.metres is not None
    return replace(wanted, metres=cut(Length(wanted.metres, wanted.metres, "m"), share))


def _tapered(wanted: Wanted, easing: Tapering) -> Wanted:
    """The same set at the same load: what a taper cuts is how many there are."""
    reason = because("taper", sets_share=easing.sets)
    return replace(wanted, most_reps=None, open_ended=False, why=(*wanted.why, reason))


def _lighter(wanted: Wanted, deload: Deload, basis: Basis, rounding: Rounding | None) -> Wanted:
    rir = None if wanted.rir is None else min(wanted.rir + deload.easier, MOST_RIR)
    target, why = _target(wanted, deload, basis)
    reps = _part(wanted.reps, deload.reps)
    # In the gym's steps nine tenths may be the same plates again, and an empty bar gets no lighter.
    if _as_heavy(wanted, target, basis, rounding) and deload.load < 1 and wanted.in_reps:
        reps, fewer = _fewer(reps, deload)
        why += fewer
    if deload.reps < 1:
        wanted = _shorter(wanted, deload.reps)
    return replace(
        wanted,
        share=_share(wanted, target, basis),
        reps=reps,
        rir=rir,
        target=target,
        most_reps=None,
        # Nothing may climb in place of the load here, or the week would be no lighter.
        moves=False,
        least_reps=None,
        open_ended=False,
        bracketed=False,
        why=(*wanted.why, *why),
    )


def _share(wanted: Wanted, target: OnBar | None, basis: Basis) -> Decimal | None:
    """What the lighter load is of the max, where the rule names a share."""
    if wanted.share is None or wanted.target is None or target is None or not basis.whole(wanted.target):
        return None
    return wanted.share * basis.whole(target) / basis.whole(wanted.target)


def _target(wanted: Wanted, deload: Deload, basis: Basis) -> tuple[OnBar | None, list[Reason]]:
    """The lighter load in kg: a share of what is really lifted, the body counted; nothing small hangs from a belt."""
    if wanted.target is None:
        return None, [because("deload", load_share=deload.load)]
    whole, why = wanted.target, []
    # A target beyond the gym was never lifted: a share of it could be as heavy as the week before.
    if basis.ladder is not None and whole > basis.ladder.heaviest.mass:
        whole = basis.ladder.heaviest.mass
        why.append(because("deload-from", target_kg=whole))
    target = max(basis.load_of(basis.whole(whole), deload.load), NOTHING)
    why.append(because("deload", load_share=deload.load, target_kg=target, **basis.body))
    if basis.ladder is not None and _is_belt(basis.ladder) and deload.load < 1 and 0 < target < LEAST_HUNG:
        target = NOTHING
        why.append(because("deload-unhung", target_kg=target))
    return target, why


def _is_belt(ladder: Ladder) -> bool:
    return ladder.lightest.mass == 0


def _as_heavy(wanted: Wanted, target: OnBar | None, basis: Basis, rounding: Rounding | None) -> bool:
    """Whether the gym has nothing lighter than what is lifted in training."""
    if wanted.target is None or target is None or basis.ladder is None:
        return False
    # As `planned_sets` rounds each of them: the usual week by its rule, the deload always down.
    usual = basis.ladder.pick(wanted.target, rounding or basis.rounding, basis.ties)
    return basis.ladder.pick(target, Rounding.DOWN).mass >= usual.mass


def _fewer(reps: int, deload: Deload) -> tuple[int, list[Reason]]:
    """Where no lighter load is to be had the reps stop short: by the reps in reserve that a deload adds."""
    left = max(reps - max(int(deload.easier), 1), 1)
    return left, [because("deload-reps", reps=left)] if left < reps else []


def _part(count: int, share: Decimal, half: str = ROUND_HALF_DOWN) -> int:
    """A share of a count to the nearest whole, the half to the lower one unless said otherwise, at least 1."""
    return max(1, int((count * share).quantize(Decimal(1), rounding=half)))
