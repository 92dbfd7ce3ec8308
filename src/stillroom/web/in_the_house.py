"""
The address at which a phone in the house opens the pages.

No password is asked: whoever reaches the address reads the record and writes to it. So
the keeper names one address of the house's own network, and any that the world could
reach is refused, and so is "every address that this machine has".
"""

from __future__ import annotations

import ipaddress

from stillroom.refusal import Fault, Unreadable

KEY = "--at"
OPEN_TO = (
    "Whoever is in that network can read the record and write to it: no password is "
    "asked."
)


def house_address(text: str) -> str:
    """
    Return an address of the house's own network, as it was given.

    Raises
    ------
    Unreadable
        Where it is none, or one that reaches further than a house.

    Examples
    --------
    >>> house_address(" 192.168.1.20 ")
    '192.168.1.20'
    """
    given = text.strip()
    try:
        address = ipaddress.IPv4Address(given)
    except ValueError:
        raise Unreadable(
            Fault(
                f"{given[:60]!r} is no address in a house's network: write this "
                "machine's as its network settings show it, such as 192.168.1.20",
                key=KEY,
            )
        ) from None
    if address.is_loopback:
        raise Unreadable(
            Fault(
                f"{address} is this machine alone, and is served as it is: leave {KEY} "
                "out, or give its address in the house's network",
                key=KEY,
            )
        )
    if address.is_global or address.is_unspecified or address.is_multicast:
        raise Unreadable(
            Fault(
                f"{address} reaches further than the house, and no password is asked: "
                "give the one address that this machine has in the house's own "
                "network, such as 192.168.1.20",
                key=KEY,
            )
        )
    return str(address)
