"""Answers for people at a terminal: the figure first, both units side by side, cautions, one source line."""

from __future__ import annotations

from itertools import zip_longest
from textwrap import fill, wrap

from refdata.core.questions import Answers, about, difference, disagreements
from refdata.core.results import Result, bracketed, by_header, once, shop_figure, side_by_side

WIDTH = 100
NARROW = 12  # a column is not made narrower than this
MOST_CITED = 10


def text(found: Answers, units: str = "both") -> str:
    """The whole answer as text. `units` is both, published, inch or metric."""
    results = found.results
    single = len(results) == 1
    header = results[0].HEADER
    blocks = [
        (_ruled if columns else _table)(
            [*([list(columns)] if columns else []), *(one.headline() or _headline(one, units) for one in some)]
        )
        for columns, some in by_header(results)
    ]
    if single:
        blocks.append(_details(results[0], units))
    if header:  # lines of one table: what is said of one of them is said of the table
        shared = once(results, "notes")
    else:
        shared = [note for note in results[0].notes if all(note in result.notes for result in results)]
    blocks += [_wrapped(note[0].upper() + note[1:].rstrip(".") + ".") for note in shared]
    if found.ask:
        blocks.append(_wrapped(found.ask))
    cautions = [_wrapped(f"Caution. {caution}") for caution in once(results, "cautions")]
    blocks = [*cautions, *blocks] if results[0].CAUTIONS_FIRST else [*blocks, *cautions]
    blocks += [_wrapped(line) for line in _differences(results)]
    cited = list(
        dict.fromkeys(source.citation for result in results if result.SOURCE_LINE for source in result.sources)
    )
    if cited:
        more = f"; and {len(cited) - MOST_CITED} more, which --json names" if len(cited) > MOST_CITED else ""
        blocks.append(_wrapped(f"{'Source' if len(cited) == 1 else 'Sources'}: {'; '.join(cited[:MOST_CITED])}{more}"))
    return "\n".join(block for block in blocks if block)


def _headline(result: Result, units: str) -> list[str]:
    if not result.HEADLINE:
        return [result.caption]
    quantity = getattr(result, result.HEADLINE)
    if quantity is None:
        return [f"no {result.HEADLINE.replace('_', ' ')}", *([""] if units == "both" else []), "", result.caption]
    figure, other = side_by_side(quantity, units)
    if quantity.source != "computed":
        figure, other = shop_figure(figure), shop_figure(other)
    standing = bracketed(quantity.standing)
    return [figure, *([other] if units == "both" else []), *([standing] if standing else []), result.caption]


def _details(result: Result, units: str) -> str:
    skip = (*result.IN_CAPTION, *([result.HEADLINE] if result.HEADLINE else []))
    lines = []
    for name, figure, *more in result.lines(units, skip):
        other, *rest = more or [""]
        lines.append([f"  {name}", shop_figure(figure), *([shop_figure(other), *rest] if more else [])])
    return _table(lines)


def _table(rows: list[list[str]], gap: int = 3) -> str:
    """Columns aligned by padding; the last one of each row runs free and wraps."""
    columns = max((len(row) for row in rows), default=0)
    widths = [max((len(row[at]) for row in rows if at < len(row) - 1), default=0) for at in range(columns)]
    told = []
    for row in rows:
        padded = [cell.ljust(widths[at]) for at, cell in enumerate(row[:-1])]
        hang = sum(widths[: len(row) - 1]) + gap * (len(row) - 1)
        told.append(_wrapped((" " * gap).join([*padded, row[-1]]).rstrip(), hang))
    return "\n".join(told)


def _ruled(rows: list[list[str]], gap: int = 2) -> str:
    """A table under its header; where it is too wide for the page its widest columns wrap."""
    widths = [max(map(len, column)) for column in zip_longest(*rows, fillvalue="")]
    while sum(widths) + gap * (len(widths) - 1) > WIDTH and max(widths) > NARROW:
        widths[widths.index(max(widths))] -= 1
    told = []
    for row in rows:
        cells = [_lines(cell, width) for cell, width in zip(row, widths)]
        for line in zip_longest(*cells, fillvalue=""):
            told.append((" " * gap).join(part.ljust(width) for part, width in zip(line, widths)).rstrip())
    return "\n".join(told)


def _lines(cell: str, width: int) -> list[str]:
    """A cell in lines of its column; a word breaks at its hyphens only where it would not fit otherwise."""
    return wrap(cell, max(width, 1), break_on_hyphens=any(len(word) > width for word in cell.split()))


def _wrapped(line: str, hang: int = 0) -> str:
    if len(line) <= WIDTH or hang > WIDTH - 24:  # a line that hangs too far in to wrap runs on
        return line
    head, tail = line[:hang], line[hang:]
    return fill(tail, WIDTH, initial_indent=head, subsequent_indent=" " * hang, break_on_hyphens=False)


def _differences(results) -> list[str]:
    """One or two disagreements in full; more of them by name only."""
    found = disagreements(results)
    if len(found) > 2:
        words = ", ".join(dict.fromkeys(about(one, results) for one in found))
        return [f"Sources differ on {words}; --json tells who and why."]
    return [difference(one, results) for one in found]
