"""The sources that figures were seen in, and the question `source`."""

from __future__ import annotations

from functools import cache

from . import store


class Source:
    """A published source: id, title, edition, year, publisher, kind, ancestor (whose figures it repeats), note."""

    __slots__ = ("address", "ancestor", "edition", "id", "kind", "note", "publisher", "title", "year")

    def __init__(self, *values):
        for name, value in zip(self.__slots__, values):
            setattr(self, name, value)

    @property
    def citation(self) -> str:
        """Title and edition in one line, with the publisher where the title alone says little."""
        by = self.publisher if self.kind in ("maker", "association", "dataset") else None
        return ", ".join(part for part in (by, self.title, self.edition) if part)

    def __repr__(self) -> str:
        return f"<{self.id}: {self.citation}>"


@cache
def by_id(id: str) -> Source:
    """The source with this id. Raises KeyError."""
    rows = store.select(f"SELECT {', '.join(Source.__slots__)} FROM sources WHERE id = ?", id)
    if not rows:
        raise KeyError(id)
    return Source(*rows[0])
