"""The ways of putting up that there are, by the name that procedures give them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from stillroom.methods import boiled_down, butter, liquid_pectin, with_pectin
from stillroom.methods.method import Method

METHODS: Mapping[str, Method] = {
    module.NAME: cast(Method, module)
    for module in (with_pectin, liquid_pectin, boiled_down, butter)
}
"""A new way of putting up is one module, named here."""
