"""Ink: marks and documents onto PDF pages. The one door to reportlab.

Every file is vector, its fonts are embedded as subsets, its pages are compressed, it carries a title, an author and a
language, asks the viewer to print at 100 %, and holds nothing of the clock or the machine: equal input, equal bytes.
"""

from labelkit.labels.ink.document import Document
from labelkit.labels.ink.drawing import Ink

__all__ = ["Document", "Ink"]
