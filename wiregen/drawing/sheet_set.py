"""The set of sheets of one design, and its proof: read from geometry, it gives exactly the circuit's potentials."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.control.functions import Device
from wiregen.control.overrides import override_setting
from wiregen.drawing import (
    distribution,
    front,
    legend,
    overview,
    place_sheets,
    power_sheet,
    readback,
    table_ink,
    timing_chart,
)
from wiregen.drawing.box import Box
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.cover import Cover
from wiregen.drawing.diagram import draw_page
from wiregen.drawing.plate import Plate, Setting
from wiregen.drawing.references import References
from wiregen.drawing.relay_sheets import RelaySheets
from wiregen.drawing.table_set import list_sheets
from wiregen.drawing.template import A3, TitleBlock, frame, room
from wiregen.drawing.terminal_diagrams import TerminalDiagrams
from wiregen.drawing.wires import Wires
from wiregen.pipeline import Design
from wiregen.terms import InternalFault

BETWEEN = 6.0  # two figures on one sheet, mm
TOP = 1.0  # from the edge of the drawing area to the first figure
CAUTIONS = (
    "Isolate, wait for stored energy to discharge, prove dead. For qualified people only.",
    "Local codes, the device maker's instructions and a licensed person's review come first. No safety assessment.",
)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One drawn sheet. ``number`` counts from 1 over the set."""

    file: str
    title: str
    number: str
    svg: bytes


@dataclass(frozen=True, slots=True)
class Drawing:
    sheets: tuple[Sheet, ...]


@dataclass(slots=True)
class Draft:
    """A sheet that has no number yet. ``used`` is how far down it is drawn on."""

    plate: Plate
    title: str
    remarks: tuple[str, ...]
    used: float
    shows: tuple[str, ...] = ()


def draw(design: Design) -> Drawing:
    """All sheets of a design. Raises InternalFault where they do not show exactly its circuit."""
    return _Set(design).drawing()


def book(drawing: Drawing, design: Design) -> bytes:
    """All sheets as one PDF with outline and page labels. Raises a WiregenError where cairo is missing."""
    from wiregen.drawing import pdf

    pages = [(f"sheet-{s.number}", f"{s.number} {s.title}", s.svg) for s in drawing.sheets]
    return pdf.book(pages, design.scheme.model.scheme, design.scheme.model.date or "")


