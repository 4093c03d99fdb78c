"""From weighed honey buckets to a lawful, printed, traceable jar."""

__version__ = "0.1.0"
