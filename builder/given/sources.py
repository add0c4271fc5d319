"""What a plan is made from: the typed sources, with the places that they were read from."""

from __future__ import annotations

from dataclasses import dataclass

from builder.given.block import Block
from builder.given.brand import BrandFile
from builder.given.changes import ChangeMade, Variant
from builder.given.lifter import Client
from builder.given.movements import Movements
from builder.values.nodes import Mapping, locate
from builder.values.problem import Span


@dataclass(frozen=True, slots=True)
class Sources:
    """The typed sources with the merged tree that they were read from. Kinds that no file holds are None.

    The block is the client's: with the changes `made` in it, and `variants` for the slots that came of them.
    """

    client: Client | None
    block: Block | None
    brand: BrandFile | None
    movements: Movements
    tree: Mapping
    made: tuple[ChangeMade, ...] = ()
    variants: tuple[Variant, ...] = ()

    @property
    def rated(self) -> bool:
        """Whether effort is printed as ratings: as the block says, else the brand, else as the block itself writes."""
        said = self.block.block.effort if self.block else None
        said = said or (self.brand.effort if self.brand else None)
        return said == "rpe" if said else self.block is not None and self.block.rates_only

    def at(self, *path: str | int, key: bool = False) -> Span:
        """Where something stands in the person's files."""
        return locate(self.tree, path, key=key)
