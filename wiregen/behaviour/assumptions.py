"""What the campaign of faults rests on, in the words that stand beside its results."""

from __future__ import annotations

from wiregen.behaviour.exploring import DEEP, MANY

#: Sentences for people. They say what was not computed as much as what was.
ASSUMPTIONS: tuple[str, ...] = (
    "One fault at a time, in a plant that is otherwise as declared and drawn; rows with a second condition say so.",
    "Drives, safety relays and cards act as their profiles and the listed settings say; they are whole inside.",
    "Cards do what a controller commands, and somebody reads what they read. No program of a controller is known here.",
    "One thing is operated at a time, and held until everything stands; how long a motor takes is not considered.",
    "Supplies limit their current and collapse under a short; fuses are not blown by faults, which stops the same.",
    f"A state counts that at most {DEEP} things lead to, done one after the other from rest; after {MANY} are found no "
    "more are looked for.",
    "An input whose voltage promises neither on nor off is tried both ways, and the worse counts.",
    "A 4-20 mA signal is lost at 3.6 mA and too high at 21 mA (NAMUR NE 43); limits of harm are typical, invented.",
    "Contacts that open by direct action may be let out of the faults (ISO 13849-2 annex D; from memory): marked, not "
    "counted as warnings.",
    "This is no safety assessment and replaces none: risk assessment and qualified people decide.",
)
