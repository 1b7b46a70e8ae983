"""What makes the site installable: its manifest (W3C, Web Application Manifest); the icons are files of the theme."""

from __future__ import annotations

import json

MANIFEST = "handbook.webmanifest"
ICON = "assets/icon.svg"
TOUCH_ICON = "assets/icon-180.png"
_SIZES = (192, 512)


def manifest(name: str, description: str, language: str) -> str:
    """The manifest as text; addresses are relative, so the site may stand below any address."""
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
        "theme_color": "#27343b",
        "icons": [
            {"src": ICON, "type": "image/svg+xml", "sizes": "any"},
            *(
                {"src": f"assets/icon-{size}.png", "type": "image/png", "sizes": f"{size}x{size}", "purpose": purpose}
                for size in _SIZES
                for purpose in ("any", "maskable")
            ),
        ],
    }
    return json.dumps(members, ensure_ascii=False, indent=1) + "\n"
