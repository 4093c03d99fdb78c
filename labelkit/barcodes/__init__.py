"""Barcodes and 2D codes as modules, light and dark: what may be encoded, and how large it has to be printed."""
