"""
Contrast of the inks, light and dark: 4.5 to 1 for text, 3 to 1 for edges of forms.

Relative luminance and the two limits are those of WCAG 2.2, success criteria 1.4.3 and
1.4.11 (known from memory).
"""

import re
from pathlib import Path

import pytest

from stillroom.web.pages import HERE

TEXT = [
    ("ink", "paper"), ("ink", "tint"), ("ink", "sheet"), ("ink", "accent-tint"),
    ("soft", "paper"), ("soft", "tint"), ("soft", "sheet"),
    ("accent", "paper"), ("accent", "tint"), ("on-held", "held"), ("paper", "ink"),
]  # fmt: skip
FORMS = [("edge", "paper"), ("edge", "sheet"), ("accent", "accent-tint")]


def palettes() -> dict[str, dict[str, str]]:
    css = Path(HERE / "static" / "house.css").read_text()
    found = re.findall(r":root \{(.*?)\}", css, flags=re.S)
    light, dark = (dict(re.findall(r"--([a-z-]+): (#\w{6})", one)) for one in found)
    return {"light": light, "dark": light | dark}


def luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("form", ["light", "dark"])
@pytest.mark.parametrize(
    ("pair", "least"), [(p, 4.5) for p in TEXT] + [(p, 3.0) for p in FORMS]
)
def test_contrast(form: str, pair: tuple[str, str], least: float) -> None:
    palette = palettes()[form]
    a, b = sorted((luminance(palette[name]) for name in pair), reverse=True)
    assert (a + 0.05) / (b + 0.05) >= least
