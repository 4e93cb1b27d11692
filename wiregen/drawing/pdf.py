"""All sheets in one PDF: an outline, page labels, selectable text, and the same bytes for the same sheets.

cairo and cairosvg are loaded when the first book is made, not before.
"""

from __future__ import annotations

import functools
import io
import re
from collections.abc import Sequence
from typing import Any

from wiregen.drawing import fonts
from wiregen.drawing.font_face import packaged_face
from wiregen.terms import InternalFault, WiregenError

#: The date of a book that has none of its own: never the clock.
NO_DATE = "2000-01-01T00:00:00Z"

# Attributes under which cairosvg's own way of setting a text, letter by letter, differs from setting it as a whole.
_SPECIAL = (
    *("dx", "dy", "rotate", "letter-spacing", "textLength", "text-decoration", "font-weight", "font-style"),
    *("dominant-baseline", "alignment-baseline", "display-anchor", "display", "visibility", "stroke-dasharray"),
    *("opacity", "fill-opacity", "stroke-opacity", "mask", "filter", "clip-path"),
)


class CairoMissing(WiregenError):
    """The system library that writes PDF is not installed."""


def book(pages: Sequence[tuple[str, str, bytes]], title: str, date: str = "") -> bytes:
    """One PDF with a page for each of ``pages``: an identifier for jumps, the page's label, the sheet as SVG.

    ``date`` is a day or a moment after ISO 8601; without one the book carries `NO_DATE`. Raises CairoMissing when the
    cairo library is not installed, InternalFault when an identifier holds anything but letters, figures, ``_`` and
    ``-``, or stands twice.
    """
    names = [name for name, _, _ in pages]
    if not names or len(set(names)) < len(names) or not all(re.fullmatch(r"[A-Za-z0-9_-]+", n) for n in names):
        raise InternalFault(f"the pages of a PDF need distinct plain names, not {names}")
    cairo, page_class = _cairo()
    out = io.BytesIO()
    surface = cairo.PDFSurface(out, 10, 10)
    moment = _moment(date)
    for key, value in (
        (cairo.PDF_METADATA_TITLE, title),
        (cairo.PDF_METADATA_CREATOR, "wiregen"),
        (cairo.PDF_METADATA_CREATE_DATE, moment),
        (cairo.PDF_METADATA_MOD_DATE, moment),
    ):
        surface.set_metadata(key, value)
    for name, label, svg in pages:
        page = page_class(svg, surface, name, frozenset(names))
        surface.set_page_label(label)
        surface.add_outline(0, label, f"dest='{name}'", cairo.PDF_OUTLINE_FLAG_OPEN)
        page.finish()
    surface.finish()
    return out.getvalue()


def _moment(date: str) -> str:
    """``date`` as cairo takes it; `NO_DATE` where it cannot be read as a date."""
    if re.fullmatch(r"\d{4}-\d{2}-\d{2}", date):
        return f"{date}T00:00:00Z"
    return date if re.fullmatch(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(Z|[+-]\d{2}:\d{2})", date) else NO_DATE


@functools.cache
def _cairo() -> tuple[Any, Any]:
    """cairocffi, and the class that draws one SVG as one page of a shared surface."""
    try:
        import cairocffi as cairo
        from cairosvg.parser import Tree
        from cairosvg.surface import PDFSurface
    except OSError as e:  # this, not ImportError, is how a missing libcairo shows itself
        raise CairoMissing(
            "the PDF cannot be written because the system library cairo is not installed; "
            "install it (Debian, Ubuntu: apt install libcairo2; Fedora: dnf install cairo; macOS: brew install cairo) "
            "and run again. SVG, CSV and XLSX do not need it"
        ) from e
    face = packaged_face()

    class Page(PDFSurface):  # type: ignore[misc]
        """cairosvg draws a text letter by letter; here a plain text goes out whole, which looks the same and is
        selected as words. Whatever font a text asks for, it is set in the packaged one.
        """

        def __init__(self, svg: bytes, shared: Any, name: str, names: frozenset[str]) -> None:
            self._shared, self._name, self.names = shared, name, names
            super().__init__(Tree(bytestring=svg), None, 96)

        def _create_surface(self, width: float, height: float) -> tuple[Any, float, float]:
            self._shared.set_size(width, height)
            return self._shared, width, height

        def draw(self, node: Any) -> None:
            if self._name:
                name, self._name = self._name, ""
                if face is not None:
                    self.context.select_font_face = lambda *asked: self.context.set_font_face(face)
                self.context.tag_begin("cairo.dest", f"name='{name}'")
                self.context.tag_end("cairo.dest")
            if _is_plain_text(node):
                _whole_text(self, node)
            else:
                super().draw(node)

        def finish(self) -> None:
            self._shared.show_page()

    return cairo, Page


def _is_plain_text(node: Any) -> bool:
    if node.tag != "text" or node.children or not node.text or any(key in node for key in _SPECIAL):
        return False
    return all(" " not in node.get(axis, "0").strip() and "," not in node.get(axis, "0") for axis in ("x", "y"))


def _whole_text(surface: Any, node: Any) -> None:
    from cairosvg.helpers import paint, size, transform

    context = surface.context
    context.save()
    transform(surface, node.get("transform"))
    context.select_font_face(node.get("font-family", fonts.FAMILY).split(",")[0].strip("\"' "))
    context.set_font_size(size(surface, node.get("font-size", "12pt")))
    x, y = size(surface, node.get("x"), "x"), size(surface, node.get("y"), "y")
    bearing, _, width = context.text_extents(node.text)[:3]
    x -= {"middle": width / 2 + bearing, "end": width + bearing}.get(node.get("text-anchor", "start"), 0.0)
    context.move_to(x, y)
    context.set_source_rgba(*surface.map_color(paint(node.get("fill", "black"))[1], 1))
    context.show_text(node.text)
    _links(surface, node, x, y)
    if node.get("stroke", "none") != "none":
        context.move_to(x, y)
        context.text_path(node.text)
        context.set_source_rgba(*surface.map_color(paint(node["stroke"])[1], 1))
        context.set_line_width(size(surface, node.get("stroke-width", "1")))
        context.set_miter_limit(4)  # the default of SVG, not of cairo
        context.stroke()
    context.restore()


def _links(surface: Any, node: Any, x: float, y: float) -> None:
    """Each reference in a text, such as ``4/B2``, becomes a link to its sheet where the book has it."""
    context, text, after = surface.context, node.text, 0
    for place in (node.get("data-see") or "").split():
        name, at = f"sheet-{place.partition('/')[0]}", text.find(place, after)
        if at < 0 or name not in surface.names:
            continue
        after = at + len(place)
        before, wide = (context.text_extents(part)[4] for part in (text[:at], place))
        high = context.font_extents()[0]
        left, top = context.user_to_device(x + before, y - high)
        width, height = context.user_to_device_distance(wide, 1.2 * high)
        context.tag_begin("Link", f"dest='{name}' rect=[{left:.3f} {top:.3f} {width:.3f} {height:.3f}]")
        context.tag_end("Link")
