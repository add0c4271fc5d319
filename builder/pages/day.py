"""A session of the plan on the way to its pages: what holds for all of it, however it is laid out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from builder.pages.context import Context
from builder.pages.lifts import LaidLift, LiftText, laid, lift_text
from builder.pages.model import Section
from builder.pages.names import page_code, running_head, session_anchor, session_title, session_tone
from builder.pages.paging import Run
from builder.pages.sheet import Density
from builder.plan.model import PlannedSession, PlannedWeek, WeekKind
from builder.values.fields import FieldSpec

UNDER_THE_BAR = ("no-safeties", "no-spotter")
"""Cautions that matter on days with a drill or a main lift over or on the lifter; the others matter on every day."""


@dataclass(frozen=True, slots=True)
class Session:
    """A session of the plan on the way to its pages."""

    ctx: Context
    week: PlannedWeek
    plan: PlannedSession
    _texts: dict[int, LiftText] = field(default_factory=dict)
    _lifts: dict[tuple[int, Density], LaidLift] = field(default_factory=dict)

    def lift(self, number: int, density: Density) -> LaidLift:
        """The lift of a slot at one density, worked out once: pages are tried at several."""
        key = number, density
        if key not in self._lifts:
            if number not in self._texts:
                self._texts[number] = lift_text(self.ctx, self.plan, number)
            self._lifts[key] = laid(self.ctx, self.plan, self._texts[number], density)
        return self._lifts[key]

    @property
    def numbers(self) -> Run:
        """Every slot that has a line on the pages; tested lifts have their own."""
        return tuple(n for n, slot in enumerate(self.plan.slots, 1) if slot.kind not in ("attempts", "rep_test"))


def about(whole: Session) -> str:
    return whole.plan.note or ""


def cautions(whole: Session) -> tuple[str, ...]:
    """What holds for the whole session, in short."""
    words, slots = whole.ctx.words, whole.plan.slots
    risky = any((slot.about.overhead_risk or slot.drill) and not slot.accessory for slot in slots)
    codes = [code for code in whole.ctx.plan.cautions if risky or code not in UNDER_THE_BAR]
    said = (key for code in codes if words.has(key := f"caution.session.{code}"))
    return (*lighter(whole), *(words(key) for key in said))


def lighter(whole: Session) -> tuple[str, ...]:
    """What holds in a deload."""
    return (whole.ctx.words("caution.deload"),) if whole.week.kind is WeekKind.DELOAD else ()


def section(
    whole: Session,
    template: str,
    page: object,
    index: int,
    *,
    side: str = "any",
    specs: tuple[FieldSpec, ...] = (),
    listed: bool | None = None,
) -> Section:
    session, words = whole.plan, whole.ctx.words
    leads = index == 0 and template != "log" if listed is None else index == 0 and listed
    suffix = "" if leads else f"-{template}-{index + 1}"
    return Section(
        anchor=session_anchor(session) + suffix,
        title=words("session.outline", day=words.day(session.on), title=session_title(session, words)),
        template=template,
        data=page,
        level=3,
        side=side,  # type: ignore[arg-type]
        tone=session_tone(whole.week, session),  # type: ignore[arg-type]
        running=running_head(session, words, whole.ctx.sheet.width),
        listed=leads,
        code=words("code.page", code=whole.ctx.code, page=f"{page_code(session)}.{index + 1}"),
        fields=specs,
    )


def shared_code(sessions: Sequence[Session]) -> str:
    """The code of a page that several sessions share."""
    pages = " · ".join(f"{page_code(one.plan)}.1" for one in sessions)
    return sessions[0].ctx.words("code.page", code=sessions[0].ctx.code, page=pages)
