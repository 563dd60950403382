"""The wheel's build hook: builds the database into refdata/, so that an installed wheel answers at once."""

from __future__ import annotations

import sys
from pathlib import Path

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class DatabaseHook(BuildHookInterface):
    """Runs build_db before every wheel, editable ones too."""

    def initialize(self, version: str, build_data: dict) -> None:
        root = Path(self.root)
        sys.path.insert(0, str(root))
        try:
            from build_db import build
            from build_db.faults import Faults

            try:
                build(root / "refdata" / "refdata.db")
            except Faults as found:
                raise SystemExit("\n".join(map(str, found.faults))) from None
        finally:
            sys.path.remove(str(root))
