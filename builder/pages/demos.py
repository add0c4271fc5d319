"""Where the movements of the plan can be seen: their addresses, printed and as codes for a phone."""

from __future__ import annotations

from dataclasses import dataclass

from builder.pages.context import Context
from builder.pages.figures.draw import Drawing
from builder.pages.figures.qr import qr_drawing
from builder.pages.model import Section
from builder.pages.names import DRILLS, movement_title
from builder.plan.model import PlannedSlot


@dataclass(frozen=True, slots=True)
class Demo:
    """One movement with the address of its demonstration; `shown` is the address as printed."""

    name: str
    address: str
    shown: str
    code: Drawing


@dataclass(frozen=True, slots=True)
class DemoPage:
    """The demonstrations in the order in which the plan first asks for them."""

    title: str
    lead: str
    demos: tuple[Demo, ...]


def demo_sections(ctx: Context) -> tuple[Section, ...]:
    """The page of demonstrations; none when no movement of the plan has an address."""
    demos = tuple(
        # The link is a text beside the code: around a drawing the typesetter leaves one untagged (ISO 14289-1, 7.18.5).
        Demo(movement_title(name, ctx.words), address, address.removeprefix("https://"), qr_drawing(ctx.words, address))
        for name, address in demo_addresses(ctx).items()
    )
    if not demos:
        return ()
    page = DemoPage(ctx.words("demos.title"), ctx.words("demos.lead"), demos)
    return (Section("demonstrations", page.title, "demos", page),)


def demo_addresses(ctx: Context) -> dict[str, str]:
    """The address of each movement of the plan that has one."""
    slots = (slot for session in ctx.plan.sessions() for slot in session.slots)
    found = {slot.movement: _address(ctx, slot) for slot in slots}
    return {name: address for name, address in found.items() if address}


def shown_at(ctx: Context, slot: PlannedSlot) -> str:
    """Where the name of a slot leads: a drill to its page, a movement to its demonstration, "" with neither."""
    if slot.drill is not None:
        # The smaller editions have no page of drills.
        return f"#{DRILLS}" if ctx.edition.whole else ""
    return _address(ctx, slot) or ""


def _address(ctx: Context, slot: PlannedSlot) -> str | None:
    """The brand's own address goes before the library's."""
    own = (address for word, address in ctx.brand.demos.items() if ctx.library.named(word) == slot.movement)
    return next(own, None) or slot.about.demo
