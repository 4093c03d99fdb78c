"""The maker's own artwork under the words: a picture or a page of a PDF, and where on it words can be read."""
