"""What the catalogue says of one code."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.terms import InternalFault, Severity

ERROR, WARNING, NOTE = Severity.ERROR, Severity.WARNING, Severity.NOTE
PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Entry:
    """One code of a finding.

    ``example`` is a whole scheme that brings the code about. ``right`` holds what stands in it and what would be right
    there, in pairs. ``along`` names codes that come with it because one mistake has both. ``profile`` is the text of a
    terminal profile that the example needs beside the built-in ones. With ``refused`` the code is a complaint of
    reading: the scheme cannot be used at all.
    """

    code: str
    severity: Severity
    title: str
    what: str
    why: str
    remedy: str
    basis: str
    example: str
    right: tuple[tuple[str, str], ...]
    along: tuple[str, ...] = ()
    profile: str = ""
    refused: bool = False
    told_by: str = "check"  # the command that finds it

    @property
    def fixed_by(self) -> str:
        """The example put right. Raises InternalFault where a text of ``right`` does not stand in it exactly once."""
        text = self.example
        for wrong, right in self.right:
            if text.count(wrong) != 1:
                raise InternalFault(f"the example of {self.code} holds {wrong!r} {text.count(wrong)} times, not once")
            text = text.replace(wrong, right)
        return text
