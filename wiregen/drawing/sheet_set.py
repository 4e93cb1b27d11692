"""The set of sheets of one design, and its proof: read from geometry, it gives exactly the circuit's potentials."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.control.functions import Device
from wiregen.control.overrides import override_setting
from wiregen.drawing import power_sheet, readback, supply_sheet
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.lines import Planner
from wiregen.drawing.place_sheets import PlaceSheets
from wiregen.drawing.placing import Page, Placer, with_spares
from wiregen.drawing.power_sheet import PowerSheets
from wiregen.drawing.references import References, marks_of
from wiregen.drawing.relay_circuits import RelaySheets
from wiregen.drawing.template import A3, TitleBlock, frame, room
from wiregen.drawing.terminal_diagram import Diagram, Setting
from wiregen.pipeline import Design
from wiregen.terms import InternalFault, Pin

TOP = 14.0  # from the drawing area's upper edge to the controller's outline, mm
FEEDING = ("supply", "transformer", "fuse")  # what the sheets of supplies show
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


@dataclass(frozen=True, slots=True)
class _Plan:
    pages: list[Page]
    supplies: list[supply_sheet.SupplyPage]


def draw(design: Design) -> Drawing:
    """All sheets of a design. Raises InternalFault where they do not show exactly its circuit."""
    circuit = Circuit(design)
    references = References(frozenset(d.name for d in _controllers(design)))
    pages = _pages(design, circuit)
    _collect(pages, references)
    setting = _setting(design, circuit, references)
    total_pages = len(pages)
    drawn: set[Pin] = set()
    # The number of supply sheets follows from what the diagrams leave undrawn, and every title block names the total.
    trial = [_diagram(design, page, setting, i + 1, 0) for i, page in enumerate(pages)]
    for _, pins in trial:
        drawn |= pins
    relays = RelaySheets(design, circuit, room(_block(design, "", 1, 1, ())))
    relay_pages = relays.pages()
    for i, relay_page in enumerate(relay_pages):
        trial_sheet = relays.draw(A3.canvas(practice=design.scheme.model.practice), relay_page, references)
        drawn |= trial_sheet.terminals
        for unit, x, y in trial_sheet.units:
            place = f"{total_pages + i + 1}/{A3.zone_of(x, y)}"
            references.add_unit(unit.device, marks_of(unit), place)
            if unit.symbol.kind == "coil":
                references.add_coil(unit.device, place)
        for end, x, y in trial_sheet.inputs:
            references.add_input(end, f"{total_pages + i + 1}/{A3.zone_of(x, y)}")
    places = PlaceSheets(design, circuit, A3.area)
    place_pages = places.pages()
    for i, place_page in enumerate(place_pages):
        shown = places.draw(A3.canvas(practice=design.scheme.model.practice), place_page, references)
        drawn |= shown.terminals
        number = total_pages + len(relay_pages) + i + 1
        for unit, x, y in shown.units:
            references.add_unit(unit.device, marks_of(unit), f"{number}/{A3.zone_of(x, y)}")
        for end, x, y in shown.inputs:
            references.add_input(end, f"{number}/{A3.zone_of(x, y)}")
    supplies = _supply_pages(design, drawn)
    before_supplies = total_pages + len(relay_pages) + len(place_pages)
    powers = PowerSheets(design, circuit, room(_block(design, "", 1, 1, (power_sheet.REMARK,))))
    power_pages = powers.pages()
    before_powers = before_supplies + len(supplies)
    total = before_powers + len(power_pages)
    sheets = []
    for i, page in enumerate(pages):
        svg, _ = _diagram(design, page, setting, i + 1, total)
        sheets.append(_sheet(i + 1, _page_title(page), svg))
    for i, relay_page in enumerate(relay_pages):
        number = total_pages + i + 1
        title = _relay_title(relays, i + 1, len(relay_pages))
        canvas = A3.canvas(title, design.scheme.model.practice)
        frame(canvas, _block(design, title, number, total, ()), A3)
        relays.draw(canvas, relay_page, references)
        sheets.append(_sheet(number, title, canvas.to_svg()))
    for i, place_page in enumerate(place_pages):
        number, title = total_pages + len(relay_pages) + i + 1, places.title(place_page)
        canvas = A3.canvas(title, design.scheme.model.practice)
        frame(canvas, _block(design, title, number, total, ()), A3)
        places.draw(canvas, place_page, references)
        sheets.append(_sheet(number, title, canvas.to_svg()))
    for j, supply_page in enumerate(supplies):
        number, title = before_supplies + j + 1, _supply_title(supplies, supply_page)
        svg = _supply_sheet(design, supply_page, circuit, title, number, total)
        sheets.append(_sheet(number, title, svg))
    for i, power_page in enumerate(power_pages):
        number = before_powers + i + 1
        canvas = A3.canvas(power_page.title, design.scheme.model.practice)
        frame(canvas, _block(design, power_page.title, number, total, (power_sheet.REMARK,)), A3)
        powers.draw(canvas, power_page)
        sheets.append(_sheet(number, power_page.title, canvas.to_svg()))
    _prove(design, sheets)
    return Drawing(tuple(sheets))


def book(drawing: Drawing, design: Design) -> bytes:
    """All sheets as one PDF with outline and page labels. Raises a WiregenError where cairo is missing."""
    from wiregen.drawing import pdf

    pages = [(f"sheet-{s.number}", f"{s.number} {s.title}", s.svg) for s in drawing.sheets]
    return pdf.book(pages, design.scheme.model.scheme, design.scheme.model.date or "")


def _controllers(design: Design) -> list[Device]:
    return [d for d in design.declared.devices if d.kind in ("drive", "card", "safety_relay")]


def _pages(design: Design, circuit: Circuit) -> list[Page]:
    planner = Planner(design, circuit)
    plans = [(device, *planner.sides(device)) for device in _controllers(design)]
    with_spares(plans, [c for c in design.wiring.conductors if c.kind == "core" and c.b is None], circuit.strips)
    area = A3.area
    at = {d.name: d.place for d in design.declared.devices}
    pages: list[Page] = []
    for device, left, right in plans:
        floor = room(_block(design, device.name, 1, 1, _remarks(design, device))).y1
        pages += Placer(circuit, at, area.y0 + TOP + 9.0, floor - 13.0).pages(device, left, right)
    return pages


def _collect(pages: list[Page], references: References) -> None:
    """Every terminal, loop and symbol with its sheet and zone."""
    for number, page in enumerate(pages, 1):
        for x, side in ((90.0, page.left), (320.0, page.right)):
            for block in side:
                branch = block.block.branch
                for line in block.lines:
                    if line.line.inner is not None:
                        references.add_terminal(line.line.inner, f"{number}/{A3.zone_of(220.0, line.y)}")
                if branch is None:
                    continue
                place = f"{number}/{A3.zone_of(x, block.lines[-1].y)}"
                for unit in branch.units:
                    references.add_unit(unit.device, marks_of(unit), place)
                    if unit.symbol.kind == "coil":
                        references.add_coil(unit.device, place)
                for lead in branch.leads:
                    references.add_loop(lead.pin, place)
                for unit in branch.through:
                    for _, name in unit.pins:
                        references.add_loop(Pin(unit.device, name), place)


def _setting(design: Design, circuit: Circuit, references: References) -> Setting:
    model = design.scheme.model
    return Setting(
        circuit=circuit,
        practice=model.practice,
        places={name: place.name for name, place in model.places.items()},
        at={d.name: d.place for d in design.declared.devices},
        references=references,
    )


def _diagram(design: Design, page: Page, setting: Setting, number: int, total: int) -> tuple[bytes, set[Pin]]:
    canvas = A3.canvas(_page_title(page), design.scheme.model.practice)
    area = frame(canvas, _block(design, _page_title(page), number, total, _remarks(design, page.device)), A3)
    diagram = Diagram(canvas, page, setting)
    diagram.draw(area.y0 + TOP)
    return canvas.to_svg(), diagram.drawn


def _supply_pages(design: Design, drawn: set[Pin]) -> list[supply_sheet.SupplyPage]:
    """Supplies, and the strip terminals and screens that no other sheet shows, place by place."""
    found: list[supply_sheet.SupplyPage] = []
    for place in design.scheme.model.places:
        supplies = [d for d in design.declared.devices if d.kind in FEEDING and d.place == place]
        strips = [s for s in design.wiring.strips if s.place == place]
        rest = [rest for s in strips if (rest := [t for t in s.terminals if t.pin not in drawn])]
        screens = [
            p for c in design.wiring.cables if c.screened and c.a == place and (p := Pin(c.name, "screen")) not in drawn
        ]
        found += supply_sheet.pages(place, supplies, rest, screens, A3.area)
    return found


def _supply_title(pages: list[supply_sheet.SupplyPage], page: supply_sheet.SupplyPage) -> str:
    several = len({p.place for p in pages}) > 1
    return "Supplies and distribution" + (f" at {page.place}" if several else "")


def _supply_sheet(
    design: Design, page: supply_sheet.SupplyPage, circuit: Circuit, heading: str, number: int, total: int
) -> bytes:
    canvas = A3.canvas(heading, design.scheme.model.practice)
    area = frame(canvas, _block(design, heading, number, total, ()), A3)
    links = [(c.a, c.b) for c in design.wiring.conductors if c.kind == "link" and c.b is not None]
    model = design.scheme.model
    title = f"{page.place}  {model.places[page.place].name}".strip()
    supply_sheet.draw(canvas, page, circuit, model.practice, links, area, title)
    return canvas.to_svg()


def _remarks(design: Design, device: Device) -> tuple[str, ...]:
    """How the contacts of a controller's inputs are wired, in the words that cannot be misread."""
    groups = [g for g in design.declared.groups if g.device == device.name]
    words = {"source": "contacts switch +24 V", "sink": "contacts switch 0 V"}
    polarities = {g.polarity for g in groups}
    more = (*_linked(design, device), *_foreign(design, device), *_overrides(design, device))
    if len(polarities) == 1:
        return (f"Inputs of {device.name}: {words[polarities.pop()]}.", *more)
    return (*(f"Inputs of {device.name} {g.group}: {words[g.polarity]}." for g in groups), *more)


