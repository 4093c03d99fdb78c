"""Ornaments, drawn as vectors by reckoning: stems, hills, suns, woven borders. Nothing is scanned or traced."""
