"""Terminal profiles: the model of a generic device type, and the library that finds them."""

from wiregen.profiles.library import GROUP, Library, builtin_root, load
from wiregen.profiles.model import Figure, Profile, Terminal

__all__ = ["GROUP", "Figure", "Library", "Profile", "Terminal", "builtin_root", "load"]
