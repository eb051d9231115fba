"""What a kit costs: materials, work, freight, margin, tax, in whole cents."""

from strutwright.pricing.price import price_kit
from strutwright.pricing.values import LABOUR, Ask, Line, PriceList, Sensitivity, cents

__all__ = ["LABOUR", "Ask", "Line", "PriceList", "Sensitivity", "cents", "price_kit"]
