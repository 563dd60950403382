"""Plain line drawings to scale, as SVG: outlines, hatching, dimension lines named by letters, and their key below.

Letters keep a drawing readable where a dimension is smaller than its figure; black on white, so that it prints.
"""

from __future__ import annotations

from xml.etree import ElementTree

WIDTH = 480  # at 390 px of a phone the letters are still 12 px high
MARGIN = 24
LINE = 20
_COLUMNS = (MARGIN + 24, 270, 370)  # of the key: what it is, the figure, the same in the other units
_STYLE = """text{font:15px system-ui,sans-serif;fill:#111}.outline{fill:none;stroke:#111;stroke-width:2}
.cut{fill:url(#hatch);stroke:none}.part{fill:#fff;stroke:#555;stroke-width:1.5;stroke-dasharray:6 3}
.thin{fill:none;stroke:#111;stroke-width:1}.small{font-size:11px;text-anchor:middle}
.axis{stroke:#777;stroke-width:1;stroke-dasharray:12 3 3 3}.dim{stroke:#111;stroke-width:1}
.letter{font-weight:700}.key{font-size:14px}"""


class Drawing:
    """A drawing in its own units, `left` to `right` across, `top` to `bottom` down, scaled to fit WIDTH."""

    def __init__(self, title: str, left: float, right: float, top: float, bottom: float, tall: float = 260):
        self.scale = min((WIDTH - 2 * MARGIN - 60) / (right - left), tall / (bottom - top))
        self.left, self.top = left, top
        self.across = (WIDTH - (right - left) * self.scale) / 2
        self.down = 70
        self.height = self.down + (bottom - top) * self.scale + 84
        self.svg = ElementTree.Element("svg", xmlns="http://www.w3.org/2000/svg", role="img")
        ElementTree.SubElement(self.svg, "title").text = title
        ElementTree.SubElement(self.svg, "style").text = _STYLE
        pattern = ElementTree.SubElement(
            ElementTree.SubElement(self.svg, "defs"), "pattern", id="hatch", width="8", height="8",
            patternUnits="userSpaceOnUse", patternTransform="rotate(45)",
        )  # fmt: skip
        ElementTree.SubElement(pattern, "line", x1="0", y1="0", x2="0", y2="8", stroke="#999")
        self._text(MARGIN, 26, title, "letter")
        self.key: list[tuple[str, ...]] = []

    def x(self, value: float) -> float:
        return self.across + (value - self.left) * self.scale

    def y(self, value: float) -> float:
        return self.down + (value - self.top) * self.scale

    def shape(self, points, kind: str = "outline", closed: bool = True) -> None:
        """A polygon (or an open line) of points in the drawing's units; kind is outline, cut (hatched) or part."""
        told = " ".join(f"{self.x(x):.2f},{self.y(y):.2f}" for x, y in points)
        ElementTree.SubElement(self.svg, "polygon" if closed else "polyline", {"points": told, "class": kind})

    def label(self, x: float, y: float, says: str) -> None:
        """A small word centred on a point."""
        self._text(self.x(x), self.y(y) + 4, says, "small")

    def axis(self, x: float, top: float, bottom: float) -> None:
        """A centre line."""
        self._line(self.x(x), self.y(top) - 12, self.x(x), self.y(bottom) + 12, "axis")

    def across_dimension(self, first: float, last: float, y: float, away: float, *says: str) -> None:
        """A horizontal dimension from `first` to `last`, `away` px above (negative) or below the height `y`."""
        line, letter = self.y(y) + away, self._letter(says)
        for end in (first, last):
            self._line(self.x(end), self.y(y), self.x(end), line + (4 if away > 0 else -4), "dim")
        self._line(self.x(first), line, self.x(last), line, "dim")
        self._ticks((self.x(first), line), (self.x(last), line))
        self._text((self.x(first) + self.x(last)) / 2 + 6, line + (16 if away > 0 else -5), letter, "letter")

    def down_dimension(self, first: float, last: float, x: float, away: float, *says: str) -> None:
        """A vertical dimension from `first` to `last`, `away` px beside `x`."""
        line, letter = self.x(x) + away, self._letter(says)
        for end in (first, last):
            self._line(self.x(x), self.y(end), line + (4 if away > 0 else -4), self.y(end), "dim")
        self._line(line, self.y(first), line, self.y(last), "dim")
        self._ticks((line, self.y(first)), (line, self.y(last)))
        self._text(line + 5, (self.y(first) + self.y(last)) / 2 + 5, letter, "letter")

    def finish(self, foot: str = "") -> str:
        """The drawing as SVG text, with the key of its letters under it."""
        at = self.height
        for letter, *says in self.key:
            self._text(MARGIN, at, letter, "letter")
            for place, words in zip(_COLUMNS, says):
                self._text(place, at, words, "key")
            at += LINE
        if foot:
            self._text(MARGIN, at + 4, foot, "key")
            at += LINE
        self.svg.set("viewBox", f"0 0 {WIDTH} {at:.0f}")
        return ElementTree.tostring(self.svg, encoding="unicode")

    def _letter(self, says) -> str:
        letter = chr(ord("A") + len(self.key))
        self.key.append((letter, *says))
        return letter

    def _ticks(self, *ends) -> None:
        for x, y in ends:
            self._line(x - 4, y + 4, x + 4, y - 4, "dim")

    def _line(self, x1, y1, x2, y2, kind) -> None:
        ends = {"x1": x1, "y1": y1, "x2": x2, "y2": y2}
        ElementTree.SubElement(self.svg, "line", {n: f"{v:.2f}" for n, v in ends.items()} | {"class": kind})

    def _text(self, x, y, says, kind) -> None:
        ElementTree.SubElement(self.svg, "text", {"x": f"{x:.1f}", "y": f"{y:.1f}", "class": kind}).text = says
