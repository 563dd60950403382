"""python -m refdata: the same as the `refdata` command."""

from .doors.command import run

run()