class _Set:
    """The sheets of one design while they are made. Each is drawn once; numbers and references come last."""

    def __init__(self, design: Design) -> None:
        model = design.scheme.model
        places = {name: place.name for name, place in model.places.items()}
        self._design, self._references = design, References(A3)
        self._references.expect(design.functions)
        self._setting = Setting(Circuit(design), model.practice, places, self._references)
        self._drafts: list[Draft] = []
        self._power: list[Draft] = []  # they stand last, and what they show is shown nowhere else

    def drawing(self) -> Drawing:
        self._diagrams()
        self._powers()
        self._distribution()
        self._drafts += self._power
        self._sequence()
        self._lists()
        self._overview()
        self._cover()
        self._references.write([draft.plate.canvas for draft in self._drafts])
        sheets = tuple(self._sheet(draft, i + 1) for i, draft in enumerate(self._drafts))
        _prove(self._design, sheets)
        return Drawing(sheets)

    # Kinds of sheets

    def _diagrams(self) -> None:
        """Terminal diagrams, then the contacts and the devices that they have no room for."""
        diagrams = TerminalDiagrams(self._design, self._setting, self._room_for)
        for page in diagrams.pages():
            draft = self._with_room(page.height, tuple(_remarks(self._design, page.device)), "Terminal diagram")
            draw_page(draft.plate, page, self._area(draft.remarks), draft.used)
            draft.used += page.height
            draft.shows = (*draft.shows, page.title)
            draft.title = _titled("Terminal diagram", draft.shows)
        planner, area = diagrams.planner, self._area(())
        relays = RelaySheets(self._design, self._setting.circuit, self._references, planner.on_contact_sheets, area)
        relay_pages = relays.pages()
        for i, relay_page in enumerate(relay_pages, 1):
            relays.draw(self._new(relays.title(i, len(relay_pages))).plate, relay_page)
        for place, branches in planner.on_place_sheets.items():
            for place_page in place_sheets.pages(place, branches, self._setting.circuit, area):
                place_sheets.draw(self._new(place_page.title).plate, place_page, area)
        self._finish_wires()

    def _powers(self) -> None:
        remarks = (power_sheet.REMARK,)
        sheets = power_sheet.PowerSheets(self._design, self._setting.circuit, self._area(remarks))
        for page in sheets.pages():
            draft = self._new(page.title, remarks)
            sheets.draw(draft.plate.canvas, page)
            self._power.append(self._drafts.pop())

    def _distribution(self) -> None:
        drafts = (*self._drafts, *self._power)
        drawn = frozenset(name for draft in drafts for name, _ in draft.plate.canvas.pins)
        links = [(c.a, c.b) for c in self._design.wiring.conductors if c.kind == "link" and c.b is not None]
        area = self._area(())
        found = distribution.pages(self._design, self._setting.circuit, drawn, area)
        several = len({page.place for page in found}) > 1
        first = len(self._drafts)
        for page in found:
            draft = self._with_room(page.height, (), "Supplies and distribution", first)
            distribution.draw(draft.plate, page, links, area, draft.used)
            draft.used += page.height
            draft.shows = tuple(dict.fromkeys((*draft.shows, page.place)))
            draft.title = "Supplies and distribution" + (f" at {' and '.join(draft.shows)}" if several else "")
        self._finish_wires(first)

    def _sequence(self) -> None:
        """The timing charts of the steps that the scheme declares."""
        for chart in timing_chart.of_design(self._design, self._area(())):
            timing_chart.draw(self._new(chart.title).plate.canvas, chart, self._area(()))

    def _lists(self) -> None:
        for sheet in list_sheets(self._design, self._setting, self._area(())):
            table_ink.draw(self._new(sheet.title).plate.canvas, sheet, self._references)

    def _overview(self) -> None:
        """Before all sheets that are there."""
        behind, self._drafts = self._drafts, []
        area, wiring = self._area(()), self._design.wiring
        standing = front.standing(self._design, self._setting)
        for sheet in overview.overview_sheets(standing, wiring.cables, self._setting.circuit.main, area):
            overview.draw(self._new(sheet.title).plate.canvas, sheet, area, self._references)
        self._drafts += behind

    def _cover(self) -> None:
        """Before all sheets that are there."""
        behind, self._drafts = self._drafts, []
        entries = legend.entries([draft.plate.canvas for draft in behind], self._setting.practice)
        titles, revisions = [draft.title for draft in behind], front.revisions(self._design)
        cover = Cover(front.facts(self._design), titles, revisions, entries, self._area(()), self._references)
        for sheet in cover.sheets():
            sheet.draw(self._new(sheet.title).plate.canvas)
        self._drafts += behind
        cover.number([draft.plate.canvas for draft in self._drafts])

    def _finish_wires(self, first: int = 0) -> None:
        for draft in self._drafts[first:]:
            draft.plate.wires.draw()

    # Sheets

    def _with_room(self, height: float, remarks: tuple[str, ...], title: str, first: int = 0) -> Draft:
        """The last sheet where it has room for one more figure, else a new one."""
        last = self._drafts[-1] if len(self._drafts) > first else None
        if last is not None and last.title.startswith(title):
            joined = tuple(dict.fromkeys((*last.remarks, *remarks)))
            if last.used + BETWEEN + height <= self._area(joined).y1:
                last.used += BETWEEN
                last.remarks = joined
                return last
        return self._new(title, remarks)

    def _new(self, title: str, remarks: tuple[str, ...] = ()) -> Draft:
        canvas = A3.canvas(practice=self._setting.practice)
        wires = Wires(canvas, self._setting.circuit)
        draft = Draft(Plate(self._setting, canvas, wires), title, remarks, self._area(remarks).y0 + TOP)
        self._drafts.append(draft)
        return draft

    def _room_for(self, device: Device) -> Box:
        return self._area(tuple(_remarks(self._design, device)))

    def _area(self, remarks: tuple[str, ...]) -> Box:
        return room(self._block("", 1, remarks), A3)

    def _sheet(self, draft: Draft, number: int) -> Sheet:
        canvas = draft.plate.canvas
        canvas.title = draft.title
        frame(canvas, self._block(draft.title, number, draft.remarks), A3)
        return Sheet(f"sheet-{number:02d}.svg", draft.title, str(number), canvas.to_svg())

    def _block(self, title: str, number: int, remarks: tuple[str, ...]) -> TitleBlock:
        model = self._design.scheme.model
        return TitleBlock(
            title=model.scheme,
            sheet_title=title,
            drawing=model.drawing,
            revision=model.revision,
            practice=model.practice,
            status=self._design.status,
            sheet=number,
            sheets=len(self._drafts),
            date=model.date or "",
            warning="NOT FOR CONSTRUCTION" if self._design.has_errors else "",
            cautions=(*remarks, *CAUTIONS),
        )


def _titled(what: str, shows: tuple[str, ...]) -> str:
    if len(shows) == 1:
        return f"{what} of {shows[0]}"
    several = [text.replace(", ", " (", 1) + ")" if ", " in text else text for text in shows]
    return f"{what}s of {', '.join(several[:-1])} and {several[-1]}"


def _remarks(design: Design, device: Device) -> Iterator[str]:
    """What whoever works here must know: what stays live, safe torque off not used, overrides with their why."""
    for finding in design.findings:
        if finding.code == "foreign-voltage" and finding.subject.split(" ")[0] == device.name:
            yield f"Live with the main switch off: {finding.message}."
    control = design.scheme.model.control.get(device.name)
    if control is None:
        return
    if control.safe_torque_off == "linked":
        yield f"Safe torque off of {device.name} is LINKED: the function is not used."
    for name, override in control.override.items():
        yield f"Override {name} of {device.name} {override_setting(override)}. Why: {override.why.rstrip('.')}."


def _prove(design: Design, sheets: tuple[Sheet, ...]) -> None:
    found = readback.read([s.svg for s in sheets])
    wrong = readback.compare(found, design.wiring.potentials)
    if wrong:
        raise InternalFault("the sheets do not show the circuit: " + "; ".join(wrong[:8]))
