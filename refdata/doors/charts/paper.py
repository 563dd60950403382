"""A sheet of paper in millimetres that takes text, lines and boxes, and comes out as SVG or as a one-page PDF."""

from __future__ import annotations

import io
from xml.etree import ElementTree

SIZES = {"letter": (279.4, 215.9), "a4": (297.0, 210.0)}
MARGIN = 9.0
# Read at one metre: capitals of ten minutes of arc or more, 2.9 mm; a capital of Helvetica is 0.718 of its size
CAPITAL = 0.718
FIGURE = 12.0  # points: capitals of 3.04 mm
HEAD = 9.5
SMALL = 7.5
_POINT = 25.4 / 72
_FAMILY = "Helvetica, Arial, 'Liberation Sans', sans-serif"


class Paper:
    """One sheet, `paper` letter or a4, lying or upright. Coordinates are millimetres from its upper left corner."""

    def __init__(self, title: str, paper: str, upright: bool = False):
        across, down = SIZES[paper]
        self.width, self.height = (down, across) if upright else (across, down)
        self.title = title
        self.marks: list[tuple] = []

    @staticmethod
    def measure(words: str, size: float = FIGURE, bold: bool = False) -> float:
        """The width of words in millimetres."""
        from reportlab.pdfbase.pdfmetrics import stringWidth

        return stringWidth(words, "Helvetica-Bold" if bold else "Helvetica", size) * _POINT

    def text(self, x, y, words, size=FIGURE, anchor="start", bold=False, grey=0.0, turned=False) -> None:
        """Words on the base line `y`; anchor start, middle or end; `turned` reads upwards."""
        self.marks.append(("text", x, y, words, size, anchor, bold, grey, turned))

    def line(self, x1, y1, x2, y2, width=0.2, grey=0.0) -> None:
        self.marks.append(("line", x1, y1, x2, y2, width, grey))

    def box(self, x, y, width, height, grey) -> None:
        """A filled box without an outline."""
        self.marks.append(("box", x, y, width, height, grey))

    def svg(self) -> str:
        """The sheet as SVG, to scale."""
        root = ElementTree.Element(
            "svg", xmlns="http://www.w3.org/2000/svg", width=f"{self.width}mm", height=f"{self.height}mm",
            viewBox=f"0 0 {self.width} {self.height}", role="img", **{"font-family": _FAMILY},
        )  # fmt: skip
        ElementTree.SubElement(root, "title").text = self.title
        ElementTree.SubElement(root, "rect", width=f"{self.width}", height=f"{self.height}", fill="#fff")
        for kind, *mark in self.marks:
            getattr(self, f"_svg_{kind}")(root, *mark)
        return ElementTree.tostring(root, encoding="unicode")

    @staticmethod
    def _svg_text(root, x, y, words, size, anchor, bold, grey, turned):
        given = {"x": f"{x:.2f}", "y": f"{y:.2f}", "font-size": f"{size * _POINT:.3f}", "fill": _ink(grey)}
        if anchor != "start":
            given["text-anchor"] = anchor
        if bold:
            given["font-weight"] = "700"
        if turned:
            given["transform"] = f"rotate(-90 {x:.2f} {y:.2f})"
        ElementTree.SubElement(root, "text", given).text = words

    @staticmethod
    def _svg_line(root, x1, y1, x2, y2, width, grey):
        ends = {"x1": x1, "y1": y1, "x2": x2, "y2": y2, "stroke-width": width}
        given = {name: f"{value:.2f}" for name, value in ends.items()} | {"stroke": _ink(grey)}
        ElementTree.SubElement(root, "line", given)

    @staticmethod
    def _svg_box(root, x, y, width, height, grey):
        sides = {"x": x, "y": y, "width": width, "height": height}
        given = {name: f"{value:.2f}" for name, value in sides.items()} | {"fill": _ink(grey)}
        ElementTree.SubElement(root, "rect", given)

    def pdf(self) -> bytes:
        """The sheet as a PDF of one page; the same bytes every time."""
        from reportlab.pdfgen.canvas import Canvas

        out = io.BytesIO()
        canvas = Canvas(out, pagesize=(self.width / _POINT, self.height / _POINT), invariant=True)
        canvas.setTitle(self.title)
        for kind, *mark in self.marks:
            getattr(self, f"_pdf_{kind}")(canvas, *mark)
        canvas.showPage()
        canvas.save()
        return out.getvalue()

    def _pdf_text(self, canvas, x, y, words, size, anchor, bold, grey, turned):
        canvas.saveState()
        canvas.setFont("Helvetica-Bold" if bold else "Helvetica", size)
        canvas.setFillGray(grey)
        canvas.translate(x / _POINT, (self.height - y) / _POINT)
        if turned:
            canvas.rotate(90)
        drawn = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
        drawn[anchor](0, 0, words)
        canvas.restoreState()

    def _pdf_line(self, canvas, x1, y1, x2, y2, width, grey):
        canvas.setStrokeGray(grey)
        canvas.setLineWidth(width / _POINT)
        canvas.line(*(v / _POINT for v in (x1, self.height - y1, x2, self.height - y2)))

    def _pdf_box(self, canvas, x, y, width, height, grey):
        canvas.setFillGray(grey)
        corner = (x / _POINT, (self.height - y - height) / _POINT)
        canvas.rect(*corner, width / _POINT, height / _POINT, stroke=0, fill=1)


