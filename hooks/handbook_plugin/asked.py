"""What the environment of a command asks for: the day, the audience, the edition and the site's address."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

from mkdocs.config.base import ValidationError
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError

from reckoner.audience import CLUB, audience_of
from reckoner.build import day_of
from reckoner.problems import ValueFault

EDITIONS = ("site", "folder")
#: Commands whose result stays on the owner's computer.
OWN_COMMANDS = ("build", "serve")


def day() -> tuple[date, bool]:
    """Today, and whether it was asked for.

    Raises:
        PluginError: as the rest of this module, where what is asked for is nothing that can be had.
    """
    asked = os.environ.get("SOURCE_DATE_EPOCH")
    try:
        return day_of(asked, date.today()), bool(asked)
    except ValueError:
        raise PluginError("SOURCE_DATE_EPOCH is no whole number of seconds (write seconds since 1970)") from None


def audience(command: str) -> str:
    """For whom it is built; what is the owner's alone is never published."""
    try:
        asked = audience_of(os.environ.get("HANDBOOK_AUDIENCE"))
    except ValueFault as fault:
        raise PluginError(str(fault)) from None
    if command not in OWN_COMMANDS and asked != CLUB:
        raise PluginError(
            f"mkdocs {command} would publish the shelf, the logs and all that is private (write "
            f"HANDBOOK_AUDIENCE=club mkdocs {command})"
        )
    return asked


def choose_edition(config: MkDocsConfig, root: Path) -> None:
    """A folder has pages with their names, a search that needs no server, and a place of its own."""
    edition = os.environ.get("HANDBOOK_EDITION") or config.extra.get("edition", "site")
    if edition not in EDITIONS:
        raise PluginError(f"HANDBOOK_EDITION is no edition: {edition} (write {' or '.join(EDITIONS)})")
    config.extra["edition"] = edition
    if edition == "folder":
        config.use_directory_urls = False
        config.extra["polyfills"] = ["assets/frame-worker.js"]
        if Path(config.site_dir).resolve() == root / "site":
            config.site_dir = str(root / "site-folder")


def choose_address(config: MkDocsConfig, command: str) -> None:
    """The address that the site will have; a server has its own."""
    address = os.environ.get("HANDBOOK_URL")
    if not address or command == "serve":
        return
    try:
        config.site_url = MkDocsConfig.site_url.validate(address)
    except ValidationError as error:
        raise PluginError(f"HANDBOOK_URL is no address: {error} (write https://club.example/handbook/)") from None
