"""Kit or own in words: answers, reasons, rates, sessions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from reckoner.calc.compare.alternative import Alternative, Answer, Case, Question
from reckoner.calc.compare.crossing import Crossing
from reckoner.calc.compare.sessions import LONGEST_WAIT, Sessions
from reckoner.pages.compare.sums import SumWords
from reckoner.pages.shared.parts import PageWriter, said_invented
from reckoner.records.kit import Kit
from reckoner.rounding import significant

ENDINGS = {1: "st", 2: "nd", 3: "rd"}
CASES = {
    "cautious": "Cautious capacities and keeping times",
    "generous": "Generous capacities and keeping times",
}
#: What decides; of mixing first, then of what is bought.
REASONS = {
    "used": "what the film uses up costs {own} mixed, {other} with the {label}",
    "poured": "baths poured away unfinished cost {own} mixed, {other} with the {label}",
    "standing": "baths that stand unfinished at the end cost {own} mixed, {other} with the {label}",
    "left": "packs hold {own} unused at the end when mixing, {other} with the {label}",
    "dead": "chemicals worth {own} die in their packs when mixing, {other} with the {label}",
    "delivery": "delivery comes to {own} when mixing, {other} with the {label}",
}


def nth(number: int) -> str:
    """An ordinal: 1st, 2nd, 11th, 23rd.

    >>> nth(1), nth(12), nth(23)
    ('1st', '12th', '23rd')
    """
    teens = 10 <= number % 100 <= 20
    return f"{number}{'th' if teens else ENDINGS.get(number % 10, 'th')}"


def counted(number: int, unit: str) -> str:
    """So many rolls or films."""
    return f"{number}\u00a0{unit}{'' if number == 1 else 's'}"


def kit_name(kit: Kit) -> str:
    """A kit's name, and that it is invented where it is."""
    return said_invented(kit.name, kit.invented)


@dataclass(frozen=True)
class KitWords:
    """Words for one question of a plan."""

    writer: PageWriter
    question: Question

    def rate(self, rate: Decimal) -> str:
        """So many rolls or films a month."""
        single = significant(rate, 2) == 1
        return f"{self._number(rate)} {self.question.unit}{'' if single else 's'} a month"

    def count(self, number: int) -> str:
        """So many rolls or films."""
        return counted(number, self.question.unit)

    def _number(self, rate: Decimal) -> str:
        return self.writer.show.number(significant(rate, 2))

    def months(self, months: Decimal) -> str:
        """So many months."""
        return self.writer.show.exactish(months, "months", 2)

    def span(self, answer: Answer) -> str:
        """What an answer looks at: months and rolls."""
        months = answer.rolls / answer.rate if self.question.ends else self.question.months
        return f"over {self.months(months)} ({self.count(answer.rolls)})"

    def verdict(self, answer: Answer, label: str) -> str:
        """From which roll or film on mixing is cheaper than what ``label`` names."""
        if answer.first is None:
            return f"mixing does not become cheaper than the {label} for good"
        if answer.first == 1:
            return f"mixing is cheaper than the {label} from the first {self.question.unit} on"
        before = "" if answer.once in (None, answer.first) else " (before that the cheaper side changes)"
        return f"mixing is cheaper than the {label} from the {nth(answer.first)} {self.question.unit} on{before}"

    def because(self, answer: Answer, label: str) -> str:
        """The part of the money that decides."""
        in_words, decisive = SumWords(self.writer), answer.decisive
        own, other = (in_words.minor(sum_) if sum_ else "nothing" for sum_ in (decisive.own, decisive.other))
        reason = REASONS[decisive.part].format(own=own, other=other, label=label)
        mostly = f" (most of it: {self.bath(decisive.bath)})" if decisive.part == "poured" and decisive.bath else ""
        return reason + mostly

    def bath(self, bath_id: str) -> str:
        """The name of a bath, mixed or bought."""
        catalogue = self.writer.results.catalogue
        if bath_id in catalogue.kits:
            return f"the mixed {catalogue.kits[bath_id].kind}"
        return catalogue.formulas[bath_id].name

    def case(self, case: Case, label: str) -> str:
        """What a case changes."""
        if case.kind in CASES:
            return CASES[case.kind]
        percent = self.writer.show.number(abs(case.factor - 1) * 100)
        dearer = "Chemicals" if case.kind == "chemicals" else label.capitalize()
        return f"{dearer} {percent}\u00a0% {'dearer' if case.factor > 1 else 'cheaper'}"

    def at_rates(self, alternative: Alternative, label: str) -> str:
        """At which rates mixing never gets cheaper, and why there."""
        text = self._at_rates(alternative, label)
        return f"Were film to go on coming: {text[0].lower()}{text[1:]}" if self.question.ends else text

    def _at_rates(self, alternative: Alternative, label: str) -> str:
        never = [answer for answer in alternative.rates if answer.first is None]
        ever = [answer for answer in alternative.rates if answer.first is not None]
        within = f"within {self.months(self.question.months)}"
        low, high = alternative.rates[0].rate, self.rate(alternative.rates[-1].rate)
        if not never:
            return f"At every rate from {self._number(low)} to {high} it becomes cheaper {within}."
        nearest = never[-1]
        if not ever:
            extent = f"At no rate from {self._number(low)} to {high} it does {within}"
        elif never[-1].rate < ever[0].rate:
            extent = f"At {self.rate(nearest.rate)} or fewer it never does {within}"
        elif never[0].rate > ever[-1].rate:
            nearest = never[0]
            extent = f"At {self.rate(nearest.rate)} or more it never does {within}"
        else:
            numbers = ", ".join(self._number(answer.rate) for answer in never)
            extent = f"At {numbers} {self.question.unit}s a month it never does {within}"
        where = "" if len(never) == 1 else f" (at {self._number(nearest.rate)})"
        return f"{extent}, mostly because {self.because(nearest, label)}{where}."

    def crossing(self, crossing: Crossing, bought: str) -> str:
        """One change of the cheaper side; ``bought`` names the other side."""
        when = f" (month {self.question.month_of(crossing.at)})" if crossing.at > 1 else ""
        return f"from the {nth(crossing.at)} {self.question.unit}{when}: {'mixing' if crossing.mixing else bought}"

    def litre_crossing(self, crossing: Crossing, bought: str, litres: Decimal) -> str:
        """One change of the cheaper side, by litres."""
        made = self.writer.show.exactish(crossing.at * litres, "L")
        return f"at {made}: {'mixing' if crossing.mixing else bought}"


