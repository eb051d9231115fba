"""From a Design to pages."""

from strutwright.documents.blocks import Document
from strutwright.documents.book import build_book
from strutwright.documents.labels import build_labels
from strutwright.documents.packet import build_packet
from strutwright.documents.patterns import build_patterns
from strutwright.documents.quote import build_quote
from strutwright.documents.reader import Reader
from strutwright.documents.shop_cards import build_shop_cards
from strutwright.documents.survey_page import build_survey
from strutwright.documents.typeset import document_text, typeset
from strutwright.documents.words import Words
from strutwright.documents.wraps import build_templates, end_template

__all__ = [
    "Document",
    "Reader",
    "Words",
    "build_book",
    "build_labels",
    "build_packet",
    "build_patterns",
    "build_quote",
    "build_shop_cards",
    "build_survey",
    "build_templates",
    "document_text",
    "end_template",
    "typeset",
]
