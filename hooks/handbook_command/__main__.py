"""``python -m handbook_command``: the command, where its script is not on the path."""

from __future__ import annotations

import sys

from handbook_command.command import main

sys.exit(main())
