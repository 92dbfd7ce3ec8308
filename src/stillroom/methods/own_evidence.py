"""What the rules of a class found in a recipe of the keeper's own."""

from __future__ import annotations

from dataclasses import dataclass, field

from stillroom.methods.own_recipe import KEEPER
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal, Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """One thing that was looked at: what was found, and whether the rule allows it."""

    about: str
    """``acid``, ``solids``, ``sugar to pectin``, ``sugar to fruit``, ``thickness`` …"""
    text: str
    source: Source
    holds: bool | None = True
    """`None` for what is shown and decides nothing."""


@dataclass
class Findings:
    """What the checks have found so far."""

    evidence: list[Evidence] = field(default_factory=list)
    reasons: list[Refusal] = field(default_factory=list)
    cautions: list[Caution] = field(default_factory=list)

    def held(self, about: str, text: str, source: Source) -> None:
        """Note what a rule found, and that it holds."""
        self.evidence.append(Evidence(about=about, text=text, source=source))

    def shown(self, about: str, text: str, source: Source) -> None:
        """Note what decides nothing."""
        self.evidence.append(
            Evidence(about=about, text=text, source=source, holds=None)
        )

    def refused(self, about: str, no: Refusal) -> None:
        """Note what a rule refuses."""
        known = {KEEPER: "keeper"}.get(no.source, "looked_up")
        if COMMON_PRACTICE in no.source:
            known = "practice"
        source = Source(no.source, known)
        self.evidence.append(
            Evidence(about=about, text=no.reason, source=source, holds=False)
        )
        self.reasons.append(no)