def _foreign(design: Design, device: Device) -> Iterator[str]:
    """What stays live here when the main switch of the cabinet is off."""
    for finding in design.findings:
        if finding.code == "foreign-voltage" and finding.subject.split(" ")[0] == device.name:
            yield f"Live with the main switch off: {finding.message}."


def _linked(design: Design, device: Device) -> tuple[str, ...]:
    """Said where safe torque off is linked, so that nobody takes the drive to have it."""
    control = design.scheme.model.control.get(device.name)
    if control is None or control.safe_torque_off != "linked":
        return ()
    return (f"Safe torque off of {device.name} is LINKED: the function is not used.",)


def _overrides(design: Design, device: Device) -> Iterator[str]:
    """Every override with its why: whoever works here must know what a stop does not stop."""
    control = design.scheme.model.control.get(device.name)
    for name, override in control.override.items() if control else ():
        yield f"Override {name} of {device.name} {override_setting(override)}. Why: {override.why.rstrip('.')}."


def _block(design: Design, title: str, number: int, total: int, remarks: tuple[str, ...]) -> TitleBlock:
    model = design.scheme.model
    return TitleBlock(
        title=model.scheme,
        sheet_title=title,
        drawing=model.drawing,
        revision=model.revision,
        practice=model.practice,
        status=design.status,
        sheet=number,
        sheets=total,
        date=model.date or "",
        warning="NOT FOR CONSTRUCTION" if design.has_errors else "",
        cautions=(*remarks, *CAUTIONS),
    )


def _relay_title(relays: RelaySheets, part: int, parts: int) -> str:
    coils = {c.function.coil is not None for c in relays.circuits}
    title = "Relay circuits" if coils == {True} else "Contact circuits" if coils == {False} else "Contacts and relays"
    return title + (f", {part} of {parts}" if parts > 1 else "")


def _page_title(page: Page) -> str:
    part = f", {page.part} of {page.parts}" if page.parts > 1 else ""
    return f"Terminal diagram of {page.device.name}{part}"


def _sheet(number: int, title: str, svg: bytes) -> Sheet:
    return Sheet(f"sheet-{number:02d}.svg", title, str(number), svg)


def _prove(design: Design, sheets: list[Sheet]) -> None:
    found = readback.read([s.svg for s in sheets])
    wrong = readback.compare(found, design.wiring.potentials)
    if wrong:
        raise InternalFault("the sheets do not show the circuit: " + "; ".join(wrong[:8]))
