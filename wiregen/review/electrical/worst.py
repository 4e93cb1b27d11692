"""The corner at which the electrical rules look: the permitted range of a 24 V supply."""

from __future__ import annotations

#: The range of a 24 V DC supply. Source: IEC 61131-2, -15 % and +20 %.
SUPPLY_LOW, SUPPLY_HIGH = 0.85, 1.2
#: What the highest supply puts across a resistor [V].
MOST_SUPPLY_V = SUPPLY_HIGH * 24.0
