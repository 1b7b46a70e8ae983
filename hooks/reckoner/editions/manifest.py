"""What makes the site installable: the manifest and its icons (W3C, Web Application Manifest)."""

from __future__ import annotations

import json
from collections.abc import Iterator

from reckoner.editions.icon import BACK, png, svg

MANIFEST = "handbook.webmanifest"
ICON = "assets/icon.svg"
TOUCH_ICON = "assets/icon-180.png"
_SIZES = (192, 512)


def install_files(name: str, description: str, language: str) -> Iterator[tuple[str, bytes]]:
    """Paths with their bytes; addresses are relative, so the site may stand below any address."""
    members = {
        "name": name,
        "short_name": name if len(name) <= 12 else name.split()[-1].capitalize(),
        "description": description,
        "lang": language,
        "id": "./",
        "start_url": "./",
        "scope": "./",
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": "#" + bytes(BACK).hex(),
        "icons": [
            {"src": ICON, "type": "image/svg+xml", "sizes": "any"},
            *(
                {"src": f"assets/icon-{size}.png", "type": "image/png", "sizes": f"{size}x{size}", "purpose": purpose}
                for size in _SIZES
                for purpose in ("any", "maskable")
            ),
        ],
    }
    yield MANIFEST, (json.dumps(members, ensure_ascii=False, indent=1) + "\n").encode("utf-8")
    yield ICON, svg().encode("utf-8")
    yield TOUCH_ICON, png(180)
    for size in _SIZES:
        yield f"assets/icon-{size}.png", png(size)
