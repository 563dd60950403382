"""The question `trust`: how well the figures of each table are witnessed, and which ones wait to be confirmed."""

from . import store
from .errors import NotFound
from .quantity import STANDINGS
from .questions import question
from .reading import Reader
from .results import Result

CONFIRMED = STANDINGS[:3]

TableName = Reader(
    "table", lambda text: store.check_table("_".join(text.lower().split())), "table: a name in refdata trust"
)


class Trust(Result):
    """How well a table is witnessed. `kind` says whether a standard defines its figures or somebody measured them;
    the six standings add up to `cells`. `compared_with` are the second sources, `relations` what else was tested and
    on how many figures. Asked for one table, `to_confirm` lists each figure that rests on memory, practice or one
    source, `disagreements` what other sources print, and why ours stands."""

    table: str
    kind: str
    cells: int
    formula: int
    independent: int
    agreed: int
    single: int
    practice: int
    memory: int
    disputed: int
    compared_with: list
    relations: dict
    to_confirm: list | None
    disagreements: list | None

    HEADER = ("table", "confirmed", *STANDINGS, "disputed")
    SOURCE_LINE = False

    @property
    def confirmed(self) -> float:
        """Part of the figures that a formula or a second document confirms."""
        return sum(getattr(self, standing) for standing in CONFIRMED) / self.cells

    @property
    def caption(self) -> str:
        return f"{self.table}: {self.confirmed:.1%} of {self.cells} figures confirmed"

    def headline(self) -> list[str]:
        counts = (getattr(self, standing) for standing in STANDINGS)
        return [
            self.table, f"{self.confirmed:.1%} of {self.cells}", *(str(n or "") for n in (*counts, self.disputed))
        ]  # fmt: skip

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        if self.to_confirm is None:
            return []
        others = (
            f"{len(self.compared_with)} sources: {', '.join(self.compared_with)}" if self.compared_with else "nothing"
        )
        told = [("compared with", others)]
        told += [("tested", f"{says}: {count} figures") for says, count in self.relations.items()]
        for standing in reversed(STANDINGS[3:]):
            waiting: dict[str, list[str]] = {}
            for one in self.to_confirm:
                if one["standing"] == standing:
                    waiting.setdefault(one["column"], []).append(one["key"])
            told += [(standing, f"{column} of {'; '.join(keys)}") for column, keys in waiting.items()]
        return told + [
            ("disputed", "{column} of {key}: {served}, but {printed} in {source}. {reason}".format_map(one))
            for one in self.disagreements
        ]


_WITH_FIGURES = "SELECT name FROM tables WHERE name IN (SELECT table_name FROM cells) ORDER BY rowid"


@question
def trust(table: TableName = None) -> Trust | list[Trust]:
    """How well the figures of each table are witnessed; of one table, which ones wait to be confirmed.

    `table` is a table of figures; none means all. Every typed figure has one standing: formula, independent, agreed,
    single, practice or memory. Raises NotUnderstood for a table that is not there, NotFound for one without figures.

    >>> import refdata
    >>> refdata.trust("drills_metric").confirmed
    1.0
    """
    counted = store.select(
        "SELECT t.name, t.nature, c.standing, count(*), sum(c.disputed)"
        " FROM tables t JOIN cells c ON c.table_name = t.name WHERE ?1 IS NULL OR t.name = ?1"
        " GROUP BY 1, 3 ORDER BY t.rowid",
        table,
    )
    found = {}
    for name, nature, standing, cells, disputed in counted:
        counts = found.setdefault(name, {"kind": nature, "disputed": 0, **dict.fromkeys(STANDINGS, 0)})
        counts[standing] = cells
        counts["disputed"] += disputed
    if not found:
        raise NotFound(f"{table} holds words, no figures", [name for (name,) in store.select(_WITH_FIGURES)])
    answers = [_answer(name, counts, whole=table is not None) for name, counts in found.items()]
    return answers[0] if table else answers


def _answer(name: str, counts: dict, whole: bool) -> Trust:
    compared = store.select(
        "SELECT source FROM witnesses WHERE table_name = ? GROUP BY 1 ORDER BY count(*) DESC, source", name
    )
    relations = store.select(
        "SELECT holds, count(*) FROM relations WHERE table_name = ?1 GROUP BY 1 UNION ALL"
        " SELECT locator, sum(agrees) FROM witnesses WHERE table_name = ?1 AND kind <> 'source' GROUP BY 1",
        name,
    )
    waiting, differing = (_to_confirm(name), _disagreements(name)) if whole else (None, None)
    return Trust(
        table=name, cells=sum(counts[standing] for standing in STANDINGS), **counts,
        compared_with=[source for (source,) in compared], relations=dict(relations),
        to_confirm=waiting, disagreements=differing,
        cited=[*(source for (source,) in compared), *(one["source"] for one in waiting or ())],
    )  # fmt: skip


def _to_confirm(name: str) -> list[dict]:
    rows = store.select(
        "SELECT row_key, column_name, standing, source FROM cells WHERE table_name = ?"
        " AND standing IN ('single', 'practice', 'memory') ORDER BY standing, rowid",
        name,
    )
    return [dict(zip(("key", "column", "standing", "source"), row)) for row in rows]


def _disagreements(name: str) -> list[dict]:
    rows = store.select(
        "SELECT d.row_key, d.column_name, c.printed, d.printed, d.source, d.reason FROM disagreements d"
        " JOIN cells c USING (table_name, row_key, column_name) WHERE d.table_name = ?",
        name,
    )
    return [dict(zip(("key", "column", "served", "printed", "source", "reason"), row)) for row in rows]
