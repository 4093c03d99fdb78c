"""Every legal figure by itself: pure functions of a market, holding no legal number of their own."""
