"""What every handbook needs of MkDocs and Material, set where its own ``mkdocs.yml`` does not say it.

MkDocs has read and validated the configuration before: what is set here has the form that validation would leave.
"""

from __future__ import annotations

from logging import WARNING
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.utils.yaml import get_yaml_loader, yaml_load

from reckoner.shipped import theme_folder

#: Nothing is fetched from elsewhere; the whole navigation in every page would grow with the square of the pages.
THEME_SETTINGS: dict[str, Any] = {
    "font": False,
    "features": ["navigation.prune", "navigation.top"],
    "palette": {"scheme": "default", "primary": "custom", "accent": "custom"},
}
#: Of Markdown's table of contents.
TOC = {"permalink": False, "toc_depth": 3}
STYLE, SCRIPT = "assets/handbook.css", "assets/keys.js"
COPYRIGHT = "Defer to the supplier's current safety data sheet and the local rules."
#: A link that leads nowhere is a warning, and a fault where a build is strict.
LINKS = ("not_found", "anchors", "absolute_links")


def root_of(config: MkDocsConfig) -> Path:
    """The folder of mkdocs.yml, or the one at hand where it came from elsewhere."""
    return Path(config.config_file_path or "mkdocs.yml").resolve().parent


def data_folder(config: MkDocsConfig) -> Path:
    """The folder of the data: ``extra.data`` of mkdocs.yml, seen from there, else ``formulas``.

    Raises:
        PluginError: it names no folder.
    """
    named = config.extra.get("data", "formulas")
    if not isinstance(named, str) or not named.strip():
        raise PluginError("extra.data in mkdocs.yml names no folder (write data: formulas)")
    return root_of(config) / named


def complete(config: MkDocsConfig) -> None:
    """Set what mkdocs.yml does not say.

    Raises:
        PluginError: the theme or the search is one that the pages are not made for.
    """
    _require_material(config)
    said = _said(config)
    _lay_theme(config, said.get("theme"))
    config.copyright = config.copyright or COPYRIGHT
    config.extra.setdefault("generator", False)
    # The owner's own come after ours, so that they count.
    config.extra_css = [STYLE, *(style for style in config.extra_css if style != STYLE)]
    config.extra_javascript = [SCRIPT, *(script for script in config.extra_javascript if str(script) != SCRIPT)]
    if "attr_list" not in config.markdown_extensions:
        config.markdown_extensions.append("attr_list")
    config.mdx_configs["toc"] = TOC | config.mdx_configs.get("toc", {})
    validation = said.get("validation") or {}
    judged = validation.keys() | (validation.get("links") or {}).keys()
    for kind in LINKS:
        if kind not in judged:
            config.validation.links[kind] = WARNING
    data = data_folder(config)
    if data.exists() and data.resolve() not in (Path(path).resolve() for path in config.watch):
        config.watch.append(str(data))


def _require_material(config: MkDocsConfig) -> None:
    if config.theme.name != "material":
        named = f"the theme {config.theme.name}" if config.theme.name else "a theme of your own"
        raise PluginError(f"the handbook's pages are made for Material, not for {named} (write theme: material)")
    if "material/search" not in config.plugins:
        raise PluginError("the handbook needs Material's search beside it (write plugins: [search, formula-handbook])")


def _said(config: MkDocsConfig) -> dict[str, Any]:
    """What mkdocs.yml says, with what it inherits; the configuration does not tell it from what is preset."""
    if not config.config_file_path:
        return {}
    with Path(config.config_file_path).open("rb") as file:
        return yaml_load(file, get_yaml_loader(config=config))


def _lay_theme(config: MkDocsConfig, said: Any) -> None:
    """Our templates lie over Material's, and under those of the owner."""
    theme, ours = config.theme, theme_folder()
    if ours not in (Path(folder).resolve() for folder in theme.dirs):
        theme.dirs.insert(1 if theme.custom_dir else 0, str(ours))
    own = said if isinstance(said, dict) else {}
    for name, value in THEME_SETTINGS.items():
        if name not in own:
            theme[name] = value
