"""Makes the pictures in README.md from a build of today's data files: ``python tests/pictures.py``.

They are looked at by people: fonts differ from machine to machine, so no test compares their pixels.
"""

from __future__ import annotations

import io
import shutil
import sys
import tempfile
from pathlib import Path
from threading import Thread

from PIL import Image
from playwright.sync_api import Browser, sync_playwright

from phone import opened
from served import server
from site_build import ROOT, build_site

FOLDER = ROOT / "handbook" / "pictures"
#: Picture -> page, and what stands at the top of the screen; nothing for the page's own top.
PICTURES = {
    "formula": ("solutions/bw-mq-borax/", "h2#weigh"),
    "bench": ("bench/bw-mq-borax/", ""),
    "plan": ("plans/first-litre/", ""),
}
#: So many colours keep grey letters smooth and the file small.
COLOURS = 32


def picture(browser: Browser, address: str, at: str) -> bytes:
    """A page on a phone as a small PNG."""
    page = opened(browser, address)
    if at:
        page.locator(at).evaluate("heading => scrollTo(0, heading.getBoundingClientRect().top + scrollY - 64)")
    page.wait_for_timeout(500)
    image = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    page.context.close()
    out = io.BytesIO()
    image.quantize(COLOURS, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
    return out.getvalue()


def main() -> int:
    """Build, open and write; 1 where the build fails."""
    with tempfile.TemporaryDirectory() as folder:
        built = build_site(Path(folder) / "site")
        if built.exit_code:
            print(built.log)
            return 1
        serving = server(built.folder)
        thread = Thread(target=serving.serve_forever, daemon=True)
        thread.start()
        FOLDER.mkdir(exist_ok=True)
        with sync_playwright() as playwright:
            chromium = shutil.which("chromium") or shutil.which("google-chrome")
            browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
            for name, (path, at) in PICTURES.items():
                png = picture(browser, f"http://127.0.0.1:{serving.server_port}/{path}", at)
                (FOLDER / f"{name}.png").write_bytes(png)
                print(f"{name}.png: {len(png)} bytes")
            browser.close()
        serving.shutdown()
        thread.join()
        serving.server_close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
