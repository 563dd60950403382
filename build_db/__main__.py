"""python -m build_db [--out FILE] [--check] [--slips]"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from . import build
from .faults import Faults
from .tables import ROOT


def main(arguments: list[str] | None = None) -> int:
    """Build or check; all faults on stderr, one line each. Exit code 1 if there are any."""
    parser = argparse.ArgumentParser("python -m build_db", description="Check the tables and build the database.")
    parser.add_argument("--out", type=Path, default=ROOT / "refdata.db", metavar="FILE", help="the database to write")
    parser.add_argument("--check", action="store_true", help="check the tables, write nothing")
    parser.add_argument("--slips", action="store_true", help="change one digit at a time and tell what goes unnoticed")
    given = parser.parse_args(arguments)
    try:
        done = build(None if given.check or given.slips else given.out)
    except Faults as found:
        for fault in found.faults:
            print(fault, file=sys.stderr)
        print(f"{len(found.faults)} fault(s); nothing was written", file=sys.stderr)
        return 1
    if given.slips:
        from .slips import report

        try:
            for line in report():
                print(line)
        except BrokenPipeError:  # whoever reads has seen enough
            sys.stderr.close()
        return 0
    outcome = "checked" if given.check else given.out
    print(f"{done.tables} tables, {done.cells} figures, data version {done.version}: {outcome}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
