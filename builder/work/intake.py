"""The intake form as a PDF: a brand's look, and what its fields need to be read again."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable

from builder.given import Sources
from builder.log.intake import INTAKE, IntakeFacts, as_bytes
from builder.pages.intake import LIFTS, PLATES, IntakeContext, make_intake
from builder.pages.model import Paper
from builder.pages.sheet import sheet
from builder.pdf import Attached
from builder.values.problem import Severity
from builder.values.quantity import Unit
from builder.work.publish import Choices, Published, dress, printed
from builder.work.texts import DEFAULT_LANGUAGE, load_words

IDENTIFIER = "intake"


def intake_form(
    sources: Sources | None, unit: Unit, choices: Choices, stage: Callable[[str], None] = lambda name: None
) -> Published:
    """The form of a brand (None for a plain one), with the problems that the brand's files have."""
    worn, problems = dress(sources, choices)
    if any(problem.severity is Severity.ERROR for problem in problems):
        return Published(None, None, problems)
    words = load_words(worn.language or DEFAULT_LANGUAGE, unit)
    paper = worn.paper or Paper.A4
    facts = IntakeFacts(words.language, unit, LIFTS, PLATES[unit])
    contact = worn.brand.contact if worn.brand else None
    send = next((one for one in (contact.email, contact.web, contact.phone) if one), "") if contact else ""
    context = IntakeContext(
        words, paper, worn.theme, sheet(paper, worn.theme), worn.brand.name if worn.brand else "", send,
        worn.assets.logo, code_of(facts),
    )  # fmt: skip
    booklet = make_intake(context)
    luggage = Attached(
        INTAKE, as_bytes(facts), words("intake.document", brand=context.brand), "application/json", "Data"
    )
    identifier = f"{IDENTIFIER}-{context.code}-{paper}"
    done = printed(booklet, worn, choices, identifier, (luggage,), stage)
    return Published(done.pressed, done.booklet, (*problems, *done.problems))


def code_of(facts: IntakeFacts) -> str:
    """What forms of one kind share: language, unit and the rows that are printed."""
    return hashlib.sha256(json.dumps(facts.as_json(), sort_keys=True).encode()).hexdigest()[:8].upper()
