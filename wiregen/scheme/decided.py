"""The part of the model that says what is decided: terminals, cables, numbers, and findings that are kept."""

from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, model_validator

from wiregen.scheme.forms import Model
from wiregen.scheme.names import FunctionName, PlaceName
from wiregen.scheme.values import Area, Cores, Count, Line, Misplaced, Name, OneOrMany, Percent, Said, Tail, Yes


class FixedEntry(Model):
    """What is decided for one terminal."""

    short: ClassVar[str] = "function"
    function: FunctionName | None = None
    keep_free: Said | None = None
    strip: Line | None = None
    cable: Line | None = None
    core: Line | None = None
    number: Line | None = None

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if self.function is not None and self.keep_free is not None:
            raise Misplaced("keep_free", "a terminal with a function is not kept free: give `function` or `keep_free`")
        if not any((self.function, self.keep_free, self.strip, self.cable, self.core, self.number)):
            raise ValueError("say what is fixed: a function, `keep_free`, or where its conductor lands")
        return self


FixedEntries = Annotated[tuple[FixedEntry, ...], OneOrMany()]


ClassName = Literal["control", "control_ac", "analog", "pulse", "safety", "thermistor", "power"]


class CableClass(Model):
    """How the cables of one class are made."""

    area: Area | None = None
    pairs: Yes | None = None
    screen: Literal["none", "cabinet end", "both ends"] | None = None
    pe: Yes | None = None
    spare: Percent | None = None


class ExistingCable(Model):
    """A cable that is there already. ``cores`` are all of them; with ``pe`` one is the protective conductor."""

    from_: PlaceName = Field(alias="from")
    to: PlaceName
    cores: Cores
    marks: Literal["numbers", "colours"] | None = None
    class_: ClassName = Field(default="control", alias="class")
    area: Area | None = None
    screen: Literal["none", "cabinet end", "both ends"] | None = None
    pe: Yes = False


class Tails(Model):
    """What is left beyond the gland at either end of a cable."""

    cabinet: Tail | None = None
    device: Tail | None = None


class Cabling(Model):
    """How conductors between two places are gathered into cables."""

    spare: Percent | None = None
    classes: dict[ClassName, CableClass] = {}
    tails: Tails | None = None
    existing: dict[Line, ExistingCable] = {}


class Numbers(Model):
    """How conductors are numbered."""

    by: Literal["potential", "line"] = "potential"
    first: Count | None = None
    keep: dict[Line, Line] = {}


class Acceptance(Model):
    """A finding that is kept, and why."""

    code: Name
    at: Line | None = None
    why: Said
