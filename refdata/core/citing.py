"""The question `source`: what a source id stands for, and how much rests on it."""

from . import sources, store
from .errors import NotFound
from .questions import question
from .reading import Word, nearest
from .results import Result


class SourceAnswer(Result):
    """A source: what it is, whose figures it repeats, and how many of ours were seen in it."""

    IN_CAPTION = ("title", "edition")
    id: str
    title: str
    edition: str | None
    year: str | None
    publisher: str | None
    kind: str
    ancestor: str | None
    address: str | None
    note: str | None
    figures: int
    witnessed: int

    @property
    def caption(self) -> str:
        return ", ".join(part for part in (self.title, self.edition) if part)


@question
def source(id: Word) -> SourceAnswer:
    """A source by its id: title, edition, publisher, and how many figures were seen in it.

    Raises NotFound. `figures` counts cells of the tables, `witnessed` cells that it confirms or disputes.

    >>> import refdata
    >>> refdata.source("machinerys-handbook-31").kind
    'handbook'
    """
    try:
        found = sources.by_id(id.lower())
    except KeyError:
        ids = store.names("sources", "id")
        raise NotFound(f'there is no source "{id}"', nearest(id.lower(), ids, ids[:5])) from None
    count = "SELECT count(*) FROM {} WHERE source = ?"
    figures, witnessed = (store.select(count.format(t), found.id)[0][0] for t in ("cells", "witnesses"))
    fields = {name: getattr(found, name) for name in sources.Source.__slots__}
    return SourceAnswer(**fields, figures=figures, witnessed=witnessed)
