"""From a Design to pages."""

from strutwright.documents.blocks import Document
from strutwright.documents.book import build_book
from strutwright.documents.packet import build_packet
from strutwright.documents.patterns import build_patterns
from strutwright.documents.quote import build_quote
from strutwright.documents.shop_cards import build_shop_cards
from strutwright.documents.survey_page import build_survey
from strutwright.documents.typeset import document_text, typeset

__all__ = [
    "Document",
    "build_book",
    "build_packet",
    "build_patterns",
    "build_quote",
    "build_shop_cards",
    "build_survey",
    "document_text",
    "typeset",
]
