"""The optimiser under the jar plan: bins, items, capacities and values, with nothing of honey or money in it."""
