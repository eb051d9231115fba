"""The build book."""

from strutwright.documents.book.book import build_book
from strutwright.documents.book.extract import hub_page, left_over_page, step_page

__all__ = ["build_book", "hub_page", "left_over_page", "step_page"]
