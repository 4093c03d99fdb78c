"""Bars and squares: what a scanner reads off a jar, a case or a bucket."""
