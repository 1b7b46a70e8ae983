"""What a club's handbook gives away of handwritten pages, and that an owner's own is never published."""

from __future__ import annotations

import shutil
import subprocess
import sys
from os import environ
from pathlib import Path

import pytest

from reckoner.editions.published_files import SiteText, unpublished, without_remarks, without_unread_front
from site_build import FIXED_DAY, ROOT, Site, build_here
from site_build import project as small
from site_fixtures import Once
from test_audience import contents, project

#: Stands nowhere else.
MARK = b"zqj77"
PNG = b"\x89PNG\r\n\x1a\n"

PUBLIC = """---
title: For all
tags: [seenword]
author: zqj77author
description: zqj77described
note: {inside: zqj77nested}
---

# For all <!-- zqj77heading -->

<!-- zqj77comment
over lines -->

A picture ![both](img/both.png), another <img src="../img/raw.png" alt="raw"> and `<!-- code stays -->`.

<?zqj77instruction?>

Last <!-- zqj77inline --> word. <b title="seen"><!-- zqj77inside --></b>

<div markdown="0">
<!-- zqj77block -->
</div>
"""
UNREAD = "\n---\nprivate: false\nsecret: zqj77unread\n---\n\n# Begins with an empty line\n"
PRIVATE = """---
private: true
---
![own](img/own-zqj77.png) ![both](img/both.png) <img src="../img/raw.png" alt=""> ![](sub/same.png)
<img src='../img/a%20space%20zqj77.png'> [a paper](papers/zqj77.pdf) [styles](own-zqj77.css) [ref]

[ref]: img/ref-zqj77.png
"""


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("published") / "project"
    project(root)
    pages = root / "handbook"
    for name, text in (("for-all.md", PUBLIC), ("unread.md", UNREAD), ("mine.md", PRIVATE)):
        (pages / name).write_text(text, "utf-8")
    (pages / "uses-other.md").write_text("# Same name\n\n![a](img/same.png)\n", "utf-8")
    for folder in ("img", "sub", "papers"):
        (pages / folder).mkdir()
    names = ("both", "raw", "own-zqj77", "a space zqj77", "ref-zqj77", "nobody", "same", "of-css-zqj77")
    for name in names:
        (pages / f"img/{name}.png").write_bytes(PNG)
    (pages / "sub/same.png").write_bytes(PNG + MARK)
    (pages / "papers/zqj77.pdf").write_bytes(b"%PDF")
    (pages / "own-zqj77.css").write_text("p { background: url(img/of-css-zqj77.png) }", "utf-8")
    (pages / "img/drawn.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"><!-- zqj77svg --></svg>', "utf-8")
    return root


@pytest.fixture(scope="module")
def club(root: Path, once: Once) -> Site:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("HANDBOOK_AUDIENCE", "club")
        return once("published", lambda folder: build_here(folder / "site", root=root))


def test_no_file_or_byte_of_a_private_page_goes_out(club: Site) -> None:
    found = contents(club.folder)
    assert [name for name in found if MARK.decode() in name] == []
    assert [name for name, raw in found.items() if MARK in raw] == []


def test_what_a_public_page_uses_stays(club: Site) -> None:
    found = contents(club.folder)
    assert {"img/both.png", "img/raw.png", "img/same.png", "img/nobody.png", "img/drawn.svg"} <= set(found)
    assert "sub/same.png" not in found
    page = club.page("for-all")
    assert "<title>For all" in page and "code stays" in page and "Last" in page
    assert "seenword" in (club.folder / "search/search_index.json").read_text("utf-8")
    assert "Begins with an empty line" in club.page("unread")


@pytest.mark.process
def test_the_owner_sees_all_of_it(root: Path, tmp_path: Path) -> None:
    """Else the search above would find nothing whatever was left in."""
    built = build_here(tmp_path / "site", root=root)
    found = contents(built.folder)
    assert {"img/own-zqj77.png", "papers/zqj77.pdf", "sub/same.png", "own-zqj77.css"} <= set(found)
    page = (built.folder / "for-all/index.html").read_bytes()
    assert b"zqj77comment" in page and b"zqj77described" in page


@pytest.mark.process
@pytest.mark.parametrize("audience", [None, "personal"])
def test_an_owners_own_handbook_is_not_published(audience: str | None, tmp_path: Path) -> None:
    """In a repository with a remote of its own: nothing is built, committed or pushed."""
    done, work, remote = deployed(tmp_path, audience)
    assert done.returncode == 1, done.stderr
    assert "mkdocs gh-deploy would publish the shelf, the logs and all that is private" in done.stderr
    assert "HANDBOOK_AUDIENCE=club mkdocs gh-deploy" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (work / "site").exists()
    assert git(remote, "branch", "--list").stdout == ""


@pytest.mark.process
def test_a_clubs_is(tmp_path: Path) -> None:
    done, _, remote = deployed(tmp_path, "club")
    assert done.returncode == 0, done.stderr
    assert "gh-pages" in git(remote, "branch", "--list").stdout
    listed = git(remote, "ls-tree", "-r", "--name-only", "gh-pages").stdout.split()
    assert {"index.html", "sw.js"} <= set(listed)
    assert not any(name.startswith("shelf/") for name in listed)


def git(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(["git", *words], cwd=folder, capture_output=True, text=True, check=True)


def deployed(tmp_path: Path, audience: str | None) -> tuple[subprocess.CompletedProcess[str], Path, Path]:
    """``mkdocs gh-deploy`` in a repository whose remote is a folder."""
    work, remote = tmp_path / "work", tmp_path / "remote.git"
    project(work)
    remote.mkdir()
    git(remote, "init", "-q", "--bare")
    git(work, "init", "-q")
    git(work, "remote", "add", "origin", str(remote))
    names = ("-c", "user.name=a member", "-c", "user.email=member@club.example")
    git(work, *names, "commit", "-q", "--allow-empty", "-m", "begin")
    said = {**environ, "NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": FIXED_DAY}
    said |= {"GIT_AUTHOR_NAME": "a", "GIT_AUTHOR_EMAIL": "a@club.example"}
    said |= {"GIT_COMMITTER_NAME": "a", "GIT_COMMITTER_EMAIL": "a@club.example"}
    said.pop("HANDBOOK_AUDIENCE", None)
    if audience is not None:
        said["HANDBOOK_AUDIENCE"] = audience
    command = [sys.executable, "-m", "mkdocs", "gh-deploy", "--force"]
    return subprocess.run(command, cwd=work, capture_output=True, text=True, env=said, check=False), work, remote


def test_the_readme_says_what_is_public() -> None:
    said = " ".join((ROOT / "README.md").read_text("utf-8").split())
    assert "The settings are public" in said
    assert shutil.which("git")


@pytest.mark.parametrize(
    ("html", "left"),
    [
        ("a<!-- b -->c", "ac"),
        ("a<!-- b --!>c", "ac"),
        ("a<!-- b\n\nc", "a"),
        ("a<?b c?>d", "ad"),
        ("a<![CDATA[b]]>c", "ac"),
        ("a &lt;!-- b --&gt; c", "a &lt;!-- b --&gt; c"),
        ("1 < 2 and 3 > 2", "1 < 2 and 3 > 2"),
    ],
)
def test_remarks(html: str, left: str) -> None:
    assert without_remarks(html) == left


def test_a_rule_at_the_top_of_a_page_is_no_front_matter() -> None:
    assert without_unread_front("---\n\nA text: with a point.\n\n---\n") == "---\n\nA text: with a point.\n\n---\n"


@pytest.mark.parametrize(
    ("link", "stays"),
    [("../img/a.png", True), ("img/a.png", False), ("/img/a.png", True), ("https://x.example/img/a.png", True)],
)
def test_where_a_public_link_leads(link: str, stays: bool) -> None:
    """Markdown's links are read from the page's own folder, ready HTML's from its address."""
    private = [SiteText("mine.md", "mine", "![](img/a.png)")]
    public = [SiteText("deep/page.md", "deep/page", f"![]({link})")]
    assert unpublished(["img/a.png"], {}, private, public) == (frozenset() if stays else {"img/a.png"})


@pytest.mark.process
def test_a_remark_that_is_never_closed_is_a_warning_with_its_place(tmp_path: Path) -> None:
    """MkDocs shows it as text to every reader."""
    root = small(tmp_path / "project")
    (root / "handbook" / "open.md").write_text("# Open\n\nSeen `<!-- code` <!-- closed -->\nand <!-- not so\n", "utf-8")
    built = build_here(root / "site", root=root)
    assert built.exit_code == 0
    assert (
        "handbook/open.md:4:5: the remark is never closed, and is shown as text (write --> where it ends)" in built.log
    )
    assert built.log.count("the remark is never closed") == 1
