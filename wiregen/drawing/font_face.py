"""The packaged font as cairo takes it, straight from its file.

A font asked for by its name is what fontconfig finds on the machine, or what cairo still holds of an earlier text in
the process. The file is the same for everybody.
"""

from __future__ import annotations

import os
from typing import Any

from wiregen.drawing import fonts

#: What cairo is called, in words and as a file, so that the very library is opened that cairocffi has opened.
_CAIRO = ("cairo-2", "cairo", "libcairo-2"), ("libcairo.so.2", "libcairo.2.dylib", "libcairo-2.dll")
_FONTCONFIG = (), ("libfontconfig.so.1", "libfontconfig.1.dylib", "libfontconfig-1.dll")
_CALLS = """
typedef struct _FcPattern FcPattern;
FcPattern *FcPatternCreate(void);
int FcPatternAddString(FcPattern *pattern, const char *object, const unsigned char *text);
void FcPatternDestroy(FcPattern *pattern);
cairo_font_face_t *cairo_ft_font_face_create_for_pattern(FcPattern *pattern);
"""


def packaged_face() -> Any | None:
    """The packaged font as a font face of cairocffi; None where cairo was built without fontconfig.

    Raises OSError when the cairo library is not installed, FileNotFoundError as `fonts.packaged_file` does.
    """
    import cairocffi
    import cffi

    ffi = cffi.FFI()
    ffi.include(cairocffi.ffi)
    ffi.cdef(_CALLS)
    cairo = cairocffi.dlopen(ffi, *_CAIRO)
    try:
        fontconfig = cairocffi.dlopen(ffi, *_FONTCONFIG)
        create = cairo.cairo_ft_font_face_create_for_pattern
    except (OSError, AttributeError):
        return None
    pattern = fontconfig.FcPatternCreate()
    fontconfig.FcPatternAddString(pattern, b"file", os.fsencode(fonts.packaged_file()))
    face = create(pattern)
    fontconfig.FcPatternDestroy(pattern)
    return cairocffi.FontFace._from_pointer(face, incref=False)