def session_lines(sessions: Sessions, own: int, words: KitWords) -> Sequence[str]:
    """How to gather film so that no developer is poured away unused; ``own`` films make a session of the sums."""
    show = words.writer.show
    bath = words.bath(sessions.bath)
    batch = show.amount(words.writer.results.catalogue.settings.first_batch)
    lines = [f"{batch} of {bath} does {words.count(sessions.rolls)} by the cautious figure: so many make a session."]
    rest = ""
    if sessions.rest:
        less = f" with {show.amount(sessions.rest_batch)} of bath" if sessions.rest_batch else ""
        rest = f"a last one of {sessions.rest}{less}" if sessions.full else f"one session of {sessions.rest}{less}"
    full = f"{sessions.full} {'session' if sessions.full == 1 else 'sessions'} of {sessions.rolls}"
    held = [full] * bool(sessions.full) + [rest] * bool(rest)
    lines.append(f"{words.count(sessions.waiting)}: {' and '.join(held)}.")
    if own and own != sessions.rolls:
        lines.append(f"The sums above have sessions of {own}: so many gather while film waits, each on one day.")
    gathers = f"At {words.rate(words.question.rate)} a session's film gathers in {words.months(sessions.wait)}"
    if sessions.wait > words.question.wait:
        gathers += f", longer than the {words.months(words.question.wait)} that film waits in this plan"
    lines.append(f"{gathers}.")
    if sessions.in_time is not None:
        less = f" in {show.amount(sessions.in_time_batch)} of bath" if sessions.in_time_batch else ""
        lines.append(
            f"Too long: exposed film should not wait above {words.months(LONGEST_WAIT)} (common practice). Process the "
            f"{words.count(sessions.in_time)} that gather in that time{less}."
        )
    if sessions.several:
        others = ", ".join(f"{words.bath(i)}: {count} batches" for i, count in sessions.several)
        lines.append(f"A session of that size needs more of these: {others}.")
    return lines
