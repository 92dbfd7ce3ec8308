"""The ways of putting up that there are, by the name that procedures give them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from stillroom.book.procedures import METHOD_NAMES
from stillroom.book.uncanned import WAYS_WITHOUT_A_CANNER
from stillroom.methods import (
    boiled_down,
    brined,
    butter,
    calcium_pectin,
    dry,
    freeze,
    freezer_spread,
    hot_pack,
    juice,
    liquid_pectin,
    pickle,
    pressure_pack,
    puree,
    raw_pack,
    remade,
    render_fat,
    syrup,
    tomato,
    with_pectin,
)
from stillroom.methods.method import Method
from stillroom.refusal import Refusal

METHODS: Mapping[str, Method] = {
    module.NAME: cast(Method, module)
    for module in (
        *(with_pectin, liquid_pectin, boiled_down, butter, remade),
        *(hot_pack, raw_pack, juice, puree, tomato, pressure_pack),
        *(pickle, brined, syrup, freezer_spread, calcium_pectin),
        *(freeze, dry, render_fat),
    )
}
"""A new way of putting up is one module, named here."""


def method_named(name: str) -> Method | Refusal:
    """
    Return the way of putting up of this name, or why it cannot be planned yet.

    Examples
    --------
    >>> method_named("with_pectin").NAME
    'with_pectin'
    """
    if name in METHODS:
        return METHODS[name]
    names = {**METHOD_NAMES, **WAYS_WITHOUT_A_CANNER}
    meant = names.get(name, name)
    return Refusal(
        f"no steps are known here for {meant}",
        instead="follow the recipe and its process by hand; what can be planned is "
        + ", ".join(names[known] for known in METHODS if known in names),
        source="the ways of putting up that this program knows",
    )
