"""Reading gauge numbers as people write them: `18`, `18 ga brass`, `3/0`, `16 oz`."""

import re

from refdata.core.errors import NotUnderstood
from refdata.core.numbers import plain
from refdata.core.reading import Reader


class GaugeLabel:
    """A gauge number as read: `label` as the tables write it; `system`, `metal`, `form` if they stood beside it."""

    __slots__ = ("form", "label", "metal", "system")

    def __init__(self, label: str, system: str | None = None, metal: str | None = None, form: str | None = None):
        self.label, self.system, self.metal, self.form = label, system, metal, form

    def __str__(self) -> str:
        return " ".join(part for part in (self.label, self.system, self.metal, self.form) if part)


_GAUGE = re.compile(
    r"""(?:(?:ga|gauge|gage)\b\.?\s*)? (?:\#|no\.?\s*)? \s* (?P<label>\d/0|0{1,7}|\d{1,3}) (?!\s*[./]?\d) \s*
        (?P<word>ga|gauge|gage|g|awg|b&s|b\.s|swg|bwg|w&m|msg|oz|ounce|ounces)?\.? (?P<rest>\b.*)? $""",
    re.I | re.VERBOSE,
)
GAUGE_WORDS = {
    "awg": "brown-sharpe", "b&s": "brown-sharpe", "swg": "imperial", "bwg": "birmingham",
    "w&m": "washburn-moen", "msg": "manufacturers", "oz": "copper-ounce", "ounce": "copper-ounce",
    "ounces": "copper-ounce",
}  # fmt: skip


FORM_WORDS = {
    "sheet": "sheet", "plate": "sheet", "strip": "sheet", "wire": "wire", "tube": "tube", "tubing": "tube",
}  # fmt: skip


def gauge_number(label: str) -> int:
    """The place of a gauge in its row: 18 for `18`, 0 for `0`, -2 for `3/0`."""
    return 1 - int(label[:-2]) if label.endswith("/0") else int(label)


def read_gauge_label(text: str) -> GaugeLabel:
    """A gauge number as written: `18`, `18 ga`, `#18`, `gauge 18`, `3/0`, `000`, `18 AWG`, `16 oz`, `18 ga brass wire`.

    Raises NotUnderstood.
    """
    match = _GAUGE.match(plain(text))
    if not match:
        raise NotUnderstood(f'"{text.strip()}" is not a gauge number', ["18", "18 ga", "3/0", "16 oz"])
    label = match["label"]
    if set(label) == {"0"} and len(label) > 1:
        label = f"{len(label)}/0"
    elif "/" not in label:
        label = str(int(label))
    words = [word for word in (match["rest"] or "").lower().split() if word not in ("of", "in", "gauge", "ga")]
    form = next((FORM_WORDS[word] for word in words if word in FORM_WORDS), None)
    metal = " ".join(word for word in words if word not in FORM_WORDS)
    return GaugeLabel(label, GAUGE_WORDS.get((match["word"] or "").lower()), metal or None, form)


Gauge = Reader("gauge number", read_gauge_label, "gauge number: 18, 3/0, 16 oz", ("18", "3/0", "16 oz"))
