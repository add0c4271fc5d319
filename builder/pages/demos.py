"""Where the movements of the plan can be seen: their addresses, printed and as codes for a phone."""

from __future__ import annotations

from dataclasses import dataclass

from builder.pages.context import Context
from builder.pages.figures.draw import Drawing
from builder.pages.figures.qr import qr_drawing
from builder.pages.model import Section
from builder.pages.names import movement_title


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
        Demo(movement_title(name, ctx.words), address, address.removeprefix("https://"), qr_drawing(ctx.words, address))
        for name, address in demo_addresses(ctx).items()
    )
    if not demos:
        return ()
    page = DemoPage(ctx.words("demos.title"), ctx.words("demos.lead"), demos)
    return (Section("demonstrations", page.title, "demos", page),)


def demo_addresses(ctx: Context) -> dict[str, str]:
    """The address of each movement of the plan that has one; the brand's own goes before the library's."""
    own = {ctx.library.named(word): address for word, address in ctx.brand.demos.items()}
    slots = (slot for session in ctx.plan.sessions() for slot in session.slots)
    found = {slot.movement: own.get(slot.movement) or slot.about.demo for slot in slots}
    return {name: address for name, address in found.items() if address}
