"""The build book."""

from strutwright.documents.book.book import build_book

__all__ = ["build_book"]
