"""The handbook as MkDocs' plugin in a folder of its own: the same site as by the hooks, and what it sets and leaves."""

from __future__ import annotations

from pathlib import Path

import pytest
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import EVENTS

import handbook_hooks
from data_layers import LIBRARY
from demo_fixtures import demonstration_pages
from handbook_plugin.configuration import THEME_SETTINGS, complete
from handbook_plugin.navigation import DEFAULT, paths, usual
from handbook_plugin.plugin import HandbookPlugin
from reckoner.shipped import theme_folder
from site_build import ROOT, Site, build_here, own_handbook, project, tree


def events(plugin: object) -> set[str]:
    return {name for name in dir(plugin) if name.startswith("on_")}


def test_hooks_and_plugin_take_the_same_events() -> None:
    assert events(handbook_hooks) == events(HandbookPlugin) <= {f"on_{name}" for name in EVENTS}
    assert len(events(HandbookPlugin)) >= 10


@pytest.mark.process
def test_the_demonstration_is_the_same_by_plugin_and_by_hooks(site: Site, tmp_path: Path) -> None:
    """The hooks in a process of their own, the plugin in this one and before search."""
    for name in ("formulas", "handbook"):
        (tmp_path / name).symlink_to(ROOT / name)
    settings = (ROOT / "mkdocs.yml").read_text("utf-8")
    hooks = "plugins:\n  - search\nhooks:\n  - hooks/handbook_hooks.py\n"
    assert hooks in settings
    (tmp_path / "mkdocs.yml").write_text(settings.replace(hooks, "plugins: [formula-handbook, search]\n"), "utf-8")
    built = build_here(tmp_path / "site", "--strict", root=tmp_path)
    assert built.exit_code == 0, built.log
    assert tree(built.folder) == tree(site.folder)


@pytest.mark.process
def test_any_order_of_plugins_gives_the_same_site(small_site: Site, tmp_path: Path) -> None:
    """Search reads the short text of a page and writes its index between our two turns, wherever it is listed."""
    for order in ("[search, formula-handbook]", "[formula-handbook, search]"):
        root = project(tmp_path / order)
        settings = (root / "mkdocs.yml").read_text("utf-8").replace("hooks:\n  - hooks/handbook_hooks.py\n", "")
        settings = settings.replace("plugins:\n  - search\n", f"plugins: {order}\n")
        (root / "mkdocs.yml").write_text(settings, "utf-8")
        built = build_here(tmp_path / order / "site", root=root)
        assert built.exit_code == 0, built.log
        assert tree(built.folder) == tree(small_site.folder)


@pytest.mark.process
@pytest.mark.parametrize(
    ("plugins", "more", "said"),
    [
        (
            "[search, formula-handbook]",
            f"hooks: [{ROOT}/hooks/handbook_hooks.py]\n",
            "the handbook takes part twice in this build (take formula-handbook out of plugins, or handbook_hooks.py "
            "out of hooks)",
        ),
        (
            "[formula-handbook]",
            "",
            "the handbook needs Material's search beside it (write plugins: [search, formula-handbook])",
        ),
        (
            "[search, formula-handbook]",
            "theme: mkdocs\n",
            "the handbook's pages are made for Material, not for the theme mkdocs (write theme: material)",
        ),
    ],
    ids=["twice", "no search", "another theme"],
)
def test_what_cannot_be_built_is_said_in_one_line(plugins: str, more: str, said: str, tmp_path: Path) -> None:
    root = own_handbook(tmp_path / "ours", plugins=plugins)
    settings = (root / "mkdocs.yml").read_text("utf-8")
    kept = settings.replace("theme: material\n", "") if more.startswith("theme") else settings
    (root / "mkdocs.yml").write_text(kept + more, "utf-8")
    (root / "site").mkdir()
    (root / "site" / "index.html").write_text("old", "utf-8")
    built = build_here(root / "site", root=root)
    assert built.exit_code == 1
    assert built.log.startswith(f"ERROR   -  {said}\n")
    assert "Traceback" not in built.log
    assert (root / "site" / "index.html").read_text("utf-8") == "old"


@pytest.mark.process
def test_a_page_of_ones_own_with_a_generated_name_is_refused(tmp_path: Path) -> None:
    root = own_handbook(tmp_path / "ours")
    (root / "pages" / "index.md").write_text("# Mine\n", "utf-8")
    (root / "pages" / "chemicals").mkdir()
    (root / "pages" / "chemicals" / "README.md").write_text("# Mine\n", "utf-8")
    built = build_here(root / "site", root=root)
    assert built.exit_code == 1
    fault = ":1:1: the handbook makes this page (give yours another name)"
    assert f"pages/chemicals/README.md{fault}\npages/index.md{fault}" in built.log
    assert "Traceback" not in built.log
    assert not (root / "site").exists()


