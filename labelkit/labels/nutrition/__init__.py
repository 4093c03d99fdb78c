"""The nutrition panel as a drawing: what it says, how each display sets it, which one a label takes."""
