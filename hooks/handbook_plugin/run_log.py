"""What a build says: the core's problems and notes become records of MkDocs' log, where ``--strict`` counts them."""

from __future__ import annotations

from logging import WARNING, getLogger

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import get_plugin_logger

from reckoner.build import Built
from reckoner.calc.results import Results
from reckoner.pages.prices.price_news import edited, newest_moves
from reckoner.problems import Severity

log = get_plugin_logger("handbook")


def let_strict_count(config: MkDocsConfig) -> None:
    """MkDocs counts the warnings that its log lets through: with ``-q`` none, so that a strict build never failed."""
    mkdocs_log = getLogger("mkdocs")
    if config.strict:
        mkdocs_log.setLevel(min(mkdocs_log.getEffectiveLevel(), WARNING))


def tell(built: Built) -> None:
    """Every warning and note of a build, and how long its stages took."""
    tell_as = {Severity.WARNING: log.warning, Severity.NOTE: log.info, Severity.ERROR: log.error}
    for problem in built.problems:
        tell_as[problem.severity](str(problem))
    for note in built.notes:
        log.info(note)
    log.info("; ".join(f"{stage} {seconds:.2f} s" for stage, seconds in built.stages))


def tell_prices(before: Results | None, now: Results) -> None:
    """While serving: what the edit of a price changed; at first, what the newest price list did."""
    for line in edited(before, now) if before is not None else newest_moves(now):
        log.info(line)