@pytest.mark.process
def test_an_address_that_is_none_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HANDBOOK_URL", "club.example")
    built = build_here(tmp_path / "ours" / "site", root=own_handbook(tmp_path / "ours"))
    assert built.exit_code == 1
    assert "HANDBOOK_URL is no address: " in built.log
    assert "Traceback" not in built.log


@pytest.mark.process
def test_the_owners_templates_lie_over_ours_and_both_over_materials(tmp_path: Path) -> None:
    root = own_handbook(tmp_path / "ours")
    settings = (root / "mkdocs.yml").read_text("utf-8")
    theme = "theme: {name: material, custom_dir: mine}\nextra_css: [ours.css]\n"
    (root / "mkdocs.yml").write_text(settings.replace("theme: material\n", theme), "utf-8")
    (root / "mine" / "partials").mkdir(parents=True)
    (root / "mine" / "partials" / "copyright.html").write_text("<p>of our club</p>", "utf-8")
    (root / "pages" / "ours.css").write_text("h1 { color: black }", "utf-8")
    built = build_here(root / "site", "--strict", root=root)
    assert built.exit_code == 0, built.log
    page = built.page("solutions/fixer")
    assert "of our club" in page
    assert page.index("assets/handbook.css") < page.index("ours.css")
    assert "fonts.googleapis" not in page
    assert (built.folder / "assets" / "bench.js").is_file()


def configured(root: Path) -> MkDocsConfig:
    config = load_config(str(root / "mkdocs.yml"))
    complete(config)
    return config


def test_what_nothing_is_said_of_is_set(tmp_path: Path) -> None:
    root = own_handbook(tmp_path / "our own", plugins="[search]")
    config = configured(root)
    assert {name: config.theme[name] for name in THEME_SETTINGS} == THEME_SETTINGS
    assert config.theme.dirs[0] == str(theme_folder())
    assert config.mdx_configs["toc"] == {"permalink": False, "toc_depth": 3}
    assert config.validation.links.anchors == config.validation.links.absolute_links == 30
    assert config.watch == [str(root / "formulas")]
    assert "safety data sheet" in str(config.copyright)


def test_what_the_owner_says_stands(tmp_path: Path) -> None:
    """In a file that is inherited, too, and where it says what MkDocs presets."""
    root = own_handbook(tmp_path / "ours", "INHERIT: club.yml\nwatch: [formulas]\n", "[search]")
    (root / "club.yml").write_text(
        "theme: {font: {text: Roboto}, palette: {primary: teal}}\ncopyright: Ours\n"
        "validation: {absolute_links: info, links: {anchors: info}}\n"
        "markdown_extensions: [admonition, {toc: {toc_depth: 2}}]\nextra: {generator: true}\n",
        "utf-8",
    )
    settings = (root / "mkdocs.yml").read_text("utf-8").replace("theme: material", "theme: {name: material}")
    (root / "mkdocs.yml").write_text(settings, "utf-8")
    config = configured(root)
    assert config.theme["font"] == {"text": "Roboto"}
    assert config.theme["palette"] == {"primary": "teal"}
    assert config.theme["features"] == THEME_SETTINGS["features"]
    assert config.copyright == "Ours"
    assert config.extra["generator"] is True
    links = config.validation.links
    assert (links.not_found, links.absolute_links, links.anchors) == (30, 20, 20)
    assert config.markdown_extensions[-2:] == ["admonition", "attr_list"]
    assert config.mdx_configs["toc"] == {"permalink": False, "toc_depth": 2}
    assert config.watch == [str(root / "formulas")]


def test_the_default_navigation_names_only_pages_that_are_there() -> None:
    there = {page.path for page in demonstration_pages()} | {path.name for path in (LIBRARY / "pages").glob("*.md")}
    assert set(paths(DEFAULT)) - there == {"how-to-write.md"}


def test_a_navigation_that_nobody_wrote() -> None:
    nav = usual({"index.md", "law.md"}, ["about.md", "trips/lab.md", "drying.md"])
    assert nav == [
        {"Home": "index.md"},
        {"Safety": [{"What the law restricts": "law.md"}]},
        {"About": "about.md"},
        {"Own pages": ["trips/lab.md", "drying.md"]},
    ]
