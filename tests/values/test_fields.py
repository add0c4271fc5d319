"""A field's name is made and read in one place, and says exactly one thing."""

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.values import fields
from builder.values.fields import (
    AnswerField,
    AttemptField,
    Field,
    FieldSpec,
    IntakeField,
    IntakeRow,
    RecordField,
    ResultField,
    RetestNote,
    SessionField,
    SetField,
    SignField,
    SlotNote,
    TrendField,
    TrialField,
    WeekField,
    parse,
    write,
)

WEEK, DAY, COUNT = st.integers(1, 99), st.integers(1, 7), st.integers(1, 99)


def one_of(parts: object) -> st.SearchStrategy[str]:
    return st.sampled_from(get_args(parts))


ANY_FIELD: st.SearchStrategy[Field] = st.one_of(
    st.builds(SetField, WEEK, DAY, COUNT, COUNT, one_of(fields.SetPart)),
    st.builds(SlotNote, WEEK, DAY, COUNT),
    st.builds(SessionField, WEEK, DAY, one_of(fields.SessionPart)),
    st.builds(WeekField, WEEK, one_of(fields.WeekPart)),
    st.builds(AttemptField, COUNT, st.integers(1, 3), one_of(fields.AttemptPart)),
    st.builds(ResultField, COUNT, one_of(fields.ResultPart)),
    st.builds(RetestNote),
    st.builds(RecordField, COUNT, COUNT, one_of(fields.RecordPart)),
    st.builds(TrendField, COUNT, WEEK),
    st.builds(TrialField, COUNT, COUNT, COUNT, st.none() | st.integers(1, 3)),
    st.builds(AnswerField, COUNT, one_of(fields.Answer)),
    st.builds(SignField, one_of(fields.Form), one_of(fields.SignPart)),
    st.builds(IntakeField, one_of(fields.IntakeOnce)),
    st.builds(IntakeRow, one_of(fields.IntakeList), COUNT, one_of(fields.IntakePart)),
)


@given(ANY_FIELD)
def test_a_written_field_is_parsed_back_equal(field: Field) -> None:
    assert parse(write(field)) == field


@given(ANY_FIELD, ANY_FIELD)
def test_two_fields_never_share_a_name(one: Field, other: Field) -> None:
    assert (write(one) == write(other)) == (one == other)


@given(ANY_FIELD)
def test_names_are_short_ascii_without_periods(field: Field) -> None:
    """A period inside a partial field name is forbidden by ISO 32000-1, 12.7.3.2."""
    name = write(field)
    assert name.isascii()
    assert "." not in name
    assert len(name) <= 24


@given(
    st.text(st.characters(codec="utf-8"), max_size=30) | st.from_regex(r"w[0-9]{1,3}-d[0-9]-[a-z0-9-]*", fullmatch=True)
)
def test_a_text_is_refused_or_is_exactly_what_would_be_written(text: str) -> None:
    try:
        field = parse(text)
    except ValueError:
        return
    assert write(field) == text


@pytest.mark.parametrize(
    ("field", "name"),
    [
        (SetField(3, 2, 1, 4, "load"), "w03-d2-s1-t4-load"),
        (SlotNote(12, 7, 10), "w12-d7-s10-note"),
        (SessionField(3, 2, "bodyweight"), "w03-d2-bodyweight"),
        (AttemptField(1, 3, "good"), "retest-l1-a3-good"),
        (ResultField(2, "rir"), "retest-l2-rir"),
        (RetestNote(), "retest-note"),
        (RecordField(2, 10, "date"), "record-l2-r10-date"),
        (TrialField(1, 2, 3), "trial1-way2-c3"),
        (TrialField(1, 2, 3, 2), "trial1-way2-c3-d2"),
        (AnswerField(4, "yes"), "screening-q4-yes"),
        (SignField("licence", "signature"), "licence-signature"),
        (WeekField(3, "good"), "w03-good"),
        (TrendField(1, 3), "trend-l1-w03"),
        (IntakeField("name"), "intake-name"),
        (IntakeRow("lift", 1, "load"), "intake-lift-r1-load"),
    ],
)
def test_names_stay_as_they_are(field: Field, name: str) -> None:
    """Booklets already handed out are read by these names."""
    assert write(field) == name


@pytest.mark.parametrize(
    "text",
    [
        "",
        "w3-d2-s1-t4-load",
        "w00-d1-note",
        "w03-d8-note",
        "w03-d2-s01-note",
        "w03-d2-s1-t4-weight",
        "retest-l1-a4-load",
        "record-l1-r0-load",
        "record-l1-r5-reps",
        "W03-d2-note",
        "w03-d2-note ",
        "w٣3-d2-note",
        "w03-d2-note\n",
    ],
)
def test_other_texts_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not the name of a form field"):
        parse(text)


@pytest.mark.parametrize(
    "field",
    [
        SetField(0, 1, 1, 1, "load"),
        SetField(1, 8, 1, 1, "load"),
        SlotNote(100, 1, 1),
        AttemptField(1, 4, "load"),
        RecordField(1, 0, "load"),
        SessionField(1, 1, "mood"),  # type: ignore[arg-type]
        TrialField(1, 0, 1),
    ],
)
def test_a_field_out_of_range_has_no_name(field: Field) -> None:
    with pytest.raises(ValueError, match="no form field can stand for"):
        write(field)


def test_a_spec_needs_a_plain_name_a_label_and_a_value_that_fits() -> None:
    FieldSpec("w03-d2-note", "multiline", "Note", "fine", "left", 200, 9)
    for name in ("", "a.b", "a b", "ä", "-a"):
        with pytest.raises(ValueError, match="ASCII letters"):
            FieldSpec(name, "text", "Label")
    with pytest.raises(ValueError, match="label"):
        FieldSpec("a", "text", " ")
    with pytest.raises(ValueError, match="longer than 3"):
        FieldSpec("a", "text", "Label", "1234", max_length=3)
    with pytest.raises(ValueError, match="font size"):
        FieldSpec("a", "text", "Label", font_size=0)


def test_a_name_begins_with_the_part_of_the_booklet_that_it_belongs_to() -> None:
    names = [fields.write(ResultField(1, "load")), fields.write(RecordField(2, 5, "date")), fields.write(RetestNote())]
    assert [fields.part_of(name) for name in names] == ["retest", "record", "retest"]
    assert fields.known(names[0]) == ResultField(1, "load")
    assert fields.known("no-such-name") is None
