"""The question `find`: any name or word, to the rows that carry it and the question that answers."""

from . import store
from .errors import NotFound
from .questions import question
from .reading import Text
from .results import Result

MOST = 20
OF_ONE_TABLE = 1
# figures before books; the name of the table helps ("countersink wood") but weighs less than what the row says
NEAREST_FIRST = "labels.table_name = 'sources' AS book, bm25(labels_fts, 10, 5, 1) AS far"


class Found(Result):
    """A row that carries the words: its table and key, what it says, and the question to ask about it."""

    IN_CAPTION = ("label", "table", "key", "text", "ask")
    label: str
    table: str
    key: str
    text: str
    ask: str | None

    @property
    def caption(self) -> str:
        asked = f"ask: refdata {self.ask}" if self.ask else f"row {self.key}"
        return f"{self.table.replace('_', ' ')}: {self.text} ({asked})"


@question
def find(text: Text) -> list[Found]:
    """Rows of any table that carry the words: exact names first, then words that begin so, at most twenty.

    Raises NotFound.

    >>> import refdata
    >>> refdata.find("naval brass")[0].ask
    'alloy C46400'
    """
    columns = "labels.label, labels.table_name, row_key, labels.text, ask"
    wanted = " ".join(text.split())
    # a few rows of every table before more of one
    exact = store.select(
        "SELECT label, table_name, row_key, text, ask FROM (SELECT *, rowid AS place, row_number() OVER"
        " (PARTITION BY table_name ORDER BY rowid) AS nth FROM labels WHERE label = ? COLLATE NOCASE)"
        f" ORDER BY nth > {OF_ONE_TABLE}, place LIMIT {MOST}",
        wanted,
    )
    words = wanted.replace('"', " ").split()
    begun = []
    if words:
        begun = store.select(
            "SELECT label, table_name, row_key, text, ask FROM (SELECT *, row_number() OVER (PARTITION BY table_name"
            f" ORDER BY book, far) AS nth FROM (SELECT {columns}, {NEAREST_FIRST} FROM labels_fts JOIN labels"
            " ON labels.rowid = labels_fts.rowid WHERE labels_fts MATCH ?))"
            f" ORDER BY book, nth > {OF_ONE_TABLE}, far LIMIT {MOST}",
            _beginning(words),
        )
    # a row that carries the words under two labels is told once
    told: dict[tuple, tuple] = {}
    for row in [*exact, *begun]:
        told.setdefault(row[1:3], row)
    found = list(told.values())[:MOST]
    if not found:
        known = [word for word in dict.fromkeys(words) if _is_carried(word)]
        raise NotFound(f'nothing in the tables carries "{wanted}"', known or list(store.tables()))
    return [Found(label=a, table=b, key=c, text=d, ask=e) for a, b, c, d, e in found]


def _beginning(words: list[str]) -> str:
    return " ".join(f'"{word}"*' for word in words)


def _is_carried(word: str) -> bool:
    query = "SELECT rowid FROM labels_fts WHERE labels_fts MATCH ? LIMIT 1"
    return bool(store.select(query, _beginning([word])))
