"""The front matter in its order; here the licence, safety and screening pages."""

from __future__ import annotations

from dataclasses import dataclass

from builder.pages.changed import changed_section
from builder.pages.coach_pages import Flow, coach_sections, flow, safety_sections, technique_sections
from builder.pages.context import Context
from builder.pages.demos import demo_sections
from builder.pages.drills import drill_sections
from builder.pages.glance import glance_section
from builder.pages.guide import guide_section
from builder.pages.model import Edition, Section
from builder.pages.numbers import numbers_section
from builder.pages.reference import reference_section
from builder.pages.trials import trial_sections
from builder.values.fields import AnswerField, FieldSpec, Form, SignField, SignPart, write
from builder.words import Words

# By their places here `work/enrol.py` reads the answers, of forms that were printed long ago too.
QUESTIONS = ("answered", "asked", "cleared", "changed", "safeties")
OUTCOMES = ("unanswered", "stop", "unsafe")
"""What the answers lead to; each answer that is not the wished one has its line."""
PARTS: tuple[SignPart, ...] = ("name", "date", "signature")
_EXTRA = {"minor": "minors", "supervised-minor": "minors", "older": "older"}


@dataclass(frozen=True, slots=True)
class ScreeningQuestion:
    """One screening question with the fields of its two answers."""

    text: str
    yes: str
    no: str


@dataclass(frozen=True, slots=True)
class SignLine:
    """One line to be filled in under a text."""

    label: str
    field: str
    part: str


@dataclass(frozen=True, slots=True)
class LicencePage:
    """The licence, the safety texts and the screening, each with what is to be signed."""

    title: str
    licence: Flow
    copyright: str
    agree: str
    sign: tuple[SignLine, ...]
    disclaimer: Flow | None
    safety: tuple[Flow, ...]
    cautions: tuple[str, ...]
    screening: str
    lead: str
    known: str
    yes: str
    no: str
    questions: tuple[ScreeningQuestion, ...]
    after_title: str
    after: tuple[str, ...]
    screening_sign: tuple[SignLine, ...]


def front_sections(ctx: Context) -> tuple[Section, ...]:
    """Licence, what changed, numbers, guide, block at a glance, coach's pages and drills; for the coach all else."""
    return (
        licence_section(ctx),
        *((changed,) if (changed := changed_section(ctx)) else ()),
        numbers_section(ctx),
        *((guide,) if (guide := guide_section(ctx)) else ()),
        glance_section(ctx),
        *coach_sections(ctx),
        *(handbook_texts(ctx) if ctx.edition is Edition.COACH else ()),
        *drill_sections(ctx),
    )


def handbook_sections(ctx: Context) -> tuple[Section, ...]:
    """What is read once, whichever block is trained: safety, the coach's pages, technique, words and sources."""
    return (*safety_sections(ctx), *coach_sections(ctx), *handbook_texts(ctx), reference_section(ctx))


def handbook_texts(ctx: Context) -> tuple[Section, ...]:
    """Technique, demonstrations and trials."""
    return (*technique_sections(ctx), *demo_sections(ctx), *trial_sections(ctx))


def licence_section(ctx: Context) -> Section:
    """The brand's legal text or the default one, the safety texts that this lifter needs, and the screening."""
    words, legal = ctx.words, ctx.brand.legal
    texts = ctx.texts.markdown
    licence = f"## {words('licence.heading')}\n\n{legal.licence}" if legal.licence else texts["licence"]
    extra = dict.fromkeys(_EXTRA[code] for code in ctx.plan.cautions if code in _EXTRA)
    page = LicencePage(
        title=words("licence.title"),
        licence=flow(words, "licence", licence),
        copyright=legal.copyright or "",
        agree=words("licence.agree"),
        sign=_lines(words, "licence"),
        disclaimer=flow(words, "disclaimer", legal.disclaimer) if legal.disclaimer else None,
        safety=tuple(flow(words, name, texts[name]) for name in ("safety", *extra)),
        cautions=tuple(words(f"caution.{c}") for c in ctx.plan.cautions if words.has(f"caution.{c}")),
        screening=words("screening.title"),
        lead=words("screening.lead"),
        known=_known(ctx),
        yes=words("yes"),
        no=words("no"),
        questions=tuple(_question(words, n, code) for n, code in enumerate(QUESTIONS, 1)),
        after_title=words("screening.after"),
        after=tuple(words(f"screening.after.{code}") for code in OUTCOMES),
        screening_sign=_lines(words, "screening"),
    )
    return Section("licence", page.title, "licence", page, fields=_fields(words))


def _known(ctx: Context) -> str:
    """What the profile says of the screening form, "" when it says nothing."""
    answered = ctx.plan.client.screening
    if answered is None:
        return ""
    if answered.cleared is not None:
        return ctx.words("screening.cleared-on", answered=answered.answered, cleared=answered.cleared)
    key = "screening.not-cleared" if answered.clinician_advised else "screening.answered-on"
    return ctx.words(key, answered=answered.answered)


def _question(words: Words, number: int, code: str) -> ScreeningQuestion:
    text = words("screening.numbered", number=number, question=words(f"screening.{code}"))
    return ScreeningQuestion(text, write(AnswerField(number, "yes")), write(AnswerField(number, "no")))


def _lines(words: Words, form: Form) -> tuple[SignLine, ...]:
    return tuple(SignLine(words(f"sign.{part}"), write(SignField(form, part)), part) for part in PARTS)


def _fields(words: Words) -> tuple[FieldSpec, ...]:
    answers = (
        FieldSpec(
            write(AnswerField(number, answer)),
            "tick",
            words("screening.label", question=words(f"screening.{code}"), answer=words(answer)),
        )
        for number, code in enumerate(QUESTIONS, 1)
        for answer in ("yes", "no")
    )
    return (*_sign_fields(words, "licence"), *answers, *_sign_fields(words, "screening"))


def _sign_fields(words: Words, form: Form) -> tuple[FieldSpec, ...]:
    return tuple(
        FieldSpec(
            write(SignField(form, part)),
            "text",
            words("sign.label", form=words(f"{form}.form"), part=words(f"sign.{part}")),
        )
        for part in PARTS
    )
