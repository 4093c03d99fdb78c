"""Typefaces, text and marks, and the one way onto paper: PDF pages drawn mark by mark, and documents that flow.

Depends on barcodes, measures and errors. What a label or a paper says is decided by those who use this package.
"""
