"""Placing: content and a design onto the outline of a label, as marks. Nothing here draws."""
