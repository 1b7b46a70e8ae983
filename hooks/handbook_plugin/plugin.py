"""One build, event by event: MkDocs calls these, as a plugin of an installed handbook or as the hooks of this one.

Everything that judges the data runs in ``on_config``, before MkDocs empties the site's folder.
"""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlsplit

from markupsafe import escape
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import CombinedEvent
from mkdocs.structure.files import File, Files, InclusionLevel

from handbook_plugin import asked, navigation
from handbook_plugin.configuration import complete, data_folder, root_of
from handbook_plugin.handwritten import (
    lay_library_pages,
    leave_out,
    refuse_taken_names,
    to_navigate,
    warn_of_open_remarks,
)
from handbook_plugin.page_events import PageEvents, Underway, first, last
from handbook_plugin.run_log import let_strict_count, tell, tell_prices
from handbook_plugin.serving import Serving, serving
from reckoner.build import build
from reckoner.editions.exact_names import names_script
from reckoner.editions.finish import Title, finish_folder, finish_site
from reckoner.editions.head import furnish
from reckoner.editions.site_swap import Swap
from reckoner.outputs.data_files import data_files
from reckoner.pages.shared.display import Display
from reckoner.problems import HandbookError, ValueFault, counted
from reckoner.records.catalogue import PERSONAL


class HandbookPlugin(PageEvents):
    """The handbook's part in a build: what it does once for a site; the events of a page are inherited.

    Attributes:
        serving: the server, from its first build on.
    """

    serving: Serving | None = None

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Remember whether this is a build or a server."""
        self.command, self.built, self.now = command, None, Underway()
        self.serving = None

    @first
    def _configure(self, config: MkDocsConfig) -> MkDocsConfig:
        """Complete the configuration, so that other plugins too have the whole of it."""
        self.now = Underway()
        owners = [getattr(event, "__self__", None) for event in config.plugins.events["config"]]
        if any(isinstance(owner, HandbookPlugin) and owner is not self for owner in owners):
            raise PluginError(
                "the handbook takes part twice in this build (take formula-handbook out of plugins, or "
                "handbook_hooks.py out of hooks)"
            )
        let_strict_count(config)
        complete(config)
        self.now.audience = asked.audience(self.command)
        asked.choose_address(config, self.command)
        asked.choose_edition(config, root_of(config))
        return config

    @last
    def _load(self, config: MkDocsConfig) -> MkDocsConfig:
        """Load, check, calculate and render; stop here, with the old site whole, on any fault."""
        before = self.built
        today, fixed = asked.day()
        # A server's address is this computer's: printed on a label it would lead nowhere.
        url, audience = "" if self.command == "serve" else config.site_url or "", self.now.audience
        try:
            self.built = build(data_folder(config), today, config.use_directory_urls, url, audience, fixed=fixed)
        except ValueFault as fault:
            raise PluginError(str(fault)) from None
        except HandbookError as error:
            message = f"the handbook has faults; the last site stays as it was\n{error}\n{counted(error.problems)}"
            raise PluginError(message) from None
        self.now.by_path = {page.path: page for page in self.built.pages}
        refuse_taken_names(config, self.now.by_path)
        catalogue = self.built.results.catalogue
        # Material prints it as it is in some places and escaped in others.
        config.site_name = escape(catalogue.settings.title)
        config.extra["demo_day"] = catalogue.today.isoformat() if catalogue.demo else ""
        tell(self.built)
        if self.command == "serve":
            tell_prices(before.results if before is not None else None, self.built.results)
        if self.serving is not None:
            config.site_dir = self.serving.fresh_folder()
        elif self.command == "build":
            self.now.swap = Swap(Path(config.site_dir).resolve())
            self.now.swap.begin()
            config.site_dir = str(self.now.swap.beside)
        return config

    on_config = CombinedEvent(_configure, _load)

    @last
    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the generated pages and the figures as JSON."""
        assert self.built is not None
        warn_of_open_remarks(files, config)
        lay_library_pages(files, config)
        if self.now.audience != PERSONAL:
            leave_out(files, config, set(self.now.by_path))
        if config.nav is None:
            config.nav = navigation.usual(set(self.now.by_path), to_navigate(files))
        navigated = set(navigation.paths(config.nav))
        for page in self.built.pages:
            included = InclusionLevel.INCLUDED if page.path in navigated else InclusionLevel.NOT_IN_NAV
            files.append(File.generated(config, page.path, content=page.markdown, inclusion=included))
        for path, text in data_files(self.built.results, config.site_url or "", config.use_directory_urls):
            files.append(File.generated(config, path, content=text))
        return files

    @last
    def on_post_template(self, output_content: str, *, template_name: str, config: MkDocsConfig) -> str:
        """The page for addresses that do not exist; it cannot know how deep it stands."""
        if not template_name.endswith(".html"):
            return output_content
        root = urlsplit(config.site_url or "").path.rstrip("/")
        return furnish(output_content, f"{root}/", self.installable(config))

    @last
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """The site is written, its search index too: add the table of exact names and finish its edition."""
        (Path(config.site_dir) / "assets" / "names.js").write_text(names_script(self.now.named), "utf-8")
        assert self.built is not None
        catalogue = self.built.results.catalogue
        day = Display(catalogue.settings.locale).day(catalogue.today)
        title = Title(catalogue.settings.title, config.site_description or "", str(config.theme["language"]), day)
        if config.extra["edition"] == "folder":
            finish_folder(Path(config.site_dir), self.now.finished, title)
        else:
            finish_site(Path(config.site_dir), self.now.finished, title, keep=self.command != "serve")
        self.now.whole = True

    def on_build_error(self, *, error: Exception) -> None:
        """A strict build that warned, or a failure after the pages were rendered."""
        self.now.failed = True

    @last
    def on_serve(self, server: LiveReloadServer, *, config: MkDocsConfig, builder: object) -> LiveReloadServer:
        """The first build went well: from now on a fault leaves its pages as they are."""
        self._move_in()
        self.serving = serving(server, config)
        return server

    def on_shutdown(self) -> None:
        """Move the new site into place, or leave the old one; nothing is served any more."""
        if self.serving is not None:
            self.serving.end()
        self._move_in()

    def _move_in(self) -> None:
        if self.now.swap is None:
            return
        if self.now.whole and not self.now.failed:
            self.now.swap.finish()
        else:
            self.now.swap.give_up()
        self.now.swap = None
