"""Technique trials: scored by what matters in the lift, what is scored is added up, three days have their cells."""

from pages.sample_pages import context, html

from builder.pages.model import Paper, Section
from builder.pages.trials import TrialPage, trial_sections


def _page(name: str, paper: Paper = Paper.A5) -> tuple[Section, TrialPage]:
    (section,) = trial_sections(context(name, paper))
    assert isinstance(section.data, TrialPage)
    return section, section.data


def test_a_bench_press_is_not_scored_on_the_middle_of_the_foot() -> None:
    _, page = _page("novice")
    by_lift = {trial.title: [row.text for row in trial.rows] for trial in page.trials}
    assert any("foot" in text for text in by_lift["Back squat"])
    assert not any("foot" in text for text in by_lift["Bench press"])
    assert "Wrists over the elbows" in by_lift["Bench press"]


def test_what_a_way_is_called_is_no_row_and_the_reps_left_are_not_in_the_sum() -> None:
    _, page = _page("novice")
    for trial in page.trials:
        texts = [row.text for row in trial.rows]
        total = texts.index("Sum of the four")
        assert len(texts[:total]) == 4
        assert all(row.apart is (place >= total) for place, row in enumerate(trial.rows))
        assert len(trial.names) == 2


def test_each_of_the_three_days_has_a_cell_for_every_line_of_both_ways() -> None:
    section, page = _page("novice")
    for trial in page.trials:
        assert all(len(row.fields) == 6 for row in trial.rows)
    marked = html(section)
    assert all(marked.count(f'data-field="{spec.name}"') == 1 for spec in section.fields)
    assert page.days == ("Day 1", "Day 2", "Day 3")


def test_the_camera_stands_at_one_height_for_a_lift() -> None:
    ctx = context("novice")
    _, page = _page("novice")
    squat = next(trial for trial in page.trials if trial.title == "Back squat")
    told = [squat.film, ctx.texts.markdown["depth-and-stance"], *(one.markdown for one in ctx.coach_pages)]
    heights = {word for text in told for word in ("knee height", "hip height") if word in text}
    assert heights == {"knee height"}