def _ink(grey: float) -> str:
    return f"#{round(255 * grey):02x}" + 2 * f"{round(255 * grey):02x}"


class Column:
    """A column of a table: its heading in a few lines, whether its cells stand to the right, a rule before it."""

    __slots__ = ("bold", "head", "right", "ruled")

    def __init__(self, head: str, right: bool = True, bold: bool = False, ruled: bool = False):
        self.head, self.right, self.bold, self.ruled = head, right, bold, ruled


def fitted(words: str, width: float, size: float = FIGURE, bold: bool = False) -> str:
    """Words cut to a width, with an ellipsis where something is missing."""
    while words and Paper.measure(words, size, bold) > width:
        words = words.rstrip("…")[:-1].rstrip() + "…" if len(words) > 1 else ""
    return words


def table(paper: Paper, left: float, top: float, right: float, bottom: float, columns: list[Column], rows) -> None:
    """Rows between `top` and `bottom`, every other one on a grey band; columns share the room that is left."""
    rows = [[str(cell) for cell in row] for row in rows]
    heads = [column.head.split("\n") for column in columns]
    needs = [
        max(
            [paper.measure(line, HEAD, True) for line in head]
            + [paper.measure(row[at], FIGURE, columns[at].bold) for row in rows]
        )
        for at, head in enumerate(heads)
    ]
    gap = (right - left - sum(needs)) / len(columns)
    deepest = max(map(len, heads))
    first = top + deepest * 4.0 + 1.4
    pitch = min((bottom - first) / max(len(rows), 1), 7.4)
    edges = [left + sum(needs[:at]) + gap * at for at in range(len(columns))]

    def place(at: int) -> tuple[float, str]:
        start = edges[at] + gap / 2
        return (start + needs[at], "end") if columns[at].right else (start, "start")

    for at, head in enumerate(heads):
        x, anchor = place(at)
        for line, words in enumerate(head):
            paper.text(x, top + 4.0 * (line + 1 + deepest - len(head)) - 0.6, words, HEAD, anchor, True)
    paper.line(left, first - 0.7, right, first - 0.7, 0.5)
    for nth, row in enumerate(rows):
        y = first + nth * pitch
        if nth % 2:
            paper.box(left, y, right - left, pitch, 0.91)
        for at, cell in enumerate(row):
            x, anchor = place(at)
            paper.text(x, y + (pitch + FIGURE * _POINT * CAPITAL) / 2, cell, FIGURE, anchor, columns[at].bold)
    for at, column in enumerate(columns):
        if column.ruled:
            paper.line(edges[at], top, edges[at], first + len(rows) * pitch, 0.2, 0.4)
