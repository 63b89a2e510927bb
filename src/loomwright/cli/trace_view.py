"""A trace on a page: ranked faults with their reasons, then the next step."""

from __future__ import annotations

from loomwright.cli.paint import Page, listing
from loomwright.rig.model import Rig
from loomwright.trace.model import Advice, Group, Question, Ranking
from loomwright.trace.reasons import said_of

SHOWN = 6
LEAST = 0.01
TELLS = ((1.0, "tells much"), (0.4, "tells something"), (0.0, "tells little"))
"""What an answer tells on average: one bit halves what it may be. [bit]"""

FOR, AGAINST = 1.6, 0.625
"""Factors from which on a reason speaks for or against; between them it is as with others."""


def show_trace(rig: Rig, ranking: Ranking, advice: Advice) -> None:
    """Print what may be wrong and what to do next.

    Parameters
    ----------
    rig : Rig
        The rig.
    ranking : Ranking
        What may be wrong.
    advice : Advice
        What to do next.
    """
    page = Page()
    page.head(rig.name)
    for observation in ranking.observations:
        page.line(said_of(observation), "quiet")
    if ranking.unread:
        said = "; ".join(said_of(each) for each in ranking.unread)
        page.line(f"Says nothing of this rig: {said}")
    page.line()
    show_ranked(page, ranking)
    show_advice(page, advice)


def show_ranked(page: Page, ranking: Ranking) -> None:
    """Print the likeliest faults, with the reasons for the first."""
    page.head("What may be wrong")
    groups = [g for n, g in enumerate(ranking.groups[:SHOWN]) if n == 0 or g.probability >= LEAST]
    rows: list[tuple[str, str, str]] = [
        (f"{group.probability:.0%}", group.side, _title(group)) for group in groups
    ]
    left = sum(g.probability for g in ranking.groups) - sum(g.probability for g in groups)
    rows += [
        (f"{left:.0%}", "", "some other part"),
        (f"{ranking.normal:.0%}", "", "nothing, or normal for this vehicle"),
        (f"{ranking.none:.0%}", "", "none of these"),
    ]
    page.show(listing(("", "side", "fault"), rows))
    sides = ", ".join(f"{side} {share:.0%}" for side, share in ranking.by_side.items())
    page.line(f"By side: {sides}", "quiet")
    page.line()
    for group in groups[:1]:
        _reasons(page, group)


def _title(group: Group) -> str:
    size = group.best.fault.size_ohm
    about = "" if size is None else f", about {size:g} ohm"
    second = group.best.second
    with_ = "" if second is None else f", with {second.title}"
    return f"{group.title}{about}{with_}"


def _reasons(page: Page, group: Group) -> None:
    if not group.reasons:
        return
    page.line(f"Why {group.part}:", "place")
    for reason in group.reasons[:6]:
        sign = "+" if reason.factor >= FOR else "-" if reason.factor <= AGAINST else "="
        page.bullet(sign, reason.says, indent=2)
    if group.flow is not None and group.flow.says:
        page.bullet("~", f"{group.flow.command.replace('_', ' ')}: {group.flow.says}", indent=2)
    page.line()


def show_advice(page: Page, advice: Advice) -> None:
    """Print the repair if the cause is sure enough, else the next question."""
    if advice.repair is not None:
        page.head("Repair")
        page.line(f"{advice.repair.title}: {advice.repair.repair}.")
        page.line("Then test: " + "; ".join(advice.retest) + ".")
        page.line(advice.watch)
        page.line()
    if advice.questions:
        page.head("Look at next" if advice.repair is None else "To be surer still")
        show_question(page, advice.questions[0])
        for other in advice.questions[1:3]:
            page.line(f"Or: {other.says} ({_effort(other)})", "quiet")


def show_question(page: Page, question: Question) -> None:
    """Print one question, its effort, and what each answer would mean."""
    page.line(question.says, "place")
    page.line(_effort(question), "quiet")
    if question.caution:
        page.line(question.caution)
    for outcome in question.outcomes[:5]:
        means = "; ".join(outcome.means)
        page.bullet(f"{outcome.probability:.0%}", f"{outcome.says}: {means}", indent=2)


def _effort(question: Question) -> str:
    needs = f", needs {', '.join(question.needs)}" if question.needs else ""
    tells = next(word for least, word in TELLS if question.information_bit >= least)
    return f"{question.minutes:g} min{needs}, {tells}"
