"""What a CAN identifier says: its priority, and by SAE J1939 its sender's address and its group."""

from __future__ import annotations

MAX_11 = 0x7FF
_LOW_BITS = 18
_FIRST_BROADCAST_FORMAT = 240


def priority_key(*, identifier: int, is_extended: bool) -> tuple[int, bool, int]:
    """Return a key that sorts identifiers as arbitration does: the lesser wins the bus.

    The first eleven bits decide; where they are alike an 11-bit identifier wins over a 29-bit one.

    identifier: 11 or 29 bits
    is_extended: of 29 bits
    result: first eleven bits, 29 bits, the other eighteen
    source: iso-11898-1-2015-arbitration, from memory
    """
    if not is_extended:
        return identifier, False, 0
    return identifier >> _LOW_BITS, True, identifier & ((1 << _LOW_BITS) - 1)


def source_address(identifier: int) -> int:
    """Return the address of the sender in a 29-bit identifier of SAE J1939: its last eight bits.

    identifier: of 29 bits
    result: 0 to 255
    source: sae-j1939-21-identifier, from memory
    """
    return identifier & 0xFF


def parameter_group(identifier: int) -> int:
    """Return the parameter group number in a 29-bit identifier of SAE J1939.

    Below format 240 the second byte is an address, and no part of the number.

    identifier: of 29 bits
    result: 18 bits
    source: sae-j1939-21-identifier, from memory
    """
    group = (identifier >> 8) & 0x3FFFF
    form = (identifier >> 16) & 0xFF
    return group & 0x3FF00 if form < _FIRST_BROADCAST_FORMAT else group
